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

// neutral is a piece that ions lose.
type neutral struct {
	formula string
	names   string // alternatives of a regular expression
}

// neutrals is the visible list of pieces known by name; other names and
// formulas are read as compounds.
func neutrals() []neutral {
	return []neutral{
		{"CH3", "methyl"}, {"C2H5", "ethyl"}, {"C3H7", "(?:n-|iso)?propyl|propan-2-yl"}, {"C4H9", "(?:n-|iso|tert-|sec-)?butyl"}, {"C6H5", "phenyl"},
		{"OH", "hydroxyl|hydroxy"}, {"CH3O", "methoxy|methoxyl"}, {"C2H5O", "ethoxy|ethoxyl"}, {"CHO", "formyl"}, {"C2H3O", "acetyl"},
		{"H2O", "water"}, {"NH3", "ammonia"}, {"CO", "carbon monoxide"}, {"CO2", "carbon dioxide"}, {"C2H4", "ethylene|ethene"}, {"C2H2", "acetylene|ethyne"},
		{"C3H6", "propene|propylene"}, {"C2H2O", "ketene"}, {"CH2O", "formaldehyde|methanal"}, {"CH4O", "methanol"}, {"HCN", "hydrogen cyanide"},
		{"HCl", "hydrogen chloride"}, {"HBr", "hydrogen bromide"}, {"Cl", "chlorine"}, {"Br", "bromine"}, {"I", "iodine"}, {"F", "fluorine"},
		{"NO2", "nitro|nitrogen dioxide"}, {"NO", "nitric oxide|nitrogen monoxide"}, {"CO2H", "carboxyl"},
	}
}

const neutralTail = `(?: ?(?:radicals?|groups?|molecules?|atoms?|fragment))*`

// loss is a lost piece in a sentence.
type loss struct {
	from, to int // of the piece
	word     int // where "loss of" begins
	formula  chem.Formula
}

var (
	lossVerb  = regexp.MustCompile(`(?i)\b(?:loss(?:es)? of|loses?|losing|lost|eliminat(?:es?|ing|ion of)|expels?|expelling|ejects?|expulsion of)(?: (?:an?|the|one|neutral|molecule of|radical|small))* `)
	formulaIs = regexp.MustCompile(`^[A-Z][A-Za-z0-9]*`)
)

// neutralName finds the names of the list at the start of a text.
var neutralName = func() *regexp.Regexp {
	var all []string
	for _, n := range neutrals() {
		all = append(all, "("+n.names+")")
	}
	return regexp.MustCompile(`(?i)^(?:` + strings.Join(all, "|") + `)` + neutralTail + `\b`)
}()

// pieceAt reads a neutral at an offset of the sentence and gives its end.
func (s *sentence) pieceAt(at int) (chem.Formula, int, bool) {
	rest := s.words[at:]
	if m := neutralName.FindStringSubmatchIndex(rest); m != nil {
		for i, n := range neutrals() {
			if m[2*i+2] >= 0 {
				return chem.MustFormula(n.formula), at + m[1], true
			}
		}
	}
	for _, m := range s.mentions {
		if m.from == at && m.formula.Charge() == 0 {
			tail := regexpTail.FindString(s.words[m.to:])
			return m.formula, m.to + len(tail), true
		}
	}
	if text := formulaIs.FindString(rest); text != "" && len(text) < 12 && text != "I" && text != "In" && text != "As" {
		if f, err := chem.ParseFormula(text); err == nil && (len(text) > 1 || text == "H" || text == "F") {
			end := at + len(text)
			return f, end + len(regexpTail.FindString(s.words[end:])), true
		}
	}
	return chem.Formula{}, 0, false
}

var regexpTail = regexp.MustCompile(`^\.?` + neutralTail)

// losses finds what the sentence says is lost.
func (s *sentence) losses() []loss {
	var out []loss
	for _, v := range lossVerb.FindAllStringIndex(s.words, -1) {
		if f, end, ok := s.pieceAt(v[1]); ok {
			out = append(out, loss{v[1], end, v[0], f})
		}
	}
	return out
}

