package foreign

import (
	"fmt"
	"math"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"ionwright/chem"
	"ionwright/isotope"
	"ionwright/lesson/diag"
)

var (
	ratio      = regexp.MustCompile(`\b(\d{1,3}(?:\.\d+)?) ?(?::|to) ?(\d{1,3}(?:\.\d+)?)(?: ?: ?(\d{1,3}(?:\.\d+)?))?(?: ?: ?(\d{1,3}(?:\.\d+)?))?\b`)
	halogens   = regexp.MustCompile(`(?i)\b(one|two|three|four|a single|single|an?|1|2|3|4|mono|di|tri)?[ -]?(chlor|brom)(?:ine|o\w*)(?: atoms?)?`)
	aboutPeaks = regexp.MustCompile(`(?i)M ?\+ ?2|two (?:mass )?units apart|m ?/ ?z \d+ and \d+|isotop|35Cl|79Br|37Cl|81Br|pattern|doublet|molecular ions?|triplet`)
	comparison = regexp.MustCompile(`(?i)\b(ratio|intensit\w*|height|tall|high|strong|abundan\w*|large|size)`)
	heavyFirst = regexp.MustCompile(`(?i)M ?\+ ?2[^M]{0,25}\b(?:to|and|:|/|over)[^M]{0,25}\bM\b|(?:37Cl|81Br) ?(?::|/|to) ?(?:35Cl|79Br)`)
	fractions  = regexp.MustCompile(`(?i)(?:M ?\+ ?2|partner at M ?\+ ?2|that)(?: peak| signal| ion)?(?: of \w+)?(?: (?:that|is|has|of|at|with|about|roughly|nearly|almost|approximately|shows|stands|an?|the|intensity|height|abundance))* ((?:one|a)[- ](?:third|half|quarter)|third|one[- ]half|half|a quarter|one[- ]quarter|two[- ]thirds|(?:equal|the same)(?: in)? (?:height|intensity|size|abundance)|as (?:tall|high|strong|intense|large|abundant) as|three times)`)
	equalPeaks = regexp.MustCompile(`(?i)\b(?:equal|same|identical|equally)[- ](?:height|intensity|intensities|intense|tall|strong|high|abundance|abundant|size)`)
	otherPeaks = regexp.MustCompile(`(?i)M ?\+ ?1\b|eluent|mobile phase|hexane:|\bv/v\b|doubly|fragment|respectively|whereas|while|\bbut\b|unlike|mol\b|equivalents?`)
)

// isotopeRatio judges ratios of the isotope peaks of chlorine and bromine.
func (r *reader) isotopeRatio(s *sentence) {
	f, ok := s.halogensIn()
	if !ok || !aboutPeaks.MatchString(s.words) || !comparison.MatchString(s.words) && !strings.Contains(s.words, ":") || denies.MatchString(s.words) || otherPeaks.MatchString(s.words) {
		return
	}
	light := isotopePeaks(f)
	parts := make([]string, len(light))
	for i, x := range light {
		parts[i] = fmt.Sprintf("%.0f", 100*x)
	}
	computed := strings.Join(parts, ":")
	for _, m := range ratio.FindAllStringSubmatchIndex(s.words, -1) {
		text := s.words[m[0]:m[1]]
		if strings.Contains(text, "to") && !strings.Contains(s.words, "ratio") || s.isMass(m) {
			continue
		}
		var said []float64
		for i := 2; i < len(m) && m[i] >= 0; i += 2 {
			x, _ := strconv.ParseFloat(s.words[m[i]:m[i+1]], 64)
			said = append(said, x)
		}
		if len(said) == 2 && heavyFirst.MatchString(s.words) {
			said[0], said[1] = said[1], said[0]
		}
		if len(said) != len(light) || proportionate(said, light) {
			continue
		}
		r.report(s, m[0], m[1], diag.IsotopeFalse, text, computed, "write "+computed, "isotope peaks of %s don't stand %s", f, text)
		return
	}
	if len(light) > 2 {
		return
	}
	if m := lightFirst.FindStringSubmatchIndex(s.words); m != nil {
		text := s.words[m[2]:m[3]]
		if x := fractionOf(strings.ToLower(text)); math.Abs(x*light[1]-1) > 0.25 {
			r.report(s, m[2], m[3], diag.IsotopeFalse, text, computed, "write "+computed, "M and M+2 of %s stand %s", f, computed)
		}
	} else if m := fractions.FindStringSubmatchIndex(s.words); m != nil {
		text := s.words[m[2]:m[3]]
		if x := fractionOf(strings.ToLower(text)); x > 0 && math.Abs(x-light[1]) > 0.12 {
			r.report(s, m[2], m[3], diag.IsotopeFalse, text, computed, "write "+computed, "the M+2 peak of %s has %.0f %% of M", f, 100*light[1])
		}
	} else if m := equalPeaks.FindStringIndex(s.words); m != nil && light[1] < 0.6 {
		r.report(s, m[0], m[1], diag.IsotopeFalse, s.words[m[0]:m[1]], computed, "write "+computed, "the isotope peaks of %s aren't of equal height", f)
	}
}

