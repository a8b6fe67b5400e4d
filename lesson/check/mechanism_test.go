package check

import (
	"context"
	"strings"
	"testing"
	"testing/fstest"

	"ionwright/lesson/diag"
)

// What a mechanism or a map shows must be there to be drawn.
func TestMechanismsAreLookedUp(t *testing.T) {
	lesson := func(block string) string {
		return "---\ntitle: T\ncompounds:\n  ketone: CCC(C)=O\n---\n{{ figure(\"f\") }} shows it.\n\n```" + block + "\n```\n"
	}
	for _, test := range []struct {
		block string
		code  diag.Code
		words string
	}{
		{"mechanism\nid: f\ncompound: ketone\nmz: 43", "", ""},
		{"map\nid: f\ncompound: ketone", "", ""},
		{"mechanism\nid: f\ncompound: ketone\nmz: 51", diag.NoPeak, "no step leads to an ion of ketone at m/z 51"},
		{"mechanism\nid: f\ncompound: ketone\nmz: 72", diag.NoPeak, "no step leads to an ion of ketone at m/z 72"}, // the molecular ion
		{"mechanism\nid: f\ncompound: keton\nmz: 43", diag.UnknownName, `did you mean "ketone"?`},
		{"mechanism\nid: f\ncompound: ketone", diag.MissingKey, `"mz"`},
		{"mechanism\nid: f\ncompound: ketone\nmz: x", diag.WrongType, "isn't a whole m/z"},
		{"map\nid: f\ncompound: keton", diag.UnknownName, `did you mean "ketone"?`},
	} {
		_, diags, err := Check(context.Background(), fstest.MapFS{"lesson.md": {Data: []byte(lesson(test.block))}})
		if err != nil {
			t.Fatal(err)
		}
		found := test.code == ""
		for _, d := range diags {
			if d.Code.Severity() != diag.Error {
				continue
			}
			if d.Code == test.code && strings.Contains(d.String(), test.words) {
				found = true
			} else {
				t.Errorf("%q: %s", test.block, d)
			}
		}
		if !found {
			t.Errorf("%q: no %s with %q in %v", test.block, test.code, test.words, diags)
		}
	}
}
