package web

import (
	"bytes"
	"fmt"
	"io"
	"net"
	"net/http"
	"net/url"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"sync/atomic"
	"syscall"
	"testing"
	"time"

	"ionwright/internal/browser"
	"ionwright/lesson/shelf"
)

// listening is an application that is served as the command serves it, with
// its bounds on connections; it returns its address.
func listening(t *testing.T) string {
	t.Helper()
	lessons, err := shelf.Open(filepath.Join(t.TempDir(), "lessons"))
	if err != nil {
		t.Fatal(err)
	}
	s, err := New(t.Context(), Options{Lessons: lessons})
	if err != nil {
		t.Fatal(err)
	}
	listener, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	go func() {
		if err := Serve(t.Context(), listener, s.Handler(), "", ""); err != nil {
			t.Error(err)
		}
	}()
	return listener.Addr().String()
}

// answers asks for the start page on a connection of its own.
func answers(address string) error {
	client := &http.Client{Transport: &http.Transport{DisableKeepAlives: true}, Timeout: time.Minute}
	answer, err := client.Get("http://" + address + "/")
	if err != nil {
		return err
	}
	defer answer.Body.Close()
	body, err := io.ReadAll(answer.Body)
	if err != nil || answer.StatusCode != http.StatusOK || !bytes.Contains(body, []byte("</html>")) {
		return fmt.Errorf("the start page answers %d, %w", answer.StatusCode, err)
	}
	return nil
}

// zeros is an endless body that counts what was taken of it.
type zeros struct {
	left  int64
	taken atomic.Int64
}

func (z *zeros) Read(p []byte) (int, error) {
	if z.left == 0 {
		return 0, io.EOF
	}
	n := int(min(int64(len(p)), z.left))
	clear(p[:n])
	z.left -= int64(n)
	z.taken.Add(int64(n))
	return n, nil
}

// TestAGigabyteIsRefusedEarly sends a gigabyte of zeros, with its length told
// and without: the server stops taking it in, and its memory doesn't grow.
func TestAGigabyteIsRefusedEarly(t *testing.T) {
	address := listening(t)
	const giga, enough, memory = 1 << 30, 64 << 20, 64 << 20
	for _, path := range []string{"/read", "/explain", "/write", "/write/example/files/a.csv", "/write/example/source", "/nothing"} {
		for _, length := range []int64{giga, -1} {
			var before, after runtime.MemStats
			runtime.ReadMemStats(&before)
			body := &zeros{left: giga}
			method := "POST"
			if strings.HasSuffix(path, "source") {
				method = "PUT"
			}
			r, err := http.NewRequestWithContext(t.Context(), method, "http://"+address+path, body)
			if err != nil {
				t.Fatal(err)
			}
			r.ContentLength = length
			r.Header.Set("Content-Type", "multipart/form-data; boundary=x")
			client := &http.Client{Transport: &http.Transport{DisableKeepAlives: true}}
			answer, err := client.Do(r)
			if err == nil { // otherwise the connection was cut while we were sending
				answer.Body.Close()
				if answer.StatusCode < 400 || answer.StatusCode >= 500 {
					t.Errorf("%s of a gigabyte (length %d) answers %d", path, length, answer.StatusCode)
				}
			}
			runtime.ReadMemStats(&after)
			if got := body.taken.Load(); got > enough {
				t.Errorf("%s (length %d): %d bytes of a gigabyte were taken", path, length, got)
			}
			if got := after.TotalAlloc - before.TotalAlloc; got > memory {
				t.Errorf("%s (length %d): %d bytes of memory were used", path, length, got)
			}
		}
	}
	if err := answers(address); err != nil {
		t.Error(err)
	}
}

// TestTenThousandConnections opens them and asks for nothing, or for a part of
// something: who comes then is answered all the same.
func TestTenThousandConnections(t *testing.T) {
	if testing.Short() {
		t.Skip("ten thousand connections rest in a short run")
	}
	const many = 10_000
	var limit syscall.Rlimit
	if err := syscall.Getrlimit(syscall.RLIMIT_NOFILE, &limit); err != nil {
		t.Fatal(err)
	}
	if limit.Cur < many+mostConnections+1000 {
		limit.Cur = min(limit.Max, 2*many)
		if err := syscall.Setrlimit(syscall.RLIMIT_NOFILE, &limit); err != nil || limit.Cur < many+mostConnections+1000 {
			t.Skipf("this machine lets a process open %d files: %v", limit.Cur, err)
		}
	}
	address := listening(t)
	var open []net.Conn
	defer func() {
		for _, c := range open {
			c.Close()
		}
	}()
	for i := range many {
		c, err := net.Dial("tcp", address)
		if err != nil {
			t.Fatalf("connection %d: %v", i, err)
		}
		open = append(open, c)
		switch i % 3 {
		case 1: // half a request
			_, _ = io.WriteString(c, "GET / HTTP/1.1\r\nHost: 127.0.0.1\r\n")
		case 2: // a page, and then nothing
			_, _ = io.WriteString(c, "GET /login HTTP/1.1\r\nHost: 127.0.0.1\r\nAccept: text/html\r\n\r\n")
		}
		if i%2000 == 1999 {
			if err := answers(address); err != nil {
				t.Errorf("with %d connections: %v", i+1, err)
			}
		}
	}
	if n := runtime.NumGoroutine(); n > 3*mostConnections {
		t.Errorf("%d goroutines are at work for %d connections", n, many)
	}
}