// isotopePeaks are the heights of M, M+2, M+4 and so on of some chlorine and
// bromine atoms, M being 1.
func isotopePeaks(f chem.Formula) []float64 {
	pattern := isotope.Unit(f)
	first := f.NominalMass()
	var out []float64
	for i := range f.Atoms() + 1 {
		out = append(out, pattern.At(first+2*i)/pattern.At(first))
	}
	return out
}

// proportionate reports that two lists of heights are in proportion, within
// what textbooks round.
func proportionate(said, right []float64) bool {
	const rounding = 0.09 // of the highest: 3:1 for 100:32, 9:6:1 for 100:64:10
	a, b := slices.Max(said), slices.Max(right)
	for i := range said {
		if a == 0 || math.Abs(said[i]/a-right[i]/b) > rounding {
			return false
		}
	}
	return true
}

// lightFirst is how high M is beside M+2.
var lightFirst = regexp.MustCompile(`(?i)\bM(?: peak| signal)? (?:is|stands)(?: about| nearly)? (one third|a third|one half|half|three times|twice|two times)(?: as (?:tall|high|strong|large))?(?: as|) M ?\+ ?2`)

// isMass reports that the members of a ratio are masses or times, not parts.
func (s *sentence) isMass(m []int) bool {
	a, _ := strconv.ParseFloat(s.words[m[2]:m[3]], 64)
	b, _ := strconv.ParseFloat(s.words[m[4]:m[5]], 64)
	return a > 20 && b > 20 && a != 100 && b != 100 && math.Abs(a-b) <= 4 || strings.HasSuffix(s.words[:m[0]], "m/z ")
}

func fractionOf(text string) float64 {
	switch {
	case strings.Contains(text, "two times"):
		return 2
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
	case strings.Contains(text, "twice"):
		return 2
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
		return f, err == nil
	}
	if len(s.mentions) > 0 {
		return none, false
	}
	counts := map[string]int{}
	numbered := false
	for _, m := range halogens.FindAllStringSubmatch(s.words, -1) {
		symbol := map[string]string{"chlor": "Cl", "brom": "Br"}[strings.ToLower(m[2])]
		n := map[string]int{"two": 2, "2": 2, "di": 2, "three": 3, "3": 3, "tri": 3, "four": 4, "4": 4}[strings.ToLower(m[1])]
		numbered = numbered || m[1] != ""
		if counts[symbol] > 0 && n > 0 && counts[symbol] != n {
			return none, false
		}
		counts[symbol] = max(counts[symbol], n, 1)
	}
	lower := strings.ToLower(s.words)
	if len(counts) == 0 || !numbered && strings.Contains(lower, "atoms") || len(counts) > 1 && !numbered {
		return none, false
	}
	f, err := chem.ParseFormula(counted("Cl", counts["Cl"]) + counted("Br", counts["Br"]))
	return f, err == nil
}
