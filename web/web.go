// Package web is Ionwright in the browser: pages to explain a spectrum, show
// the instrument, read an unknown, write a lesson and practise its questions.
// For most uses call [New] and serve [Server.Handler] with [Serve].
//
// Pages are rendered here and work as plain pages; small modules in static
// make them answer as fast as a hand moves. What a page shows stands in its
// address, so that it can be shared. Nothing is asked of any other server.
package web

import (
	"context"
	"fmt"
	"html/template"
	"net/http"
	"sync"
	"time"

	"ionwright/ionize"
	"ionwright/lesson/shelf"
	"ionwright/reading"
)

// Options say what a server has and who may use it.
type Options struct {
	Lessons *shelf.Shelf
	// Hosts are names that requests may be addressed to, beside those of this
	// machine. With a password, all may.
	Hosts []string
	// PasswordHash, where it isn't empty, asks every visitor for the password
	// that HashPassword made it of.
	PasswordHash string
	// Secure says that the server speaks TLS, so that its cookies do too.
	Secure bool
	// Report is told what happens to lessons, for the terminal; may be nil.
	Report func(string)
}

// Server is the application. It is safe for concurrent use.
type Server struct {
	options  Options
	ctx      context.Context // ends with the server; work in the background stops
	pages    *template.Template
	assets   *assets
	sessions *sessions
	computed *memory[predictionKey, *ionize.Prediction]
	curves   *memory[curveKey, *curves]
	broken   *memory[predictionKey, brokenBy]
	readings *memory[readingKey, reading.Reading]
	papers   *memory[paperKey, *paper]
	// Each holds a token for what is under way: heavy computations, requests
	// with a body, pages that wait for news.
	working, taking, listening chan struct{}

	mu    sync.Mutex
	desks map[string]*desk
}

// New returns a server whose background work ends with ctx. It fails where
// the password's hash can't be read.
func New(ctx context.Context, o Options) (*Server, error) {
	if o.Report == nil {
		o.Report = func(string) {}
	}
	s := &Server{
		options: o, ctx: ctx, desks: map[string]*desk{},
		computed: newMemory[predictionKey, *ionize.Prediction](256),
		curves:   newMemory[curveKey, *curves](64),
		broken:   newMemory[predictionKey, brokenBy](256),
		papers:   newMemory[paperKey, *paper](64),
		readings: newMemory[readingKey, reading.Reading](256),
		working:  make(chan struct{}, workers()), taking: make(chan struct{}, mostBodies), listening: make(chan struct{}, mostListeners),
	}
	var err error
	if s.assets, err = newAssets(); err != nil {
		return nil, fmt.Errorf("loading the pages' files: %w", err)
	}
	if s.pages, err = s.parsePages(); err != nil {
		return nil, fmt.Errorf("loading the pages: %w", err)
	}
	if s.sessions, err = newSessions(o.PasswordHash, time.Now); err != nil {
		return nil, err
	}
	return s, nil
}

// handler answers a request or says why it can't.
type handler func(w http.ResponseWriter, r *http.Request) error

// Handler serves the application.
func (s *Server) Handler() http.Handler {
	mux := http.NewServeMux()
	for _, route := range s.routes() {
		mux.Handle(route.pattern, s.answer(route.handle))
	}
	return s.guard(mux)
}

type route struct {
	pattern string
	handle  handler
}

// routes is the visible list of what can be asked for.
func (s *Server) routes() []route {
	return []route{
		{"GET /{$}", s.home},
		{"GET /explain", s.explain},
		{"POST /explain", s.explainFile},
		{"GET /explain/figure/{name}", s.explainFigure},
		{"GET /explain/breakdown", s.breakdownPart},
		{"GET /lesson/{lesson}/{file...}", s.lessonPage},
		{"GET /demonstrate", s.demonstrate},
		{"GET /demonstrate/frame", s.demonstrateFrame},
		{"GET /demonstrate/sweep", s.demonstrateSweep},
		{"GET /demonstrate/figure/{name}", s.demonstrateFigure},
		{"GET /read", s.read},
		{"POST /read", s.readFile},
		{"GET /read/figure/{name}", s.readFigure},
		{"GET /write", s.writeShelf},
		{"POST /write", s.writeCreate},
		{"GET /write/vocabulary.json", s.writeVocabulary},
		{"GET /write/{lesson}", s.write},
		{"GET /write/{lesson}/source", s.writeSource},
		{"PUT /write/{lesson}/source", s.writeSave},
		{"POST /write/{lesson}/kept", s.writeKeep},
		{"POST /write/{lesson}/files/{file}", s.writeAdd},
		{"GET /write/{lesson}/pack.zip", s.writePack},
		{"GET /practise", s.practiseShelf},
		{"GET /practise/{lesson}", s.practise},
		{"GET /structure", s.structureText},
		{"GET /about", s.about},
		{"GET /login", s.login},
		{"POST /login", s.loginCheck},
		{"POST /logout", s.logout},
		{"GET /static/{version}/{file...}", s.assets.serve},
		{"/", s.missing},
	}
}
