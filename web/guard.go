package web

import (
	"context"
	"fmt"
	"net"
	"net/http"
	"runtime"
	"runtime/debug"
	"slices"
	"strings"
	"time"
)

const (
	maxBody = 8 << 20 // bytes of a request
	// patience is how long a request may be worked on. Waiting for news of a
	// lesson has no end.
	patience = 20 * time.Second
	// mostBodies are taken in at a time, so that they fit the memory; more wait.
	mostBodies = 64
	// mostListeners wait for news of lessons at a time.
	mostListeners = 1000
)

// policy is the Content-Security-Policy of our own pages: nothing from
// anywhere else, no script or style but files of this server.
const policy = "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self' data: blob:; font-src 'self'; connect-src 'self'; " +
	"frame-src 'self'; form-action 'self'; base-uri 'none'; frame-ancestors 'none'"

// guard stands before everything: it sets the headers that keep a page to
// itself, refuses requests for other hosts and from other sites, asks for the
// password, bounds time and size, and survives a fault.
func (s *Server) guard(next http.Handler) http.Handler {
	var sameOrigin http.CrossOriginProtection
	next = sameOrigin.Handler(next)
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		defer func() {
			if fault := recover(); fault != nil && fault != http.ErrAbortHandler {
				s.options.Report(fmt.Sprintf("error: %s %s: %v\n%s", r.Method, r.URL.Path, fault, debug.Stack()))
				http.Error(w, "something went wrong; the terminal says more", http.StatusInternalServerError)
			}
		}()
		h := w.Header()
		h.Set("Content-Security-Policy", policy)
		h.Set("X-Content-Type-Options", "nosniff")
		h.Set("Referrer-Policy", "no-referrer")
		h.Set("Cross-Origin-Resource-Policy", "same-origin")
		h.Set("Cross-Origin-Opener-Policy", "same-origin")
		h.Set("Permissions-Policy", "camera=(), microphone=(), geolocation=()")
		h.Set("Cache-Control", "no-store")
		if !s.hostAllowed(r.Host) {
			http.Error(w, "this server answers only to names of this machine", http.StatusForbidden)
			return
		}
		if !s.sessions.allowed(r) && !open(r.URL.Path) {
			if r.Method == http.MethodGet && strings.Contains(r.Header.Get("Accept"), "text/html") {
				http.Redirect(w, r, "/login", http.StatusSeeOther)
				return
			}
			http.Error(w, "log in first", http.StatusUnauthorized)
			return
		}
		s.bounded(w, r, next)
	})
}

// bounded answers within bounds of time and size. Waiting for news of a lesson
// has no end, but only so many can.
func (s *Server) bounded(w http.ResponseWriter, r *http.Request, next http.Handler) {
	connection := http.NewResponseController(w) // which can't be bounded in tests without a network
	if strings.HasSuffix(r.URL.Path, "/-/events") {
		select {
		case s.listening <- struct{}{}:
		default:
			http.Error(w, "too many pages wait for news; load this one again to see it as it is now", http.StatusServiceUnavailable)
			return
		}
		defer func() { <-s.listening }()
		_ = connection.SetReadDeadline(time.Time{})
		next.ServeHTTP(w, r)
		return
	}
	_ = connection.SetWriteDeadline(time.Now().Add(patience + bodyPatience))
	ctx, cancel := context.WithTimeout(r.Context(), patience)
	defer cancel()
	r = r.WithContext(ctx)
	if r.ContentLength > maxBody {
		w.Header().Set("Connection", "close")
		next = s.answer(func(http.ResponseWriter, *http.Request) error { return &http.MaxBytesError{Limit: maxBody} })
	}
	r.Body = http.MaxBytesReader(w, r.Body, maxBody)
	if r.ContentLength != 0 {
		select {
		case s.taking <- struct{}{}:
			defer func() { <-s.taking }()
		case <-ctx.Done():
			http.Error(w, "too many files come in at the same time; try again", http.StatusServiceUnavailable)
			return
		}
	}
	next.ServeHTTP(w, r)
}

// open reports whether a path is shown to who hasn't given the password: the
// page that asks for it, and the files it needs.
func open(path string) bool {
	return path == "/login" || strings.HasPrefix(path, "/static/")
}

// hostAllowed refuses names that a web site could give to this machine. Where
// a password is asked for, the name doesn't matter: such a site's pages don't
// have the cookie.
func (s *Server) hostAllowed(host string) bool {
	if name, _, err := net.SplitHostPort(host); err == nil {
		host = name
	}
	if s.options.PasswordHash != "" {
		return true
	}
	ip := net.ParseIP(strings.Trim(host, "[]"))
	return host == "localhost" || ip != nil && ip.IsLoopback() || slices.Contains(s.options.Hosts, host)
}

// workers is how many heavy computations run at a time.
func workers() int { return max(2, runtime.GOMAXPROCS(0)) }

// heavy runs a computation when a worker is free, so that many visitors wait
// in a row instead of slowing each other down.
func (s *Server) heavy(ctx context.Context, work func() error) error {
	select {
	case s.working <- struct{}{}:
	case <-ctx.Done():
		return ctx.Err()
	}
	defer func() { <-s.working }()
	return work()
}
