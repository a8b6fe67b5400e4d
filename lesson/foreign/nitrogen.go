package foreign

import (
	"fmt"
	"regexp"
	"strconv"
	"strings"

	"ionwright/chem"
	"ionwright/lesson/diag"
)

var (
	// parityMass says of a molecule's mass that it is odd or even, or gives it.
	parityMass = regexp.MustCompile(`(?i)\b(odd|even)(?:[- ]numbered)?(?: nominal| integer| relative)?(?: molecular| molar)?[- ](?:mass(?:es)?|weight|ion|m ?/ ?z)\b` +
		`|\bmass of an? \w+ with [^,;]{1,30}? is (odd|even)\b|\b(?:molecular (?:mass(?:es)?|weights?|ions?)|mass|m ?/ ?z|M\+|M|molecule)(?: (?:is|are|of|at|that|has|have|an?|the|m ?/ ?z|its|value|must be|will be|always|molecular|mass))* (odd|even)\b(?:$|[ ,;:.])` +
		`|\b(?:molecular (?:mass|weight)(?: of| is)?|molecular ion at m ?/ ?z|M =|M \+ at m ?/ ?z) (\d{2,3})\b`)
	parityN = regexp.MustCompile(`(?i)\b(?:an )?(odd|even) number of (?:nitrogens?|N atoms|its nitrogen)\b|\bnumber of nitrogen(?: atom)?s (?:is|must be) (odd|even)\b|\b(no|zero|one|two|three|four|five|1|2|3|4|5|a single|a|single)(?: or (?:one|two|three|four|five))? nitrogens?\b(?: atoms?)?` +
		`|\b(without|free of|lacks|contains? no|has no) (?:any )?nitrogen\b|\bC, H(?:,| and) O\b[^.;:]{0,20} only\b|\bonly C, H(?:,| and) O\b`)
	notMolecule = regexp.MustCompile(`(?i)odd-electron|protonated|\[ ?M|electrospray|cleavage|number of hydrogens?|\bdoubly|odd or even|even or odd|isotop|does the|number of electrons|\b(?:such|these|those) ions\b|\bthey\b|turned round|other way`)
	ofFragments = regexp.MustCompile(`(?i)\b(?:fragments?|even-electron|loses?|loss|leaves?|left|stays?|remains?|breaks?)\b`)
	evenOnes    = regexp.MustCompile(`(?i)\beven-electron (?:fragments?|ions?)\b`)
	impossible  = regexp.MustCompile(`(?i)\b(?:can(?:no|')t|cannot|never) (?:belong|be|come|have|contain|hold)\b`)
	oneParity   = regexp.MustCompile(`(?i)(?:^|\s)(odd|even)(?:[- ]numbered)? m ?/ ?z`)
)

// nitrogenRule judges what an odd or even mass says of nitrogen.
func (r *reader) nitrogenRule(s *sentence) {
	words := impossible.ReplaceAllStringFunc(s.words, func(m string) string { return strings.Repeat(" ", len(m)) })
	if denies.MatchString(strings.ReplaceAll(strings.TrimRight(words, " ?"), "only if", "when")) && !ifFirst.MatchString(words) || notMolecule.MatchString(words) {
		return
	}
	flipped := words != s.words // "can't belong to a compound without nitrogen"
	if ofFragments.MatchString(words) {
		if !evenOnes.MatchString(words) {
			r.radicalLost(s)
			return
		}
		flipped = !flipped // an even-electron ion has one hydrogen atom more or less
	}
	masses := parityMass.FindAllStringSubmatchIndex(s.words, -1)
	counts := parityN.FindAllStringSubmatchIndex(s.words, -1)
	if flipped && evenOnes.MatchString(words) {
		masses = oneParity.FindAllStringSubmatchIndex(s.words, -1)
	}
	for _, pair := range paired(masses, counts) {
		r.judgeNitrogen(s, pair[0], pair[1], flipped)
	}
}

// paired puts masses and counts of nitrogen atoms together: one mass with all
// counts, or as many of the one as of the other, in turn.
func paired(masses, counts [][]int) [][2][]int {
	var out [][2][]int
	switch {
	case len(masses) == 1:
		for _, c := range counts {
			out = append(out, [2][]int{masses[0], c})
		}
	case len(masses) == len(counts):
		for i := range masses {
			if i > 0 && (min(masses[i][0], counts[i][0]) < max(masses[i-1][0], counts[i-1][0])) {
				return nil
			}
			out = append(out, [2][]int{masses[i], counts[i]})
		}
	}
	return out
}

func (r *reader) judgeNitrogen(s *sentence, m, c []int, flipped bool) {
	mass := ""
	for i := 1; 2*i < len(m); i++ {
		mass += strings.ToLower(group(s.words, m, i))
	}
	if n, err := strconv.Atoi(mass); err == nil {
		mass = map[bool]string{true: "odd", false: "even"}[n%2 == 1]
	}
	odd, ok := s.oddNitrogen(c)
	if !ok || odd == (mass == "odd") != flipped {
		return
	}
	right := map[bool]string{true: "an odd number", false: "none or an even number"}[(mass == "odd") != flipped]
	suggestion := fmt.Sprintf("an %s molecular mass means %s of nitrogen atoms", mass, right)
	if flipped {
		suggestion = "see which way round the rule is meant here"
	}
	r.report(s, c[0], c[1], diag.NitrogenFalse, s.words[c[0]:c[1]], right, suggestion, "an %s mass doesn't go with %q here", mass, s.words[c[0]:c[1]])
}

// oddNitrogen reads whether a number of nitrogen atoms is odd.
func (s *sentence) oddNitrogen(c []int) (odd, ok bool) {
	said := ""
	for i := 1; 2*i < len(c); i++ {
		said += strings.ToLower(group(s.words, c, i))
	}
	switch said {
	case "odd", "even":
		return said == "odd", true
	case "a", "a single", "single":
		return true, true
	}
	return countOf(said)%2 == 1, true
}

// ifFirst keeps statements of the form "if ..., then ..." that the nitrogen rule
// is usually taught in.
var ifFirst = regexp.MustCompile(`(?i)^\W*if\b[^?]*$`)

var radicalLoss = regexp.MustCompile(`(?i)\bloss of an? (?:\w+ )?radical (without|with one) nitrogen(?: atom)? from an (odd|even)(?:-mass| molecular| mass)*(?: ion)? (?:gives|leads to|leaves|yields) (?:a |an )?(?:fragment|ion)(?: ion)?s?(?: (?:at|of|with))?(?: an?)? (odd|even)\b`)

// radicalLost judges the parity of a fragment after the loss of a radical.
func (r *reader) radicalLost(s *sentence) {
	m := radicalLoss.FindStringSubmatchIndex(s.words)
	if m == nil {
		return
	}
	without, before, after := strings.EqualFold(group(s.words, m, 1), "without"), strings.ToLower(group(s.words, m, 2)), strings.ToLower(group(s.words, m, 3))
	// A radical without nitrogen, such as CH3, weighs an odd number, one with a
	// nitrogen atom, such as NH2, an even one.
	methyl, amino := chem.MustFormula("CH3").NominalMass()%2, chem.MustFormula("NH2").NominalMass()%2
	odd := (before == "odd") != (without && methyl == 1 || !without && amino == 1)
	right := map[bool]string{true: "odd", false: "even"}[odd]
	if after != right {
		r.report(s, m[6], m[7], diag.NitrogenFalse, after, right, "write "+right, "a radical without nitrogen weighs an odd number, one with a nitrogen atom an even number")
	}
}