var (
	lossMass  = regexp.MustCompile(`^ ?\(?(?:(?:M ?- ?)|(?:= ?)|(?:of )?(?:mass )?(?:of )?)?(\d+)( ?(?:u|Da|amu|mass units?|units?))?(?:\)|,|\.|;| |$)`)
	massMinus = regexp.MustCompile(`\bM ?- ?(\d+)\b\)?[ ,:(|]*(?:peak|ion|signal|is|due to|from|by|corresponds to|arises from|comes from|results from|means|shows|for|the|an?|=|,|\(| )*(?:loss of|lost|losing)?(?: (?:an?|the|one|neutral|molecule of))* ?`)
	lossIs    = regexp.MustCompile(`(?i)\bloss of (?:mass )?(\d+)(?: ?(?:u|Da|amu|mass units?|units?))?[ ,(:|=]*(?:from M\+?|from the molecular ion)? ?(?:is|=|means|corresponds to|points to|shows|indicates|suggests|signals|due to|i\.e\.|that is|,|\(|:)+ ?(?:(?:the )?loss of )?(?:(?:an?|the|one|neutral|molecule of) )*`)
)

// neutralLoss judges the mass that a named loss is given.
func (r *reader) neutralLoss(s *sentence) {
	if strings.Contains(s.words, "2+") || strings.Contains(s.words, "doubly") {
		return
	}
	for _, l := range s.losses() {
		m := lossMass.FindStringSubmatchIndex(s.words[l.to:])
		if m == nil {
			continue
		}
		value, _ := strconv.Atoi(s.words[l.to+m[2] : l.to+m[3]])
		nominal := l.formula.NominalMass()
		sure := m[4] >= 0 || strings.Contains(s.words[l.to:l.to+m[2]], "M") || strings.Contains(s.words[l.to:l.to+m[2]], "mass")
		inParens := strings.Contains(s.words[l.to:l.to+m[2]], "(")
		if !sure && (!inParens || math.Abs(float64(value-nominal)) > 4) {
			continue
		}
		r.judgeLoss(s, l.to+m[2], l.to+m[3], value, l.formula, s.words[l.from:l.to])
	}
	for _, pattern := range []*regexp.Regexp{massMinus, lossIs} {
		for _, m := range pattern.FindAllStringSubmatchIndex(s.words, -1) {
			f, end, ok := s.pieceAt(m[1])
			tail := ""
			if ok {
				tail = s.words[end:]
			}
			if !ok || alsoLost.MatchString(tail) {
				continue
			}
			value, _ := strconv.Atoi(s.words[m[2]:m[3]])
			r.judgeLoss(s, m[2], m[3], value, f, s.words[m[1]:end])
		}
	}
}

// alsoLost finds that a loss has further parts: water and a methyl radical.
var alsoLost = regexp.MustCompile(`^ ?(?:,|and\b|\+|plus\b|or\b|/|with\b|followed\b|then\b|twice\b)`)

func (r *reader) judgeLoss(s *sentence, from, to, value int, f chem.Formula, piece string) {
	nominal := f.NominalMass()
	if value == nominal || value == int(math.Round(float64(f.AverageMass()))) || heavyHalogen(f) && (value-nominal)%2 == 0 && value > nominal && value <= nominal+4 || value > 4*nominal && value > 100 {
		return
	}
	if f.String() == "H" && value <= 3 {
		return
	}
	r.report(s, from, to, diag.LossFalse, strconv.Itoa(value), strconv.Itoa(nominal), fmt.Sprintf("write %d, or name another loss", nominal),
		"a loss of %s (%s) takes away %d, not %d", strings.TrimSpace(piece), f, nominal, value)
}

var (
	leads       = `(?:[\s,;:()=]|\b(?:to|and|which|that|this|it|the|an?|peak|ion|ions|fragment|signal|at|from|its|molecular|M\+|give|gives|giving|gave|produces?|producing|yields?|yielding|forms?|forming|leads?|leading|results?|resulting|in|appears?|appearing|accounts|for|explains?|leaving|leaves|stands|seen|observed|found|is|alkene|radical|cation|with|of|a mass|mass)\b|M ?- ?\d+|m ?/ ?z)*`
	forward     = regexp.MustCompile(`^` + leads + `(?:m ?/ ?z|mass)[ =:]*(?:of |at )?(\d+)\b`)
	backward    = regexp.MustCompile(`(?i)m ?/ ?z[ =:]*(\d+)(?:[\s,;:()]|\b(?:is|are|was|due|to|arises?|comes?|results?|from|by|the|an?|corresponds|corresponding|caused|formed|ion|peak|after|through|explained|shows)\b|M ?- ?\d+)*$`)
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
		} else if at = backward.FindStringSubmatchIndex(s.words[:l.word]); at == nil {
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
