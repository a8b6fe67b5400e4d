package foreign

import (
	"fmt"
	"math"
	"regexp"
	"strconv"
	"strings"

	"ionwright/lesson/diag"
	"ionwright/sector"
)

var (
	parityMass  = regexp.MustCompile(`(?i)\b(odd|even)(?:[- ]numbered)?(?: nominal| integer| relative)?(?: molecular| molar)?[- ](?:mass|weight|ion|m ?/ ?z)\b|\b(?:molecular (?:mass|weight|ion)|mass|m ?/ ?z|M\+)(?: (?:is|of|at|that|has|an?|value|are|must be|will be))* (odd|even)\b`)
	parityN     = regexp.MustCompile(`(?i)\b(?:an )?(odd|even) number of nitrogens?\b|\b(no|zero|one|two|three|four|five|1|2|3|4|5|a single|a)(?: or (one|two|three|four|five))? nitrogens?\b(?: atoms?)?`)
	notMolecule = regexp.MustCompile(`(?i)fragment|even-electron|odd-electron|protonated|\[ ?M|electrospray|cleavage|loses?\b|loss\b|number of hydrogens?|\bdoubly|odd or even|even or odd|isotop|does the|number of electrons`)
)

// nitrogenRule judges what an odd or even mass says of nitrogen.
func (r *reader) nitrogenRule(s *sentence) {
	if denies.MatchString(strings.TrimRight(s.words, " ?")) && !ifFirst.MatchString(s.words) || notMolecule.MatchString(s.words) {
		return
	}
	masses := parityMass.FindAllStringSubmatchIndex(s.words, -1)
	counts := parityN.FindAllStringSubmatchIndex(s.words, -1)
	pairs := [][2][]int{}
	switch {
	case len(masses) == 1:
		for _, c := range counts {
			pairs = append(pairs, [2][]int{masses[0], c})
		}
	case len(masses) == len(counts):
		for i := range masses {
			pairs = append(pairs, [2][]int{masses[i], counts[i]})
			if i > 0 && (min(masses[i][0], counts[i][0]) < max(masses[i-1][0], counts[i-1][0])) {
				return
			}
		}
	}
	for _, pair := range pairs {
		m, c := pair[0], pair[1]
		mass := strings.ToLower(group(s.words, m, 1) + group(s.words, m, 2))
		said := strings.ToLower(group(s.words, c, 1) + group(s.words, c, 2))
		if c[2] < 0 && !strings.Contains(s.words[c[0]:c[1]], "nitrogen") || said == mass {
			continue
		}
		odd := said == "odd"
		if said != "odd" && said != "even" {
			odd = countOf(strings.TrimPrefix(strings.Replace(said, "a single", "1", 1), "a"))%2 == 1 || said == "a"
		}
		if odd == (mass == "odd") {
			continue
		}
		right := map[bool]string{true: "an odd number", false: "none or an even number"}[mass == "odd"]
		r.report(s, c[0], c[1], diag.NitrogenFalse, s.words[c[0]:c[1]], right, fmt.Sprintf("an %s molecular mass means %s of nitrogen atoms", mass, right),
			"an %s molecular mass doesn't go with %q", mass, s.words[c[0]:c[1]])
	}
}

// ifFirst keeps statements of the form "if ..., then ..." that the nitrogen rule
// is usually taught in.
var ifFirst = regexp.MustCompile(`(?i)^\W*if\b[^?]*$`)

func group(words string, m []int, i int) string {
	if m[2*i] < 0 {
		return ""
	}
	return words[m[2*i]:m[2*i+1]]
}

