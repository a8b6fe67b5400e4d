// Package notation holds the profiles by which a lesson writes what has more
// than one accepted form: how the molecular ion and ions with an unpaired
// electron are written, and which words stand for masses and abundances. For
// most uses call [Named] and give what the program prints to [Profile.Text] and
// [Profile.Figure].
//
// A profile changes what the program itself prints. The author's own sentences
// stay as they are; only the computed formulas in them follow.
package notation

import (
	"regexp"
	"strings"

	"ionwright/chem"
)

// Profile is one way of writing. The zero Profile is IUPAC's.
type Profile struct {
	Name string
	// Brackets puts the M of the molecular ion in brackets: [M]+ for M+.
	Brackets bool
	// NoDot leaves the unpaired electron of an ion out: C4H8O+ for C4H8O+•.
	NoDot bool
	words []replacement
}

// replacement is a term of IUPAC's and what a profile says for it.
type replacement struct {
	term *regexp.Regexp
	says string
}

// The names of the profiles.
const (
	IUPAC     = "iupac"
	ExamBoard = "exam-board"
)

// Names lists the profiles, the usual one first.
func Names() []string { return []string{IUPAC, ExamBoard} }

// Named returns the profile with a name, and false where there is none. The
// empty name is IUPAC's.
//
//   - iupac follows the recommendations of 2013 (Murray et al., Pure Appl. Chem.
//     85 (2013) 1515): M+• with its unpaired electron, "nominal mass", "relative
//     intensity".
//   - exam-board follows the papers and mark schemes of school examinations:
//     [M]+ without the dot, "relative formula mass", "relative abundance"
//     (common practice; boards differ, so the dot can be put back).
func Named(name string) (Profile, bool) {
	switch name {
	case "", IUPAC:
		return Profile{Name: IUPAC}, true
	case ExamBoard:
		return Profile{Name: ExamBoard, Brackets: true, NoDot: true, words: examWords}, true
	}
	return Profile{}, false
}

// WithDot returns the profile with or without the dot of unpaired electrons.
func (p Profile) WithDot(dot bool) Profile {
	p.NoDot = !dot
	return p
}

// examWords are the exam boards' words. The relative formula mass is an average
// over the isotopes, so it stands for the average mass; a nominal mass is said
// to be of the most abundant isotopes, which is what it is.
var examWords = []replacement{
	term("average molecular mass", "relative formula mass"),
	term("average mass", "relative formula mass"),
	term("average masses", "relative formula masses"),
	term("molar mass", "relative formula mass"),
	term("nominal mass", "relative formula mass from the most abundant isotopes"),
	term("nominal masses", "relative formula masses from the most abundant isotopes"),
	term("exact mass", "precise relative mass"),
	term("exact masses", "precise relative masses"),
	term("relative intensity", "relative abundance"),
	term("relative intensities", "relative abundances"),
}

func term(of, says string) replacement {
	return replacement{regexp.MustCompile(`(?i)\b` + regexp.QuoteMeta(of) + `\b`), says}
}

// molecularIon is the molecular ion as the program's own texts write it.
var molecularIon = regexp.MustCompile(`(^|[^\pL\pN\[])M\+•`)

// Text writes a text of the program in the profile.
func (p Profile) Text(s string) string {
	for _, r := range p.words {
		s = r.term.ReplaceAllStringFunc(s, func(found string) string {
			if upper := found[:1]; upper != strings.ToLower(upper) {
				return strings.ToUpper(r.says[:1]) + r.says[1:]
			}
			return r.says
		})
	}
	return p.Ions(s)
}

// Ions writes the ions of a text in the profile and leaves its words alone.
func (p Profile) Ions(s string) string {
	if p.Brackets {
		s = molecularIon.ReplaceAllString(s, "${1}[M]+•")
	}
	if p.NoDot {
		s = strings.NewReplacer("+•", "+", "⁺•", "⁺", "+˙", "+", "⁺˙", "⁺").Replace(s)
	}
	return s
}

// Dot is what the profile writes behind a formula for its unpaired electron:
// a dot behind the charge of an odd-electron ion, nothing behind anything else.
func (p Profile) Dot(f chem.Formula) string {
	if p.NoDot || f.Charge() == 0 || !f.OddElectron() {
		return ""
	}
	return "•"
}
