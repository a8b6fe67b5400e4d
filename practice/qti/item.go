package qti

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"ionwright/practice"
	"ionwright/practice/answer"
	"ionwright/practice/cause"
)

const response = "RESPONSE"

// maker gathers the parts of an item.
type maker struct {
	q        *practice.Question
	declared []*node // response declarations
	body     *node
	rules    []*node
	feedback []*node
}

// item is the item of a question.
func item(q *practice.Question, id string, number int) *node {
	m := &maker{q: q, body: el("qti-item-body")}
	for paragraph := range strings.SplitSeq(q.Ask, "\n") {
		if paragraph = strings.TrimSpace(paragraph); paragraph != "" {
			m.body.add(inItalics(el("p"), paragraph))
		}
	}
	m.spectrum()
	human := false
	switch k := q.Key.(type) {
	case practice.Number:
		m.number(k)
	case practice.Choice:
		m.choice(k)
	case practice.Choices:
		m.several(k.Options)
	case practice.Formula:
		m.formula(k)
	case practice.Structure:
		m.structure(k)
	case practice.Peaks:
		m.peaks(k)
	case practice.Assign:
		m.assign(k)
	case practice.Order:
		m.order(k)
	case practice.Arrows:
		m.arrows(k)
	case practice.Reasons:
		human = true
		m.reasons(k)
	}
	title := q.ID
	if number > 0 {
		title = fmt.Sprintf("Question %d", number)
	}
	score := el("qti-outcome-declaration", "identifier", "SCORE", "cardinality", "single", "base-type", "float", "normal-maximum", decimal(q.Marks))
	if human {
		score.attrs = append(score.attrs, "external-scored", "human")
	}
	score.add(el("qti-default-value").add(el("qti-value").say("0")))
	out := el("qti-assessment-item", "identifier", id, "title", title, "adaptive", "false", "time-dependent", "false", "xml:lang", "en").
		add(m.declared...).add(score)
	if m.feedback != nil {
		out.add(el("qti-outcome-declaration", "identifier", "FEEDBACK", "cardinality", "single", "base-type", "identifier"))
	}
	out.add(m.body)
	if m.rules != nil {
		out.add(el("qti-response-processing").add(m.rules...))
	}
	return out.add(m.feedback...)
}

// inItalics adds a text with every m/z in italics.
func inItalics(to *node, text string) *node {
	for i, part := range strings.Split(text, "m/z") {
		if i > 0 {
			to.add(el("i").say("m/z"))
		}
		if part != "" {
			to.add(words(part))
		}
	}
	return to
}

// spectrum adds the spectrum as a table, for the questions that are answered
// from it.
func (m *maker) spectrum() {
	if !m.q.ShowsSpectrum() {
		return
	}
	table := el("table").add(el("caption").say("Peaks of the spectrum"),
		el("thead").add(el("tr").add(inItalics(el("th", "scope", "col"), "m/z"), el("th", "scope", "col").say("relative intensity in %"))))
	rows := el("tbody")
	for _, mz := range m.strongest() {
		rows.add(el("tr").add(el("th", "scope", "row").say(strconv.Itoa(mz)),
			el("td").say(strconv.FormatFloat(m.q.Facts.Spectrum.Relative(mz), 'f', 0, 64))))
	}
	m.body.add(table.add(rows))
}

// strongest are the m/z that are shown, ascending.
func (m *maker) strongest() []int {
	const most, least = 20, 2 // peaks, and % of the base peak
	var out []int
	for _, p := range m.q.Facts.Spectrum.AtLeast(least).Strongest(most) {
		out = append(out, int(math.Round(p.MZ)))
	}
	if k, ok := m.q.Key.(practice.Peaks); ok {
		out = append(out, k.MZ...)
	}
	slices.Sort(out)
	return slices.Compact(out)
}

func (m *maker) declare(id, cardinality, base string, correct []string, mapping *node) {
	d := el("qti-response-declaration", "identifier", id, "cardinality", cardinality, "base-type", base)
	if correct != nil {
		c := el("qti-correct-response")
		for _, v := range correct {
			c.add(el("qti-value").say(v))
		}
		d.add(c)
	}
	if mapping != nil {
		d.add(mapping)
	}
	m.declared = append(m.declared, d)
}

// set gives the score the value of an expression.
func (m *maker) set(expression *node) {
	m.rules = append(m.rules, el("qti-set-outcome-value", "identifier", "SCORE").add(expression))
}

