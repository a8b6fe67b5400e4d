package cache

import (
	"bytes"
	"context"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"sync"
	"testing"
	"time"
)

func TestKeptAndFound(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "results")
	c := Open(dir, 1<<20)
	key := c.Key("kind", "a", "b")
	if _, ok := c.Get(key); ok {
		t.Error("something was found in an empty cache")
	}
	c.Put(key, []byte("result"))
	for _, again := range []*Cache{c, Open(dir, 1<<20)} {
		if data, ok := again.Get(again.Key("kind", "a", "b")); !ok || string(data) != "result" {
			t.Errorf("found %q, %v", data, ok)
		}
	}
	c.Put(key, nil)
	if data, ok := c.Get(key); !ok || len(data) != 0 {
		t.Errorf("an empty result is found as %q, %v", data, ok)
	}
}

// TestKeysTellPartsApart: neither the kind nor the borders of the parts may be
// mistaken, nor another program's results.
func TestKeysTellPartsApart(t *testing.T) {
	c := Open(t.TempDir(), 1<<20)
	other := Open(t.TempDir(), 1<<20)
	other.program[0]++
	seen := map[Key]string{}
	for name, key := range map[string]Key{
		"k a b": c.Key("k", "a", "b"), "k ab": c.Key("k", "ab"), "k ab ''": c.Key("k", "ab", ""), "k b a": c.Key("k", "b", "a"),
		"ka b": c.Key("ka", "b"), "k": c.Key("k"), "another program": other.Key("k", "a", "b"),
	} {
		if twin, ok := seen[key]; ok {
			t.Errorf("%q and %q have one key", name, twin)
		}
		seen[key] = name
	}
}

// TestDamagedResultsAreThrownAway changes, cuts and empties what is kept.
func TestDamagedResultsAreThrownAway(t *testing.T) {
	c := Open(t.TempDir(), 1<<20)
	key := c.Key("kind")
	for name, damage := range map[string]func(b []byte) []byte{
		"a changed byte":   func(b []byte) []byte { b[len(b)-1] ^= 1; return b },
		"a changed sum":    func(b []byte) []byte { b[0] ^= 1; return b },
		"half of it":       func(b []byte) []byte { return b[:len(b)/2] },
		"less than a sum":  func(b []byte) []byte { return b[:10] },
		"nothing":          func([]byte) []byte { return nil },
		"something behind": func(b []byte) []byte { return append(b, 0) },
	} {
		c.Put(key, []byte("a result that is longer than its sum, or else the test shows nothing"))
		kept, err := os.ReadFile(c.file(key))
		if err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(c.file(key), damage(kept), 0o600); err != nil {
			t.Fatal(err)
		}
		if data, ok := c.Get(key); ok {
			t.Errorf("%s: %q was found", name, data)
		}
		if _, err := os.Stat(c.file(key)); err == nil {
			t.Errorf("%s: the file is still there", name)
		}
	}
}

// TestBounded writes more than the limit and finds the results used last.
func TestBounded(t *testing.T) {
	const limit, size = 100 << 10, 4 << 10
	dir := t.TempDir()
	c := Open(dir, limit)
	old := filepath.Join(dir, temporaryPrefix+"left")
	if err := os.WriteFile(old, nil, 0o600); err != nil {
		t.Fatal(err)
	}
	long := time.Now().Add(-2 * abandoned)
	if err := os.Chtimes(old, long, long); err != nil {
		t.Fatal(err)
	}
	favourite := c.Key("kind", "favourite")
	c.Put(favourite, bytes.Repeat([]byte("x"), size))
	for i := range 200 {
		key := c.Key("kind", fmt.Sprint(i))
		c.Put(key, bytes.Repeat([]byte("x"), size))
		earlier := time.Now().Add(time.Duration(i-1000) * time.Second) // file systems may count in seconds
		if err := os.Chtimes(c.file(key), earlier, earlier); err != nil && !os.IsNotExist(err) {
			t.Fatal(err)
		}
		if _, ok := c.Get(favourite); !ok {
			t.Fatalf("the result that is used all the time went away after %d others", i)
		}
	}
	var total int64
	_ = filepath.WalkDir(dir, func(path string, entry fs.DirEntry, err error) error {
		if info, err := entry.Info(); err == nil && !entry.IsDir() {
			total += info.Size()
		}
		return err
	})
	if most := int64(limit + limit/8 + size); total > most || total < limit/4 {
		t.Errorf("%d bytes are kept; the limit is %d", total, limit)
	}
	if _, err := os.Stat(old); err == nil {
		t.Error("an abandoned temporary file is still there")
	}
	c.Put(c.Key("kind", "huge"), make([]byte, limit))
	if _, ok := c.Get(c.Key("kind", "huge")); ok {
		t.Error("a result as large as the cache was kept")
	}
}

// TestAtOnce lets many write and read one result.
func TestAtOnce(t *testing.T) {
	dir := t.TempDir()
	var all sync.WaitGroup
	for range 8 {
		all.Go(func() {
			c := Open(dir, 64<<10)
			for i := range 50 {
				key := c.Key("kind", fmt.Sprint(i%5))
				want := bytes.Repeat([]byte{byte(i % 5)}, 3000)
				c.Put(key, want)
				if data, ok := c.Get(key); ok && !bytes.Equal(data, want) {
					t.Error("half a result, or another's, was found")
				}
			}
		})
	}
	all.Wait()
}

func TestOff(t *testing.T) {
	c := Of(With(context.Background(), nil))
	c.Put(c.Key("kind"), []byte("x"))
	if _, ok := c.Get(c.Key("kind")); ok || c != nil {
		t.Error("a cache that is off kept something")
	}
	mine := Open(t.TempDir(), 1)
	if Of(With(context.Background(), mine)) != mine {
		t.Error("the context's cache isn't used")
	}
	// A folder that can't be made: nothing is kept, nothing fails.
	file := filepath.Join(t.TempDir(), "file")
	if err := os.WriteFile(file, nil, 0o600); err != nil {
		t.Fatal(err)
	}
	broken := Open(file, 1<<20)
	broken.Put(broken.Key("kind"), []byte("x"))
	if _, ok := broken.Get(broken.Key("kind")); ok {
		t.Error("something was kept in a file")
	}
}
