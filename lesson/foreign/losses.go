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
		{"H", "hydrogen (?:atom|radical)|atomic hydrogen"}, {"H2", "hydrogen molecule|molecular hydrogen|dihydrogen"},
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
	lossVerb  = regexp.MustCompile(`(?i)\b(?:loss(?:es)? of|loses?|losing|lost|eliminat(?:es?|ing|ion of)|expels?|expelling|ejects?|expulsion of)(?: (?:an?|the|its|one|neutral|molecule of|radical|small))* `)
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

// passiveLosses finds what "is lost".
func (s *sentence) passiveLosses() []loss {
	var out []loss
	for _, m := range isLost.FindAllStringIndex(s.words, -1) {
		for _, start := range wordStart.FindAllStringIndex(s.words[:m[0]], -1) {
			f, end, ok := s.pieceAt(start[0])
			if ok && massOrNothing.MatchString(s.words[end:m[0]]) {
				out = append(out, loss{start[0], end, start[0], f})
				break
			}
		}
	}
	return out
}

// losses finds what the sentence says is lost.
func (s *sentence) losses() []loss {
	out := s.passiveLosses()
	for _, v := range lossVerb.FindAllStringIndex(s.words, -1) {
		if f, end, ok := s.pieceAt(v[1]); ok {
			out = append(out, loss{v[1], end, v[0], f})
		}
	}
	return out
}

var (
	lossMass  = regexp.MustCompile(`^ ?\(?(?:(?:(?:takes away|lowers the mass by|costs|means a difference of|is a loss of) )|(?:M ?- ?)|(?:= ?)|(?:of )?(?:mass )?(?:of )?)?(\d+)( ?(?:u|Da|amu|mass units?|units?))?(?:\)|,|\.|;| |$)`)
	massMinus = regexp.MustCompile(`\bM ?- ?(\d+)\b\)?[ ,:(|]*(?:peak|ion|signal|is|due to|from|by|corresponds to|arises from|comes from|results from|means|shows|points to|explained|tells of|betrays|indicates|stands|for|the|an?|=|,|\(| )*(?:loss of|lost|losing)?(?: (?:an?|the|one|neutral|molecule of))* ?`)
	lossIs    = regexp.MustCompile(`(?i)\bloss of (?:mass )?(\d+)(?: ?(?:u|Da|amu|mass units?|units?))?[ ,(:|=]*(?:from M\+?|from the molecular ion)? ?(?:is|=|means(?: that (?:the|an|its) (?:molecular )?ion (?:has )?lost)?|can be|may be|must be|comes from|corresponds to|points to|shows|indicates|suggests|signals|due to|i\.e\.|that is|,|\(|:)+ ?(?:(?:the )?loss of )?(?:(?:an?|the|one|neutral|molecule of) )*`)
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
		sure := m[4] >= 0 || strings.Contains(s.words[l.to:l.to+m[2]], "takes") || strings.Contains(s.words[l.to:l.to+m[2]], "lowers") || strings.Contains(s.words[l.to:l.to+m[2]], "M") || strings.Contains(s.words[l.to:l.to+m[2]], "mass")
		inParens := strings.Contains(s.words[l.to:l.to+m[2]], "(")
		if !sure && (!inParens || math.Abs(float64(value-nominal)) > 4) {
			continue
		}
		r.judgeLoss(s, l.to+m[2], l.to+m[3], value, l.formula, s.words[l.from:l.to])
	}
	for _, l := range s.passiveLosses() {
		m := bareMass.FindStringSubmatchIndex(s.words[l.to:])
		if m == nil {
			continue
		}
		value, _ := strconv.Atoi(s.words[l.to+m[2] : l.to+m[3]])
		r.judgeLoss(s, l.to+m[2], l.to+m[3], value, l.formula, s.words[l.from:l.to])
	}
	r.gap(s)
	r.pieceMass(s)
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
	isLost        = regexp.MustCompile(`(?i) (?:is|was|are|has been|leaves as a radical) ?(?:then |readily |easily )?(?:lost|expelled|eliminated|split off)\b`)
	wordStart     = regexp.MustCompile(`\b[A-Za-z]`)
	massOrNothing = regexp.MustCompile(`^(?: \((?:\d+)(?: ?(?:u|Da|amu))?\))?$`)
	bareMass      = regexp.MustCompile(`^ \((\d+)(?: ?(?:u|Da|amu|mass units?))?\)`)
	gapOf         = regexp.MustCompile(`(?i)\b(?:(?:difference|gap|distance) of (\d+)|(\d+) (?:mass )?(?:units?|u|Da) (?:below|under|less than|lighter than))\b`)
	gapReason     = regexp.MustCompile(`(?i)\b(?:M|M\+|molecular ion|loss|lost|loses)\b`)
)

// gap judges a difference of m/z that one named loss explains.
func (r *reader) gap(s *sentence) {
	m := gapOf.FindAllStringSubmatchIndex(s.words, -1)
	losses := s.losses()
	if len(m) != 1 || len(losses) != 1 || !gapReason.MatchString(s.words) || denies.MatchString(s.words) || alsoLost.MatchString(s.words[losses[0].to:]) {
		return
	}
	at := m[0][2:4]
	if at[0] < 0 {
		at = m[0][4:6]
	}
	value, _ := strconv.Atoi(s.words[at[0]:at[1]])
	r.judgeLoss(s, at[0], at[1], value, losses[0].formula, s.words[losses[0].from:losses[0].to])
}

var (
	anyMass  = regexp.MustCompile(`\(\d+ ?(?:u|Da|amu|mass units?)\)`)
	unitMass = regexp.MustCompile(`^ \((\d+) ?(?:u|Da|amu|mass units?)\)`)
)

// pieceMass judges "carbon monoxide (28 u)".
func (r *reader) pieceMass(s *sentence) {
	for _, at := range anyMass.FindAllStringIndex(s.words, -1) {
		starts := wordStart.FindAllStringIndex(s.words[:at[0]], -1)
		for _, start := range starts[max(0, len(starts)-4):] {
			f, end, ok := s.pieceAt(start[0])
			if !ok || end != at[0]-1 {
				continue
			}
			if m := unitMass.FindStringSubmatchIndex(s.words[end:]); m != nil {
				value, _ := strconv.Atoi(s.words[end+m[2] : end+m[3]])
				r.judgeLoss(s, end+m[2], end+m[3], value, f, s.words[start[0]:end])
			}
			break
		}
	}
}
