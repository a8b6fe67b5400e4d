package main

import (
	"bufio"
	"context"
	"errors"
	"fmt"
	"io"
	"net/http"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"time"
)

// webStart measures how long "ionwright serve" takes from its start to the
// first page, and to the first explanation after that.
func webStart(ctx context.Context, out io.Writer) error {
	dir, err := os.MkdirTemp("", "ionwright-bench-")
	if err != nil {
		return err
	}
	defer os.RemoveAll(dir)
	program := filepath.Join(dir, "ionwright")
	if text, err := exec.CommandContext(ctx, "go", "build", "-o", program, "./cmd/ionwright").CombinedOutput(); err != nil {
		return fmt.Errorf("building the program (run bench in the repository's folder): %w: %s", err, text)
	}
	const times = 20
	var first, explained []time.Duration
	for range times {
		a, b, err := startOnce(ctx, program, dir)
		if err != nil {
			return err
		}
		first, explained = append(first, a), append(explained, b)
	}
	fmt.Fprintf(out, "%-34s %9s %9s\n", "from start", "median", "p95")
	row(out, "to the first page", first)
	row(out, "to an explanation asked for then", explained)
	return nil
}

// startOnce starts the program, and ends it.
func startOnce(ctx context.Context, program, dir string) (first, explained time.Duration, err error) {
	run := exec.CommandContext(ctx, program, "serve", "--listen", "127.0.0.1")
	run.Dir = dir
	lines, err := run.StdoutPipe()
	if err != nil {
		return 0, 0, err
	}
	from := time.Now()
	if err := run.Start(); err != nil {
		return 0, 0, err
	}
	defer func() {
		err = errors.Join(err, run.Process.Kill())
		_ = run.Wait() // it was killed
	}()
	address, err := bufio.NewReader(lines).ReadString('\n')
	if err != nil {
		return 0, 0, fmt.Errorf("reading the address that serve prints: %w", err)
	}
	address = strings.TrimSpace(address)
	for _, to := range []struct {
		path string
		took *time.Duration
	}{{"", &first}, {"explain?q=decan-2-one", &explained}} {
		answer, err := http.Get(address + to.path)
		if err != nil {
			return 0, 0, err
		}
		_, err = io.Copy(io.Discard, answer.Body)
		answer.Body.Close()
		if err != nil || answer.StatusCode != http.StatusOK {
			return 0, 0, fmt.Errorf("%s answers %d: %w", to.path, answer.StatusCode, err)
		}
		*to.took = time.Since(from)
	}
	return first, explained, nil
}