var (
	heavyIons = regexp.MustCompile(`(?i)\b(?:(heavier|heaviest|more massive|heavy)|(lighter|lightest|less massive|light)) (?:ions?|fragments?|particles?|isotopes?|ones)\b|\bions? (?:of|with|having) (?:an? |the )?(?:(higher|larger|greater|highest|greatest|heavier|high)|(lower|smaller|lowest|smallest|low)) (?:mass(?:es)?|m ?/ ?z)`)
	bends     = regexp.MustCompile(`(?i)\b(?:bend|bends|bent|deflected|deflect|curve|curved|turned|deviate)\b(?: by the (?:magnet|field|magnetic field))? (?:(more|most|further|farther)|(less|least))\b|\b(?:follows?|have|has|travels?|moves?|describes?|takes?|taking|following|with)(?: \w+){0,3} (?:(smaller|tighter|smallest|tightest)|(larger|wider|greater|bigger|largest|widest)) (?:\w+ )?(?:radius|radii|circles?|arcs?|curves?|paths?)|\b(?:(more|most)|(less|least)) (?:strongly |sharply |easily )?(?:deflected|bent|curved)\b`)
	mixed     = regexp.MustCompile(`(?i)\belectric\b|quadrupole|charged? ions?|higher charge|\bcharges?\b|same momentum|velocity selector|faster|slower|energy filter|time[- ]of[- ]flight|than (?:the )?(?:lighter|heavier) ones? (?:is|are)`)
)

// bending judges which ions a magnetic field bends more. The comparison is
// computed, for ions accelerated by one voltage in one field.
func (r *reader) bending(s *sentence) {
	if denies.MatchString(s.words) || mixed.MatchString(s.words) {
		return
	}
	for _, clause := range clauses(s.words) {
		subject := heavyIons.FindStringSubmatchIndex(s.words[clause[0]:clause[1]])
		verb := bends.FindStringSubmatchIndex(s.words[clause[0]:clause[1]])
		if subject == nil || verb == nil || subject[0] > verb[0] {
			continue
		}
		heavy := subject[2] >= 0 || subject[6] >= 0
		more := verb[2] >= 0 || verb[6] >= 0 || verb[10] >= 0
		if heavy != more == heavyBendsLess() {
			continue
		}
		from, to := clause[0]+subject[0], clause[0]+verb[1]
		right := map[bool]string{true: "they are bent less, on a larger radius", false: "they are bent more, on a smaller radius"}[heavy]
		r.report(s, from, to, diag.InstrumentFalse, s.words[from:to], right, "say the opposite: "+right,
			"at one field and one accelerating voltage the radius grows with the square root of m/z")
	}
}

// heavyBendsLess computes the radii of two ions: true where the heavier one's is
// larger.
func heavyBendsLess() bool {
	light, err := sector.Radius(50, 0.5, 3000)
	heavy, err2 := sector.Radius(100, 0.5, 3000)
	return err == nil && err2 == nil && heavy > light
}

var clauseEnd = regexp.MustCompile(`(?i)[,;:]|\b(?:and|while|whereas|but|than)\b`)

// clauses gives the places of the parts of a sentence.
func clauses(words string) [][2]int {
	var out [][2]int
	from := 0
	for _, m := range clauseEnd.FindAllStringIndex(words, -1) {
		out = append(out, [2]int{from, m[0]})
		from = m[1]
	}
	return append(out, [2]int{from, len(words)})
}

var needsField = regexp.MustCompile(`(?i)\b(?:need|needs|require|requires|reach(?:es)? the detector at|arrives? at|focus(?:ed|es)? at)(?: an?| the)?(?: (?:(stronger|higher|larger|greater)|(weaker|lower|smaller)))(?: magnetic)? field\b`)

