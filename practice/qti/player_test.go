package qti_test

import (
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"html"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
	"time"

	"ionwright/internal/witness"
	"ionwright/practice"
	"ionwright/practice/answer"
	"ionwright/practice/cause"
	"ionwright/practice/mark"
	"ionwright/practice/qti"
)

// played is an item with an answer to be given in a browser.
type played struct {
	ID     string              `json:"id"`
	XML    string              `json:"xml"`
	Values map[string][]string `json:"values"` // by the response's identifier
	own    answer.Answer
	marks  float64 // by our own marking
}

// plays answers every kind that a platform marks, right and wrong.
func plays(t *testing.T, v qti.Version) []*played {
	one := func(v ...string) map[string][]string { return map[string][]string{"RESPONSE": v} }
	picked := func(arrows ...string) map[string][]string { return one(lettersOf(t, arrows)...) }
	order := questions()[6].Key.Solved().List
	turned := []string{order[2], order[1], order[0]}
	rows := []struct {
		question int
		values   map[string][]string
		own      answer.Answer
	}{
		{0, one("43.55"), answer.Of("43.55")}, {0, one("91"), answer.Of("91")},
		{1, one("A"), answer.Of("A")}, {1, one("B"), answer.Of("B")},
		{2, one("A", "B"), answer.Listed("A", "B")}, {2, one("A"), answer.Listed("A")}, {2, one("A", "C"), answer.Listed("A", "C")},
		{3, one("C2H3O+"), answer.Of("C2H3O+")}, {3, one("OC2H3+"), answer.Of("OC2H3+")}, {3, one("C2H3O"), answer.Of("C2H3O")}, {3, one("C3H7+"), answer.Of("C3H7+")},
		{4, one("mz43", "mz58"), answer.Listed("43", "58")}, {4, one("mz43"), answer.Listed("43")},
		{5, map[string][]string{"RESPONSE1": {"C2H3O+"}, "RESPONSE2": {"C3H5O+"}}, answer.Answer{Pairs: map[string]string{"43": "C2H3O+", "57": "C3H5O+"}}},
		{5, map[string][]string{"RESPONSE1": {"C2H3O+"}, "RESPONSE2": {"C4H9+"}}, answer.Answer{Pairs: map[string]string{"43": "C2H3O+", "57": "C4H9+"}}},
		{6, one(order...), answer.Listed(order...)}, {6, one(turned...), answer.Listed(turned...)},
		{7, one("O=C(C)c1ccccc1"), answer.Of("O=C(C)c1ccccc1")}, {7, one("O=CCc1ccccc1"), answer.Of("O=CCc1ccccc1")},
		{8, picked("2-4 > 4", "3 > 2-3", "2-4 > 2-3"), answer.Of("2-4 > 4; 3 > 2-3; 2-4 > 2-3")},
		{8, picked("2-4 > 4", "3 > 2-3", "2-3 > 3"), answer.Of("2-4 > 4; 3 > 2-3; 2-3 > 3")}, {8, picked("3 => 2-3"), answer.Of("3 => 2-3")},
	}
	var out []*played
	for _, row := range rows {
		q := questions()[row.question]
		if q.ID == "formula" { // what the missing charge costs is found by the facts
			q.Facts.Asks, q.Facts.Ion, q.Facts.MZ = cause.IonAt, q.Key.(practice.Formula).Formula, 43
		}
		var xml bytes.Buffer
		if err := qti.Item(&xml, q, v); err != nil {
			t.Fatal(err)
		}
		r, err := mark.Question(context.Background(), q, row.own)
		if err != nil {
			t.Fatal(err)
		}
		out = append(out, &played{ID: q.ID, XML: xml.String(), Values: row.values, own: row.own, marks: r.Marks})
	}
	return out
}

// lettersOf finds the identifiers under which arrows are offered, by the words
// of the item.
func lettersOf(t *testing.T, arrows []string) []string {
	var b bytes.Buffer
	if err := qti.Item(&b, questions()[8], qti.V30); err != nil {
		t.Fatal(err)
	}
	var out []string
	for _, text := range arrows {
		a, err := answer.ParseArrow(text)
		if err != nil {
			t.Fatal(err)
		}
		site := func(p answer.Place) string {
			if p.IsAtom() {
				return fmt.Sprintf("atom %d", p.A)
			}
			return fmt.Sprintf("between atoms %d and %d", p.A, p.B)
		}
		m := regexp.MustCompile(`identifier="(arrow[0-9]+)">[^<]*(half|full) arrow[^<]* from `+site(a.From)+" to "+site(a.To)+"<").FindAllStringSubmatch(b.String(), -1)
		found := false
		for _, hit := range m {
			if (hit[2] == "half") == a.Half {
				out, found = append(out, hit[1]), true
			}
		}
		if !found {
			t.Fatalf("the arrow %q isn't offered", text)
		}
	}
	return out
}