// ifElse is a condition with the scores of its branches, tried in order; the
// last has no test.
type branch struct {
	test  *node
	score float64
}

func (m *maker) ifElse(branches []branch) {
	c := el("qti-response-condition")
	for i, b := range branches {
		name := "qti-response-else-if"
		switch {
		case i == 0:
			name = "qti-response-if"
		case b.test == nil:
			name = "qti-response-else"
		}
		n := el(name)
		if b.test != nil {
			n.add(b.test)
		}
		c.add(n.add(el("qti-set-outcome-value", "identifier", "SCORE").add(float(b.score))))
	}
	m.rules = append(m.rules, c)
}

func float(x float64) *node { return el("qti-base-value", "base-type", "float").say(decimal(x)) }

func variable(id string) *node { return el("qti-variable", "identifier", id) }

// halves rounds an expression down to half marks, as package mark does.
func halves(expression *node) *node {
	const against = 1e-6 // rounding of decimal fractions
	twice := el("qti-product").add(float(2), el("qti-sum").add(expression, float(against)))
	return el("qti-divide").add(el("qti-truncate").add(twice), float(2))
}

func (m *maker) number(k practice.Number) {
	m.declare(response, "single", "float", []string{decimal(k.Value)}, nil)
	line := el("p").add(words("Answer: "), el("qti-text-entry-interaction", "response-identifier", response, "expected-length", "15"))
	if k.Unit != "" {
		line.add(words(" " + k.Unit))
	}
	m.body.add(line)
	// As a range, since players that know no tolerance know comparisons.
	near := func(value, within float64) *node {
		within += 1e-9 * max(value, -value)
		return el("qti-and").add(
			el("qti-gte").add(variable(response), float(value-within)),
			el("qti-lte").add(variable(response), float(value+within)))
	}
	var all []branch
	row := func(r practice.Row, score float64) {
		if n, err := answer.ReadNumber(r.Answer.Text); err == nil {
			if _, ok := n.In(k.Unit); ok || n.Unit == "" {
				all = append(all, branch{near(k.InUnit(n), k.RowWithin(n)), score})
			}
		}
	}
	for _, r := range m.q.Scheme.Reject {
		row(r, 0)
	}
	all = append(all, branch{near(k.Value, k.Tolerance), m.q.Marks})
	for _, r := range m.q.Scheme.Accept {
		row(r, rowMarks(m.q, r))
	}
	for _, w := range cause.Wrong(m.q.Facts) { // partial marks for known mistakes
		if c, ok := m.q.Credit(w.Code); ok && w.Number != nil && c.Marks > 0 {
			all = append(all, branch{near(w.Number.Value, w.Number.Within), c.Marks})
		}
	}
	m.ifElse(append(all, branch{nil, 0}))
}

func rowMarks(q *practice.Question, r practice.Row) float64 {
	if r.Marks > 0 {
		return r.Marks
	}
	return q.Marks
}

func (m *maker) choice(k practice.Choice) {
	m.declare(response, "single", "identifier", []string{k.Solved().Text}, nil)
	list := el("qti-choice-interaction", "response-identifier", response, "shuffle", "false", "max-choices", "1")
	for _, o := range k.Options {
		list.add(inItalics(el("qti-simple-choice", "identifier", o.Letter), o.Text))
	}
	m.body.add(list)
	all := []branch{{el("qti-match").add(variable(response), el("qti-correct", "identifier", response)), m.q.Marks}}
	for _, o := range k.Options {
		if c, ok := m.q.Credit(o.Cause); ok && !o.Right && c.Marks > 0 {
			all = append(all, branch{el("qti-match").add(variable(response), el("qti-base-value", "base-type", "identifier").say(o.Letter)), c.Marks})
		}
	}
	m.ifElse(append(all, branch{nil, 0}))
	m.rules = append(m.rules, el("qti-set-outcome-value", "identifier", "FEEDBACK").add(variable(response)))
	for _, o := range k.Options {
		if o.Because != "" {
			text := inItalics(el("p"), o.Because)
			m.feedback = append(m.feedback, el("qti-modal-feedback", "outcome-identifier", "FEEDBACK", "identifier", o.Letter, "show-hide", "show").
				add(el("qti-content-body").add(text)))
		}
	}
}

