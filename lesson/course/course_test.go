package course

import (
	"bytes"
	"context"
	"errors"
	"io/fs"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"testing"
	"testing/fstest"

	"ionwright/lesson"
	"ionwright/lesson/cache"
	"ionwright/lesson/diag"
	"ionwright/lesson/pack"
	"ionwright/lesson/source"
)

// quick leaves slides and archives out, which take long.
var quick = pack.Options{Script: "preview.js"}

// small is a course of two lessons that share a compound and a file.
func small() fstest.MapFS {
	of := func(text string) *fstest.MapFile { return &fstest.MapFile{Data: []byte(text)} }
	return fstest.MapFS{
		"course.md": of("---\ntitle: Two\naudience: a test\nlessons:\n  b: The first.\n  a: The second.\n---\n\nHello, *class*.\n"),
		"shared/store.yaml": of("compounds:\n  solvent: { smiles: CCC(C)=O, computed: yes }\n  gas: CC\n" +
			"instruments:\n  magnet: { radius: 25 cm, voltage: 4 kV }\n"),
		"shared/greeting.md": of("Good morning.\n"),
		"a/lesson.md": of("---\ntitle: A\nuses: { shared/store.yaml: [solvent, magnet] }\n---\n\n" +
			"```include\nfile: shared/greeting.md\n```\n\nIt weighs [72]{= mass(solvent) }.\n"),
		"b/lesson.md": of("---\ntitle: B <i>\ncompounds: { other: CCC }\n---\n\nIt weighs [44]{= mass(other) }.\n"),
	}
}

// read reads a course in which nothing may be wrong.
func read(t *testing.T, files fs.FS) *Course {
	t.Helper()
	c, diags := Read(files)
	if c == nil || len(diags) > 0 {
		t.Fatal(diags)
	}
	return c
}

// own is a context with a cache of the test's own.
func own(t *testing.T) context.Context {
	return cache.With(context.Background(), cache.Open(filepath.Join(t.TempDir(), "results"), 64<<20))
}

// build builds a course in which nothing may be wrong.
func build(t *testing.T, ctx context.Context, files fs.FS) map[string][]byte {
	t.Helper()
	p, diags, err := read(t, files).Build(ctx, quick)
	if err != nil || p == nil || len(diags) > 0 {
		t.Fatal(diags, err)
	}
	return p.Files
}

func same(a, b map[string][]byte) bool { return maps.EqualFunc(a, b, bytes.Equal) }

func TestTheWholeHoldsTheLessons(t *testing.T) {
	got := build(t, own(t), small())
	for _, name := range []string{"index.html", "key.html", "manifest.json", "a/student.html", "a/key.html", "b/student.html"} {
		if len(got[name]) == 0 {
			t.Errorf("there is no %s in %q", name, slices.Sorted(maps.Keys(got)))
		}
	}
	for name, want := range map[string][]string{
		"index.html":     {"Hello, <em>class</em>.", `<a href="b/student.html">B &lt;i&gt;</a>`, "The second.", "clinical, forensic or safety"},
		"key.html":       {`href="a/key.html"`, "min to say", "don’t hand out"},
		"a/student.html": {"Good morning.", "72"},
	} {
		for _, w := range want {
			if !strings.Contains(string(got[name]), w) {
				t.Errorf("%s lacks %q", name, w)
			}
		}
	}
	if page := string(got["index.html"]); strings.Contains(page, "key.html") || strings.Index(page, "b/student.html") > strings.Index(page, "a/student.html") {
		t.Error("the students' page leads to a key, or has the lessons in another order than course.md")
	}
	alone, err := lesson.Of(small(), "a")
	if err != nil {
		t.Fatal(err)
	}
	p, diags, err := lesson.Build(own(t), alone, quick)
	if err != nil || p == nil {
		t.Fatal(diags, err)
	}
	for name, data := range p.Files {
		if !bytes.Equal(got["a/"+name], data) {
			t.Errorf("%s of the lesson in the course isn't what the lesson alone is built into", name)
		}
	}
}

