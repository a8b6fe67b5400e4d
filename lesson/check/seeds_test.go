package check

import (
	"fmt"
	"strconv"
	"strings"

	"ionwright/chem"
	"ionwright/isotope"
)

// seed is a statement of a lesson with a place for a value: the right one
// makes a statement that must pass, the wrong one a mistake that must be found.
type seed struct {
	kind, text   string // text with %s for the value
	right, wrong string
}

func (s seed) with(value string) string { return strings.Replace(s.text, "%s", value, 1) }

// taught are compounds of the textbooks' chapters on mass spectrometry
// (OpenStax Organic Chemistry ch. 12; Whitman College e-book ch. 6).
var taught = []struct{ key, name, smiles string }{
	{"butanone", "butan-2-one", "CCC(C)=O"}, {"pentanone", "pentan-3-one", "CCC(=O)CC"}, {"butanol", "butan-1-ol", "CCCCO"},
	{"hexane", "hexane", "CCCCCC"}, {"toluene", "toluene", "Cc1ccccc1"}, {"acetophenone", "acetophenone", "CC(=O)c1ccccc1"},
	{"benzoic", "benzoic acid", "OC(=O)c1ccccc1"}, {"triethylamine", "triethylamine", "CCN(CC)CC"}, {"aniline", "aniline", "Nc1ccccc1"},
	{"anisole", "anisole", "COc1ccccc1"}, {"acetate", "ethyl acetate", "CCOC(C)=O"}, {"chlorobenzene", "chlorobenzene", "Clc1ccccc1"},
	{"bromobenzene", "bromobenzene", "Brc1ccccc1"}, {"benzamide", "benzamide", "NC(=O)c1ccccc1"},
}

var taughtFormulas = map[string]string{
	"butan-2-one": "C4H8O", "pentan-3-one": "C5H10O", "butan-1-ol": "C4H10O", "hexane": "C6H14", "toluene": "C7H8", "acetophenone": "C8H8O",
	"benzoic acid": "C7H6O2", "triethylamine": "C6H15N", "aniline": "C6H7N", "anisole": "C7H8O", "ethyl acetate": "C4H8O2",
	"chlorobenzene": "C6H5Cl", "bromobenzene": "C6H5Br", "benzamide": "C7H7NO",
}

func nominal(f string) int { return chem.MustFormula(f).NominalMass() }

func number0(n int) string { return strconv.Itoa(n) }

// capital puts a name at the beginning of a sentence.
func capital(s string) string { return strings.ToUpper(s[:1]) + s[1:] }

// seeds are the mistakes of every kind that is asked for: a wrong number, a
// wrong loss, a wrong isotope ratio, a swapped sector statement and a wrong use
// of the nitrogen rule, in prose, in checked words and in claims.
func seeds() []seed {
	var all []seed
	for _, list := range [][]seed{numberSeeds(), lossSeeds(), isotopeSeeds(), sectorSeeds(), nitrogenSeeds(), computedSeeds()} {
		all = append(all, list...)
	}
	return all
}

func numberSeeds() []seed {
	var out []seed
	wordings := []string{
		"%[1]s has a molecular mass of %[2]s.",
		"The molecular ion of %[3]s appears at m/z %[2]s.",
		"In the spectrum of %[3]s the molecular ion peak is found at m/z %[2]s.",
		"%[1]s has the formula %[4]s and therefore a nominal mass of %[2]s.",
		"We see the M+ peak of %[3]s at m/z %[2]s.",
		"%[1]s weighs %[2]s Da.",
		"With its molecular weight of %[2]s, %[3]s is a small molecule.",
		"The rightmost strong peak, at m/z %[2]s, is the molecular ion of %[3]s.",
		"The molar mass of %[3]s is %[2]s g/mol.",
		"%[1]s (M = %[2]s) is our first example.",
	}
	off := []int{2, -1, 12, -14, 1, 16, -2, 3}
	for i, c := range taught {
		f := taughtFormulas[c.name]
		for k := range 3 {
			w := wordings[(3*i+k)%len(wordings)]
			right, by := nominal(f), off[(i+k)%len(off)]
			if strings.Contains(f, "Cl") || strings.Contains(f, "Br") {
				by = 5
			}
			out = append(out, seed{"number", fmt.Sprintf(w, capital(c.name), "%s", c.name, f), number0(right), number0(right + by)})
		}
		exact := float64(chem.MustFormula(f).MonoisotopicMass())
		if i%2 == 0 {
			out = append(out, seed{"number", "The exact mass of " + c.name + " is %s.", fmt.Sprintf("%.4f", exact), fmt.Sprintf("%.4f", exact+0.0112)})
		} else {
			wrong := []string{"C4H10O", "C8H10O", "C6H12", "C7H8O2", "C6H9N"}[i%5]
			out = append(out, seed{"number", capital(c.name) + " (%s) is an example.", f, wrong})
		}
	}
	return out
}

