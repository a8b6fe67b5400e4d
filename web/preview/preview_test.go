package preview

import (
	"bufio"
	"context"
	"io"
	"net/http"
	"net/http/httptest"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"ionwright/lesson"
)

const good = `---
title: A good lesson
compounds: { solvent: CCC(C)=O }
---

Its nominal mass is [72]{= mass(solvent) }.
`

var wrong = strings.Replace(good, "[72]", "[74]", 1)

// folder is a lesson's folder and a server for it.
func folder(t *testing.T, text string) (dir string, s *Server) {
	t.Helper()
	dir = t.TempDir()
	write(t, dir, text)
	files, err := lesson.Open(dir)
	if err != nil {
		t.Fatal(err)
	}
	return dir, New(files)
}

func write(t *testing.T, dir, text string) {
	t.Helper()
	if err := os.WriteFile(filepath.Join(dir, "lesson.md"), []byte(text), 0o644); err != nil {
		t.Fatal(err)
	}
}

func get(t *testing.T, s *Server, path string) (int, string) {
	t.Helper()
	r := httptest.NewRequest("GET", "http://localhost"+path, nil)
	w := httptest.NewRecorder()
	s.Handler().ServeHTTP(w, r)
	return w.Code, w.Body.String()
}

func TestPagesOfTheLastGoodPack(t *testing.T) {
	dir, s := folder(t, good)
	if state := s.Build(t.Context()); !state.OK || state.Version != 1 {
		t.Fatalf("%+v", state)
	}
	if code, body := get(t, s, "/student.html"); code != http.StatusOK || !strings.Contains(body, "A good lesson") || !strings.Contains(body, scriptName) {
		t.Errorf("student page: %d", code)
	}
	if code, _ := get(t, s, "/"); code != http.StatusFound {
		t.Errorf("the root answers %d, want a way to the lesson", code)
	}
	write(t, dir, wrong)
	state := s.Build(t.Context())
	if state.OK || state.Version != 2 || !strings.Contains(state.Summary(), "1 error") {
		t.Errorf("%+v", state)
	}
	if _, body := get(t, s, "/student.html"); !strings.Contains(body, "is 72.") {
		t.Error("the last good page is gone")
	}
	_, body := get(t, s, "/"+stateName)
	for _, want := range []string{`"ok":false`, `"file":"lesson.md"`, `"line":6`, `"claimed":"74"`, `"computed":"72"`} {
		if !strings.Contains(body, want) {
			t.Errorf("the state lacks %s: %s", want, body)
		}
	}
}

func TestLessonThatWasNeverBuilt(t *testing.T) {
	_, s := folder(t, strings.Replace(wrong, "A good lesson", "<script>", 1))
	s.Build(t.Context())
	code, body := get(t, s, "/key.html")
	for _, want := range []string{"The lesson isn't built", "lesson.md:6:22", "computed: 72"} {
		if code != http.StatusOK || !strings.Contains(body, want) {
			t.Errorf("%d, and the page lacks %q: %s", code, want, body)
		}
	}
}

// TestNothingButThePackIsServed tries to leave the pack.
func TestNothingButThePackIsServed(t *testing.T) {
	dir, s := folder(t, good)
	if err := os.WriteFile(filepath.Join(dir, "secret.html"), []byte("secret"), 0o644); err != nil {
		t.Fatal(err)
	}
	s.Build(t.Context())
	server := httptest.NewServer(s.Handler())
	defer server.Close()
	for _, path := range []string{"/lesson.md", "/secret.html", "/../secret.html", "/..%2fsecret.html", "/figures/../secret.html", "/figures/",
		"//etc/passwd", "/%2e%2e/%2e%2e/etc/passwd", "/-/", "/student.html/", "/student.html%00", `/..\secret.html`} {
		answer, err := server.Client().Get(server.URL + path)
		if err != nil {
			continue // not even a request
		}
		body, _ := io.ReadAll(answer.Body)
		answer.Body.Close()
		if answer.StatusCode == http.StatusOK || strings.Contains(string(body), "secret") && !strings.Contains(string(body), "not found") {
			t.Errorf("%s answers %d: %.60s", path, answer.StatusCode, body)
		}
	}
	r := httptest.NewRequest("POST", "http://localhost/student.html", nil)
	w := httptest.NewRecorder()
	s.Handler().ServeHTTP(w, r)
	if w.Code != http.StatusMethodNotAllowed {
		t.Errorf("POST answers %d", w.Code)
	}
}

// TestAChangeIsBuiltAndTold changes the file and waits for the event.
func TestAChangeIsBuiltAndTold(t *testing.T) {
	dir, s := folder(t, good)
	s.Build(t.Context())
	ctx, cancel := context.WithCancel(t.Context())
	done := make(chan error, 1)
	states := make(chan State, 10)
	go func() { done <- s.Watch(ctx, dir, "pack", func(st State) { states <- st }) }()
	server := httptest.NewServer(s.Handler())
	defer server.Close()
	request, err := http.NewRequestWithContext(ctx, "GET", server.URL+"/"+eventName, nil)
	if err != nil {
		t.Fatal(err)
	}
	answer, err := server.Client().Do(request)
	if err != nil {
		t.Fatal(err)
	}
	defer answer.Body.Close()
	lines := bufio.NewScanner(answer.Body)
	next := func() string {
		for lines.Scan() {
			if data, ok := strings.CutPrefix(lines.Text(), "data: "); ok {
				return data
			}
		}
		t.Fatalf("no event: %v", lines.Err())
		return ""
	}
	if v := next(); v != "1" {
		t.Errorf("the first event is %q, want 1", v)
	}
	// The watch may not stand yet: write until it answers.
	deadline := time.After(20 * time.Second)
	tick := time.NewTicker(200 * time.Millisecond)
	defer tick.Stop()
	write(t, dir, wrong)
	for waiting := true; waiting; {
		select {
		case st := <-states:
			if st.OK {
				t.Errorf("the wrong lesson was built: %+v", st)
			}
			waiting = false
		case <-tick.C:
			write(t, dir, wrong)
		case <-deadline:
			t.Fatal("no build after a change")
		}
	}
	if v := next(); v == "1" {
		t.Errorf("the event after a change is %q", v)
	}
	cancel()
	if err := <-done; err != nil {
		t.Errorf("the watch ended with %v", err)
	}
}
