package pack

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"io"

	"ionwright/draw"
	"ionwright/draw/png"
)

// pixels is a figure as PNG at a scale. Compressing it takes longer than all
// other work on a pack, so that it is kept under the hash of the scene.
func (b *builder) pixels(f draw.Figure, scale float64) ([]byte, error) {
	content := sha256.New()
	fmt.Fprintf(content, "%v %v\n", f.Scene.Width, f.Scene.Height)
	f.Scene.Render(painter{content})
	results := b.options.Results
	key := results.Key("png", fmt.Sprint(scale), hex.EncodeToString(content.Sum(nil)))
	if kept, ok := results.Get(key); ok {
		return kept, nil
	}
	var out bytes.Buffer
	if err := png.Write(&out, f, png.Options{Scale: scale}); err != nil {
		return nil, err
	}
	results.Put(key, out.Bytes())
	return out.Bytes(), nil
}

// painter is a draw.Renderer that writes down everything that is painted.
type painter struct{ io.Writer }

// BeginGroup writes nothing: a group isn't painted.
func (painter) BeginGroup(*draw.Group) {}

// EndGroup is the other end of BeginGroup.
func (painter) EndGroup(*draw.Group) {}

// Path writes a path.
func (to painter) Path(p draw.Path) { fmt.Fprintf(to, "path %#v\n", p) }

// Text writes a text.
func (to painter) Text(t draw.Text) { fmt.Fprintf(to, "text %#v\n", t) }
