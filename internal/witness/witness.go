// Package witness finds what the fuller checks compare with and this
// repository doesn't carry: the shared measured spectra, RDKit, the InChI
// program, and the npm libraries pinned in npm/package.json.
//
// On a laptop a missing witness skips the test that wanted it, with the
// reason. Where the environment says CI=true it fails the test instead, so
// that a check can't go quiet.
package witness

import (
	"bytes"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"testing"
)

// Root is the folder of this module's go.mod.
func Root() string {
	_, file, _, ok := runtime.Caller(0)
	if !ok {
		return "."
	}
	return filepath.Dir(filepath.Dir(filepath.Dir(file)))
}

// absent skips the test, or fails it in CI.
func absent(t testing.TB, what string) {
	t.Helper()
	if os.Getenv("CI") == "true" {
		t.Fatalf("%s is absent; in CI it must be present", what)
	}
	t.Skipf("%s is absent here; the fuller checks (.ci/run) bring it", what)
}

// rest skips the test in a short run.
func rest(t testing.TB) {
	t.Helper()
	if testing.Short() {
		t.Skip("outside witnesses rest in a short run")
	}
}

// SharedDir returns the folder of the shared measured spectra, and false
// where there is none: the folder named by IONWRIGHT_SPECTRA, or else
// ../shared/spectra beside the module.
func SharedDir() (string, bool) {
	dir := os.Getenv("IONWRIGHT_SPECTRA")
	if dir == "" {
		dir = filepath.Join(Root(), "..", "shared", "spectra")
	}
	info, err := os.Stat(dir)
	return dir, err == nil && info.IsDir()
}

// Shared returns the folder of the shared measured spectra or ends the test.
func Shared(t testing.TB) string {
	t.Helper()
	rest(t)
	dir, ok := SharedDir()
	if !ok {
		absent(t, "the folder of shared spectra")
	}
	return dir
}

// python returns a Python 3 that can import module.
func python(module string) (string, bool) {
	for _, name := range []string{"/usr/bin/python3", "python3"} {
		path, err := exec.LookPath(name)
		if err == nil && exec.Command(path, "-c", "import "+module).Run() == nil {
			return path, true
		}
	}
	return "", false
}

// Python runs a Python script that imports module (rdkit, IsoSpecPy), with
// stdin as its standard input, and returns what it prints.
func Python(t testing.TB, module, script string, stdin []byte, args ...string) []byte {
	t.Helper()
	rest(t)
	path, ok := python(module)
	if !ok {
		absent(t, "Python 3 with "+module)
	}
	return run(t, exec.Command(path, append([]string{"-c", script}, args...)...), stdin)
}

// PythonCommand is Python for a caller outside a test (the bench command):
// false where no Python 3 can import module.
func PythonCommand(module, script string, args ...string) (*exec.Cmd, bool) {
	path, ok := python(module)
	if !ok {
		return nil, false
	}
	return exec.Command(path, append([]string{"-c", script}, args...)...), true
}

// Node runs a Node.js script (CommonJS) that can require the pinned npm
// packages, with stdin as its standard input, and returns what it prints.
func Node(t testing.TB, script string, stdin []byte, args ...string) []byte {
	t.Helper()
	rest(t)
	cmd, ok := NodeCommand(script, args...)
	if !ok {
		absent(t, "Node.js with the packages of internal/witness/npm")
	}
	return run(t, cmd, stdin)
}

// NodeCommand is Node for a caller outside a test: false where Node.js or the
// packages are absent.
func NodeCommand(script string, args ...string) (*exec.Cmd, bool) {
	dir := filepath.Join(Root(), "internal", "witness", "npm")
	path, err := exec.LookPath("node")
	if err != nil {
		return nil, false
	}
	if _, err := os.Stat(filepath.Join(dir, "node_modules")); err != nil {
		return nil, false
	}
	cmd := exec.Command(path, append([]string{"-e", script, "--"}, args...)...)
	cmd.Dir = dir
	return cmd, true
}

// NodeFile returns the path of a file of the pinned npm packages, or ends the
// test.
func NodeFile(t testing.TB, name string) string {
	t.Helper()
	rest(t)
	path := filepath.Join(Root(), "internal", "witness", "npm", "node_modules", filepath.FromSlash(name))
	if _, err := os.Stat(path); err != nil {
		absent(t, "the npm package file "+name)
	}
	return path
}

// InChI returns the path of the InChI program (Debian's libinchi-bin) or ends
// the test.
func InChI(t testing.TB) string {
	t.Helper()
	rest(t)
	for _, name := range []string{"inchi_main", "inchi-1"} {
		if path, err := exec.LookPath(name); err == nil {
			return path
		}
	}
	absent(t, "the InChI program")
	return ""
}

func run(t testing.TB, cmd *exec.Cmd, stdin []byte) []byte {
	t.Helper()
	var stderr bytes.Buffer
	cmd.Stdin = bytes.NewReader(stdin)
	cmd.Stderr = &stderr
	out, err := cmd.Output()
	if err != nil {
		t.Fatalf("running the witness %s: %v\n%s", cmd.Path, err, stderr.String())
	}
	return out
}
