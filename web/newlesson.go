package web

import (
	"bytes"
	"crypto/rand"
	_ "embed"
	"encoding/json"
	"errors"
	"fmt"
	"io/fs"
	"net/http"
	"regexp"
	"strings"
	"testing/fstest"
	"text/template"

	"ionwright/lesson/example"
	"ionwright/lesson/shelf"
	"ionwright/lesson/source"
	"ionwright/mol/smiles"
	"ionwright/reading"
)

// newLesson is what somebody asks for: a lesson around a compound, a copy of
// the example, or one to begin with.
type newLesson struct {
	Title    string
	Compound string
	Copy     string
}

// newNonce is a word that nobody can guess.
func newNonce() string { return rand.Text() }

var notInNames = regexp.MustCompile(`[^\p{L}\p{N}]+`)

// nameFor makes a folder's name of a title.
func nameFor(title string) string {
	name := strings.Trim(notInNames.ReplaceAllString(strings.ToLower(title), "-"), "-")
	const longest = 40
	if runes := []rune(name); len(runes) > longest {
		name = strings.Trim(string(runes[:longest]), "-")
	}
	if name == "" {
		return "lesson"
	}
	return name
}

// create makes the lesson under a name that is free.
func (s *Server) create(r *http.Request, asked newLesson) (string, error) {
	lessons := s.options.Lessons
	if lessons == nil || lessons.Single() {
		return "", badRequest(errors.New("the server was started with the folder of one lesson; start it with the folder around it to have several"))
	}
	const longest = 200
	if len(asked.Title) > longest {
		return "", badRequest(fmt.Errorf("the title has more than %d bytes", longest))
	}
	files, err := s.filesFor(r, &asked)
	if err != nil {
		return "", err
	}
	const tries = 100
	base := nameFor(asked.Title)
	for i := 1; i <= tries; i++ {
		name := base
		if i > 1 {
			name = fmt.Sprintf("%s-%d", base, i)
		}
		if _, err := lessons.Folder(name); err == nil || name == exampleLesson {
			continue
		}
		if err := shelf.CheckName(name); err != nil {
			return "", badRequest(err)
		}
		return name, lessons.Create(name, files)
	}
	return "", badRequest(fmt.Errorf("there are %d lessons of that title already", tries))
}

// filesFor are the files of the new lesson.
func (s *Server) filesFor(r *http.Request, asked *newLesson) (fs.FS, error) {
	if asked.Copy == exampleLesson {
		if asked.Title == "" {
			asked.Title = "copy of the example"
		}
		return example.Bottles(), nil
	}
	if asked.Title == "" {
		return nil, badRequest(errors.New("the lesson needs a title; it can be changed later"))
	}
	if asked.Compound == "" {
		asked.Compound = "acetone"
	}
	text, err := s.lessonAround(r, *asked)
	if err != nil {
		return nil, err
	}
	return fstest.MapFS{source.Main: {Data: text}}, nil
}

//go:embed page/lesson.md
var lessonText string

// lessonAround writes a lesson to begin with around a compound; what it says
// about the spectrum is computed.
func (s *Server) lessonAround(r *http.Request, asked newLesson) ([]byte, error) {
	p, err := s.predict(r.Context(), asked.Compound, usualEV)
	if err != nil {
		return nil, err
	}
	form, err := template.New("lesson").Funcs(template.FuncMap{"quote": quoted}).Parse(lessonText)
	if err != nil {
		return nil, err
	}
	peak, _ := p.Spectrum().Base()
	base, mass := int(peak.MZ), p.Mol.Formula().NominalMass()
	said := base < mass && len(p.At(base)) > 0 && len(reading.Common(base)) > 0
	name := asked.Compound
	if strings.EqualFold(name, smiles.Canonical(p.Mol)) || strings.ContainsAny(name, "=#[]()") {
		name = "the compound"
	}
	var out bytes.Buffer
	err = form.Execute(&out, map[string]any{
		"Title": asked.Title, "Name": name, "SMILES": smiles.Canonical(p.Mol), "Mass": mass,
		"Base": base, "Loses": said, "Lost": ambiguous(mass - base),
	})
	return out.Bytes(), err
}

// ambiguous is a loss that several neutrals give, or 0: the lesson says then
// which.
func ambiguous(loss int) int {
	if loss > 0 && len(reading.Losses(loss)) > 1 {
		return loss
	}
	return 0
}

// quoted writes a text as YAML and JSON both read it.
func quoted(text string) (string, error) {
	var out bytes.Buffer
	e := json.NewEncoder(&out)
	e.SetEscapeHTML(false)
	err := e.Encode(text)
	return strings.TrimSpace(out.String()), err
}
