package web

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/chromedp/chromedp/kb"

	"ionwright/internal/browser"
)

// These tests do the main task of each place with the keyboard alone: the
// focus goes by the tabulator key from element to element.

// TestExplainByKeyboard explains a compound, goes from peak to peak, looks at
// a route and at a bond, and changes the energy.
func TestExplainByKeyboard(t *testing.T) {
	if testing.Short() {
		t.Skip("a browser rests in a short run")
	}
	s := serve(t, Options{})
	p := browser.Open(t, s.URL)
	p.Go("/explain")
	p.Wait(ready)
	p.TabTo("#q")
	p.Keys("butan-2-one" + kb.Enter)
	p.Wait(`document.querySelector("#figure-spectrum svg") && location.search === "?q=butan-2-one"`)
	p.Wait(ready)
	p.TabTo("#figure-spectrum .drawing.wide")
	p.Keys(kb.ArrowRight)
	p.Wait(`document.querySelector("#peaks-list [aria-current]")`)
	first := p.Text(`document.querySelector("#peaks-list [aria-current]").dataset.mz`)
	p.Wait(`document.activeElement.matches(".drawing")`) // the focus stays on the figure
	p.Keys(kb.ArrowRight)
	p.Wait(`document.querySelector("#peaks-list [aria-current]").dataset.mz !== "` + first + `"`)
	p.TabTo(`#peaks-list [data-mz="43"]`)
	p.Keys(kb.Enter)
	p.Wait(`document.getElementById("h-routes").textContent.includes("43") && location.search.includes("peak=43")`)
	p.Wait(`document.activeElement.dataset.mz === "43"`)
	p.TabTo("#ev") // round the page, from its end to its beginning
	p.Keys(kb.ArrowLeft)
	p.Wait(`location.search.includes("ev=69") && location.search.includes("peak=43")`)
	p.TabTo(`#bonds [data-bond="3"]`)
	p.Keys(kb.Enter)
	p.Wait(`document.getElementById("h-routes").textContent.startsWith("The bond") && location.search.includes("bond=3")`)
	p.Wait(ready)
	// A figure as a file.
	p.TabTo("#figure-structure summary")
	p.Keys(kb.Enter)
	p.TabTo(`#figure-structure .exports a[href*=".svg"]`)
	p.Quiet()
}

// TestReadByKeyboard types peaks, and unfolds the reading for students step by
// step.
func TestReadByKeyboard(t *testing.T) {
	if testing.Short() {
		t.Skip("a browser rests in a short run")
	}
	s := serve(t, Options{})
	p := browser.Open(t, s.URL)
	p.Go("/read")
	p.Wait(ready)
	p.TabTo("#peaks")
	p.Keys("29:62 43:4 45:15 57:100 58:5 73:6 74:12 75:40 87:2 102:8")
	p.TabTo("#ask button")
	p.Keys(kb.Enter)
	p.Wait(`document.querySelector("#figure-spectrum svg")`)
	p.Wait(ready)
	p.TabTo(`.views a[href*="view=class"]`)
	p.Keys(kb.Enter)
	p.Wait(`location.search.includes("view=class") && document.getElementById("next")`)
	for step := 1; step <= 3; step++ {
		p.TabTo("#next")
		p.Keys(kb.Enter)
		p.Wait(fmt.Sprintf(`location.search.includes("step=%d") && document.querySelectorAll(".argument li").length === %d`, step, step))
		p.Wait(`document.activeElement.id === "next"`)
	}
	p.TabTo("#hint")
	p.Keys(kb.Enter)
	p.Wait(`document.querySelector(".hint")`)
	p.TabTo(`.views a:not([href*="view=class"])`)
	p.Keys(kb.Enter)
	p.Wait(`document.getElementById("candidates")`)
	p.TabTo("#candidates")
	p.Keys("ethyl propanoate" + kb.Enter + "pentanoic acid")
	p.TabTo("#compare button")
	p.Keys(kb.Enter)
	p.Wait(`document.querySelector("[aria-label=Candidates] tbody tr")`)
	p.Quiet()
}

// TestDemonstrateByKeyboard drives the instrument with the presenter's keys.
func TestDemonstrateByKeyboard(t *testing.T) {
	if testing.Short() {
		t.Skip("a browser rests in a short run")
	}
	s := serve(t, Options{})
	p := browser.Open(t, s.URL)
	p.Size(1280, 800)
	p.Go("/demonstrate")
	p.Wait(ready)
	p.TabTo("#peaks")
	p.Keys("28 32 44" + kb.Enter)
	p.Wait(`location.search.includes("peaks=28+32+44")`)
	p.Wait(`document.getElementById("field").min.startsWith("0.231")`) // sqrt(2 V u (m/z) / e) / r for m/z 28, 1 kV, 10 cm is 0.2409 T, less 4 %
	p.TabTo("#play")
	p.Keys("r")
	p.Keys(kb.ArrowRight)
	p.Wait(`document.getElementById("now").textContent.includes("m/z 28 reaches")`)
	p.Keys(kb.ArrowRight)
	p.Wait(`document.getElementById("now").textContent.includes("m/z 32 reaches")`)
	p.Keys("1")
	p.Wait(`location.search.includes("if=voltage")`)
	p.Keys("r")
	p.Keys(" ")
	p.Wait(`document.getElementById("play").textContent === "Pause"`)
	at := p.Text(`document.getElementById("field-shown").textContent`)
	p.Wait(`document.getElementById("field-shown").textContent > "` + at + `"`)
	p.Keys(" ")
	p.Wait(`document.getElementById("play").textContent === "Start" && location.search.includes("field=")`)
	p.TabTo("#voltage")
	p.Keys(kb.ArrowRight)
	p.Wait(`location.search.includes("voltage=1050")`)
	p.TabTo("#play")
	p.Keys("p")
	p.Wait(`document.body.classList.contains("projected") && location.search.includes("projector=1")`)
	p.Keys("r" + kb.PageDown) // a remote control
	p.Wait(`document.getElementById("now").textContent.includes("m/z 28 reaches")`)
	p.Shot("demonstrate-projector-1280")
	p.Scheme("dark", false)
	p.Shot("demonstrate-projector-1280-dark")
	p.Quiet()
}

