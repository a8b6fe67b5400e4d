package web

import (
	"context"
	"fmt"
	"net/http"
	"net/url"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/network"
	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"

	"ionwright/internal/browser"
	"ionwright/internal/witness"
)

// ready is what holds when a page has finished what it does by itself.
const ready = `document.readyState === "complete" && !document.querySelector("[aria-busy=true]") &&
	[...document.querySelectorAll("[data-fill]")].every((e) => e.querySelector("svg")) &&
	(!document.getElementById("stage") || !document.getElementById("stage").hidden) &&
	(!document.getElementById("writing") || document.getElementById("writing").dataset.ready === "yes")`

// nameOf makes a file's name of a path.
func nameOf(path string) string {
	place, query, _ := strings.Cut(strings.TrimPrefix(path, "/"), "?")
	name := strings.ReplaceAll(place, "/", "-")
	if name == "" {
		name = "start"
	}
	for _, key := range []string{"peak=", "bond=", "peaks=", "view=class", "candidates", "if="} {
		if strings.Contains(query, key) {
			name += "-" + strings.Trim(key, "=")
		}
	}
	return name
}

// TestPagesInABrowser shows every page on a desk in light colours and on a
// telephone in dark ones, and runs axe-core on each.
func TestPagesInABrowser(t *testing.T) {
	if testing.Short() {
		t.Skip("a browser rests in a short run")
	}
	s := serve(t, Options{})
	p := browser.Open(t, s.URL)
	for _, look := range []struct {
		width  int64
		scheme string
	}{{1280, "light"}, {390, "dark"}} {
		p.Size(look.width, 900)
		p.Scheme(look.scheme, true)
		for _, path := range pages() {
			p.Go(path)
			p.Wait(ready)
			name := fmt.Sprintf("%s at %d px, %s", path, look.width, look.scheme)
			p.Fits(name)
			p.Axe(name)
			p.Shot(fmt.Sprintf("%s-%d-%s", nameOf(path), look.width, look.scheme))
		}
	}
	p.Quiet()
}

// TestWriteInTwoWindows writes, breaks off, reloads, and lets two windows
// disagree.
func TestWriteInTwoWindows(t *testing.T) {
	if testing.Short() {
		t.Skip("a browser rests in a short run")
	}
	s := serve(t, Options{})
	p := browser.Open(t, s.URL)
	p.Size(1280, 900)
	p.Go("/write")
	p.Text(`document.getElementById("title").focus()`)
	p.Keys("Ketones" + kb.Tab + "pentan-2-one" + kb.Enter)
	p.Wait(`location.pathname === "/write/ketones"`)
	p.Wait(ready)
	p.Wait(`document.getElementById("problem-count").textContent !== ""`)
	source := func() string {
		text, err := os.ReadFile(filepath.Join(s.dir, "ketones", "lesson.md"))
		if err != nil {
			t.Fatal(err)
		}
		return string(text)
	}
	p.Text(`document.querySelector(".cm-content").focus()`)
	p.Keys("x")
	p.Wait(`document.getElementById("saved").textContent === "Saved"`)
	if !strings.HasPrefix(source(), "x---") {
		t.Errorf("the file begins with %.20q", source())
	}
	// The front matter is broken now; the list says so, and leads there.
	p.Wait(`document.querySelector("#problems .error button:not(:disabled)")`)
	p.Shot("write-error-1280")
	p.Text(`document.querySelector("#problems .error button:not(:disabled)").click()`)
	p.Wait(`document.activeElement.classList.contains("cm-content")`)
	p.Keys(kb.Home)
	p.Text(`document.querySelector(".cm-content").focus()`)

	// Another window saves meanwhile.
	if err := os.WriteFile(filepath.Join(s.dir, "ketones", "lesson.md"), []byte("---\ntitle: Other\n---\n\nOther text.\n"), 0o644); err != nil {
		t.Fatal(err)
	}
	p.Keys("y")
	p.Wait(`!document.getElementById("conflict").hidden || document.getElementById("saved").textContent.startsWith("Saved") || document.getElementById("saved").textContent.startsWith("Changed elsewhere")`)
	if p.Text(`document.getElementById("conflict").hidden`) == "false" {
		p.Axe("the conflict")
		p.Text(`document.getElementById("keep-mine").focus()`)
		p.Keys(kb.Enter)
		p.Wait(`document.getElementById("conflict").hidden && document.getElementById("saved").textContent.includes(".kept/")`)
	}
	p.Go("/write/ketones")
	p.Wait(ready)
	p.Quiet("409")
}

