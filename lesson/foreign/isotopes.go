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
	isotopeWord    = regexp.MustCompile(`\b(\d{1,3})-?([A-Z][a-z]?)\b|\b([A-Za-z]+)-(\d{1,3})\b|\b([Dd]euterium)\b`)
	isotopeBetween = regexp.MustCompile(`(?i)^(?:[\s,:=(){}"'|]|\b(?:has|have|with|is|at|an?|the|exact|isotopic|atomic|mass|of|weighs|for|about)\b)*$`)
	shareBetween   = regexp.MustCompile(`(?i)^(?:[\s,:;=(){}|]|\b(?:has|have|with|is|at|an?|the|natural|abundance|isotopic|of|about|approximately|roughly|only|some|ca\.?|occurs|isotope|makes up|accounts for|deuterium|to|an extent of|contains?|2H|D|and is present)\b)*$`)
	shareOf        = regexp.MustCompile(`(?i)^ ?% ?(?:of )?(?:is |are |being )?(?:the )?(?:heavy )?(?:isotope )?(?:[\s(]*)$`)
	percent        = regexp.MustCompile(`^ ?(?:%|per ?cent|atom ?%)`)
)

// nuclide is an isotope in a sentence.
type nuclide struct {
	from, to int
	isotope  chem.Isotope
}

// nuclides finds isotopes that occur in nature.
func (s *sentence) nuclides() []nuclide {
	var out []nuclide
	for _, m := range isotopeWord.FindAllStringSubmatchIndex(s.words, -1) {
		symbol, digits := "H", "2"
		switch {
		case m[2] >= 0:
			digits, symbol = s.words[m[2]:m[3]], s.words[m[4]:m[5]]
		case m[6] >= 0:
			symbol, digits = s.words[m[6]:m[7]], s.words[m[8]:m[9]]
		}
		e, ok := elementCalled(symbol)
		number, _ := strconv.Atoi(digits)
		if i, known := e.Isotope(number); ok && known && i.Abundance > 0 {
			out = append(out, nuclide{m[0], m[1], i})
		}
	}
	return out
}

func elementCalled(word string) (chem.Element, bool) {
	if e, ok := chem.ElementBySymbol(word); ok {
		return e, true
	}
	for e := chem.Element(1); int(e) <= chem.Elements; e++ {
		if strings.EqualFold(e.Name(), word) {
			return e, true
		}
	}
	return 0, false
}

// isotopeMass judges "34S has a mass of 33.9679".
func (r *reader) isotopeMass(s *sentence) {
	for _, nu := range s.nuclides() {
		n, ok := s.after(nu.to)
		mass := float64(nu.isotope.Mass)
		if !ok || n.decimals < 3 || math.Abs(n.value-mass) > 0.5 || !isotopeBetween.MatchString(s.words[nu.to:n.from]) || percent.MatchString(s.words[n.to:]) ||
			math.Abs(n.value-mass) <= max(1.5*ulp(n), 3e-4) {
			continue
		}
		r.report(s, n.from, n.to, diag.IsotopeFalse, n.in(s.words), decimal(mass, min(n.decimals, 6)), "look for digits that changed places",
			"%q isn't the mass of %s", n.in(s.words), s.words[nu.from:nu.to])
	}
}

// shareTolerance is the relative difference by which tables of abundances
// differ between editions, and between shares and ratios to the light isotope.
const shareTolerance = 0.08