// page plays each item: choices are clicked, fields are typed into, and an
// order, which is dragged, is handed over as a value.
const page = `<!doctype html><meta charset="utf-8"><title>player</title><body><div id="stage"></div><pre id="result"></pre>
<script type="module">PLAYER</script>
<script type="module">
const items = ITEMS;
const pause = ms => new Promise(done => setTimeout(done, ms));
const inside = (root, selector) => {
  const found = [...root.querySelectorAll(selector)];
  for (const e of root.querySelectorAll('*')) if (e.shadowRoot) found.push(...inside(e.shadowRoot, selector));
  return found;
};
async function play(item) {
  const stage = document.getElementById('stage');
  stage.replaceChildren();
  const outer = document.createElement('qti-item');
  const container = document.createElement('item-container');
  container.itemXML = item.xml; // before it is in the page
  outer.append(container);
  stage.append(outer);
  let assessed;
  for (let i = 0; i < 50 && !assessed; i++) { await pause(100); assessed = inside(stage, 'qti-assessment-item')[0]; }
  await pause(300);
  for (const [id, values] of Object.entries(item.values)) {
    const interaction = inside(stage, '[response-identifier="' + id + '"]')[0];
    if (!interaction) throw 'the item shows no interaction ' + id;
    const kind = interaction.localName;
    if (kind === 'qti-choice-interaction') {
      for (const v of values) interaction.querySelector('[identifier="' + v + '"]').click();
    } else if (kind === 'qti-text-entry-interaction') {
      const field = interaction.shadowRoot.querySelector('input');
      field.value = values[0];
      field.dispatchEvent(new Event('input', {bubbles: true, composed: true}));
      field.dispatchEvent(new Event('change', {bubbles: true, composed: true}));
      field.dispatchEvent(new KeyboardEvent('keyup', {bubbles: true, composed: true}));
    } else {
      assessed.updateResponseVariable(id, values);
    }
    await pause(20);
  }
  assessed.processResponse();
  await pause(20);
  return assessed.getOutcome('SCORE').value;
}
(async () => {
  const scores = [];
  for (const item of items) {
    try { scores.push(String(await play(item))); } catch (e) { scores.push('failed: ' + e); }
  }
  document.getElementById('result').textContent = JSON.stringify(scores);
})();
</script>`

var resultText = regexp.MustCompile(`(?s)<pre id="result">(.*?)</pre>`)

// TestPlayer plays the items in a browser with an open player of the standard
// and compares its scores with our own marks. The player knows version 3.0;
// items of version 2.2 are first turned into that by an open converter, which is
// not ours.
func TestPlayer(t *testing.T) {
	for _, v := range []qti.Version{qti.V30, qti.V22} {
		t.Run(v.String(), func(t *testing.T) {
			items := plays(t, v)
			if v == qti.V22 {
				convert(t, items)
			}
			playAll(t, items)
		})
	}
}

// convert turns items of version 2.2 into version 3.0.
func convert(t *testing.T, items []*played) {
	t.Helper()
	converter := witness.NodeFile(t, "@citolab/qti-convert/dist/qti-converter-node/index.js")
	var texts []string
	for _, p := range items {
		texts = append(texts, p.XML)
	}
	input, err := json.Marshal(texts)
	if err != nil {
		t.Fatal(err)
	}
	script := `import(process.argv[1]).then(async m => {
  const read = []; for await (const part of process.stdin) read.push(part);
  const out = [];
  for (const text of JSON.parse(Buffer.concat(read).toString())) out.push(await m.convertQti2toQti3(text));
  process.stdout.write(JSON.stringify(out));
}).catch(e => { console.error(e); process.exit(1); })`
	cmd := exec.Command("node", "-e", script, "file://"+converter)
	cmd.Stdin = bytes.NewReader(input)
	var stderr bytes.Buffer
	cmd.Stderr = &stderr
	out, err := cmd.Output()
	if err != nil {
		t.Fatalf("converting the items: %v\n%s", err, stderr.String())
	}
	if err := json.Unmarshal(out, &texts); err != nil {
		t.Fatalf("converting the items: %v\n%.300s", err, out)
	}
	for i, p := range items {
		p.XML = texts[i]
	}
}

func playAll(t *testing.T, items []*played) {
	t.Helper()
	player := witness.NodeFile(t, "@citolab/qti-components/cdn/index.js")
	chromium, err := exec.LookPath("chromium")
	if err != nil {
		if os.Getenv("CI") == "true" {
			t.Fatal("chromium is absent; in CI it must be present")
		}
		t.Skip("chromium is absent here; the fuller checks (.ci/run) bring it")
	}
	code, err := os.ReadFile(player)
	if err != nil {
		t.Fatal(err)
	}
	data, err := json.Marshal(items)
	if err != nil {
		t.Fatal(err)
	}
	text := strings.Replace(page, "ITEMS", string(data), 1)
	text = strings.Replace(text, "PLAYER", strings.ReplaceAll(string(code), "</script", `<\/script`), 1)
	dir := t.TempDir()
	file := filepath.Join(dir, "player.html")
	if err := os.WriteFile(file, []byte(text), 0o600); err != nil {
		t.Fatal(err)
	}
	ctx, cancel := context.WithTimeout(context.Background(), 5*time.Minute)
	defer cancel()
	out, err := exec.CommandContext(ctx, chromium, "--headless", "--no-sandbox", "--disable-gpu", "--user-data-dir="+filepath.Join(dir, "profile"),
		"--virtual-time-budget=200000", "--dump-dom", "file://"+file).Output()
	if err != nil {
		t.Fatalf("playing the items: %v", err)
	}
	m := resultText.FindSubmatch(out)
	if m == nil || len(m[1]) == 0 {
		t.Fatalf("the player gave no scores; the page ends %.500s", out[max(0, len(out)-500):])
	}
	var scores []string
	if err := json.Unmarshal([]byte(html.UnescapeString(string(m[1]))), &scores); err != nil {
		t.Fatal(err)
	}
	for i, p := range items {
		want, _ := json.Marshal(p.marks)
		if scores[i] != string(want) {
			t.Errorf("%s answered %q: the player gives %s, our marking %s", p.ID, p.own, scores[i], want)
		}
	}
}
