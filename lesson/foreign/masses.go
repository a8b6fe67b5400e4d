package foreign

import (
	"fmt"
	"math"
	"regexp"
	"strconv"
	"strings"

	"ionwright/chem"
	"ionwright/isotope"
	"ionwright/lesson/diag"
)

var (
	massTerm = regexp.MustCompile(`(?i)\b(?:relative (?:molecular|formula) mass|(?:nominal|exact|accurate|monoisotopic|average|molecular|molar|formula) (?:(?:nominal|exact|molecular|molar) )?(?:mass|weight)(?:es)?|molecular[- ]ion(?: peak| signal)?s?|parent (?:ion|peak))\b|\bM\+\.?(?: (?:peak|ion|signal))?|\bMW\b|\bM\.W\.|\bweighs\b|\b(?:has|have) an? mass\b|\bM (?:=|is)`)
	// between are the words that may stand between a term and its number.
	between = regexp.MustCompile(`(?i)^(?:[\s,:=()|]|\x00|m ?/ ?z|M\+\.?|\b(?:of|is|at|about|approximately|roughly|ca\.?|the|an?|peak|signal|appears?|found|seen|observed|lies|occurs|comes|stands|in|its|was|equals?|has|have|shows?|expected|therefore|thus|hence|value|compound|spectrum|gives?|and is|mass|molecule|M|u|to|be|should|must|will|would|could|then|also|already|lie|stand|appear|mass of|only|with|that|which|one|another)\b)*$`)
	notUnit = regexp.MustCompile(`^ ?(?:%|°|eV\b|ppm\b|kJ|mL|mg|g(?:[ ,;.)]|$)|kg|mmol|mM\b|years?\b|times\b|[-:/]\d|\^|×)`)
	// otherIon marks sentences whose ions aren't the compound's own.
	otherIon = regexp.MustCompile(`(?i)\[ ?2?M|protonated|electrospray|\bESI\b|adduct|MALDI|chemical ionization|sodiated|doubly|triply|2\+|dimer|deuter|labell?ed|respectively|polymer|isotopologue|derivati|silylat|\bTMS\b`)
	// otherSubject marks sentences that may speak of another compound than the
	// passage's.
	otherSubject = regexp.MustCompile(`(?i)\b(?:unknown|another|other|isomers?|samples?|mixture|product|solvent|contrast|compounds? [A-Z]|each|both|any|every|a compound|ion at|fragments?)\b`)
)

// compoundMass judges "the molecular mass of butanone is 74" and its variants.
func (r *reader) compoundMass(s *sentence) {
	if otherIon.MatchString(s.words) {
		return
	}
	for _, term := range massTerm.FindAllStringIndex(s.words, -1) {
		text := s.words[term[0]:term[1]]
		if rest := strings.TrimLeft(s.words[term[1]:], " "); strings.HasSuffix(text, "+") && rest != "" && rest[0] >= '0' && rest[0] <= '9' {
			continue // M+1, M + 2
		}
		n, ok := s.after(term[1])
		if !ok || !between.MatchString(s.blanked(term[1], n.from)) || notUnit.MatchString(s.words[n.to:]) {
			continue
		}
		subject, ok := s.subjectOf(term[0], term[1], n.from)
		if !ok {
			continue
		}
		if loose := text == "weighs" || strings.HasSuffix(text, "a mass"); loose && (!s.namedBefore(term[0]) || !massUnit.MatchString(s.words[n.to:]) && n.decimals == 0 && !aboutIons.MatchString(s.words) && subject.formula.Charge() == 0) {
			continue // grams, or anything else
		}
		ion := strings.HasPrefix(text, "M+") || strings.Contains(strings.ToLower(text), "ion") && !strings.Contains(strings.ToLower(text), "monoiso") || subject.formula.Charge() != 0
		r.judgeMass(s, n, subject, text, ion)
	}
}

// aboutIons finds that a weight without a unit is one of mass spectrometry.
var aboutIons = regexp.MustCompile(`(?i)m ?/ ?z|molecular ion|\bpeaks?\b`)

