package web

import (
	"fmt"
	"io/fs"
	"net/http"
	"strings"

	"ionwright/lesson"
	"ionwright/lesson/example"
	"ionwright/lesson/shelf"
	"ionwright/lesson/source"
	"ionwright/web/preview"
)

// exampleLesson is the address of the lesson that the program carries; a
// lesson of that name on the shelf goes before it.
const exampleLesson = "example"

// lessonRow is a lesson of a list.
type lessonRow struct {
	Name, Title string
	ReadOnly    bool
}

// lessonRows lists the lessons, the example last.
func (s *Server) lessonRows() ([]lessonRow, error) {
	var rows []lessonRow
	if s.options.Lessons != nil {
		names, err := s.options.Lessons.Names()
		if err != nil {
			return nil, err
		}
		for _, name := range names {
			rows = append(rows, lessonRow{Name: name, Title: s.titleOf(name)})
		}
	}
	if len(rows) == 0 || rows[len(rows)-1].Name != exampleLesson {
		rows = append(rows, lessonRow{exampleLesson, s.titleOf(exampleLesson), true})
	}
	return rows, nil
}

// titleOf is a lesson's title, or its name where it has none that can be read.
func (s *Server) titleOf(name string) string {
	files, _, err := s.lessonFiles(name)
	if err != nil {
		return name
	}
	l, _ := source.Parse(files)
	if l == nil || strings.TrimSpace(l.Title.Value) == "" {
		return name
	}
	return l.Title.Value
}

// lessonFiles opens a lesson, and tells the folder it is in; that is empty for
// the lesson that the program carries.
func (s *Server) lessonFiles(name string) (files fs.FS, folder string, err error) {
	if s.options.Lessons != nil {
		folder, err = s.options.Lessons.Folder(name)
		if err == nil {
			files, err = lesson.Open(folder)
			return files, folder, err
		}
	}
	if name == exampleLesson {
		return example.Bottles(), "", nil
	}
	return nil, "", fmt.Errorf("lesson %q: %w", name, shelf.ErrNoLesson)
}

// desk is a lesson that somebody is at: built again whenever it changes.
type desk struct {
	preview  *preview.Server
	handler  http.Handler
	readOnly bool
}

// mostDesks bounds the lessons that are watched at a time.
const mostDesks = 200

// deskOf returns the desk of a lesson, and starts to watch it when it is asked
// for the first time.
func (s *Server) deskOf(name string) (*desk, error) {
	files, folder, err := s.lessonFiles(name)
	if err != nil {
		return nil, err
	}
	s.mu.Lock()
	defer s.mu.Unlock()
	if d, ok := s.desks[name]; ok {
		return d, nil
	}
	if len(s.desks) >= mostDesks {
		return nil, &failure{http.StatusServiceUnavailable, "Too many lessons are open", fmt.Errorf("%d lessons are open; start the server again to open others", mostDesks)}
	}
	d := &desk{preview: preview.New(files), readOnly: folder == ""}
	d.handler = http.StripPrefix("/lesson/"+name, d.preview.Handler())
	s.desks[name] = d
	report := func(state preview.State) {
		for _, found := range state.Diagnostics {
			s.options.Report(name + ": " + found.String())
		}
		s.options.Report(name + ": " + state.Summary())
	}
	go func() {
		report(d.preview.Build(s.ctx))
		if folder == "" {
			return
		}
		if err := d.preview.Watch(s.ctx, folder, packFolder, report); err != nil {
			s.options.Report(fmt.Sprintf("%s: %v\nhint: its pages stay as they are; start again to watch", name, err))
		}
	}()
	return d, nil
}

// packFolder is where the command writes packs; changes there aren't the
// lesson's.
const packFolder = "pack"

// lessonPage serves a lesson's pages as they will be handed out.
func (s *Server) lessonPage(w http.ResponseWriter, r *http.Request) error {
	d, err := s.deskOf(r.PathValue("lesson"))
	if err != nil {
		return err
	}
	// Pages of a pack bring a policy of their own, which lets their style in.
	w.Header().Set("Content-Security-Policy", "frame-ancestors 'self'; base-uri 'none'; form-action 'none'; object-src 'none'")
	d.handler.ServeHTTP(w, r)
	return nil
}