// neededField judges the field at which heavier ions come round.
func (r *reader) neededField(s *sentence) {
	if denies.MatchString(s.words) || mixed.MatchString(s.words) {
		return
	}
	for _, clause := range clauses(s.words) {
		subject := heavyIons.FindStringSubmatchIndex(s.words[clause[0]:clause[1]])
		verb := needsField.FindStringSubmatchIndex(s.words[clause[0]:clause[1]])
		if subject == nil || verb == nil || subject[0] > verb[0] {
			continue
		}
		heavy, stronger := subject[2] >= 0 || subject[6] >= 0, verb[2] >= 0
		light, err := sector.Field(50, 3000, 0.25)
		more, err2 := sector.Field(100, 3000, 0.25)
		if err != nil || err2 != nil || heavy == stronger == (more > light) {
			continue
		}
		from, to := clause[0]+subject[0], clause[0]+verb[1]
		right := map[bool]string{true: "a stronger field", false: "a weaker field"}[heavy]
		r.report(s, from, to, diag.InstrumentFalse, s.words[from:to], right, "write "+right,
			"at one radius and one accelerating voltage the field grows with the square root of m/z")
	}
}

var twoMagnets = regexp.MustCompile(`(?i)double[- ]focus(?:s?ing)?\b[^;]{0,80}?\b(?:has|have|with|uses?|using|contains?|consists? of|of|combines?)(?: its| their)? ((?:two|a pair of|2) (?:magnetic sectors|magnets|electric sectors|electrostatic sectors|magnetic analy[sz]ers))`)

// doubleFocusing judges what a double-focusing instrument is made of.
func (r *reader) doubleFocusing(s *sentence) {
	if m := twoMagnets.FindStringSubmatchIndex(s.words); m != nil && !denies.MatchString(s.words) {
		right := "a magnetic and an electric sector"
		r.report(s, m[2], m[3], diag.InstrumentFalse, s.words[m[2]:m[3]], right, "write "+right,
			"double focusing takes a magnetic sector, which focuses directions, and an electric sector, which makes up for the spread of energies")
	}
}

var (
	homolysis   = regexp.MustCompile(`(?i)\bhomoly(?:sis|tic|tically|se)\b`)
	heterolysis = regexp.MustCompile(`(?i)\bheteroly(?:sis|tic|tically|se)\b`)
	ionPair     = regexp.MustCompile(`\b[A-Z][a-z]?\.?\+ ?\+ ?:?[A-Z][a-z]?:?-(?:\W|$)|(?i:\b(?:two ions|two oppositely charged|a cation and an anion|an anion and a cation|both electrons (?:go|stay|move)|both electrons of the bond))`)
	radicalPair = regexp.MustCompile(`(?i)\b(?:two (?:neutral )?radicals|one electron (?:goes |stays )?(?:to|with|on) each|each (?:atom|fragment|partner) (?:keeps|takes|gets) one electron)`)
	bothKinds   = regexp.MustCompile(`(?i)whereas|while|\bbut\b|contrast|unlike|compared|molecular ion|radical cation`)
)

// bondBreaking judges what homolysis and heterolysis make of a bond.
func (r *reader) bondBreaking(s *sentence) {
	if denies.MatchString(s.words) || bothKinds.MatchString(s.words) || homolysis.MatchString(s.words) && heterolysis.MatchString(s.words) {
		return
	}
	if m := ionPair.FindStringIndex(s.words); m != nil && homolysis.MatchString(s.words) {
		right := "two radicals: each partner keeps one electron (A. + B.)"
		r.report(s, m[0], m[1], diag.BondFalse, strings.TrimSpace(s.words[m[0]:m[1]]), right, "write A-B -> A. + B., or say heterolysis",
			"homolysis of a neutral bond gives no ions")
	}
	if m := radicalPair.FindStringIndex(s.words); m != nil && heterolysis.MatchString(s.words) {
		right := "both electrons go to one partner"
		r.report(s, m[0], m[1], diag.BondFalse, s.words[m[0]:m[1]], right, "write "+right+", or say homolysis", "heterolysis doesn't share the electrons out")
	}
}

var (
	cationLost = regexp.MustCompile(`(?i)\b(?:loss of|loses?|losing|lost as|expels?|expelling|eject(?:s|ing)?|eliminat(?:es|ing))(?: (?:an?|the|its))? ((?:methyl|ethyl|propyl|isopropyl|butyl|tert-butyl|alkyl|phenyl|acyl|acetyl|allyl|benzyl)(?: group)?(?: as an?)? (?:cation|carbocation|anion|carbanion|ion))\b`)
	charged    = regexp.MustCompile(`(?i)doubly|dication|2\+|multiply|negative|\[M-H\]`)
)