// namedBefore reports that a compound is named right before a place.
func (s *sentence) namedBefore(at int) bool {
	_, ok := s.rightBefore(at)
	return ok
}

// rightBefore gives the compound that is named right before a place.
func (s *sentence) rightBefore(at int) (mention, bool) {
	const near = 12 // characters: "also", "itself"
	for _, m := range s.mentions {
		if m.to <= at && at-m.to <= near && !m.lost {
			return m, true
		}
	}
	return mention{}, false
}

// subjectOf is the compound that a term with a number is said of: "butanone
// weighs 72", "hexane (M = 86)", or the one that [sentence.subject] finds.
func (s *sentence) subjectOf(from, to, number int) (mention, bool) {
	if m, ok := s.subject(to, number); ok {
		return m, true
	}
	return s.rightBefore(from)
}

var (
	massUnit   = regexp.MustCompile(`^ ?(?:u|Da|amu|mass units?|g/mol)\b`)
	isMolecule = regexp.MustCompile(`(?i)\bm ?/ ?z (\d+),? (?:is|was|must be|represents|belongs to) (?:the |its )?molecular ion\b`)
)

// molecularIonIs judges "the peak at m/z 74 is the molecular ion of butanone".
func (r *reader) molecularIonIs(s *sentence) {
	if otherIon.MatchString(s.words) || denies.MatchString(s.words) {
		return
	}
	for _, m := range isMolecule.FindAllStringSubmatchIndex(s.words, -1) {
		n, ok := s.after(m[2])
		subject, found := s.subject(m[1], m[1])
		if ok && found {
			r.judgeMass(s, n, subject, "molecular ion", true)
		}
	}
}

// judgeMass reports a number that is no mass of the formula; ion says that it
// belongs to the ion.
func (r *reader) judgeMass(s *sentence, n number, m mention, term string, ion bool) {
	f := m.formula
	switch masses := massesOf(f, n); masses {
	case fits:
		if precise := n.decimals >= 4; precise && (ion || !ofIons.MatchString(s.words)) && !near(n, float64(f.AverageMass())) {
			r.judgeElectron(s, n, m, ion)
		}
	case far:
		r.report(s, n.from, n.to, diag.MassFalse, n.in(s.words), massWords(f, n, ion), "write the mass of "+f.String(),
			"%q is no mass of %s", n.in(s.words), s.called(m))
	}
}

// ofIons finds that a mass may be the ions' where it isn't said to be.
var ofIons = regexp.MustCompile(`(?i)\b(?:ions?|cations?)\b`)

// judgeElectron reports the mass of an atom group given for its ion, or the
// other way round: they differ by the electron's mass.
func (r *reader) judgeElectron(s *sentence, n number, m mention, ion bool) {
	neutral := float64(m.formula.WithCharge(0).MonoisotopicMass())
	charged := float64(m.formula.WithCharge(1).MZ())
	right, what := neutral, "the neutral"
	if ion {
		right, what = charged, "the ion, which lacks an electron"
	}
	x := round(right, n.decimals)
	if math.Abs(n.value-x) < 2.5*ulp(n) {
		return
	}
	r.report(s, n.from, n.to, diag.ElectronMass, n.in(s.words), decimal(right, n.decimals), "write "+decimal(right, n.decimals),
		"%q is off by the electron's mass: %s is %s for %s", n.in(s.words), m.formula.WithCharge(0), decimal(right, n.decimals), what)
}

type verdict uint8

const (
	fits verdict = iota
	far
	unclear
)

// massesOf says whether a number is one of the masses by which people mean a
// formula: nominal, monoisotopic, average, or that of an abundant
// isotopologue.
func massesOf(f chem.Formula, n number) verdict {
	neutral := f.WithCharge(0)
	mono, average := float64(neutral.MonoisotopicMass()), float64(neutral.AverageMass())
	if math.Abs(n.value-mono) > 0.9*mono || n.value < 2 {
		return unclear
	}
	if near(n, mono) || near(n, mono-electron) || n.decimals > 0 && math.Abs(n.value-average) <= 1.1*ulp(n)+3e-4*average || n.decimals == 0 && n.value == math.Round(average) {
		return fits
	}
	if n.decimals > 0 {
		if n.value == math.Trunc(n.value) && n.value == float64(neutral.NominalMass()) {
			return fits
		}
		return far
	}
	pattern := isotope.Unit(neutral)
	_, base := pattern.Base()
	if int(n.value) == neutral.NominalMass() || pattern.At(int(n.value)) > 0.05*base && heavyHalogen(neutral) {
		return fits
	}
	return far
}

