package pack

import (
	"strings"
	"testing"
	"testing/fstest"
)

// sweeping is a lesson with one sweep or drawing of paths, in a half circle of
// 25 cm.
func sweeping(block string) fstest.MapFS {
	return fstest.MapFS{"lesson.md": {Data: []byte("---\ntitle: T\ncompounds:\n  c: { named: chlorobenzene, computed: yes }\ninstruments:\n" +
		"  bench: { radius: 25 cm, voltage: 4 kV, slit: 0.4 mm }\n---\n\n{{ figure(\"f\") }}.\n\n~~~" + block + "\n~~~\n")}}
}

// At 0.3 T on 25 cm, m/z 112 needs 4.82427e7 · 0.09 · 0.0625 / 112 = 2423 V, by
// m/z = 4.82427e7 B² r² / V (from the CODATA values of e and u).
func TestVoltageSweep(t *testing.T) {
	p := build(t, sweeping("sweep\nid: f\ninstrument: bench\nions: c\nfield: 0.3 T\nfrom: 40\nto: 120"), Options{})
	page := string(p.Files["student.html"])
	for _, want := range []string{"m/z 112 at 2423\u00a0V", "accelerating voltage rises at the field 0.300\u00a0T", "Heavy ions need the lower voltage"} {
		if !strings.Contains(page, want) {
			t.Errorf("the page doesn't say %q", want)
		}
	}
}

// A counted sweep differs from the bare current, and from another run, and is
// the same each time.
func TestCountedSweep(t *testing.T) {
	drawn := func(keys string) string {
		p := build(t, sweeping("sweep\nid: f\ninstrument: bench\nions: c\nfrom: 100\nto: 120"+keys), Options{})
		return string(p.Files["figures/1-f.svg"])
	}
	bare, one, again, other := drawn(""), drawn("\nseconds: 2 s\nrate: 2000"), drawn("\nseconds: 2 s\nrate: 2000"), drawn("\nseconds: 2 s\nrate: 2000\nseed: 2")
	if bare == "" || bare == one || one != again || one == other {
		t.Errorf("lengths %d, %d, %d, %d", len(bare), len(one), len(again), len(other))
	}
}

func TestPathsAtAField(t *testing.T) {
	for keys, want := range map[string]string{"": "0.320 T", "\nfield: 0.35 T": "0.350 T"} { // m/z 77 needs sqrt(77 · 4000 / 4.82427e7) / 0.25 = 0.3196 T
		p := build(t, sweeping("paths\nid: f\ninstrument: bench\nions: [77, 112]"+keys), Options{})
		if svg := string(p.Files["figures/1-f.svg"]); !strings.Contains(strings.ReplaceAll(svg, "\u00a0", " "), want) {
			t.Errorf("%q: the drawing doesn't name the field %s", keys, want)
		}
	}
}
