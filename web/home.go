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

// structureAnswer tells a module about a structure.
type structureAnswer struct {
	SMILES  string `json:"smiles"`
	Formula string `json:"formula"`
	Mass    int    `json:"mass"`           // nominal, Da
	Base    int    `json:"base,omitempty"` // m/z of the computed base peak, where it is asked for
}

// structureText tells the SMILES of a name, and with "spectrum" its base peak.
func (s *Server) structureText(w http.ResponseWriter, r *http.Request) error {
	text := strings.TrimSpace(r.URL.Query().Get("q"))
	m, err := molecule(text)
	if err != nil {
		return err
	}
	out := structureAnswer{SMILES: smiles.Canonical(m), Formula: m.Formula().String(), Mass: m.Formula().NominalMass()}
	if r.URL.Query().Get("spectrum") != "" {
		p, err := s.predict(r.Context(), text, usualEV)
		if err != nil {
			return err
		}
		base, _ := p.Spectrum().Base()
		out.Base = int(base.MZ)
	}
	return writeJSON(w, out)
}
