package arch

import (
	"go/parser"
	"go/token"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"

	"ionwright/internal/witness"
)

const module = "ionwright/"

// outside are the standard packages a pure room may not use, with the reason.
var outside = map[string]string{
	"os":            "a pure room opens no file",
	"os/exec":       "a pure room starts no process",
	"log":           "a pure room doesn't log",
	"log/slog":      "a pure room doesn't log",
	"net":           "a pure room knows no network",
	"net/http":      "a pure room doesn't know HTTP",
	"html/template": "a pure room doesn't know HTML",
	"time":          "a pure room reads no clock",
}

// sources returns the module's Go files that aren't tests, by room.
func sources(t *testing.T) map[string][]string {
	t.Helper()
	root := witness.Root()
	byRoom := map[string][]string{}
	err := filepath.WalkDir(root, func(path string, entry fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		name := entry.Name()
		if entry.IsDir() && path != root && (strings.HasPrefix(name, ".") || name == "testdata" || name == "node_modules" || name == "dist") {
			return filepath.SkipDir
		}
		if !strings.HasSuffix(name, ".go") || strings.HasSuffix(name, "_test.go") {
			return nil
		}
		room, err := filepath.Rel(root, filepath.Dir(path))
		if err != nil {
			return err
		}
		room = filepath.ToSlash(room)
		byRoom[room] = append(byRoom[room], path)
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	return byRoom
}

// main packages, generators and test support stand outside the table: they may import
// every room, and no room may import them.
func outsideTable(room string) bool {
	return room == "bench" || strings.HasPrefix(room, "cmd/") || strings.HasPrefix(room, "internal/") || strings.HasSuffix(room, "/gen")
}

func TestImportsAreInTheTable(t *testing.T) {
	rooms := map[string]Room{}
	for i, room := range Rooms {
		for _, imported := range room.Imports {
			above := slices.ContainsFunc(Rooms[:i], func(r Room) bool { return r.Name == imported })
			if !above {
				t.Errorf("the table lets %s import %s, which doesn't stand above it", room.Name, imported)
			}
		}
		rooms[room.Name] = room
	}
	byRoom := sources(t)
	for name := range rooms {
		if len(byRoom[name]) == 0 {
			t.Errorf("the table has the room %s, but it holds no Go file", name)
		}
	}
	for name, files := range byRoom {
		if outsideTable(name) {
			continue
		}
		room, known := rooms[name]
		if !known {
			t.Errorf("the package %s isn't in the table: add a row with what it may import and why", name)
			continue
		}
		for _, file := range files {
			checkFile(t, room, file)
		}
	}
}

func checkFile(t *testing.T, room Room, file string) {
	t.Helper()
	source, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	if strings.Contains(string(source), "\n//go:build ignore\n") || strings.HasPrefix(string(source), "//go:build ignore\n") {
		return // a generator, run by hand through go generate
	}
	parsed, err := parser.ParseFile(token.NewFileSet(), file, source, parser.ImportsOnly)
	if err != nil {
		t.Fatal(err)
	}
	for _, spec := range parsed.Imports {
		path, _ := strconv.Unquote(spec.Path.Value)
		if reason, bad := outside[path]; bad && room.Pure {
			t.Errorf("%s: %s imports %q: %s", filepath.Base(file), room.Name, path, reason)
		}
		imported, inside := strings.CutPrefix(path, module)
		if !inside || imported == room.Name || slices.Contains(room.Imports, imported) {
			continue
		}
		t.Errorf("%s: %s imports %s, which the table doesn't allow: %s is %s", filepath.Base(file), room.Name, imported, room.Name, room.Why)
	}
}