// chargedLoss judges what an ion with one charge loses.
func (r *reader) chargedLoss(s *sentence) {
	if denies.MatchString(s.words) || charged.MatchString(s.words) {
		return
	}
	for _, m := range cationLost.FindAllStringSubmatchIndex(s.words, -1) {
		right := "a radical (the charge stays with what is seen)"
		piece := s.words[m[2]:m[3]]
		r.report(s, m[2], m[3], diag.BondFalse, piece, right, "write "+strings.Fields(piece)[0]+" radical",
			"a singly charged ion that loses %q would leave nothing to be seen", piece)
	}
}

var (
	chargeMass  = regexp.MustCompile(`(?i)\bcharge[- ](?:to[- ]|/ ?)mass\b(?:[- ]ratios?)?`)
	aboutMZ     = regexp.MustCompile(`(?i)m ?/ ?z|\bions?\b|spectr|separat|x[- ]axis|horizontal`)
	trueInverse = regexp.MustCompile(`(?i)\bq ?/ ?m\b|\be ?/ ?m\b|\bz ?/ ?m\b|electrons?'? |\bC/kg|inverse|reciprocal|specific charge|Thomson|coulombs?|proton\b`)
)

// chargeToMass reports "charge to mass" where m/z is meant.
func (r *reader) chargeToMass(s *sentence) {
	if !aboutMZ.MatchString(s.words) || trueInverse.MatchString(s.words) || denies.MatchString(s.words) {
		return
	}
	for _, m := range chargeMass.FindAllStringIndex(s.words, -1) {
		r.report(s, m[0], m[1], diag.ChargeToMass, s.words[m[0]:m[1]], "mass to charge", "write mass-to-charge ratio", "m/z is mass over charge number; %q is its inverse", s.words[m[0]:m[1]])
	}
}

var resolves = regexp.MustCompile(`(?i)\b(?:resolution|resolving power|R ?=)`)
var resolvedBetween = regexp.MustCompile(`(?i)^(?:[\s,:=()]|\x00|m ?/ ?\S*m|\b(?:of|is|at|least|about|approximately|roughly|needed|required|necessary|to|separate|distinguish|resolve|tell|from|and|for|between|the|an?|would|be|doublet|pair|therefore|thus|equals?|apart|R|minimum|ions?|u|Da)\b|\d+\.\d+)*$`)

// resolvingPower judges the m/Δm that two formulas need.
func (r *reader) resolvingPower(s *sentence) {
	if denies.MatchString(s.words) || len(s.mentions) < 2 {
		return
	}
	a, b := s.mentions[0].formula, s.mentions[1].formula
	for _, m := range s.mentions[2:] {
		if m.formula != a && m.formula != b {
			return
		}
	}
	if a == b || a.NominalMass() != b.NominalMass() {
		return
	}
	x, y := float64(a.MonoisotopicMass()), float64(b.MonoisotopicMass())
	needed := max(x, y) / math.Abs(x-y)
	for _, term := range resolves.FindAllStringIndex(s.words, -1) {
		for _, n := range s.numbers {
			if n.from < term[1] || n.decimals > 0 || !resolvedBetween.MatchString(s.blanked(term[1], n.from)) {
				continue
			}
			if n.value < 50 || math.Abs(n.value-needed) <= 0.1*needed {
				return
			}
			right := strconv.Itoa(int(math.Round(needed)))
			r.report(s, n.from, n.to, diag.ResolutionFalse, n.in(s.words), right, "write about "+right,
				"%s and %s differ by %.4f at %.4f, which needs m/Δm = %s", a, b, math.Abs(x-y), max(x, y), right)
			return
		}
	}
}
