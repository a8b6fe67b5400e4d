package preview

import (
	"bytes"
	_ "embed"
	"encoding/json"
	"fmt"
	"html/template"
	"net/http"
	"path"
	"strings"
	"time"

	"ionwright/lesson/pack"
)

// Addresses, relative to the pages.
const (
	scriptName = "-/preview.js"
	styleName  = "-/preview.css"
	stateName  = "-/state"
	eventName  = "-/events"
)

//go:embed preview.js
var script []byte

//go:embed preview.css
var style []byte

//go:embed broken.html
var brokenPage string

var broken = template.Must(template.New("broken").Parse(brokenPage))

// policy lets a preview load its own module and style, and nothing from
// anywhere else. Pages of the pack bring a stricter policy of their own for
// what they contain.
const policy = "default-src 'none'; script-src 'self'; connect-src 'self'; style-src 'self'; img-src 'self' data:; base-uri 'none'; " +
	"form-action 'none'; frame-ancestors 'self'"

// Handler serves the pages: the files of the last good pack, and what brings
// them up to date. It can be mounted below any prefix that ends in a slash.
// Who may ask is the business of the server around it.
func (s *Server) Handler() http.Handler {
	mux := http.NewServeMux()
	mux.HandleFunc("GET /"+scriptName, fixed("text/javascript; charset=utf-8", script))
	mux.HandleFunc("GET /"+styleName, fixed("text/css; charset=utf-8", style))
	mux.HandleFunc("GET /"+stateName, s.serveState)
	mux.HandleFunc("GET /"+eventName, s.serveEvents)
	mux.HandleFunc("GET /{$}", func(w http.ResponseWriter, r *http.Request) {
		// A relative address, since the handler may be mounted below a prefix.
		w.Header().Set("Location", pack.Student)
		w.WriteHeader(http.StatusFound)
	})
	mux.HandleFunc("GET /", s.serveFile)
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		h := w.Header()
		h.Set("X-Content-Type-Options", "nosniff")
		h.Set("Referrer-Policy", "no-referrer")
		h.Set("Cross-Origin-Resource-Policy", "same-origin")
		h.Set("Cache-Control", "no-store")
		mux.ServeHTTP(w, r)
	})
}

func fixed(kind string, data []byte) http.HandlerFunc {
	return func(w http.ResponseWriter, _ *http.Request) {
		w.Header().Set("Content-Type", kind)
		w.Header().Set("Content-Security-Policy", policy)
		_, _ = w.Write(data)
	}
}

// waitReady waits for the first build.
func (s *Server) waitReady(r *http.Request) bool {
	select {
	case <-s.ready:
		return true
	case <-r.Context().Done():
		return false
	}
}

// kinds are the types of a pack's files by their endings. A browser saves files
// of other types.
var kinds = map[string]string{".html": "text/html; charset=utf-8", ".svg": "image/svg+xml", ".json": "application/json",
	".md": "text/plain; charset=utf-8", ".vtt": "text/vtt; charset=utf-8", ".csv": "text/csv; charset=utf-8", ".zip": "application/zip",
	".pdf": "application/pdf", ".png": "image/png", ".jdx": "chemical/x-jcamp-dx",
	".pptx": "application/vnd.openxmlformats-officedocument.presentationml.presentation"}

// serveFile serves a file of the last good pack. Where there is none, a page
// says what is wrong.
func (s *Server) serveFile(w http.ResponseWriter, r *http.Request) {
	if !s.waitReady(r) {
		return
	}
	name := strings.TrimPrefix(r.URL.Path, "/")
	data, ok := s.file(name)
	switch {
	case ok:
		kind := kinds[path.Ext(name)]
		if kind == "" {
			kind = "application/octet-stream"
		}
		w.Header().Set("Content-Type", kind)
		_, _ = w.Write(data)
	case name == pack.Student || name == pack.Key:
		s.serveBroken(w)
	default:
		w.Header().Set("Content-Security-Policy", policy)
		http.NotFound(w, r)
	}
}

// serveBroken stands in for the pages of a lesson that was never built.
func (s *Server) serveBroken(w http.ResponseWriter) {
	var page bytes.Buffer
	if err := broken.Execute(&page, map[string]any{"Script": scriptName, "Style": styleName, "State": s.State()}); err != nil {
		http.Error(w, err.Error(), http.StatusInternalServerError)
		return
	}
	w.Header().Set("Content-Security-Policy", policy)
	w.Header().Set("Content-Type", "text/html; charset=utf-8")
	_, _ = w.Write(page.Bytes())
}

func (s *Server) serveState(w http.ResponseWriter, r *http.Request) {
	if !s.waitReady(r) {
		return
	}
	w.Header().Set("Content-Type", "application/json")
	_ = json.NewEncoder(w).Encode(s.State())
}

// stillHere is how often a page that waits hears that the server is there, so
// that connections to pages that are gone are found.
const stillHere = 30 * time.Second

// serveEvents sends the version of the last build, now and whenever it
// changes, as server-sent events.
func (s *Server) serveEvents(w http.ResponseWriter, r *http.Request) {
	if !s.waitReady(r) {
		return
	}
	w.Header().Set("Content-Type", "text/event-stream")
	out := http.NewResponseController(w)
	beat := time.NewTicker(stillHere)
	defer beat.Stop()
	// say sends a line, to who fetches it in time.
	say := func(line string) error {
		_ = out.SetWriteDeadline(time.Now().Add(stillHere)) // a recorder in a test has no deadline
		if _, err := fmt.Fprintf(w, "%s\n\n", line); err != nil {
			return err
		}
		return out.Flush()
	}
	for {
		state, changed := s.next()
		if say(fmt.Sprintf("data: %d", state.Version)) != nil {
			return
		}
		for waiting := true; waiting; {
			select {
			case <-changed:
				waiting = false
			case <-beat.C:
				if say(": still here") != nil {
					return
				}
			case <-r.Context().Done():
				return
			}
		}
	}
}
