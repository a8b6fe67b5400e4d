package web

import (
	"encoding/json"
	"net/http"
	"strings"

	"ionwright/mol/smiles"
	"ionwright/sector"
)

func (s *Server) home(w http.ResponseWriter, r *http.Request) error {
	rows, err := s.lessonRows()
	if err != nil {
		return err
	}
	return s.render(w, r, "home", "", "Start", map[string]any{"Lessons": rows})
}

// library is a row of static/lib/VERSIONS.json.
type library struct {
	Name, Version, Licence, File, LicenceFile, SHA256 string
}

// licence is the text of a licence and the libraries that are under it.
type licence struct {
	Names []string
	Text  string
}

func libraries() ([]library, []licence, error) {
	text, err := staticFiles.ReadFile("static/lib/VERSIONS.json")
	if err != nil {
		return nil, nil, err
	}
	var all []library
	if err := json.Unmarshal(text, &all); err != nil {
		return nil, nil, err
	}
	var licences []licence
	at := map[string]int{}
	for _, l := range all {
		text, err := staticFiles.ReadFile("static/lib/" + l.LicenceFile)
		if err != nil {
			return nil, nil, err
		}
		i, ok := at[string(text)]
		if !ok {
			i = len(licences)
			at[string(text)] = i
			licences = append(licences, licence{Text: string(text)})
		}
		licences[i].Names = append(licences[i].Names, l.Name)
	}
	return all, licences, nil
}

func (s *Server) about(w http.ResponseWriter, r *http.Request) error {
	all, licences, err := libraries()
	if err != nil {
		return err
	}
	return s.render(w, r, "about", "", "About", map[string]any{"Libraries": all, "Licences": licences, "Caution": sector.Caution})
}

// structureText tells a module the SMILES of a name.
func (s *Server) structureText(w http.ResponseWriter, r *http.Request) error {
	m, err := molecule(strings.TrimSpace(r.URL.Query().Get("q")))
	if err != nil {
		return err
	}
	return writeJSON(w, map[string]string{"smiles": smiles.Canonical(m), "formula": m.Formula().String()})
}