const electron = float64(chem.ElectronMass)

func heavyHalogen(f chem.Formula) bool {
	cl, _ := chem.ElementBySymbol("Cl")
	br, _ := chem.ElementBySymbol("Br")
	return f.Count(cl) > 0 || f.Count(br) > 0
}

// after is the first number from an offset on.
func (s *sentence) after(from int) (number, bool) {
	for _, n := range s.numbers {
		if n.from >= from {
			return n, true
		}
	}
	return number{}, false
}

// blanked is words[from:to] with a zero byte for every mention in it.
func (s *sentence) blanked(from, to int) string {
	var b strings.Builder
	for _, m := range s.mentions {
		if m.from >= from && m.to <= to {
			b.WriteString(s.words[from:m.from] + "\x00")
			from = m.to
		}
	}
	return b.String() + s.words[from:to]
}

// subject is the one compound that a quantity between from and to can belong
// to: the one between term and number, else the only one of the sentence, else
// the only one of the passage.
func (s *sentence) subject(from, to int) (mention, bool) {
	if inner, ok := only(s.mentions, func(m mention) bool { return m.from >= from && m.to <= to && !m.lost }); ok {
		return inner, true
	}
	own := func(m mention) bool { return !m.lost && m.formula.Charge() == 0 }
	if m, ok := only(s.mentions, own); ok {
		return m, true
	}
	for _, m := range s.mentions {
		if own(m) {
			return mention{}, false
		}
	}
	if otherSubject.MatchString(s.words) {
		return mention{}, false
	}
	m, ok := only(s.passage.mentions, own)
	m.from, m.to = 0, 0
	return m, ok
}

// only is the mention whose formula all accepted mentions share.
func only(all []mention, accept func(mention) bool) (mention, bool) {
	var found mention
	ok := false
	for _, m := range all {
		if !accept(m) {
			continue
		}
		if ok && m.formula != found.formula {
			return mention{}, false
		}
		if !ok || m.named && !found.named {
			found = m
		}
		ok = true
	}
	return found, ok
}

// called is the mention in the sentence's words, with its formula.
func (s *sentence) called(m mention) string {
	if m.to == 0 || !m.named {
		return m.formula.String()
	}
	return fmt.Sprintf("%s (%s)", s.words[m.from:m.to], m.formula)
}

func massWords(f chem.Formula, n number, ion bool) string {
	neutral := f.WithCharge(0)
	if n.decimals == 0 {
		return strconv.Itoa(neutral.NominalMass())
	}
	if n.decimals < 3 {
		return fmt.Sprintf("%s average, %s monoisotopic", decimal(float64(neutral.AverageMass()), n.decimals), decimal(float64(neutral.MonoisotopicMass()), n.decimals))
	}
	if ion {
		return decimal(float64(f.WithCharge(1).MZ()), n.decimals)
	}
	return decimal(float64(neutral.MonoisotopicMass()), n.decimals)
}

func ulp(n number) float64 { return math.Pow10(-n.decimals) }

// near reports whether n is x rounded or cut to n's decimals, with one more
// unit in the last place where that is less than 0.0003.
func near(n number, x float64) bool {
	return math.Abs(n.value-x) <= 1.001*ulp(n)*max(1, min(2, 3e-4/ulp(n))) && (n.decimals > 0 || math.Round(x) == n.value)
}

func round(x float64, decimals int) float64 {
	p := math.Pow10(decimals)
	return math.Round(x*p) / p
}

func decimal(x float64, decimals int) string { return strconv.FormatFloat(x, 'f', decimals, 64) }
