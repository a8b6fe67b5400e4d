package main

import (
	"bufio"
	"bytes"
	"context"
	"encoding/json"
	"io"
	"net"
	"net/http"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"testing"
	"time"
)

// syncBuffer is a buffer that a goroutine writes while the test reads.
type syncBuffer struct {
	mu sync.Mutex
	b  bytes.Buffer
}

func (s *syncBuffer) Write(p []byte) (int, error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.b.Write(p)
}

func (s *syncBuffer) String() string {
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.b.String()
}

// served runs "serve" with arguments until stop is called, which gives the
// exit status; address is the line it prints.
func served(t *testing.T, args ...string) (address string, errOut *syncBuffer, stop func() int) {
	t.Helper()
	ctx, cancel := context.WithCancel(context.Background())
	t.Cleanup(cancel)
	read, write := io.Pipe()
	errOut = &syncBuffer{}
	status := make(chan int, 1)
	go func() {
		status <- run(ctx, append([]string{"serve"}, args...), strings.NewReader(""), write, errOut)
		write.Close()
	}()
	lines := bufio.NewReader(read)
	line, err := lines.ReadString('\n')
	if err != nil {
		t.Fatalf("serve printed %q: %v; %s", line, err, errOut)
	}
	if line == "{\n" { // JSON, over several lines
		rest, err := lines.ReadString('}')
		if err != nil {
			t.Fatalf("serve printed %q: %v", line+rest, err)
		}
		line += rest
	}
	go func() { _, _ = io.Copy(io.Discard, lines) }()
	return strings.TrimSpace(line), errOut, func() int {
		cancel()
		return <-status
	}
}

func fetch(t *testing.T, url string) string {
	t.Helper()
	answer, err := http.Get(url)
	if err != nil {
		t.Fatal(err)
	}
	defer answer.Body.Close()
	body, err := io.ReadAll(answer.Body)
	if err != nil {
		t.Fatal(err)
	}
	return string(body)
}

func TestServeShowsTheExample(t *testing.T) {
	t.Chdir(t.TempDir())
	address, errOut, stop := served(t)
	if !strings.HasPrefix(address, "http://127.0.0.1:") {
		t.Fatalf("serve printed %q", address)
	}
	if body := fetch(t, address); !strings.Contains(body, "Three bottles without labels") {
		t.Errorf("the start page shows %.300s", body)
	}
	if body := fetch(t, address+"lesson/example/student.html"); !strings.Contains(body, "<h1>Three bottles without labels</h1>") {
		t.Errorf("the lesson shows %.200s", body)
	}
	// A page that waits for news doesn't keep the server from ending.
	waiting, err := http.Get(address + "lesson/example/-/events")
	if err != nil {
		t.Fatal(err)
	}
	defer waiting.Body.Close()
	if status := stop(); status != exitFine {
		t.Errorf("Ctrl-C ends with status %d: %s", status, errOut)
	}
	if _, err := os.Stat(usualFolder); err == nil {
		t.Error("a folder for lessons was made though no lesson was")
	}
}

// TestServeBeyondThisMachine needs a password.
func TestServeBeyondThisMachine(t *testing.T) {
	t.Setenv(passwordVariable, "")
	t.Chdir(t.TempDir())
	var out, errOut bytes.Buffer
	if status := run(context.Background(), []string{"serve", "--listen", "0.0.0.0"}, nil, &out, &errOut); status != exitFailed ||
		!strings.Contains(errOut.String(), "a password is needed") {
		t.Errorf("status %d: %s", status, &errOut)
	}
	if err := os.WriteFile("short", []byte("short\n"), 0o600); err != nil {
		t.Fatal(err)
	}
	errOut.Reset()
	if status := run(context.Background(), []string{"serve", "--listen", "0.0.0.0", "--password-file", "short"}, nil, &out, &errOut); status != exitFailed ||
		!strings.Contains(errOut.String(), "take at least 10") {
		t.Errorf("status %d: %s", status, &errOut)
	}
	if err := os.WriteFile("secret", []byte("a long password\n"), 0o600); err != nil {
		t.Fatal(err)
	}
	_, said, stop := served(t, "--listen", "0.0.0.0", "--password-file", "secret")
	if status := stop(); status != exitFine || !strings.Contains(said.String(), "visitors must give the password") || !strings.Contains(said.String(), "isn't encrypted") {
		t.Errorf("status %d: %s", status, said)
	}
}

