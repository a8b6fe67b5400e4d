package ions_test

import (
	"context"
	"fmt"
	"strings"
	"testing"

	"ionwright/draw"
	"ionwright/draw/ions"
	"ionwright/draw/plot"
	"ionwright/draw/structure"
	"ionwright/ionize"
	"ionwright/mol/smiles"
)

func predicted(t testing.TB, s string) *ionize.Prediction {
	t.Helper()
	m, err := smiles.Parse(s)
	if err != nil {
		t.Fatal(err)
	}
	p, err := ionize.Predict(context.Background(), m, ionize.Settings{})
	if err != nil {
		t.Fatal(err)
	}
	return p
}

func TestFormulasAndLosses(t *testing.T) {
	p := predicted(t, "CCC(C)=O")
	got := ions.Formulas(p, []float64{43, 44.6, 72})
	if len(got) != 2 || draw.RunsString(got[0].Text) != "C2H3O+" || draw.RunsString(got[1].Text) != "C4H8O+•" { // follow from the structure
		t.Errorf("the ions are %v", got)
	}
	for _, pair := range [][2]float64{{72, 43}, {43, 72}} {
		if loss := ions.Loss(p, pair[0], pair[1]); draw.RunsString(loss.Text) != "C2H5" { // C4H8O less C2H3O
			t.Errorf("from m/z %v to %v %v is lost", pair[0], pair[1], loss.Text)
		}
	}
	if loss := ions.Loss(p, 43, 29); len(loss.Text) != 0 { // C2H5+ isn't part of C2H3O+
		t.Errorf("from m/z 43 to 29 %v is lost", loss.Text)
	}
}

// Every ion that is drawn has the formula that the prediction gives it.
func TestStructuresHaveTheirFormulas(t *testing.T) {
	drawn := 0
	for _, s := range []string{"CCC(C)=O", "CCCCC(C)=O", "CCCCO", "CCOC(=O)CC", "CCCCc1ccccc1", "CCN(CC)CC", "[2H]CC(C)=O", "CC(C)CCO"} {
		p := predicted(t, s)
		for _, ion := range p.Ions {
			if ion.Abundance < 0.01 || p.At(ion.MZ)[0].ID != ion.ID {
				continue
			}
			in, err := ions.Structure(p, float64(ion.MZ), structure.Options{Bond: 18})
			if err != nil {
				if !strings.Contains(err.Error(), "no movement of electrons") {
					t.Errorf("%s: %v", s, err)
				}
				continue
			}
			drawn++
			want := ion.Formula.String()
			if len(p.Route(ion.ID)) == 0 {
				want = p.Mol.Formula().String()
			}
			if !strings.HasSuffix(in.Figure.Title, " "+want) {
				t.Errorf("%s: the ion of m/z %d, %s, is drawn as %q", s, ion.MZ, want, in.Figure.Title)
			}
		}
	}
	if drawn < 20 {
		t.Errorf("only %d ions were drawn", drawn)
	}
	if _, err := ions.Structure(predicted(t, "CC"), 99, structure.Options{}); err == nil || !strings.Contains(err.Error(), "m/z 99") {
		t.Errorf("for an ion that isn't there: %v", err)
	}
}

// A spectrum with the structure of its base peak's ion beside it.
func ExampleStructure() {
	m, err := smiles.Parse("CCC(C)=O")
	if err != nil {
		fmt.Println(err)
		return
	}
	p, err := ionize.Predict(context.Background(), m, ionize.Settings{})
	if err != nil {
		fmt.Println(err)
		return
	}
	acylium, err := ions.Structure(p, 43, structure.Options{Bond: 20})
	if err != nil {
		fmt.Println(err)
		return
	}
	f, err := plot.Spectrum(p.Spectrum(), plot.Options{Name: "butanone", Insets: []plot.Inset{acylium}, Losses: []plot.Loss{ions.Loss(p, 72, 43)}})
	if err != nil {
		fmt.Println(err)
		return
	}
	_, words, _ := strings.Cut(f.Detail, "Beside")
	fmt.Println("Beside" + words)
	// Output:
	// Beside m/z 43: skeletal formula, C2H3O+: 2 carbon atoms and 1 oxygen atom; 1 triple bond C≡O; 1 positive charge on oxygen.
}