// isotopeAbundance judges "13C (1.1 %)".
func (r *reader) isotopeAbundance(s *sentence) {
	if enriched.MatchString(s.words) {
		return
	}
	for _, nu := range s.nuclides() {
		n, ok := s.after(nu.to)
		between, found := "", false
		if ok && percent.MatchString(s.words[n.to:]) {
			between = s.words[nu.to:n.from]
			found = shareBetween.MatchString(between)
		}
		if !found {
			if n, found = s.shareBefore(nu); !found {
				continue
			}
		} else if earlier, ok := s.shareBefore(nu); ok && earlier.to <= nu.from {
			continue // "1.1 % 13C, 0.4 % 15N": the number before is the isotope's
		}
		share := nu.isotope.Abundance
		lightest := nu.isotope.Element.Principal().Abundance
		x := n.value / 100
		if agree(x, share, n) || agree(x, share/lightest, n) || x > 1 {
			continue
		}
		computed := strconv.FormatFloat(100*share, 'g', 3, 64) + " %"
		r.report(s, n.from, n.to, diag.IsotopeFalse, n.in(s.words)+" %", computed, "write "+computed+" (IUPAC's representative composition)",
			"the natural abundance of %s isn't %s %%", s.words[nu.from:nu.to], n.in(s.words))
		return
	}
}

var enriched = regexp.MustCompile(`(?i)enrich|labell?ed|purity|\bD2O\b|depleted|incorporat|exchange|for each|per carbon|peak|intensity`)

func agree(x, right float64, n number) bool {
	return math.Abs(x-right) <= max(shareTolerance*right, 0.55*ulp(n)/100)
}

// shareBefore gives "1.1 %" right before an isotope.
func (s *sentence) shareBefore(nu nuclide) (number, bool) {
	for _, n := range s.numbers {
		if n.to <= nu.from && shareOf.MatchString(s.words[n.to:nu.from]) {
			return n, true
		}
	}
	return number{}, false
}

var (
	ratio      = regexp.MustCompile(`\b(\d{1,3}(?:\.\d+)?) ?(?::|to) ?(\d{1,3}(?:\.\d+)?)(?: ?(?::|to) ?(\d{1,3}(?:\.\d+)?))?\b`)
	halogens   = regexp.MustCompile(`(?i)\b(one|two|three|four|a single|single|an?|1|2|3|4|mono|di|tri)?[ -]?(chlor|brom)(?:ine|o\w*)(?: atoms?)?`)
	aboutPeaks = regexp.MustCompile(`(?i)M ?\+ ?2|isotop|35Cl|79Br|37Cl|81Br|pattern|doublet|molecular ions?|triplet`)
	comparison = regexp.MustCompile(`(?i)\b(ratio|intensit\w*|height|tall|high|strong|abundan\w*|large|size)`)
	heavyFirst = regexp.MustCompile(`(?i)M ?\+ ?2[^M]{0,25}\b(?:to|and|:|/|over)[^M]{0,25}\bM\b|(?:37Cl|81Br) ?(?::|/|to) ?(?:35Cl|79Br)`)
	fractions  = regexp.MustCompile(`(?i)M ?\+ ?2(?: peak| signal| ion)?(?: (?:is|has|of|at|with|about|roughly|nearly|almost|approximately|shows|stands|an?|the|intensity|height|abundance))* (one[- ]third|a third|one[- ]half|half|a quarter|one[- ]quarter|two[- ]thirds|(?:equal|the same)(?: in)? (?:height|intensity|size|abundance)|as (?:tall|high|strong|intense|large|abundant) as|three times)`)
	equalPeaks = regexp.MustCompile(`(?i)\b(?:equal|same|identical|equally)[- ](?:height|intensity|intensities|intense|tall|strong|high|abundance|abundant|size)`)
	otherPeaks = regexp.MustCompile(`(?i)M ?\+ ?[14]|eluent|mobile phase|hexane:|\bv/v\b|mixture|doubly|fragment|respectively|whereas|while|\bbut\b|unlike|mol\b|equivalents?`)
)