// lossesTaught are losses that the textbooks name, with what is left at m/z.
var lossesTaught = []struct{ name, piece, formula string }{
	{"butan-2-one", "a methyl radical", "CH3"}, {"butan-2-one", "an ethyl radical", "C2H5"}, {"pentan-3-one", "an ethyl radical", "C2H5"},
	{"butan-1-ol", "water", "H2O"}, {"hexane", "an ethyl radical", "C2H5"}, {"hexane", "a propyl radical", "C3H7"}, {"acetophenone", "a methyl radical", "CH3"},
	{"benzoic acid", "a hydroxyl radical", "OH"}, {"triethylamine", "a methyl radical", "CH3"}, {"anisole", "formaldehyde", "CH2O"},
	{"aniline", "hydrogen cyanide", "HCN"}, {"chlorobenzene", "a chlorine atom", "Cl"},
}

func lossSeeds() []seed {
	var out []seed
	wordings := []string{
		"%[1]s loses %[2]s and gives the ion at m/z %[3]s.",
		"The peak at m/z %[3]s of %[4]s is due to the loss of %[2]s.",
		"When %[4]s loses %[2]s, an ion at m/z %[3]s is left.",
		"Loss of %[2]s from %[4]s leads to m/z %[3]s.",
	}
	masses := []string{
		"The loss of %[2]s takes away %[3]s mass units.",
		"M - %[3]s points to the loss of %[2]s.",
		"Here the molecular ion loses %[2]s (%[3]s u).",
		"A difference of %[3]s from the molecular ion means that %[2]s was lost.",
	}
	for i, l := range lossesTaught {
		m, lost := nominal(taughtFormulas[l.name]), nominal(l.formula)
		for k := range 2 {
			out = append(out, seed{"loss", fmt.Sprintf(wordings[(2*i+k)%4], capital(l.name), l.piece, "%s", l.name), number0(m - lost), number0(m - lost + []int{1, -2, 14, -1}[(i+k)%4])})
		}
		out = append(out, seed{"loss", fmt.Sprintf(masses[i%4], "", l.piece, "%s"), number0(lost), number0(lost + []int{1, -1, 2, 3}[i%4])})
	}
	out = append(out,
		seed{"loss", "For hexane, 86 - 29 = %s.", "57", "58"},
		seed{"loss", "The difference 120 - 105 = %s is a methyl radical.", "15", "16"},
		seed{"loss", "A loss of 18 means that the ion has lost %s.", "water", "ammonia"},
		seed{"loss", "A loss of 28 can be %s.", "carbon monoxide", "carbon dioxide"},
		seed{"loss", "A loss of 31 comes from %s.", "a methoxy radical", "a methyl radical"},
		seed{"loss", "By alpha-cleavage the molecular ion of butan-2-one loses an ethyl %s.", "radical", "cation"},
	)
	return out
}

// pattern gives an isotope pattern in parts of a hundred, IUPAC's abundances.
func pattern(f string, offsets ...int) string {
	g := chem.MustFormula(f)
	p := isotope.Unit(g)
	parts := []string{"100"}
	for _, o := range offsets {
		parts = append(parts, fmt.Sprintf("%.0f", 100*p.At(g.NominalMass()+o)/p.At(g.NominalMass())))
	}
	return strings.Join(parts, ":")
}
