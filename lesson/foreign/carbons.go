package foreign

import (
	"math"
	"regexp"
	"strconv"
	"strings"

	"ionwright/chem"
	"ionwright/isotope"
	"ionwright/lesson/diag"
)

var (
	plusOne    = regexp.MustCompile(`(?i)(?:M ?\+ ?1|13C)[^;]{0,60}?\b(\d+(?:\.\d+)?) ?%[^;]{0,80}?[ (](\d{1,2}|one|two|three|four|five|six|seven|eight|nine|ten|eleven|twelve|thirteen|fourteen|fifteen|sixteen|seventeen|eighteen|nineteen|twenty) carbons?\b`)
	carbonsOne = regexp.MustCompile(`(?i)(?:^|[ (])(\d{1,2}|one|two|three|four|five|six|seven|eight|nine|ten|eleven|twelve|thirteen|fourteen|fifteen|sixteen|seventeen|eighteen|nineteen|twenty) carbon(?:s| atoms?)\b[^;]{0,60}?M ?\+ ?1[^;]{0,40}?\b(\d+(?:\.\d+)?) ?%`)
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

var (
	perCarbon   = regexp.MustCompile(`(?i)\b(?:each|every|per|one) carbon(?: atom)?\b[^;]{0,40}?\b(\d+(?:\.\d+)?) ?%`)
	heavyOne    = regexp.MustCompile(`(?i)\bM ?\+ ?1\b[^;]{0,60}\b(?:mostly|mainly|chiefly|largely|above all|due to|because of|comes? from|caused by)\b(?: \w+){0,5}? (deuterium|2H|heavy hydrogen)\b`)
	manyForms   = regexp.MustCompile(`(?i)\b([A-Z][a-z]+) (?:has|consists of|occurs as|occurs in|is a mixture of|comes as) (?:only )?(one|two|three|four|a single|just one|only one)(?: (?:stable|natural|naturally occurring|heavy))* isotopes?\b`)
	sulfurTwo   = regexp.MustCompile(`(?i)\b(sul(?:f|ph)ur|silicon|one chlorine|one bromine|two chlorine|two bromine|three chlorine)\b[^;]{0,80}?\bM ?\+ ?2\b[^;]{0,40}?\b(\d+(?:\.\d+)?) ?%(?: of (?:the )?(?:height of )?M\b| as| of the)`)
	compoundTwo = regexp.MustCompile(`(?i)\bM ?\+ ?2\b[^;]{0,50}?\b(\d+(?:\.\d+)?) ?% (?:of|as (?:tall|high|strong) as) (?:the )?(?:height of )?M\b`)
)

// isotopeSlip judges the share that a carbon atom adds, what M+1 comes from, and
// how many isotopes an element has.
func (r *reader) isotopeSlip(s *sentence) {
	if denies.MatchString(s.words) {
		return
	}
	if m := perCarbon.FindStringSubmatchIndex(s.words); m != nil && (strings.Contains(s.words, "M+1") || strings.Contains(s.words, "M + 1")) {
		x, _ := strconv.ParseFloat(s.words[m[2]:m[3]], 64)
		if math.Abs(x-100*carbonRatio()) > 0.1 {
			r.report(s, m[2], m[3], diag.IsotopeFalse, s.words[m[2]:m[3]]+" %", "1.08 %", "write 1.1 %", "one carbon atom adds 1.1 %% to M+1")
		}
	}
	if m := heavyOne.FindStringSubmatchIndex(s.words); m != nil {
		r.report(s, m[2], m[3], diag.IsotopeFalse, s.words[m[2]:m[3]], "13C", "write carbon-13", "carbon-13 is a hundred times as frequent as deuterium")
	}
	if m := manyForms.FindStringSubmatchIndex(s.words); m != nil {
		e, ok := elementCalled(s.words[m[2]:m[3]])
		said := max(1, countOf(strings.ToLower(s.words[m[4]:m[5]])))
		natural := 0
		if ok {
			for _, i := range e.Isotopes() {
				if i.Abundance > 0 {
					natural++
				}
			}
		}
		if natural > 0 && natural != said {
			r.report(s, m[4], m[5], diag.IsotopeFalse, s.words[m[4]:m[5]], strconv.Itoa(natural), "write "+strconv.Itoa(natural), "%s has %d isotopes in nature", e.Name(), natural)
		}
	}
	r.secondPeak(s)
}

// secondPeak judges the height of M+2 in percent of M.
func (r *reader) secondPeak(s *sentence) {
	var f chem.Formula
	var at []int
	if m := sulfurTwo.FindStringSubmatchIndex(s.words); m != nil && len(s.mentions) == 0 {
		formula := map[string]string{"sulfur": "S", "sulphur": "S", "silicon": "Si", "one chlorine": "Cl", "one bromine": "Br", "two chlorine": "Cl2", "two bromine": "Br2", "three chlorine": "Cl3"}
		f, at = chem.MustFormula(formula[strings.ToLower(s.words[m[2]:m[3]])]), m[4:6]
	} else if m := compoundTwo.FindStringSubmatchIndex(s.words); m != nil {
		subject, ok := only(s.mentions, func(m mention) bool { return !m.lost })
		if !ok {
			return
		}
		f, at = subject.formula, m[2:4]
	}
	if at == nil {
		return
	}
	p := isotope.Unit(f)
	right := 100 * p.At(f.NominalMass()+2) / p.At(f.NominalMass())
	x, _ := strconv.ParseFloat(s.words[at[0]:at[1]], 64)
	if math.Abs(x-right) > max(0.6, 0.15*right) {
		words := strconv.FormatFloat(right, 'f', map[bool]int{true: 0, false: 1}[right >= 10], 64) + " %"
		r.report(s, at[0], at[1], diag.IsotopeFalse, s.words[at[0]:at[1]]+" %", words, "write "+words, "M+2 of %s has another height", f)
	}
}