// TestTheSameWithTheCacheAndWithout builds cold, warm, without a cache, after
// an edit, and at the same time as others.
func TestTheSameWithTheCacheAndWithout(t *testing.T) {
	with, without := own(t), cache.With(context.Background(), nil)
	cold := build(t, with, small())
	for name, ctx := range map[string]context.Context{"warm": with, "without a cache": without} {
		if !same(build(t, ctx, small()), cold) {
			t.Errorf("%s, the pack has other bytes", name)
		}
	}
	for _, edited := range []string{"a/lesson.md", "shared/greeting.md", "b/lesson.md"} {
		files := small()
		files[edited] = &fstest.MapFile{Data: append(slices.Clone(files[edited].Data), "\nOne more sentence.\n"...)}
		after := build(t, with, files)
		if same(after, cold) || !same(after, build(t, without, files)) {
			t.Errorf("after an edit of %s the pack isn't what the edited lessons say", edited)
		}
		if !same(build(t, with, small()), cold) {
			t.Errorf("with the edit of %s taken back, the pack has other bytes", edited)
		}
	}
	var all sync.WaitGroup
	fresh := own(t)
	for range 4 {
		all.Go(func() {
			p, diags, err := read(t, small()).Build(fresh, quick)
			if err != nil || p == nil || !same(p.Files, cold) {
				t.Errorf("built at the same time as others: %v, %v", diags, err)
			}
		})
	}
	all.Wait()
}

// TestDamagedResultsAreMadeAgain spoils every file of the cache.
func TestDamagedResultsAreMadeAgain(t *testing.T) {
	dir := t.TempDir()
	ctx := cache.With(context.Background(), cache.Open(dir, 64<<20))
	cold := build(t, ctx, small())
	spoiled := 0
	err := filepath.WalkDir(dir, func(path string, entry fs.DirEntry, err error) error {
		if err != nil || entry.IsDir() {
			return err
		}
		spoiled++
		data, err := os.ReadFile(path)
		if err != nil {
			return err
		}
		return os.WriteFile(path, data[:len(data)*2/3], 0o600)
	})
	if err != nil || spoiled < 4 {
		t.Fatalf("%d files spoiled, %v", spoiled, err)
	}
	if !same(build(t, ctx, small()), cold) {
		t.Error("with a damaged cache the pack has other bytes")
	}
}

// TestWhatIsTakenFromTheCache plants a pack and looks when it is found: only
// where every file that the lesson read is as it was.
func TestWhatIsTakenFromTheCache(t *testing.T) {
	ctx := own(t)
	lessonOf := func(files fs.FS) fs.FS {
		f, err := lesson.Of(files, "a")
		if err != nil {
			t.Fatal(err)
		}
		return f
	}
	watched := &watchedFS{files: lessonOf(small()), sums: map[string]string{}}
	if _, _, err := lesson.Build(ctx, watched, quick); err != nil {
		t.Fatal(err)
	}
	sums, certain := watched.read()
	if want := []string{"lesson.md", "shared/greeting.md", "shared/store.yaml"}; !certain || !slices.Equal(slices.Sorted(maps.Keys(sums)), want) {
		t.Fatalf("read %v (certain: %v), want %q", sums, certain, want)
	}
	planted := kept{Pack: &pack.Pack{Files: map[string][]byte{"planted": nil}}}
	keep(cache.Of(ctx), optionsText(quick), lessonOf(small()), watched, planted)
	found := func(files fs.FS, o pack.Options) bool {
		got, err := buildLesson(ctx, lessonOf(files), o)
		if err != nil || got.Pack == nil {
			t.Fatal(got.Diags, err)
		}
		_, ok := got.Pack.Files["planted"]
		return ok
	}
	if !found(small(), quick) {
		t.Error("what was kept isn't found")
	}
	if found(small(), pack.Options{Script: "other.js"}) {
		t.Error("what was kept for other options is found")
	}
	for _, name := range []string{"a/lesson.md", "shared/greeting.md", "shared/store.yaml"} {
		files := small()
		files[name] = &fstest.MapFile{Data: append([]byte(nil), append(files[name].Data, '\n')...)}
		if found(files, quick) {
			t.Errorf("after a change of %s the old pack is found", name)
		}
	}
	files := small()
	files["b/lesson.md"] = &fstest.MapFile{Data: []byte("anything")}
	if !found(files, quick) {
		t.Error("after a change of another lesson the pack isn't found")
	}
}

