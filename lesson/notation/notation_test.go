package notation

import (
	"testing"

	"ionwright/chem"
	"ionwright/draw"
)

// The terms are those of IUPAC's recommendations of 2013; what a board says
// for them is common practice, no source.
func TestText(t *testing.T) {
	exam, _ := Named(ExamBoard)
	iupac, _ := Named("")
	for _, test := range []struct{ text, exam, dotted string }{
		{"M+•, C4H8O+•", "[M]+, C4H8O+", "[M]+•, C4H8O+•"},
		{"relative intensity (%)", "relative abundance (%)", "relative abundance (%)"},
		{"Average mass", "Relative formula mass", "Relative formula mass"},
		{"the nominal mass of C6H5Cl", "the relative formula mass from the most abundant isotopes of C6H5Cl", "the relative formula mass from the most abundant isotopes of C6H5Cl"},
		{"C2H3O+ and CM+•", "C2H3O+ and CM+", "C2H3O+ and CM+•"},
		{"[M]+•", "[M]+", "[M]+•"},
		{"an intensity", "an intensity", "an intensity"},
	} {
		if got := exam.Text(test.text); got != test.exam {
			t.Errorf("exam board: %q becomes %q, want %q", test.text, got, test.exam)
		}
		if got := exam.WithDot(true).Text(test.text); got != test.dotted {
			t.Errorf("exam board with dot: %q becomes %q, want %q", test.text, got, test.dotted)
		}
		if got := iupac.Text(test.text); got != test.text {
			t.Errorf("IUPAC changes %q to %q", test.text, got)
		}
	}
	if got := exam.Ions("relative intensity of M+•"); got != "relative intensity of [M]+" {
		t.Errorf("Ions gives %q", got)
	}
	if _, ok := Named("exam"); ok {
		t.Error("there is a notation \"exam\"")
	}
}

func TestDot(t *testing.T) {
	iupac, _ := Named(IUPAC)
	exam, _ := Named(ExamBoard)
	for text, want := range map[string]string{"C4H8O+": "•", "C2H3O+": "", "CH3": "", "C6H6 2+": "", "C7H7 2+": "•"} { // by counting electrons
		f := chem.MustFormula(text)
		if got := iupac.Dot(f); got != want {
			t.Errorf("%s has the dot %q, want %q", text, got, want)
		}
		if got := exam.Dot(f); got != "" {
			t.Errorf("exam board: %s has the dot %q", text, got)
		}
	}
}

func TestFigureFollowsAndTheGivenOneStays(t *testing.T) {
	exam, _ := Named(ExamBoard)
	label := draw.Text{Runs: []draw.Run{{Text: "M"}, {Text: "+•", Script: draw.Super}}}
	ion := draw.Text{Runs: draw.Ion(chem.MustFormula("C4H8O+"))}
	given := draw.Figure{
		Title: "t", Description: "relative intensity", Detail: "M+•",
		Table: draw.Table{Caption: "c", Columns: []string{"relative intensity (%)"}, Rows: [][]string{{"M+•"}}},
		Scene: draw.Scene{Items: []draw.Item{&draw.Group{Title: "M+•", Items: []draw.Item{label, ion}}}},
	}
	got := exam.Figure(given)
	g := got.Scene.Items[0].(*draw.Group)
	for _, pair := range [][2]string{
		{draw.RunsString(g.Items[0].(draw.Text).Runs), "[M]+"}, {draw.RunsString(g.Items[1].(draw.Text).Runs), "C4H8O+"},
		{g.Title, "[M]+"}, {got.Description, "relative abundance"}, {got.Detail, "[M]+"},
		{got.Table.Columns[0], "relative abundance (%)"}, {got.Table.Rows[0][0], "[M]+"},
	} {
		if pair[0] != pair[1] {
			t.Errorf("%q, want %q", pair[0], pair[1])
		}
	}
	before := given.Scene.Items[0].(*draw.Group)
	if draw.RunsString(before.Items[0].(draw.Text).Runs) != "M+•" || before.Title != "M+•" || given.Table.Rows[0][0] != "M+•" {
		t.Error("the given figure has changed")
	}
}
