package web

import (
	"archive/zip"
	"bytes"
	"errors"
	"fmt"
	"io"
	"net/http"
	"strings"

	"ionwright/lesson"
	"ionwright/lesson/diag"
	"ionwright/lesson/eval"
	"ionwright/lesson/pack"
	"ionwright/lesson/shelf"
	"ionwright/lesson/source"
	"ionwright/spectrum/file"
)

// writeShelf lists the lessons.
func (s *Server) writeShelf(w http.ResponseWriter, r *http.Request) error {
	rows, err := s.lessonRows()
	if err != nil {
		return err
	}
	return s.renderShelf(w, r, rows, problem{status: http.StatusOK}, newLesson{})
}

func (s *Server) renderShelf(w http.ResponseWriter, r *http.Request, rows []lessonRow, wrong problem, asked newLesson) error {
	content := map[string]any{"Lessons": rows, "Problem": wrong, "New": asked}
	if shelf := s.options.Lessons; shelf != nil && !shelf.Single() {
		content["Folder"] = shelf.Dir()
	}
	return s.renderStatus(w, r, wrong.status, "shelf", "/write", "Write", content)
}

// writeCreate makes a new lesson and leads to its editor.
func (s *Server) writeCreate(w http.ResponseWriter, r *http.Request) error {
	asked := newLesson{Title: strings.TrimSpace(r.PostFormValue("title")), Compound: strings.TrimSpace(r.PostFormValue("compound")), Copy: r.PostFormValue("copy")}
	name, err := s.create(r, asked)
	if err != nil {
		wrong, err := problemOf(err)
		if err != nil {
			return err
		}
		rows, err := s.lessonRows()
		if err != nil {
			return err
		}
		return s.renderShelf(w, r, rows, wrong, asked)
	}
	http.Redirect(w, r, "/write/"+name, http.StatusSeeOther)
	return nil
}

// writePage is what the editor's template shows.
type writePage struct {
	Name, Title string
	Text        string
	Version     string
	ReadOnly    bool
	Endings     string
}

// write shows a lesson's source in the editor.
func (s *Server) write(w http.ResponseWriter, r *http.Request) error {
	name := r.PathValue("lesson")
	d, err := s.deskOf(name)
	if err != nil {
		return err
	}
	page := &writePage{Name: name, Title: s.titleOf(name), ReadOnly: d.readOnly, Endings: strings.Join(file.Endings(), ",")}
	text, version, err := s.source(name, d)
	if err != nil {
		return err
	}
	page.Text, page.Version = string(text), version
	p := s.pageOf(r, "/write", page.Title+" – Write")
	p.Content = page
	// The editor's library brings its style as elements; they carry the nonce.
	p.Nonce = newNonce()
	w.Header().Set("Content-Security-Policy", strings.Replace(policy, "style-src 'self'", "style-src 'self' 'nonce-"+p.Nonce+"'", 1))
	return s.renderPage(w, http.StatusOK, "write", p)
}

// source reads the lesson's text; that of a read-only lesson has no version.
func (s *Server) source(name string, d *desk) ([]byte, string, error) {
	if !d.readOnly {
		return s.options.Lessons.Read(name)
	}
	files, _, err := s.lessonFiles(name)
	if err != nil {
		return nil, "", err
	}
	f, err := files.Open(source.Main)
	if err != nil {
		return nil, "", err
	}
	defer f.Close()
	text, err := io.ReadAll(io.LimitReader(f, shelf.MaxSource))
	return text, "", err
}

// sourceAnswer tells a module a lesson's text and version.
type sourceAnswer struct {
	Text    string `json:"text"`
	Version string `json:"version"`
	Kept    string `json:"kept,omitempty"` // file with the text that gave way
	Problem string `json:"problem,omitempty"`
}

func (s *Server) writeSource(w http.ResponseWriter, r *http.Request) error {
	d, err := s.deskOf(r.PathValue("lesson"))
	if err != nil {
		return err
	}
	text, version, err := s.source(r.PathValue("lesson"), d)
	if err != nil {
		return err
	}
	return writeJSON(w, sourceAnswer{Text: string(text), Version: version})
}

// onShelf fails for a lesson that can't be written.
func (s *Server) onShelf(name string) error {
	d, err := s.deskOf(name)
	if err != nil {
		return err
	}
	if d.readOnly {
		return &failure{http.StatusForbidden, "That can't be changed", errors.New("this lesson is part of the program; make a copy to change it")}
	}
	return nil
}

