package foreign

import (
	"fmt"
	"math"
	"regexp"
	"strconv"
	"strings"

	"ionwright/chem"
	"ionwright/lesson/diag"
)

var (
	leads       = `(?:\(m ?/ ?z \d+\)|[\s,;:()=]|\b(?:to|and|which|that|this|it|the|an?|peak|ion|ions|fragment|signal|at|from|its|molecular|M\+|give|gives|giving|gave|produces?|producing|yields?|yielding|forms?|forming|leads?|leading|results?|resulting|in|appears?|appearing|accounts|for|explains?|leaving|leaves|left|so|that|where|there|stands|seen|observed|found|is|alkene|radical|cation|with|of|a mass|mass|lost|was|lies|\w+(?:yl|ium))\b|M ?- ?\d+|m ?/ ?z)*`
	forward     = regexp.MustCompile(`^` + leads + `(?:m ?/ ?z|mass)[ =:]*(?:of |at )?(\d+)\b`)
	backward    = regexp.MustCompile(`(?i)m ?/ ?z[ =:]*(\d+)(?:[\s,;:()]|\b(?:is|are|was|due|to|arises?|comes?|results?|from|by|the|an?|corresponds|corresponding|caused|formed|ion|peak|after|through|explained|shows|of|in|spectrum)\b|M ?- ?\d+)*$`)
	dehydration = regexp.MustCompile(`(?i)\bdehydration\b(?: of)?`)
)

// afterLoss judges where an ion stands that the one compound of a sentence
// makes by one loss.
func (r *reader) afterLoss(s *sentence) {
	if otherIon.MatchString(s.words) || second.MatchString(s.words) {
		return
	}
	losses := s.losses()
	for _, m := range dehydration.FindAllStringIndex(s.words, -1) {
		losses = append(losses, loss{m[0], m[1], m[0], chem.MustFormula("H2O")})
	}
	m, ok := only(s.mentions, func(m mention) bool { return !m.lost && m.formula.Charge() == 0 && m.formula.String() != "H2O" })
	if !ok || len(losses) == 0 {
		return
	}
	for _, l := range losses {
		if l.formula != losses[0].formula || !m.formula.Contains(l.formula) || m.from == l.from && m.to >= l.to {
			return
		}
	}
	for _, l := range losses {
		tail := s.blankedPieces(l.to)
		at := forward.FindStringSubmatchIndex(tail)
		if at != nil {
			at[2], at[3] = at[2]+l.to, at[3]+l.to
		} else if at = backward.FindStringSubmatchIndex(s.blankedPieces(0)[:l.word]); at == nil {
			continue
		}
		value, _ := strconv.Atoi(s.words[at[2]:at[3]])
		right := m.formula.NominalMass() - l.formula.NominalMass()
		if value == right || heavyHalogen(m.formula) && (value-right)%2 == 0 && value > right && value <= right+4 {
			continue
		}
		r.report(s, at[2], at[3], diag.LossFalse, s.words[at[2]:at[3]], strconv.Itoa(right), fmt.Sprintf("write m/z %d", right),
			"%s (%d) without %s (%d) is %d, not %d", m.formula, m.formula.NominalMass(), l.formula, l.formula.NominalMass(), right, value)
		return
	}
}

var fromTo = regexp.MustCompile(`(?i)\bfrom (?:m ?/ ?z )?(\d+) (?:to|to give|gives|yields|leads to|forms)(?: (?:an|the|ion|peak|at))* (?:m ?/ ?z )?(\d+)\b`)

// ladder judges "loss of water takes the ion from 74 to 56".
func (r *reader) ladder(s *sentence) {
	m := fromTo.FindAllStringSubmatchIndex(s.words, -1)
	losses := s.losses()
	if len(m) != 1 || len(losses) != 1 || denies.MatchString(s.words) || alsoLost.MatchString(s.words[losses[0].to:]) || otherIon.MatchString(s.words) {
		return
	}
	from, _ := strconv.Atoi(s.words[m[0][2]:m[0][3]])
	to, _ := strconv.Atoi(s.words[m[0][4]:m[0][5]])
	lost := losses[0].formula.NominalMass()
	if from-to == lost || from <= to {
		return
	}
	r.report(s, m[0][4], m[0][5], diag.LossFalse, strconv.Itoa(to), strconv.Itoa(from-lost), fmt.Sprintf("write %d", from-lost),
		"%d without %s (%d) is %d", from, losses[0].formula, lost, from-lost)
}

// second finds that more than one step is meant.
var second = regexp.MustCompile(`(?i)\b(?:then|followed|further|subsequent\w*|second|two|both|again|successive\w*|McLafferty|rearrange\w*|fragment ion at|acylium)\b`)

// blankedPieces is the rest of a sentence with spaces for the mentions, so
// that offsets stay.
func (s *sentence) blankedPieces(from int) string {
	b := []byte(s.words[from:])
	for _, m := range s.mentions {
		for i := max(m.from, from); i < m.to; i++ {
			b[i-from] = ' '
		}
	}
	return string(b)
}

var subtraction = regexp.MustCompile(`(?:^|[^\d.+*/×=-]) ?\b(\d{1,4}(?:\.\d{1,6})?) ?- ?(\d{1,4}(?:\.\d{1,6})?) ?= ?(?:m ?/ ?z )?(\d{1,4}(?:\.\d{1,6})?)(?:[^\d.%+*/×-]|[.-]\D|\.?$)`)

// difference judges "74 - 18 = 56".
func (r *reader) difference(s *sentence) {
	for _, m := range subtraction.FindAllStringSubmatchIndex(s.words, -1) {
		before := strings.TrimRight(s.words[:m[2]], " ")
		if before != "" && strings.ContainsAny(before[len(before)-1:], "+-*/×=^") {
			continue
		}
		var x [3]float64
		least, most := 6, 0 // decimals
		for i := range x {
			text := s.words[m[2*i+2]:m[2*i+3]]
			x[i], _ = strconv.ParseFloat(text, 64)
			_, decimals, _ := strings.Cut(text, ".")
			least, most = min(least, len(decimals)), max(most, len(decimals))
		}
		tolerance := 1.5 * math.Pow10(-least)
		if most == 0 {
			tolerance = 0
		}
		right := x[0] - x[1]
		if math.Abs(right-x[2]) <= tolerance+1e-9 || right < 0 {
			continue
		}
		r.report(s, m[6], m[7], diag.LossFalse, s.words[m[6]:m[7]], decimal(right, most), "write "+decimal(right, most),
			"%s - %s is %s, not %s", s.words[m[2]:m[3]], s.words[m[4]:m[5]], decimal(right, most), s.words[m[6]:m[7]])
	}
}

// unitsOf is a difference with what it comes from: "15 mass units (120 - 105)".
var unitsOf = regexp.MustCompile(`\b(\d+) (?:mass units?|u|Da|units) \((?:m ?/ ?z )?(\d+) ?- ?(\d+)\)`)

// differenceOf judges a difference that stands before its two numbers.
func (r *reader) differenceOf(s *sentence) {
	for _, m := range unitsOf.FindAllStringSubmatchIndex(s.words, -1) {
		var x [3]int
		for i := range x {
			x[i], _ = strconv.Atoi(s.words[m[2*i+2]:m[2*i+3]])
		}
		if right := x[1] - x[2]; right > 0 && right != x[0] {
			r.report(s, m[2], m[3], diag.LossFalse, strconv.Itoa(x[0]), strconv.Itoa(right), fmt.Sprintf("write %d", right), "%d - %d is %d, not %d", x[1], x[2], right, x[0])
		}
	}
}
