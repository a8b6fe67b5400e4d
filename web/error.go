package web

import (
	"bytes"
	"context"
	"errors"
	"io/fs"
	"net/http"
	"strconv"
	"strings"

	"ionwright/lesson/shelf"
)

// failure is an error with the answer that it becomes.
type failure struct {
	status int
	title  string
	err    error
}

func (f *failure) Error() string { return f.err.Error() }
func (f *failure) Unwrap() error { return f.err }

// badRequest says that what was asked can't be answered as it stands.
func badRequest(err error) error {
	return &failure{http.StatusBadRequest, "That can't be done", err}
}

// answerOf turns an error into a status and words. It is the only place that
// does. Errors that nobody planned for become a page without their text, which
// could hold paths of this machine; the text goes to the report.
func (s *Server) answerOf(r *http.Request, err error) (status int, title, text string) {
	var planned *failure
	var large *http.MaxBytesError
	var conflict *shelf.ConflictError
	switch {
	case errors.As(err, &large):
		return http.StatusRequestEntityTooLarge, "That is too large", "Files and texts can have up to " + size(large.Limit) + "."
	case errors.As(err, &conflict):
		return http.StatusConflict, "The lesson was changed elsewhere", err.Error()
	case errors.As(err, &planned):
		return planned.status, planned.title, planned.Error()
	case errors.Is(err, shelf.ErrNoLesson), errors.Is(err, fs.ErrNotExist):
		return http.StatusNotFound, "There is nothing here", "No page has this address."
	case errors.Is(err, context.DeadlineExceeded):
		return http.StatusServiceUnavailable, "That took too long", "The computation was stopped. Try a smaller structure, or again when fewer people are at work."
	case r.Context().Err() != nil:
		return 499, "The request was given up", "" // nobody reads this
	}
	s.options.Report("error: " + r.Method + " " + r.URL.Path + ": " + err.Error())
	return http.StatusInternalServerError, "Something went wrong", "This is a fault of the program, not yours. The terminal in which it runs says more."
}

// answer runs a handler and shows what went wrong: as a page, or as plain text
// to a module of ours.
func (s *Server) answer(h handler) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		err := h(w, r)
		if err == nil {
			return
		}
		status, title, text := s.answerOf(r, err)
		w.Header().Set("Cache-Control", "no-store")
		if !strings.Contains(r.Header.Get("Accept"), "text/html") {
			w.Header().Set("Content-Type", "text/plain; charset=utf-8")
			w.WriteHeader(status)
			_, _ = w.Write([]byte(text))
			return
		}
		var page bytes.Buffer
		data := s.pageOf(r, "", title)
		data.Content = map[string]string{"Title": title, "Text": text}
		if err := s.pages.ExecuteTemplate(&page, "error", data); err != nil {
			http.Error(w, title, status)
			return
		}
		w.Header().Set("Content-Type", "text/html; charset=utf-8")
		w.WriteHeader(status)
		_, _ = w.Write(page.Bytes())
	})
}

func (s *Server) missing(_ http.ResponseWriter, r *http.Request) error {
	if r.Method != http.MethodGet && r.Method != http.MethodHead {
		return &failure{http.StatusMethodNotAllowed, "That can't be done", errors.New("this address doesn't take " + r.Method)}
	}
	return fs.ErrNotExist
}

// size writes a number of bytes for people.
func size(bytes int64) string {
	const mega = 1 << 20
	if bytes%mega == 0 {
		return strconv.FormatInt(bytes/mega, 10) + " MB"
	}
	return strconv.FormatInt(bytes, 10) + " bytes"
}
