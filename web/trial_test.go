package web

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/chromedp/chromedp/kb"

	"ionwright/internal/browser"
)

// TestANewUser goes from an empty folder to a lesson with a compound of its
// own, a checked claim, a mechanism and a handout, by what the pages offer and
// nothing else.
func TestANewUser(t *testing.T) {
	if testing.Short() {
		t.Skip("a browser rests in a short run")
	}
	s := serve(t, Options{})
	p := browser.Open(t, s.URL)
	click := func(selector string) {
		t.Helper()
		p.Wait(`document.querySelector("` + selector + `")`)
		p.Text(`document.querySelector("` + selector + `").click()`)
	}
	p.Size(1280, 900)
	p.Go("/")
	p.Wait(ready)
	p.Shot("trial-1-start")
	click(`.places a[href='/write']`)
	p.Wait(`document.getElementById("title")`)
	p.Shot("trial-2-write")
	p.TabTo("#title")
	p.Keys("Breaking esters" + kb.Tab + "methyl butanoate" + kb.Enter)
	p.Wait(`location.pathname === "/write/breaking-esters"`)
	p.Wait(ready)
	p.Wait(`document.getElementById("problem-count").textContent !== ""`)
	if problems := p.Text(`document.getElementById("problems").innerText`); problems != "" {
		t.Errorf("a new lesson has problems: %s", problems)
	}
	p.Shot("trial-3-lesson")

	// A compound of their own, drawn or typed; then a mechanism and a claim.
	click("#insert summary")
	p.Fits("the open menu")
	p.Shot("trial-4-insert")
	p.TabTo("#compound-name")
	p.Keys("ethyl acetate" + kb.Enter)
	p.Wait(`document.querySelector(".cm-content").textContent.includes("ethyl acetate")`)
	for _, name := range []string{"Mechanism", "Claim"} {
		p.Text(`[...document.querySelectorAll("#snippets button")].find((b) => b.textContent === "` + name + `").click()`)
		p.Wait(`document.activeElement.classList.contains("cm-content") && !document.getElementById("insert").open`)
		p.Wait(`document.getElementById("saved").textContent === "Saved"`)
	}
	p.Wait(`document.getElementById("preview-frame").contentDocument?.body?.innerText.includes("where the electrons go")`)
	p.Shot("trial-5-mechanism")
	p.Wait(`document.getElementById("preview-frame").contentDocument?.body?.innerText.includes("Built")`)
	if problems := p.Text(`document.getElementById("problems").innerText`); problems != "" {
		t.Errorf("what the menu inserts has problems: %s", problems)
	}
	var text []byte
	var err error
	for range 100 { // until the last insertion is saved
		if text, err = os.ReadFile(filepath.Join(s.dir, "breaking-esters", "lesson.md")); err != nil || strings.Count(string(text), "```claim") == 2 {
			break
		}
		time.Sleep(100 * time.Millisecond)
	}
	if err != nil || !strings.Contains(string(text), "```mechanism") || strings.Count(string(text), "```claim") != 2 {
		t.Errorf("the lesson reads %s: %v", text, err)
	}
	// Anyone's mistake: a number that doesn't hold. The list leads to it.
	broken := strings.Replace(string(text), "[102]{= mass(", "[103]{= mass(", 1)
	if err := os.WriteFile(filepath.Join(s.dir, "breaking-esters", "lesson.md"), []byte(broken), 0o644); err != nil || broken == string(text) {
		t.Fatalf("the lesson has no checked mass: %v", err)
	}
	p.Wait(`document.querySelector("#problems .error button")`)
	p.Shot("trial-6-mistake")
	if err := os.WriteFile(filepath.Join(s.dir, "breaking-esters", "lesson.md"), text, 0o644); err != nil {
		t.Fatal(err)
	}
	p.Wait(`!document.querySelector("#problems .error")`)

	// The handout, from the menu, as it will be printed.
	click("#build summary")
	p.Fits("the menu of files")
	p.Axe("the menu of files")
	p.Shot("trial-7-build")
	p.Size(390, 844)
	p.Fits("the menu of files at 390 px")
	p.Shot("trial-7-build-390")
	p.Size(1280, 900)
	p.Wait(`document.querySelector("#pack-files a[href$='student.html']")`)
	p.Go(p.Text(`new URL(document.querySelector("#pack-files a[href$='student.html']").href).pathname`))
	p.Wait(`document.querySelector("figure svg")`)
	p.Shot("trial-8-handout")
	printed := p.Printed()
	if len(printed) < 20_000 {
		t.Errorf("the printed handout has %d bytes", len(printed))
	}
	if dir := os.Getenv(browser.Screenshots); dir != "" {
		if err := os.WriteFile(filepath.Join(dir, "trial-9-printed.pdf"), printed, 0o644); err != nil {
			t.Error(err)
		}
	}
	p.Quiet()
}