// TestWriteByKeyboard makes a lesson, follows a finding to its place, inserts
// a claim and a compound, and reaches what was built.
func TestWriteByKeyboard(t *testing.T) {
	if testing.Short() {
		t.Skip("a browser rests in a short run")
	}
	s := serve(t, Options{})
	p := browser.Open(t, s.URL)
	p.Size(1280, 900)
	p.Go("/write")
	p.TabTo("#title")
	p.Keys("Ketones" + kb.Tab + "pentan-2-one" + kb.Enter)
	p.Wait(`location.pathname === "/write/ketones"`)
	p.Wait(ready)
	p.Wait(`document.getElementById("problem-count").textContent !== ""`)
	p.TabTo("#insert summary")
	p.Keys(kb.Enter)
	p.TabTo("#compound-name")
	p.Keys("toluene" + kb.Enter)
	p.Wait(`document.activeElement.classList.contains("cm-content")`)
	p.Wait(`document.getElementById("saved").textContent === "Saved"`)
	file := filepath.Join(s.dir, "ketones", "lesson.md")
	text, err := os.ReadFile(file)
	if err != nil || !strings.Contains(string(text), `name: "toluene"`) {
		t.Errorf("%v: the lesson reads %.400s", err, text)
	}
	// A wrong number: the list says so, and leads there.
	p.Keys(kb.Escape) // the tabulator key leaves the editor
	p.Text(`document.getElementById("main").focus()`)
	if err := os.WriteFile(file, []byte(strings.Replace(string(text), "[86]{= mass(", "[87]{= mass(", 1)), 0o644); err != nil {
		t.Fatal(err)
	}
	p.Wait(`document.querySelector("#problems .error button:not(:disabled)")`)
	p.TabTo("#problems .error button")
	p.Keys(kb.Enter)
	p.Wait(`document.activeElement.classList.contains("cm-content")`)
	p.Keys(kb.Delete + kb.Delete + "86")
	p.Wait(`document.getElementById("saved").textContent === "Saved" && !document.querySelector("#problems .error")`)
	p.Keys(kb.Escape + kb.Tab)
	p.TabTo("#build summary")
	p.Keys(kb.Enter)
	p.Wait(`document.querySelector("#pack-files a[href$='student.html']")`)
	p.TabTo("#pack-files a[href$='student.html']")
	p.Quiet()
}

// TestPractiseByKeyboard answers, takes a hint, chooses electron arrows from
// lists, and has the answers marked.
func TestPractiseByKeyboard(t *testing.T) {
	if testing.Short() {
		t.Skip("a browser rests in a short run")
	}
	s := serve(t, Options{})
	s.lesson("ketones", questions)
	p := browser.Open(t, s.URL)
	p.Size(390, 844)
	p.Go("/practise")
	p.TabTo(`a[href="/practise/ketones"]`)
	p.Keys(kb.Enter)
	p.Wait(`location.pathname === "/practise/ketones"`)
	p.Wait(ready)
	p.TabTo(`[id^="hint-1"]`)
	p.Keys(kb.Enter)
	p.Wait(`document.querySelector(".hint")`)
	p.TabTo(`[name="a.mass"]`)
	p.Keys("72" + kb.Enter)
	p.Wait(`document.querySelector("#question-1 [data-verdict=right]")`)
	p.Wait(`document.activeElement.name === "a.mass"`)
	// Three half arrows, each chosen by typing what the list reads.
	for n, ends := range [][2]string{{"O5", "C3=O5"}, {"C2–C3", "C3=O5"}, {"C2–C3", "C2"}} {
		for i, part := range []string{"from", "to"} {
			p.TabTo(fmt.Sprintf(`[name="a.arrows.%d.%s"]`, n+1, part))
			p.Keys(ends[i])
			if got := p.Text("document.activeElement.selectedOptions[0].text"); got != ends[i] {
				t.Fatalf("typing %q chooses %q", ends[i], got)
			}
		}
	}
	p.TabTo("#mark-2")
	p.Keys(kb.Enter)
	p.Wait(`document.querySelector("#question-2 [data-verdict=right]")`)
	p.TabTo(`[id^="solution-2"]`)
	p.Keys(kb.Enter)
	p.Wait(`document.querySelector(".solution")`)
	p.Fits("practising at 390 px")
	p.Axe("practising")
	p.Shot("practise-answered-390")
	p.Quiet()
}
