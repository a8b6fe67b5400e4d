// Package cache keeps results on disk under a hash of everything they were
// computed from, the running program included, so that work done once isn't
// done again and a stale result can't be found. For most uses call [Of], then
// [Cache.Key], [Cache.Get] and [Cache.Put].
//
// A result that is absent, damaged or can't be written is computed again:
// nothing here fails. Several programs may use one cache at a time.
package cache

import (
	"bytes"
	"context"
	"crypto/sha256"
	"encoding/binary"
	"encoding/hex"
	"io"
	"os"
	"path/filepath"
	"sync"
	"sync/atomic"
)

// usualLimit is the size in bytes to which the user's cache is trimmed.
const usualLimit = 256 << 20

// Cache is a folder with results. Nil is a cache that keeps nothing.
type Cache struct {
	dir     string
	program [sha256.Size]byte
	limit   int64
	unseen  atomic.Int64 // bytes written since the last trim
	trimmed atomic.Bool
}

// Key is the hash of everything a result was computed from.
type Key [sha256.Size]byte

// Open returns the cache in a folder, which is made when the first result is
// kept, and trimmed to limit bytes. It is nil where the program can't read
// itself.
func Open(dir string, limit int64) *Cache {
	program, ok := identity()
	if !ok {
		return nil
	}
	return &Cache{dir: dir, program: program, limit: limit}
}

// user is the cache in the user's cache folder, nil where there is none.
var user = sync.OnceValue(func() *Cache {
	dir, err := os.UserCacheDir()
	if err != nil {
		return nil
	}
	return Open(filepath.Join(dir, "ionwright", "results"), usualLimit)
})

// identity is the hash of the running program: rules, fitted tables and code.
// Results of one build of the program are so never taken for those of another.
var identity = sync.OnceValues(func() (sum [sha256.Size]byte, ok bool) {
	name, err := os.Executable()
	if err != nil {
		return sum, false
	}
	f, err := os.Open(name)
	if err != nil {
		return sum, false
	}
	defer f.Close()
	h := sha256.New()
	if _, err := io.Copy(h, f); err != nil {
		return sum, false
	}
	return [sha256.Size]byte(h.Sum(nil)), true
})

type contextKey struct{}

// With returns a context under which c is the cache; nil turns caching off.
func With(ctx context.Context, c *Cache) context.Context {
	return context.WithValue(ctx, contextKey{}, c)
}

// Of is the context's cache: the user's where none was set.
func Of(ctx context.Context) *Cache {
	if c, ok := ctx.Value(contextKey{}).(*Cache); ok {
		return c
	}
	return user()
}

// Key hashes what a result of a kind is computed from. The order of the parts
// counts, and where one ends and the next begins.
func (c *Cache) Key(kind string, parts ...string) Key {
	if c == nil {
		return Key{}
	}
	h := sha256.New()
	h.Write(c.program[:])
	for _, part := range append([]string{kind}, parts...) {
		_ = binary.Write(h, binary.BigEndian, uint64(len(part))) // a hash takes everything
		io.WriteString(h, part)
	}
	return Key(h.Sum(nil))
}

// file is where a key's result is kept: the hash of the data, then the data.
func (c *Cache) file(key Key) string {
	name := hex.EncodeToString(key[:])
	return filepath.Join(c.dir, name[:2], name[2:])
}

// Get returns the result kept under a key, and false where there is none. A
// damaged one is thrown away.
func (c *Cache) Get(key Key) (data []byte, ok bool) {
	if c == nil {
		return nil, false
	}
	file := c.file(key)
	kept, err := os.ReadFile(file)
	if err != nil {
		return nil, false
	}
	if len(kept) < sha256.Size {
		_ = os.Remove(file)
		return nil, false
	}
	data = kept[sha256.Size:]
	if sum := sha256.Sum256(data); !bytes.Equal(sum[:], kept[:sha256.Size]) {
		_ = os.Remove(file)
		return nil, false
	}
	used(file)
	return data, true
}

// Put keeps a result. It replaces what is kept under the key in one step, so
// that nobody reads half of it.
func (c *Cache) Put(key Key, data []byte) {
	if c == nil || int64(len(data)) > c.limit/4 {
		return
	}
	file := c.file(key)
	if os.MkdirAll(filepath.Dir(file), 0o700) != nil {
		return
	}
	temporary, err := os.CreateTemp(c.dir, temporaryPrefix)
	if err != nil {
		return
	}
	sum := sha256.Sum256(data)
	_, err = temporary.Write(append(sum[:], data...))
	if closeErr := temporary.Close(); err != nil || closeErr != nil || os.Rename(temporary.Name(), file) != nil {
		_ = os.Remove(temporary.Name())
		return
	}
	if c.unseen.Add(int64(len(data))) > c.limit/8 || c.trimmed.CompareAndSwap(false, true) {
		c.unseen.Store(0)
		c.trim()
	}
}