// writeSave saves a lesson's text, which was made from the version of the
// If-Match header. With "*" it replaces whatever is there, and keeps that.
func (s *Server) writeSave(w http.ResponseWriter, r *http.Request) error {
	name := r.PathValue("lesson")
	if err := s.onShelf(name); err != nil {
		return err
	}
	text, err := io.ReadAll(r.Body)
	if err != nil {
		return fmt.Errorf("reading the lesson's text: %w", err)
	}
	base := r.Header.Get("If-Match")
	if base == "*" {
		version, kept, err := s.options.Lessons.Replace(name, text)
		if err != nil {
			return err
		}
		return writeJSON(w, sourceAnswer{Version: version, Kept: kept})
	}
	version, err := s.options.Lessons.Save(name, text, base)
	var conflict *shelf.ConflictError
	if errors.As(err, &conflict) {
		w.Header().Set("Content-Type", "application/json")
		w.WriteHeader(http.StatusConflict)
		return writeJSON(w, sourceAnswer{Text: string(conflict.Text), Version: conflict.Version, Problem: conflict.Error()})
	}
	if err != nil {
		return err
	}
	return writeJSON(w, sourceAnswer{Version: version})
}

// writeKeep stores a text that gives way to another.
func (s *Server) writeKeep(w http.ResponseWriter, r *http.Request) error {
	name := r.PathValue("lesson")
	if err := s.onShelf(name); err != nil {
		return err
	}
	text, err := io.ReadAll(r.Body)
	if err != nil {
		return fmt.Errorf("reading the text to keep: %w", err)
	}
	kept, err := s.options.Lessons.Keep(name, text)
	if err != nil {
		return err
	}
	return writeJSON(w, sourceAnswer{Kept: kept})
}

// writeAdd stores a spectrum file in the lesson's folder, if it can be read.
func (s *Server) writeAdd(w http.ResponseWriter, r *http.Request) error {
	name, wanted := r.PathValue("lesson"), r.PathValue("file")
	if err := s.onShelf(name); err != nil {
		return err
	}
	data, err := io.ReadAll(r.Body)
	if err != nil {
		return fmt.Errorf("reading the file: %w", err)
	}
	spectrum, err := file.Read(wanted, bytes.NewReader(data))
	if err != nil {
		return badRequest(err)
	}
	stored, err := s.options.Lessons.Add(name, wanted, data)
	if err != nil {
		return badRequest(err)
	}
	return writeJSON(w, map[string]any{"file": stored, "title": spectrum.Title, "peaks": len(spectrum.Peaks)})
}

// writePack builds the lesson for handing out and sends it as a ZIP file.
func (s *Server) writePack(w http.ResponseWriter, r *http.Request) error {
	name := r.PathValue("lesson")
	files, _, err := s.lessonFiles(name)
	if err != nil {
		return err
	}
	var built *pack.Pack
	var found diag.List
	err = s.heavy(r.Context(), func() error {
		built, found, err = lesson.Build(r.Context(), files, pack.Options{})
		return err
	})
	if err != nil {
		return err
	}
	if built == nil {
		return &failure{http.StatusConflict, "The lesson isn't built", fmt.Errorf("it has %d errors; the list beside the editor names them", found.Count(diag.Error))}
	}
	var out bytes.Buffer
	z := zip.NewWriter(&out)
	for _, file := range built.Names() {
		part, err := z.Create(name + "/" + file)
		if err != nil {
			return fmt.Errorf("packing %q: %w", file, err)
		}
		if _, err := part.Write(built.Files[file]); err != nil {
			return fmt.Errorf("packing %q: %w", file, err)
		}
	}
	if err := z.Close(); err != nil {
		return fmt.Errorf("packing the lesson: %w", err)
	}
	h := w.Header()
	h.Set("Content-Type", "application/zip")
	h.Set("Content-Disposition", fmt.Sprintf("attachment; filename=%q", name+".zip"))
	_, _ = w.Write(out.Bytes())
	return nil
}

// vocabulary is what the editor completes.
type vocabulary struct {
	Functions []vocabularyFunction `json:"functions"`
	Blocks    []source.BlockForm   `json:"blocks"`
	Fields    []string             `json:"fields"` // of the front matter
}

type vocabularyFunction struct {
	Name       string   `json:"name"`
	Signatures []string `json:"signatures"`
	Doc        string   `json:"doc"`
}

// writeVocabulary tells the editor what it can complete.
func (s *Server) writeVocabulary(w http.ResponseWriter, _ *http.Request) error {
	out := vocabulary{Blocks: source.Blocks(), Fields: []string{"title", "audience", "pace", "compounds", "ideas", "hooks", "instruments"}}
	for _, f := range eval.Functions() {
		one := vocabularyFunction{Name: f.Name, Doc: f.Doc}
		for _, form := range f.Forms {
			one.Signatures = append(one.Signatures, f.Signature(form))
		}
		out.Functions = append(out.Functions, one)
	}
	return writeJSON(w, out)
}