// TestSlowClients send a request a letter at a time, or fetch nothing of the
// answer; nobody else notices.
func TestSlowClients(t *testing.T) {
	if testing.Short() {
		t.Skip("slow clients rest in a short run")
	}
	address := listening(t)
	dial := func() net.Conn {
		c, err := net.Dial("tcp", address)
		if err != nil {
			t.Fatal(err)
		}
		t.Cleanup(func() { c.Close() })
		return c
	}
	slow := dial()
	_, _ = io.WriteString(slow, "GET / HTTP/1.1\r\nHost: 127.")
	for range 200 { // asks for much, and reads nothing
		c := dial()
		_, _ = io.WriteString(c, strings.Repeat("GET /static/x/lib/openchemlib.js HTTP/1.1\r\nHost: 127.0.0.1\r\n\r\n", 20))
	}
	for range 5 {
		if err := answers(address); err != nil {
			t.Error(err)
		}
	}
	// The half request is ended by the server: the read ends, with an answer
	// that says so or without.
	answer, err := io.ReadAll(slow)
	if err != nil || bytes.Contains(answer, []byte("200 OK")) {
		t.Errorf("half a request gets %.100q, %v", answer, err)
	}
}

// TestHostileLesson opens a lesson whose every text is a script, in a browser:
// none runs, on any page.
func TestHostileLesson(t *testing.T) {
	if testing.Short() {
		t.Skip("a browser rests in a short run")
	}
	s := serve(t, Options{})
	const evil = `</title></textarea></script><script>window.pwned=1</script><img src=x onerror=window.pwned=1><svg onload=window.pwned=1>`
	name := "evil"
	dir := filepath.Join(s.dir, name)
	if err := os.MkdirAll(dir, 0o755); err != nil {
		t.Fatal(err)
	}
	quote := func(text string) string { q, _ := quoted(text); return q }
	write := func(prose string) {
		t.Helper()
		text := fmt.Sprintf("---\ntitle: %[1]s\naudience: %[1]s\npace: 130\ncompounds:\n  c: { name: %[1]s, smiles: CCC(C)=O, computed: yes }\nideas:\n  base: %[1]s\nhooks:\n  base: %[1]s\n---\n\n"+
			"Text of {{ compound }}.\n\n## Part {#base}\n\n%[2]s\n\n{{ figure(\"f\") }} shows [72]{= mass(c) }.\n\n```figure\nid: f\nspectrum: c\ncaption: %[1]s\n```\n\n"+
			"```claim\nthat: mass(c) == 72\nsays: %[1]s\nteaches: base\n```\n\n```question\nid: q\nkind: number\nidea: base\nask: %[1]s\nanswer: mass(c)\nbecause: %[1]s\nhints: [%[1]s]\n```\n\n## End\n\n```recap\nideas: [base]\n```\n", quote(evil), prose)
		text = strings.Replace(text, "{{ compound }}", "{{ c.name }}", 1)
		if err := os.WriteFile(filepath.Join(dir, "lesson.md"), []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	write("Plain text.")
	p := browser.Open(t, s.URL)
	e := url.QueryEscape(evil)
	look := func(paths ...string) {
		t.Helper()
		for _, path := range paths {
			p.Go(path)
			p.Wait(`document.readyState === "complete"`)
			if strings.HasPrefix(path, "/write/") {
				p.Wait(`document.getElementById("writing").dataset.ready === "yes" && document.getElementById("problem-count").textContent !== ""`)
			}
			if p.Text(`window.pwned === undefined && (!document.querySelector("iframe") || document.querySelector("iframe").contentWindow.pwned === undefined)`) != "true" {
				t.Errorf("%s runs a script of the lesson's text", path)
			}
		}
	}
	pages := []string{"/", "/write", "/practise", "/lesson/evil/student.html", "/lesson/evil/key.html", "/write/evil", "/practise/evil", "/practise/evil?hint.q=1&solution.q=1&a.q=" + e}
	look(pages...)
	if body := p.Text(`document.body.innerText`); !strings.Contains(body, "<script>") {
		t.Errorf("the practice page doesn't show the hostile text as text, so nothing was tried: %.300s", body)
	}
	look("/explain?q="+e, "/explain?q=butan-2-one&peaks=43:100&title="+e, "/read?peaks=43:100+72:20&title="+e+"&candidates="+e, "/demonstrate?q="+e)
	write(evil) // a lesson refuses HTML: the finding names it, as text
	p.Go("/write/evil")
	p.Wait(`document.querySelector("#problems .error")`)
	look(pages...)
	// A file whose name is a script.
	status, body, _ := s.send("POST", "/write/evil/files/"+url.PathEscape(`"><img src=x onerror=alert(1)>.csv`), strings.NewReader("43,100\n"), nil)
	if status == http.StatusOK && strings.ContainsAny(body, "<>") {
		t.Errorf("the file was stored as %s", body)
	}
}
