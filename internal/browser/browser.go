// Package browser drives a headless Chromium in tests: it opens pages, waits
// for what they show, collects what they ask for and complain of, takes
// screenshots and runs axe-core. For most uses call [Open], then [Page.Go] and
// [Page.Wait].
//
// Where there is no Chromium the test is skipped; where the environment says
// CI=true it fails.
package browser

import (
	"context"
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/cdproto/network"
	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"

	"ionwright/internal/witness"
)

// Page is a tab of the browser.
type Page struct {
	t      testing.TB
	Ctx    context.Context
	server string

	mu       sync.Mutex
	requests []string
	errors   []string
}

// Start starts a headless Chromium and returns the context of its first tab,
// or ends the test: skipped on a machine that has none, failed where CI=true.
func Start(t testing.TB) context.Context {
	t.Helper()
	ctx, cancel := context.WithTimeout(t.Context(), 8*time.Minute)
	t.Cleanup(cancel)
	ctx, cancel, err := Launch(ctx, t.TempDir())
	switch {
	case err == nil:
	case os.Getenv("CI") == "true":
		t.Fatalf("in CI there must be a browser: %v", err)
	default:
		t.Skipf("%v; the fuller checks (.ci/run) bring it", err)
	}
	t.Cleanup(cancel)
	return ctx
}

// Open starts a browser whose only business is with the server.
func Open(t testing.TB, server string) *Page {
	t.Helper()
	p := &Page{t: t, Ctx: Start(t), server: server}
	p.listen()
	return p
}

// Tab opens another tab in the same browser, which shares its storage.
func (p *Page) Tab() *Page {
	p.t.Helper()
	ctx, cancel := chromedp.NewContext(p.Ctx)
	p.t.Cleanup(cancel)
	other := &Page{t: p.t, Ctx: ctx, server: p.server}
	other.listen()
	return other
}

func (p *Page) listen() {
	p.t.Helper()
	err := chromedp.Listen(p.Ctx, func(ev any) {
		if request, ok := ev.(*network.EventRequestWillBeSent); ok {
			p.mu.Lock()
			defer p.mu.Unlock()
			p.requests = append(p.requests, request.Request.URL)
		}
	})
	if err != nil {
		p.t.Fatal(err)
	}
	messages := chromedp.Console(p.Ctx)
	go func() {
		for m, err := range messages {
			if err != nil {
				return
			}
			p.mu.Lock()
			p.errors = append(p.errors, m.Text)
			p.mu.Unlock()
		}
	}()
}

// Do runs actions or ends the test.
func (p *Page) Do(actions ...chromedp.Action[chromedp.Void]) {
	p.t.Helper()
	if err := chromedp.Do(p.Ctx, actions...); err != nil {
		p.t.Fatal(err)
	}
}

// Size sets the window, in pixels.
func (p *Page) Size(width, height int64) { p.t.Helper(); p.Do(chromedp.EmulateViewport(width, height)) }

// Scheme makes the device ask for "light" or "dark" colours, and with still
// for reduced motion.
func (p *Page) Scheme(scheme string, still bool) {
	p.t.Helper()
	features := []*emulation.MediaFeature{{Name: "prefers-color-scheme", Value: scheme}}
	if still {
		features = append(features, &emulation.MediaFeature{Name: "prefers-reduced-motion", Value: "reduce"})
	}
	p.Do(chromedp.Func(func(ctx context.Context, t *chromedp.Target) error {
		_, err := cdp.Call(ctx, t, emulation.SetEmulatedMedia, emulation.SetEmulatedMediaParams{Features: features})
		return err
	}))
}

// Go opens a path of the server.
func (p *Page) Go(path string) { p.t.Helper(); p.Do(chromedp.Navigate(p.server + path)) }

// Wait waits until a condition in the page holds, through reloads.
func (p *Page) Wait(condition string) {
	p.t.Helper()
	const patience, pause = 30 * time.Second, 50 * time.Millisecond
	var err error
	for deadline := time.Now().Add(patience); time.Now().Before(deadline); time.Sleep(pause) {
		var holds bool
		if holds, err = chromedp.Run(p.Ctx, chromedp.Evaluate[bool]("Boolean("+condition+")")); holds {
			return
		}
		if p.Ctx.Err() != nil {
			break
		}
	}
	text, _ := chromedp.Run(p.Ctx, chromedp.Evaluate[string]("location.href + ' ' + document.body.innerText.slice(0, 600)"))
	p.t.Fatalf("waiting for %s: %v; the page reads %q", condition, err, text)
}

