package foreign

import (
	"math"
	"regexp"
	"strconv"
	"strings"

	"ionwright/chem"
	"ionwright/lesson/diag"
)

// formulaPair is the least number of decimals from which a number beside a
// formula is taken for its mass without further words.
const formulaPair = 4

var (
	pairBetween = regexp.MustCompile(`(?i)^(?:[\s,:=(|]|m ?/ ?z|\b(?:has|with|is|at|an?|the|exact|accurate|monoisotopic|mass|of|weighs)\b)*$`)
	pairBefore  = regexp.MustCompile(`(?i)^[\s,:=)(|]*(?:\b(?:u|Da|is|for|belongs to|corresponds to|mass of|fits|means|would be)\b[\s,:=)(|]*)*$`)
)

// formulaMass judges a formula beside a number with four decimals or more.
func (r *reader) formulaMass(s *sentence) {
	if strings.Contains(s.words, "[M") || strings.Contains(strings.ToLower(s.words), "rf index") {
		return
	}
	for i, m := range s.mentions {
		if m.named {
			continue
		}
		n, ok := s.after(m.to)
		if !ok || n.decimals < formulaPair || !pairBetween.MatchString(s.words[m.to:n.from]) {
			if n, ok = s.beforeMention(i); !ok {
				continue
			}
		}
		mono := float64(m.formula.WithCharge(0).MonoisotopicMass())
		if math.Abs(n.value-mono) > 5 || massTerm.MatchString(s.words[:m.from]) && len(s.mentions) == 1 {
			continue
		}
		if near(n, mono) || near(n, mono-electron*float64(max(1, m.formula.Charge()))) {
			if m.formula.Charge() == 1 {
				r.judgeElectron(s, n, m, true)
			}
			continue
		}
		if math.Abs(n.value-float64(m.formula.AverageMass())) < 0.002 {
			continue
		}
		suggestion := "write the mass of " + m.formula.String()
		if others := formulasAt(n); len(others) == 1 {
			suggestion = "if the mass is right, the formula is " + others[0]
		}
		r.report(s, m.from, n.to, diag.MassFalse, s.words[m.from:m.to]+" "+n.in(s.words), massWords(m.formula, n, m.formula.Charge() == 1), suggestion,
			"%q isn't the mass of %s", n.in(s.words), m.formula)
	}
}

// beforeMention gives a precise number right before a formula that no other
// formula claims.
func (s *sentence) beforeMention(i int) (number, bool) {
	m := s.mentions[i]
	for _, n := range s.numbers {
		if n.to <= m.from && n.decimals >= formulaPair && pairBefore.MatchString(s.words[n.to:m.from]) {
			if i > 0 && s.mentions[i-1].to <= n.from && pairBetween.MatchString(s.words[s.mentions[i-1].to:n.from]) {
				continue
			}
			return n, true
		}
	}
	return number{}, false
}

// formulasAt are the formulas of C, H, N, O whose mass is the number.
func formulasAt(n number) []string {
	var out []string
	for c := 0; c <= int(n.value)/12; c++ {
		for nn := 0; nn <= min(4, int(n.value)/14); nn++ {
			for o := 0; o <= min(8, int(n.value)/16); o++ {
				h := int(math.Round(n.value)) - 12*c - 14*nn - 16*o
				if h < 0 || h > 2*c+nn+2 {
					continue
				}
				f, err := chem.ParseFormula(counted("C", c) + counted("H", h) + counted("N", nn) + counted("O", o))
				if err == nil && near(n, float64(f.MonoisotopicMass())) {
					out = append(out, f.String())
				}
			}
		}
	}
	return out
}

func counted(symbol string, n int) string {
	switch n {
	case 0:
		return ""
	case 1:
		return symbol
	}
	return symbol + strconv.Itoa(n)
}

var inParentheses = regexp.MustCompile(`^ \($`)

// nameFormula judges "acetone (C3H6O)".
func (r *reader) nameFormula(s *sentence) {
	for i, m := range s.mentions[:max(0, len(s.mentions)-1)] {
		f := s.mentions[i+1]
		if !m.named || f.named || m.formula == f.formula || f.formula.Charge() != 0 || !inParentheses.MatchString(s.words[m.to:f.from]) ||
			!strings.HasPrefix(s.words[f.to:], ")") && !strings.HasPrefix(s.words[f.to:], ",") && !strings.HasPrefix(s.words[f.to:], ";") ||
			strings.HasSuffix(s.words[:m.from], "-") || f.formula.Atoms() < m.formula.Atoms()/2 || lostBefore.MatchString(s.words[max(0, m.from-30):m.from]) {
			continue
		}
		r.report(s, f.from, f.to, diag.FormulaFalse, s.words[f.from:f.to], m.formula.String(), "write "+m.formula.String(),
			"%s is %s, not %s", s.words[m.from:m.to], m.formula, s.words[f.from:f.to])
	}
}