func TestServeFollowsAFolder(t *testing.T) {
	dir := t.TempDir()
	write := func(number string) {
		t.Helper()
		text := "---\ntitle: T\ncompounds: { solvent: CCC(C)=O }\n---\n\nIt weighs [" + number + "]{= mass(solvent) }.\n"
		if err := os.WriteFile(filepath.Join(dir, "lesson.md"), []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	write("72")
	line, errOut, stop := served(t, "--json", dir)
	// Whoever looks at the lesson starts its builds.
	var told struct{ URL string }
	if err := json.Unmarshal([]byte(line), &told); err != nil {
		t.Fatal(err)
	}
	if body := fetch(t, told.URL+"lesson/"+filepath.Base(dir)+"/student.html"); !strings.Contains(body, "It weighs") {
		t.Errorf("the lesson shows %.300s", body)
	}
	deadline := time.Now().Add(20 * time.Second)
	for !strings.Contains(errOut.String(), "lesson.md:6:12: error: \"74\" stands here, but mass(solvent) is 72") {
		if time.Now().After(deadline) {
			t.Fatalf("no word of the change: %s", errOut)
		}
		write("74") // again and again: the watch may not stand yet
		time.Sleep(100 * time.Millisecond)
	}
	if !strings.Contains(errOut.String(), "the pages show the last good version") {
		t.Errorf("it says %q", errOut)
	}
	if status := stop(); status != exitFine {
		t.Errorf("status %d", status)
	}
}

func TestServePortThatIsTaken(t *testing.T) {
	taken, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	defer taken.Close()
	_, port, err := net.SplitHostPort(taken.Addr().String())
	if err != nil {
		t.Fatal(err)
	}
	var out, errOut bytes.Buffer
	if status := run(context.Background(), []string{"serve", "--port", port}, nil, &out, &errOut); status != exitFailed ||
		!strings.Contains(errOut.String(), "choose one with --port") {
		t.Errorf("status %d: %s", status, &errOut)
	}
}

// TestGarbageOfFiftyMegabytes reads what isn't a spectrum at all.
func TestGarbageOfFiftyMegabytes(t *testing.T) {
	const size = 50 << 20
	for name, text := range map[string]string{
		"bytes":  strings.Repeat("\x00\xff\x1bgarbage\r", size/11),
		"a line": strings.Repeat("7", size),
		"labels": strings.Repeat("##TITLE= x\n", size/11),
		"peaks":  "##TITLE= x\n##JCAMP-DX= 5.00\n##DATA TYPE= MASS SPECTRUM\n##NPOINTS= 3\n##PEAK TABLE= (XY..XY)\n" + strings.Repeat("43,100\n", size/7),
	} {
		t.Run(name, func(t *testing.T) {
			path := filepath.Join(t.TempDir(), "garbage.jdx")
			if err := os.WriteFile(path, []byte(text), 0o644); err != nil {
				t.Fatal(err)
			}
			var out, errOut bytes.Buffer
			status := run(context.Background(), []string{"read", "--json", path}, nil, &out, &errOut)
			if status != exitFailed || !strings.Contains(errOut.String(), "garbage.jdx\" as JCAMP-DX") || errOut.Len() > 2000 {
				t.Errorf("status %d: %.300s", status, &errOut)
			}
			var failure map[string]string
			if err := json.Unmarshal(out.Bytes(), &failure); err != nil || failure["error"] == "" {
				t.Errorf("--json wrote %.200s: %v", &out, err)
			}
		})
	}
}