// Text is the value of an expression that gives text.
func (p *Page) Text(expression string) string {
	p.t.Helper()
	text, err := chromedp.Run(p.Ctx, chromedp.Evaluate[string]("String("+expression+")"))
	if err != nil {
		p.t.Fatalf("%s: %v", expression, err)
	}
	return text
}

// Keys types keys where the focus is; names of the package kb in between.
func (p *Page) Keys(keys string) { p.t.Helper(); p.Do(chromedp.KeyEvent(keys)) }

// Printed is the page as a browser prints it, as PDF.
func (p *Page) Printed() []byte {
	p.t.Helper()
	out, err := chromedp.Run(p.Ctx, chromedp.PrintToPDF())
	if err != nil {
		p.t.Fatalf("printing the page: %v", err)
	}
	return out
}

// TabTo presses the tabulator key until the focus is on an element that matches
// a selector, as somebody without a pointer would.
func (p *Page) TabTo(selector string) {
	p.t.Helper()
	const most = 250
	for range most {
		if p.Text(fmt.Sprintf("document.activeElement?.matches(%q)", selector)) == "true" {
			return
		}
		p.Keys(kb.Tab)
	}
	p.t.Fatalf("no %q is reached with %d presses of the tabulator key", selector, most)
}

// Fits fails where the page is wider than its window.
func (p *Page) Fits(name string) {
	p.t.Helper()
	over := p.Text("document.documentElement.scrollWidth - document.documentElement.clientWidth")
	if over != "0" && !strings.HasPrefix(over, "-") {
		wide := p.Text(`[...document.querySelectorAll("body *")].filter((e) => e.getBoundingClientRect().right > innerWidth + 1).slice(0, 3).map((e) => e.outerHTML.slice(0, 120)).join("\n")`)
		p.t.Errorf("%s is %s px too wide: %s", name, over, wide)
	}
}

// Quiet fails on complaints and on requests that leave the server, but for
// complaints that contain one of the expected texts.
func (p *Page) Quiet(expected ...string) {
	p.t.Helper()
	p.mu.Lock()
	defer p.mu.Unlock()
	for _, e := range p.errors {
		known := false
		for _, text := range expected {
			known = known || strings.Contains(e, text)
		}
		if !known {
			p.t.Errorf("the console says: %s", e)
		}
	}
	if len(p.requests) == 0 {
		p.t.Error("no request was seen")
	}
	for _, url := range p.requests {
		if !strings.HasPrefix(url, p.server+"/") && !strings.HasPrefix(url, "data:") && !strings.HasPrefix(url, "blob:"+p.server) {
			p.t.Errorf("the page asked for %s", url)
		}
	}
}

// Screenshots is the variable of the environment that names a folder for
// screenshots; without it none are taken.
const Screenshots = "IONWRIGHT_SCREENSHOTS"

// Shot takes a screenshot of the whole page.
func (p *Page) Shot(name string) {
	p.t.Helper()
	dir := os.Getenv(Screenshots)
	if dir == "" {
		return
	}
	picture, err := chromedp.Run(p.Ctx, chromedp.FullScreenshot(90))
	if err == nil {
		err = os.MkdirAll(dir, 0o755)
	}
	if err == nil {
		err = os.WriteFile(filepath.Join(dir, name+".jpg"), picture, 0o644)
	}
	if err != nil {
		p.t.Errorf("taking the screenshot %q: %v", name, err)
	}
}

// Axe fails on every violation that axe-core finds in the page.
func (p *Page) Axe(name string) {
	p.t.Helper()
	source, err := os.ReadFile(filepath.Join(witness.Root(), "internal", "witness", "npm", "node_modules", "axe-core", "axe.min.js"))
	if err != nil {
		if os.Getenv("CI") == "true" {
			p.t.Fatalf("axe-core is absent; in CI it must be present: %v", err)
		}
		p.t.Log("axe-core is absent; the fuller checks (.ci/run) bring it")
		return
	}
	p.Text("(() => {" + string(source) + "\n;return 1})()")
	p.Text(`(window.axeResult = undefined, axe.run(document, {iframes: false}).then((r) => { window.axeResult = JSON.stringify(
		r.violations.map((v) => ({id: v.id, help: v.help, nodes: v.nodes.slice(0, 3).map((n) => n.html.slice(0, 160) + " " + (n.any[0]?.message ?? ""))}))) }), 1)`)
	p.Wait("window.axeResult !== undefined")
	var violations []struct {
		ID, Help string
		Nodes    []string
	}
	if err := json.Unmarshal([]byte(p.Text("window.axeResult")), &violations); err != nil {
		p.t.Fatal(err)
	}
	for _, v := range violations {
		p.t.Errorf("%s: %s: %s\n  %s", name, v.ID, v.Help, strings.Join(v.Nodes, "\n  "))
	}
}