// isotopeRatio judges ratios of the isotope peaks of chlorine and bromine.
func (r *reader) isotopeRatio(s *sentence) {
	f, ok := s.halogensIn()
	if !ok || !aboutPeaks.MatchString(s.words) || !comparison.MatchString(s.words) && !strings.Contains(s.words, ":") || denies.MatchString(s.words) || otherPeaks.MatchString(s.words) {
		return
	}
	pattern := isotope.Unit(f)
	first := f.NominalMass()
	base := pattern.At(first)
	light := []float64{1, pattern.At(first+2) / base, pattern.At(first+4) / base}
	computed := fmt.Sprintf("100:%.0f", 100*light[1])
	if f.Atoms() > 1 {
		computed += fmt.Sprintf(":%.0f", 100*light[2])
	}
	for _, m := range ratio.FindAllStringSubmatchIndex(s.words, -1) {
		if strings.Contains(s.words[m[0]:m[1]], "to") && !strings.Contains(s.words, "ratio") || s.isMass(m) {
			continue
		}
		var said []float64
		for i := 2; i < len(m) && m[i] >= 0; i += 2 {
			x, _ := strconv.ParseFloat(s.words[m[i]:m[i+1]], 64)
			said = append(said, x)
		}
		if said[0] == 0 || (len(said) == 3) != (f.Atoms() > 1) && f.Atoms() > 1 {
			continue
		}
		if heavyFirst.MatchString(s.words) && len(said) == 2 {
			said[0], said[1] = said[1], said[0]
		}
		if len(said) == 3 && f.Atoms() == 1 {
			continue
		}
		fits := true
		for i, x := range said {
			fits = fits && said[0] > 0 && math.Abs(x/said[0]-light[i]) <= 0.06+0.14*light[i]
		}
		if !fits {
			text := s.words[m[0]:m[1]]
			r.report(s, m[0], m[1], diag.IsotopeFalse, text, computed, "write "+computed, "isotope peaks of %s don't stand %s", f, text)
			return
		}
	}
	if f.Atoms() > 1 {
		return
	}
	if m := fractions.FindStringSubmatchIndex(s.words); m != nil {
		text := s.words[m[2]:m[3]]
		if x := fractionOf(strings.ToLower(text)); x > 0 && math.Abs(x-light[1]) > 0.12 {
			r.report(s, m[2], m[3], diag.IsotopeFalse, text, computed, "write "+computed, "the M+2 peak of %s has %.0f %% of M", f, 100*light[1])
		}
	} else if m := equalPeaks.FindStringIndex(s.words); m != nil && light[1] < 0.6 && strings.Contains(s.words, "2") {
		r.report(s, m[0], m[1], diag.IsotopeFalse, s.words[m[0]:m[1]], computed, "write "+computed, "the isotope peaks of %s aren't of equal height", f)
	}
}

// isMass reports that the members of a ratio are masses or times, not parts.
func (s *sentence) isMass(m []int) bool {
	a, _ := strconv.ParseFloat(s.words[m[2]:m[3]], 64)
	b, _ := strconv.ParseFloat(s.words[m[4]:m[5]], 64)
	return a > 20 && b > 20 && a != 100 && b != 100 && math.Abs(a-b) <= 4 || strings.HasSuffix(s.words[:m[0]], "m/z ")
}

func fractionOf(text string) float64 {
	switch {
	case strings.Contains(text, "two"):
		return 2.0 / 3
	case strings.Contains(text, "third"):
		return 1.0 / 3
	case strings.Contains(text, "half"):
		return 0.5
	case strings.Contains(text, "quarter"):
		return 0.25
	case strings.Contains(text, "three times"):
		return 3
	}
	return 1
}

