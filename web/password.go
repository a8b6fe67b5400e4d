package web

import (
	"crypto/rand"
	"crypto/subtle"
	"encoding/base64"
	"errors"
	"fmt"
	"net/http"
	"strings"
	"sync"
	"time"

	"golang.org/x/crypto/argon2"
)

// Cost of a password's hash: RFC 9106, section 4, second recommended option.
const (
	hashPasses  = 3
	hashMemory  = 64 << 10 // KiB
	hashThreads = 4
	hashLength  = 32
	saltLength  = 16
)

// MinPassword is the length of the shortest password that is taken, in bytes.
const MinPassword = 10

// HashPassword returns the argon2id hash of a password with a new salt, in
// the customary text form "$argon2id$v=19$m=...". It fails for a password of
// less than MinPassword bytes.
func HashPassword(password string) (string, error) {
	if len(password) < MinPassword {
		return "", fmt.Errorf("the password has %d bytes; take at least %d", len(password), MinPassword)
	}
	salt := make([]byte, saltLength)
	_, _ = rand.Read(salt) // never fails
	sum := argon2.IDKey([]byte(password), salt, hashPasses, hashMemory, hashThreads, hashLength)
	b64 := base64.RawStdEncoding.EncodeToString
	return fmt.Sprintf("$argon2id$v=%d$m=%d,t=%d,p=%d$%s$%s", argon2.Version, hashMemory, hashPasses, hashThreads, b64(salt), b64(sum)), nil
}

// passwordHash is a hash taken apart.
type passwordHash struct {
	memory, passes uint32
	threads        uint8
	salt, sum      []byte
}

func parseHash(text string) (h passwordHash, err error) {
	parts := strings.Split(text, "$")
	var version int
	if len(parts) != 6 || parts[0] != "" || parts[1] != "argon2id" {
		return h, errors.New("reading the password's hash: it doesn't begin with $argon2id$")
	}
	if _, err := fmt.Sscanf(parts[2], "v=%d", &version); err != nil || version != argon2.Version {
		return h, fmt.Errorf("reading the password's hash: version %q isn't v=%d", parts[2], argon2.Version)
	}
	if _, err := fmt.Sscanf(parts[3], "m=%d,t=%d,p=%d", &h.memory, &h.passes, &h.threads); err != nil || h.threads == 0 || h.passes == 0 || h.memory > 1<<21 || h.passes > 100 {
		return h, fmt.Errorf("reading the password's hash: the cost %q can't be used", parts[3])
	}
	if h.salt, err = base64.RawStdEncoding.DecodeString(parts[4]); err != nil || len(h.salt) < 8 {
		return h, errors.New("reading the password's hash: the salt isn't base64 of 8 bytes or more")
	}
	if h.sum, err = base64.RawStdEncoding.DecodeString(parts[5]); err != nil || len(h.sum) < 16 {
		return h, errors.New("reading the password's hash: the hash isn't base64 of 16 bytes or more")
	}
	return h, nil
}

func (h passwordHash) matches(password string) bool {
	sum := argon2.IDKey([]byte(password), h.salt, h.passes, h.memory, h.threads, uint32(len(h.sum)))
	return subtle.ConstantTimeCompare(sum, h.sum) == 1
}

const (
	sessionCookie = "ionwright-session"
	sessionLength = 12 * time.Hour
	mostSessions  = 10_000
)

// sessions are the visitors who gave the password. Without a password
// everyone is allowed.
type sessions struct {
	hash  *passwordHash
	now   func() time.Time
	trial sync.Mutex // one password is tried at a time: guessing is slow for all guessers together

	mu   sync.Mutex
	ends map[string]time.Time
}

func newSessions(hash string, now func() time.Time) (*sessions, error) {
	s := &sessions{now: now, ends: map[string]time.Time{}}
	if hash != "" {
		h, err := parseHash(hash)
		if err != nil {
			return nil, err
		}
		s.hash = &h
	}
	return s, nil
}

func (s *sessions) allowed(r *http.Request) bool {
	if s.hash == nil {
		return true
	}
	cookie, err := r.Cookie(sessionCookie)
	if err != nil {
		return false
	}
	s.mu.Lock()
	defer s.mu.Unlock()
	end, ok := s.ends[cookie.Value]
	return ok && s.now().Before(end)
}

// begin makes a session and returns its secret.
func (s *sessions) begin() string {
	token := rand.Text()
	s.mu.Lock()
	defer s.mu.Unlock()
	for old, end := range s.ends {
		if len(s.ends) >= mostSessions || !s.now().Before(end) {
			delete(s.ends, old)
		}
	}
	s.ends[token] = s.now().Add(sessionLength)
	return token
}

func (s *sessions) end(token string) {
	s.mu.Lock()
	defer s.mu.Unlock()
	delete(s.ends, token)
}

func (s *Server) login(w http.ResponseWriter, r *http.Request) error {
	return s.render(w, r, "login", "", "Log in", nil)
}

func (s *Server) loginCheck(w http.ResponseWriter, r *http.Request) error {
	password := r.PostFormValue("password")
	if s.sessions.hash == nil {
		http.Redirect(w, r, "/", http.StatusSeeOther)
		return nil
	}
	const longest = 1000
	s.sessions.trial.Lock()
	right := len(password) <= longest && s.sessions.hash.matches(password)
	s.sessions.trial.Unlock()
	if !right {
		return s.renderStatus(w, r, http.StatusUnauthorized, "login", "", "Log in", "That isn't the password.")
	}
	http.SetCookie(w, &http.Cookie{Name: sessionCookie, Value: s.sessions.begin(), Path: "/", MaxAge: int(sessionLength.Seconds()),
		HttpOnly: true, SameSite: http.SameSiteStrictMode, Secure: s.options.Secure})
	http.Redirect(w, r, "/", http.StatusSeeOther)
	return nil
}

func (s *Server) logout(w http.ResponseWriter, r *http.Request) error {
	if cookie, err := r.Cookie(sessionCookie); err == nil {
		s.sessions.end(cookie.Value)
	}
	http.SetCookie(w, &http.Cookie{Name: sessionCookie, Path: "/", MaxAge: -1, HttpOnly: true, SameSite: http.SameSiteStrictMode, Secure: s.options.Secure})
	http.Redirect(w, r, "/login", http.StatusSeeOther)
	return nil
}