// TestTheStructureEditorComesWhenAskedFor counts what the first page loads,
// and draws.
func TestTheStructureEditorComesWhenAskedFor(t *testing.T) {
	if testing.Short() {
		t.Skip("a browser rests in a short run")
	}
	s := serve(t, Options{})
	p := browser.Open(t, s.URL)
	const most = 300_000 // bytes over the network, all files of the first page
	for _, path := range []string{"/", "/explain?q=butan-2-one", "/demonstrate", "/read?peaks=43:100+72:20"} {
		p.Do(chromedp.Func(func(ctx context.Context, t *chromedp.Target) error {
			_, err := cdp.Call(ctx, t, network.ClearBrowserCache, cdp.Empty{})
			return err
		}))
		p.Go(path)
		p.Wait(ready)
		loaded, err := strconv.Atoi(p.Text(`performance.getEntriesByType("resource").concat(performance.getEntriesByType("navigation")).reduce((n, e) => n + e.transferSize, 0)`))
		t.Logf("%s loads %d bytes", path, loaded)
		if err != nil || loaded < 50_000 || loaded > most {
			t.Errorf("%s loads %d bytes, and may load %d: %v", path, loaded, most, err)
		}
	}
	p.Go("/explain?q=butan-2-one")
	p.Wait(ready)
	if p.Text(`performance.getEntriesByType("resource").some((e) => e.name.includes("openchemlib"))`) != "false" {
		t.Error("the structure editor is loaded without being asked for")
	}
	// Drawing by keyboard alone: acetone from a carbon atom, then taken.
	p.TabTo("#draw")
	p.Keys(kb.Enter)
	p.Wait(`document.querySelector("#sketch .board") && document.activeElement.id === "sketch-from"`)
	p.Axe("the structure editor")
	p.Shot("explain-sketch")
	p.TabTo("#sketch-clear")
	p.Keys(kb.Enter)
	press := func(selector, keys string) {
		t.Helper()
		p.TabTo(selector)
		p.Keys(keys)
	}
	press("#sketch-element", "carbon")
	press("#sketch-add", kb.Enter+kb.Enter+kb.Enter) // each joined to the one before
	press("#sketch-from", "C2")
	press("#sketch-element", "oxygen")
	press("#sketch-order", "double")
	press("#sketch-add", kb.Enter)
	p.Wait(`document.getElementById("sketch-said").textContent.includes("C3H6O")`)
	p.Shot("explain-sketch-keyboard")
	press("#sketch-take", kb.Enter)
	p.Wait(`document.getElementById("sketch").hidden && document.querySelector("#figure-spectrum svg")`)
	p.Wait(ready)
	_, drawn, _ := s.get("/structure?q=" + url.QueryEscape(p.Text(`document.getElementById("q").value`)))
	if status, acetone, _ := s.get("/structure?q=acetone"); status != http.StatusOK || drawn != acetone {
		t.Errorf("what was drawn is %s, and acetone %s", drawn, acetone)
	}
	p.Quiet()
}

// TestModulesAreWellTyped checks the types in the modules' comments.
func TestModulesAreWellTyped(t *testing.T) {
	if testing.Short() {
		t.Skip("outside witnesses rest in a short run")
	}
	tsc := filepath.Join(witness.Root(), "internal", "witness", "npm", "node_modules", "typescript", "bin", "tsc")
	node, err := exec.LookPath("node")
	if _, missing := os.Stat(tsc); err != nil || missing != nil {
		if os.Getenv("CI") == "true" {
			t.Fatal("Node.js with TypeScript is absent; in CI it must be present")
		}
		t.Skip("Node.js with TypeScript is absent here; the fuller checks (.ci/run) bring it")
	}
	modules, err := filepath.Glob("static/*.js")
	if err != nil {
		t.Fatal(err)
	}
	args := append([]string{tsc, "--noEmit", "--allowJs", "--checkJs", "--strict", "--target", "es2024", "--module", "esnext", "--moduleResolution", "bundler",
		"--lib", "es2024,dom,dom.iterable", "--typeRoots", "page"}, modules...)
	out, err := exec.CommandContext(t.Context(), node, args...).CombinedOutput()
	for line := range strings.Lines(string(out)) {
		if strings.HasPrefix(line, "static/") && !strings.HasPrefix(line, "static/lib/") {
			t.Error(strings.TrimSpace(line))
		}
	}
	if err != nil && !strings.Contains(string(out), "static/lib/") && !t.Failed() {
		t.Errorf("%v: %.500s", err, out)
	}
}