// halogensIn gives the chlorine and bromine atoms that a sentence speaks of, as
// a formula: of the one compound in it, or of one element with its number.
func (s *sentence) halogensIn() (chem.Formula, bool) {
	var none chem.Formula
	if m, ok := only(s.mentions, func(m mention) bool { return heavyHalogen(m.formula) && !m.lost }); ok {
		cl, _ := chem.ElementBySymbol("Cl")
		br, _ := chem.ElementBySymbol("Br")
		f, err := chem.ParseFormula(counted("Cl", m.formula.Count(cl)) + counted("Br", m.formula.Count(br)))
		return f, err == nil && len(s.mentions) == 1
	}
	if len(s.mentions) > 0 {
		return none, false
	}
	element, number := "", 0
	for _, m := range halogens.FindAllStringSubmatch(s.words, -1) {
		symbol := map[string]string{"chlor": "Cl", "brom": "Br"}[strings.ToLower(m[2])]
		if element != "" && symbol != element {
			return none, false
		}
		element = symbol
		if n := map[string]int{"two": 2, "2": 2, "di": 2, "three": 3, "3": 3, "tri": 3, "four": 4, "4": 4}[strings.ToLower(m[1])]; n > 0 {
			if number > 0 && number != n {
				return none, false
			}
			number = n
		}
	}
	if element == "" || strings.Contains(strings.ToLower(s.words), "atoms") && number == 0 || strings.Contains(s.words, "isotopes") && number > 0 && !strings.Contains(s.words, "atoms") {
		if element == "" || !strings.Contains(s.words, "two isotopes") && !strings.Contains(s.words, "two stable isotopes") {
			return none, false
		}
		number = 1
	}
	f, err := chem.ParseFormula(counted(element, max(1, number)))
	return f, err == nil
}

var (
	plusOne    = regexp.MustCompile(`(?i)(?:M ?\+ ?1|13C)[^;]{0,60}?\b(\d+(?:\.\d+)?) ?%[^;]{0,80}?\b(\d{1,2}|one|two|three|four|five|six|seven|eight|nine|ten|eleven|twelve|thirteen|fourteen|fifteen|sixteen|seventeen|eighteen|nineteen|twenty) carbons?\b`)
	carbonsOne = regexp.MustCompile(`(?i)\b(\d{1,2}|one|two|three|four|five|six|seven|eight|nine|ten|eleven|twelve|thirteen|fourteen|fifteen|sixteen|seventeen|eighteen|nineteen|twenty) carbon(?:s| atoms?)\b[^;]{0,60}?M ?\+ ?1[^;]{0,40}?\b(\d+(?:\.\d+)?) ?%`)
	otherOne   = regexp.MustCompile(`(?i)nitrogen|sul(?:f|ph)ur|silicon|boron|\beach\b|\bper\b|at least|at most|fewer|more than|M ?\+ ?2|up to|maximum|between`)
)

// carbonCount judges the number of carbon atoms that M+1 gives.
func (r *reader) carbonCount(s *sentence) {
	if otherOne.MatchString(s.words) || denies.MatchString(s.words) {
		return
	}
	judge := func(share, count []int) {
		x, _ := strconv.ParseFloat(s.words[share[0]:share[1]], 64)
		n := countOf(strings.ToLower(s.words[count[0]:count[1]]))
		each := 100 * carbonRatio()
		right := x / each
		if n == 0 || x > 40 || math.Abs(right-float64(n)) <= max(0.75, 0.08*float64(n)) {
			return
		}
		computed := strconv.Itoa(int(math.Round(right)))
		r.report(s, count[0], count[1], diag.IsotopeFalse, s.words[count[0]:count[1]], computed, "write "+computed,
			"M+1 with %s %% of M means about %s carbon atoms, at %.2f %% each", s.words[share[0]:share[1]], computed, each)
	}
	if m := plusOne.FindStringSubmatchIndex(s.words); m != nil {
		judge(m[2:4], m[4:6])
	} else if m := carbonsOne.FindStringSubmatchIndex(s.words); m != nil {
		judge(m[4:6], m[2:4])
	}
}

// carbonRatio is the abundance of carbon-13 over that of carbon-12.
func carbonRatio() float64 {
	heavy, _ := chem.ElementBySymbol("C")
	i, _ := heavy.Isotope(13)
	return i.Abundance / heavy.Principal().Abundance
}

// countOf reads a count in words or digits, 0 where it is none.
func countOf(text string) int {
	for i, w := range strings.Fields("one two three four five six seven eight nine ten eleven twelve thirteen fourteen fifteen sixteen seventeen eighteen nineteen twenty") {
		if w == text {
			return i + 1
		}
	}
	n, _ := strconv.Atoi(text)
	return n
}