// several is a choice of any number, each right one with its share and each
// wrong one with a share taken off.
func (m *maker) several(options []practice.Option) {
	right := 0
	for _, o := range options {
		if o.Right {
			right++
		}
	}
	share := m.q.Marks / float64(right)
	mapping := el("qti-mapping", "lower-bound", "0", "upper-bound", decimal(m.q.Marks), "default-value", "0")
	list := el("qti-choice-interaction", "response-identifier", response, "shuffle", "false", "max-choices", "0")
	var correct []string
	for _, o := range options {
		value := -share
		if o.Right {
			value = share
			correct = append(correct, o.Letter)
		}
		mapping.add(el("qti-map-entry", "map-key", o.Letter, "mapped-value", decimal(value)))
		list.add(inItalics(el("qti-simple-choice", "identifier", o.Letter), o.Text))
	}
	m.declare(response, "multiple", "identifier", correct, mapping)
	m.body.add(list)
	m.set(halves(el("qti-map-response", "identifier", response)))
}

// peaks are picked from a list of the strongest.
func (m *maker) peaks(k practice.Peaks) {
	var options []practice.Option
	for _, mz := range m.strongest() {
		if slices.Contains(k.Also, mz) {
			continue // neither right nor wrong: not offered
		}
		options = append(options, practice.Option{Letter: fmt.Sprintf("mz%d", mz), Text: fmt.Sprintf("m/z %d", mz), Right: slices.Contains(k.MZ, mz)})
	}
	m.several(options)
}

func (m *maker) formula(k practice.Formula) {
	mapping := el("qti-mapping", "default-value", "0")
	entry := func(text string, marks float64) {
		mapping.add(el("qti-map-entry", "map-key", text, "mapped-value", decimal(marks), "case-sensitive", "true"))
	}
	for _, s := range spellings(k.Formula, k.Dot) {
		entry(s, m.q.Marks)
	}
	if c, ok := m.q.Credit(cause.ChargeLeftOff); ok && k.Formula.Charge() != 0 && c.Marks > 0 {
		for _, s := range spellings(k.Formula.WithCharge(0), false) {
			entry(s, c.Marks)
		}
	}
	for _, r := range m.q.Scheme.Accept {
		if f, err := answer.ReadFormula(r.Answer.Text); err == nil {
			for _, s := range spellings(f.Formula, false) {
				entry(s, rowMarks(m.q, r))
			}
		}
	}
	m.declare(response, "single", "string", []string{k.Formula.String()}, mapping)
	m.body.add(el("p").add(words("Formula: "), el("qti-text-entry-interaction", "response-identifier", response, "expected-length", "15")))
	m.set(el("qti-map-response", "identifier", response))
}

// assign has a field beside each peak, each with its share.
func (m *maker) assign(k practice.Assign) {
	share := m.q.Marks / float64(len(k.Rows))
	sum := el("qti-sum")
	for i, row := range k.Rows {
		id := fmt.Sprintf("%s%d", response, i+1)
		mapping := el("qti-mapping", "default-value", "0")
		for _, ion := range row.Ions {
			for _, s := range spellings(ion, false) {
				mapping.add(el("qti-map-entry", "map-key", s, "mapped-value", decimal(share), "case-sensitive", "true"))
			}
		}
		m.declare(id, "single", "string", []string{row.Ions[0].String()}, mapping)
		m.body.add(inItalics(el("p"), fmt.Sprintf("Ion at m/z %d: ", row.MZ)).add(
			el("qti-text-entry-interaction", "response-identifier", id, "expected-length", "15")))
		sum.add(el("qti-map-response", "identifier", id))
	}
	m.set(halves(sum))
}

func (m *maker) order(k practice.Order) {
	m.declare(response, "ordered", "identifier", k.Solved().List, nil)
	list := el("qti-order-interaction", "response-identifier", response, "shuffle", "false")
	for _, s := range k.Shown() {
		list.add(inItalics(el("qti-simple-choice", "identifier", s.Letter), s.Text))
	}
	m.body.add(list)
	m.ifElse([]branch{{el("qti-match").add(variable(response), el("qti-correct", "identifier", response)), m.q.Marks}, {nil, 0}})
}

// reasons are written for a person to mark, with the scheme beside.
func (m *maker) reasons(practice.Reasons) {
	m.declare(response, "single", "string", nil, nil)
	m.body.add(el("qti-extended-text-interaction", "response-identifier", response, "expected-lines", "4"))
	list := el("ul")
	for _, line := range m.q.SchemeLines() {
		list.add(inItalics(el("li"), line))
	}
	m.body.add(el("qti-rubric-block", "view", "scorer", "use", "scoring").add(el("qti-content-body").add(list)))
}
