// Package preview shows a lesson while it is being written: it serves the pack
// on this machine, builds it again when a file changes, reloads the page, and
// shows in the page what is wrong with the source. For most uses call [New],
// [Server.Watch] and [Server.Handler].
//
// It serves the files of the last good pack by their exact names and nothing
// else; it changes no file.
package preview

import (
	"context"
	"fmt"
	"io/fs"
	"sync"

	"ionwright/lesson"
	"ionwright/lesson/diag"
	"ionwright/lesson/pack"
)

// Server holds the last good pack of a lesson and what was last found wrong.
// It is safe for concurrent use.
type Server struct {
	files fs.FS
	ready chan struct{} // closed after the first build
	once  sync.Once

	mu      sync.Mutex
	state   State
	pack    *pack.Pack // nil until a build succeeds
	changed chan struct{}
}

// State is the outcome of the last build.
type State struct {
	Version     int       `json:"version"` // grows with every build
	OK          bool      `json:"ok"`
	Diagnostics diag.List `json:"diagnostics"`
	Failure     string    `json:"failure,omitempty"` // of the program, not of the lesson
	Files       []string  `json:"files"`             // of the last good pack
}

// New makes a server for the lesson in files. It has nothing to show before
// the first [Server.Build].
func New(files fs.FS) *Server {
	return &Server{files: files, ready: make(chan struct{}), changed: make(chan struct{})}
}

// Build builds the lesson and tells the pages that are open. Where it fails,
// the last good pack stays.
func (s *Server) Build(ctx context.Context) State {
	p, diags, err := lesson.Build(ctx, s.files, pack.Options{Script: scriptName})
	if ctx.Err() != nil {
		return s.State()
	}
	s.mu.Lock()
	defer s.mu.Unlock()
	s.state = State{Version: s.state.Version + 1, OK: p != nil && err == nil, Diagnostics: diags}
	if s.state.Diagnostics == nil {
		s.state.Diagnostics = diag.List{}
	}
	if err != nil {
		s.state.Failure = err.Error()
	}
	if s.state.OK {
		s.pack = p
	}
	s.state.Files = []string{}
	if s.pack != nil {
		s.state.Files = s.pack.Names()
	}
	close(s.changed)
	s.changed = make(chan struct{})
	s.once.Do(func() { close(s.ready) })
	return s.state
}

// State is the outcome of the last build.
func (s *Server) State() State {
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.state
}

// next is the state, and a channel that is closed when it changes.
func (s *Server) next() (State, <-chan struct{}) {
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.state, s.changed
}

// Pack is the last good pack, nil where there is none yet. The pages in it load
// the preview's script.
func (s *Server) Pack() *pack.Pack {
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.pack
}

// file is a file of the last good pack.
func (s *Server) file(name string) ([]byte, bool) {
	p := s.Pack()
	if p == nil {
		return nil, false
	}
	data, ok := p.Files[name]
	return data, ok
}

// Summary says the outcome in a line, for the terminal.
func (st State) Summary() string {
	switch {
	case st.Failure != "":
		return "not built: " + st.Failure
	case !st.OK:
		return fmt.Sprintf("not built: %s; the pages show the last good version", count(st.Diagnostics.Count(diag.Error), "error"))
	case len(st.Diagnostics) > 0:
		return fmt.Sprintf("built, with %s", count(st.Diagnostics.Count(diag.Warning), "warning"))
	}
	return "built"
}

func count(n int, noun string) string {
	if n == 1 {
		return "1 " + noun
	}
	return fmt.Sprintf("%d %ss", n, noun)
}
