package web

import (
	"bytes"
	"compress/gzip"
	"crypto/sha256"
	"embed"
	"encoding/hex"
	"io/fs"
	"net/http"
	"path"
	"slices"
	"strconv"
	"strings"
	"sync"

	"ionwright/draw"
	"ionwright/draw/svg"
	"ionwright/draw/typeface"
)

//go:embed static
var staticFiles embed.FS

// kinds are the files that are served, by their endings; no other is.
var kinds = map[string]string{
	".css": "text/css; charset=utf-8",
	".js":  "text/javascript; charset=utf-8",
	".ttf": "font/ttf",
}

// assets are the files that pages load. Their address holds a hash of all of
// them, so that browsers keep them until any changes, and modules find each
// other by their names.
type assets struct {
	version string
	files   map[string]*asset
}

type asset struct {
	kind string
	data []byte

	once   sync.Once
	zipped []byte
}

func newAssets() (*assets, error) {
	a := &assets{files: map[string]*asset{}}
	err := fs.WalkDir(staticFiles, "static", func(name string, entry fs.DirEntry, err error) error {
		if err != nil || entry.IsDir() || kinds[path.Ext(name)] == "" {
			return err
		}
		data, err := staticFiles.ReadFile(name)
		a.files[strings.TrimPrefix(name, "static/")] = &asset{kind: kinds[path.Ext(name)], data: data}
		return err
	})
	if err != nil {
		return nil, err
	}
	a.files["colors.css"] = &asset{kind: kinds[".css"], data: []byte(colorRules())}
	for _, style := range []typeface.Style{typeface.Regular, typeface.Italic, typeface.Bold} {
		a.files[fontFile(style)] = &asset{kind: kinds[".ttf"], data: typeface.Of(style).Subset(letters())}
	}
	var names []string
	for name := range a.files {
		names = append(names, name)
	}
	slices.Sort(names)
	sum := sha256.New()
	for _, name := range names {
		sum.Write([]byte(name))
		sum.Write(a.files[name].data)
	}
	a.version = hex.EncodeToString(sum.Sum(nil)[:6])
	return a, nil
}

func fontFile(style typeface.Style) string { return "font-" + style.String() + ".ttf" }

// letters are the runes of pages and figures: Latin, Greek, and the signs of
// the trade.
func letters() []rune {
	var all []rune
	for r := ' '; r <= 'ſ'; r++ {
		all = append(all, r)
	}
	for r := 'Α'; r <= 'ω'; r++ {
		all = append(all, r)
	}
	return append(all, []rune("–—‘’“”…•′″⁰¹²³⁴⁵⁶⁷⁸⁹⁺⁻₀₁₂₃₄₅₆₇₈₉→←↑↓−×·≈≠≤≥√½¼¾ \u202f\u00a0")...)
}

// colorRules give the figures' colours to the page: the light ones, or the
// dark ones where the device or the reader asks for them. The font is the
// figures' own, so that their layout holds.
func colorRules() string {
	var css strings.Builder
	for _, face := range []struct {
		style typeface.Style
		rule  string
	}{{typeface.Regular, ""}, {typeface.Italic, "font-style:italic;"}, {typeface.Bold, "font-weight:bold;"}} {
		css.WriteString("@font-face{font-family:'" + typeface.Family + "';" + face.rule + "font-display:swap;src:url(" + fontFile(face.style) + ") format('truetype')}\n")
	}
	light, dark := svg.ColorCSS(draw.Light()), svg.ColorCSS(draw.Dark())
	css.WriteString(":root{color-scheme:light;" + light + "}\n")
	css.WriteString(":root[data-theme=dark]{color-scheme:dark;" + dark + "}\n")
	css.WriteString("@media (prefers-color-scheme:dark){:root:not([data-theme=light]){color-scheme:dark;" + dark + "}}\n")
	css.WriteString("@media print{:root,:root[data-theme=dark]{color-scheme:light;" + svg.ColorCSS(draw.Print()) + "}}\n")
	return css.String()
}

// path is the address of a file.
func (a *assets) path(name string) string { return "/static/" + a.version + "/" + name }

func (a *assets) serve(w http.ResponseWriter, r *http.Request) error {
	file, ok := a.files[r.PathValue("file")]
	if !ok {
		return fs.ErrNotExist
	}
	h := w.Header()
	h.Set("Content-Type", file.kind)
	if r.PathValue("version") == a.version {
		h.Set("Cache-Control", "public, max-age=31536000, immutable")
	}
	h.Set("Vary", "Accept-Encoding")
	data := file.data
	if strings.Contains(r.Header.Get("Accept-Encoding"), "gzip") {
		file.once.Do(file.zip)
		h.Set("Content-Encoding", "gzip")
		data = file.zipped
	}
	h.Set("Content-Length", strconv.Itoa(len(data)))
	_, _ = w.Write(data)
	return nil
}

func (f *asset) zip() {
	var out bytes.Buffer
	z := gzip.NewWriter(&out)
	_, _ = z.Write(f.data) // into memory: can't fail
	_ = z.Close()
	f.zipped = out.Bytes()
}
