package foreign

import (
	"math"
	"regexp"
	"strconv"
	"strings"

	"ionwright/chem"
	"ionwright/lesson/diag"
)

var (
	isotopeWord    = regexp.MustCompile(`\b(\d{1,3})-?([A-Z][a-z]?)\b|\b([A-Za-z]+)-(\d{1,3})\b|\b([Dd]euterium)\b`)
	isotopeBetween = regexp.MustCompile(`(?i)^(?:[\s,:=(){}"'|]|\b(?:has|have|with|is|at|an?|the|exact|isotopic|atomic|mass|of|weighs|for|about)\b)*$`)
	shareBetween   = regexp.MustCompile(`(?i)^(?:[\s,:;=(){}|]|\b(?:has|have|with|is|at|an?|the|natural|abundance|isotopic|of|about|approximately|roughly|only|some|ca\.?|occurs|isotope|makes up|accounts for|deuterium|to|an extent of|contains?|2H|D|and is present)\b)*$`)
	shareOf        = regexp.MustCompile(`(?i)^ ?% ?(?:of )?(?:all )?(?:the )?(?:(?:carbon|chlorine|bromine|hydrogen|sul(?:f|ph)ur|nitrogen|oxygen|silicon)(?: atoms?)? )?(?:is |are |being )?(?:the )?(?:heavy )?(?:isotope )?(?:[\s(]*)$`)
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
		between, found, ofAll := "", false, false
		if ok && percent.MatchString(s.words[n.to:]) {
			between = s.words[nu.to:n.from]
			found = shareBetween.MatchString(between)
		}
		if !found {
			if n, found = s.shareBefore(nu); !found {
				continue
			}
			ofAll = strings.Contains(s.words[n.to:nu.from], "of ") // of the element, not of the light isotope
		} else if earlier, ok := s.shareBefore(nu); ok && earlier.to <= nu.from {
			continue // "1.1 % 13C, 0.4 % 15N": the number before is the isotope's
		}
		share := nu.isotope.Abundance
		lightest := nu.isotope.Element.Principal().Abundance
		x := n.value / 100
		if agree(x, share, n) || !ofAll && agree(x, share/lightest, n) || x > 1 {
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