// TestWhatIsUncertainIsntKept: a file that is missing, a folder, a file that
// isn't read to its end and one that changes while it is read.
func TestWhatIsUncertainIsntKept(t *testing.T) {
	for name, use := range map[string]func(w *watchedFS, files fstest.MapFS){
		"a missing file": func(w *watchedFS, _ fstest.MapFS) { _, _ = fs.ReadFile(w, "none") },
		"a folder":       func(w *watchedFS, _ fstest.MapFS) { _, _ = fs.ReadDir(w, ".") },
		"half a file": func(w *watchedFS, _ fstest.MapFS) {
			if f, err := w.Open("file"); err == nil {
				_, _ = f.Read(make([]byte, 1))
			}
		},
		"a change": func(w *watchedFS, files fstest.MapFS) {
			_, _ = fs.ReadFile(w, "file")
			files["file"] = &fstest.MapFile{Data: []byte("other")}
			_, _ = fs.ReadFile(w, "file")
		},
	} {
		files := fstest.MapFS{"file": {Data: []byte("content")}}
		w := &watchedFS{files: files, sums: map[string]string{}}
		if _, err := fs.ReadFile(w, "file"); err != nil {
			t.Fatal(err)
		}
		if _, certain := w.read(); !certain {
			t.Fatal("a file read whole is uncertain")
		}
		w.sums = map[string]string{}
		use(w, files)
		if _, certain := w.read(); certain {
			t.Errorf("%s: the lesson is taken for one that depends on whole files only", name)
		}
	}
}

func TestPlacesAreNamedFromTheCourse(t *testing.T) {
	files := small()
	files["a/lesson.md"].Data = []byte(strings.Replace(string(files["a/lesson.md"].Data), "[72]", "[73]", 1))
	files["shared/greeting.md"].Data = []byte("Good {{ morning }}.\n")
	c := read(t, files)
	checked, err := c.Check(own(t))
	if err != nil || len(checked) != 2 || len(checked[0].Diags) != 0 || checked[1].Folder != "a" {
		t.Fatalf("%+v, %v", checked, err)
	}
	p, diags, err := c.Build(own(t), quick)
	if err != nil || p != nil {
		t.Errorf("a course with errors was built: %v", err)
	}
	for _, list := range []diag.List{checked[1].Diags, diags} {
		var at []string
		for _, d := range list {
			at = append(at, d.File)
		}
		if slices.Sort(at); !slices.Equal(at, []string{"a/lesson.md", "shared/greeting.md"}) {
			t.Errorf("the mistakes stand in %q", at)
		}
	}
}

func TestStopped(t *testing.T) {
	ctx, cancel := context.WithCancel(own(t))
	cancel()
	if _, _, err := read(t, small()).Build(ctx, quick); !errors.Is(err, context.Canceled) {
		t.Errorf("a stopped build ends with %v", err)
	}
}

func TestOpen(t *testing.T) {
	dir := t.TempDir()
	if Is(dir) {
		t.Error("an empty folder is a course")
	}
	if _, _, err := Open(filepath.Join(dir, "gone")); err == nil || !strings.Contains(err.Error(), "no such file") {
		t.Errorf("a missing folder: %v", err)
	}
	if err := os.CopyFS(dir, small()); err != nil {
		t.Fatal(err)
	}
	c, diags, err := Open(dir)
	if err != nil || len(diags) > 0 || !Is(dir) || len(c.Source.Lessons) != 2 || c.Source.Title.Value != "Two" {
		t.Errorf("%v, %v", diags, err)
	}
	if err := os.Remove(filepath.Join(dir, source.CourseMain)); err != nil {
		t.Fatal(err)
	}
	if c, diags, err := Open(dir); c != nil || err != nil || len(diags) != 1 || diags[0].Code != diag.MissingFile {
		t.Errorf("without course.md: %v, %v", diags, err)
	}
}
