package foreign

import (
	"cmp"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"ionwright/lesson/diag"
	"ionwright/sector"
)

// quantity is something about ions in a sector instrument of which a sentence
// says that it is more or less.
type quantity uint8

const (
	massOfIons quantity = iota // m/z, at one charge
	chargeOfIons
	fieldOf
	voltageOf
	radiusOf
	bendingOf
	speedOf
)

// wording finds a quantity that is said to be more, or less.
type wording struct {
	quantity   quantity
	more, less *regexp.Regexp
}

const (
	moreWord = `(?:higher and higher|larger and larger|higher|larger|greater|stronger|bigger|highest|largest|greatest|strongest)`
	lessWord = `(?:lower and lower|smaller and smaller|lower|smaller|weaker|lowest|smallest|weakest)`
	risen    = `(?:(?:has to|must|can|should|needs to) be (?:raised|increased|turned up)|rises?|is raised|raised|is increased|increases|increased|grows?|goes up|is turned up)`
	fallen   = `(?:(?:has to|must|can|should|needs to) be (?:lowered|reduced|decreased|turned down)|falls?|is lowered|lowered|is reduced|reduced|decreases|is decreased|drops?|goes down|is turned down)`
	raising  = `(?:raising|raise|increasing|increase|turning up|turn up|an increase of|an increase in)`
	lowering = `(?:lowering|lower|reducing|reduce|decreasing|decrease|turning down|turn down|a decrease of)`
)

// wordings is the visible list of how quantities are compared.
var wordings = func() []wording {
	of := func(noun string) (more, less *regexp.Regexp) {
		re := func(adjective, doing, done, particle string) *regexp.Regexp {
			return regexp.MustCompile(`(?i)\b` + adjective + ` (?:the )?` + noun + `\b|\b` + doing + ` (?:the |its )?` + noun + `\b|\b` + noun + ` ` + done + `\b|\bturn the ` + noun + ` ` + particle + `\b`)
		}
		return re(moreWord, raising, risen, "up"), re(lessWord, lowering, fallen, "down")
	}
	fieldMore, fieldLess := of(`(?:magnetic )?field`)
	voltsMore, voltsLess := of(`(?:accelerating |acceleration )?(?:voltage|potential)`)
	return []wording{
		{massOfIons, regexp.MustCompile(`(?i)\b(?:heavier|heaviest|more massive|too heavy|heavy (?:ions?|ones))\b|\b(?:high|large|` + moreWord + `) (?:m ?/ ?z|mass(?:es)?)`),
			regexp.MustCompile(`(?i)\b(?:lighter|lightest|less massive|too light|light (?:ions?|ones))\b|\b(?:low|small|` + lessWord + `) (?:m ?/ ?z|mass(?:es)?)`)},
		{chargeOfIons, regexp.MustCompile(`(?i)\b(?:doubly|triply|multiply|more highly) charged\b|\b(?:with|has|have) (?:two|more|three) charges\b|\b(?:higher|larger|greater) charges?\b`), regexp.MustCompile(`(?i)\b(?:lower|smaller) charges?\b`)},
		{fieldOf, fieldMore, fieldLess},
		{voltageOf, voltsMore, voltsLess},
		{radiusOf, regexp.MustCompile(`(?i)\b(?:larger|wider|greater|bigger|largest|widest|straighter)(?: \w+)? (?:radius|radii|circles?|arcs?|curves?|paths?)|\b(?:radius|path|circle|arc)(?: of (?:the|its|their) \w+)?(?: (?:is|gets|becomes|straighter|wider))? (?:larger|wider|greater|straighter|bigger)\b|\bof larger radius|\bpath straighter`),
			regexp.MustCompile(`(?i)\b(?:smaller|tighter|smallest|tightest)(?: \w+)? (?:radius|radii|circles?|arcs?|curves?|paths?)|\b(?:radius|path|circle|arc)(?: of (?:the|its|their) \w+)?(?: (?:is|gets|becomes))? (?:smaller|tighter)\b`)},
		{bendingOf, regexp.MustCompile(`(?i)\b` + bent + `(?: \w+){0,4}? (?:more|most|further|farther|too much)\b|\b` + bent + `(?: \w+){0,6}? to an? (?:greater|larger) extent\b|\b(?:more|most) (?:strongly |sharply |easily )?(?:deflected|bent|curved)\b`),
			regexp.MustCompile(`(?i)\b` + bent + `(?: \w+){0,4}? (?:less|least|too little)\b|\b` + bent + `(?: \w+){0,6}? to an? (?:lesser|smaller) extent\b|\b(?:less|least) (?:strongly |sharply |easily )?(?:deflected|bent|curved)\b`)},
		{speedOf, regexp.MustCompile(`(?i)\b(?:faster|more quickly|(?:higher|greater|larger) (?:speed|velocity))\b`), regexp.MustCompile(`(?i)\b(?:slower|more slowly|(?:lower|smaller) (?:speed|velocity))\b`)},
	}
}()

const bent = `(?:bends?|bent|deflect(?:s|ed)?|curved?|turn(?:s|ed)?|deviated?)`

// compared is a comparison found in a sentence.
type compared struct {
	from, to int
	quantity quantity
	more     bool
}

// comparisons finds what is said to be more or less in words[from:to], in
// order, but for what stands behind "than".
func comparisons(words string) []compared {
	var out []compared
	for _, w := range wordings {
		for _, side := range []struct {
			re   *regexp.Regexp
			more bool
		}{{w.more, true}, {w.less, false}} {
			for _, m := range side.re.FindAllStringIndex(words, -1) {
				if w.quantity != bendingOf && behindThan.MatchString(words[:m[0]]) {
					continue
				}
				out = append(out, compared{m[0], m[1], w.quantity, side.more})
			}
		}
	}
	if m := twoIons.FindStringSubmatchIndex(words); m != nil {
		a, _ := strconv.Atoi(words[m[2]:m[3]])
		b, _ := strconv.Atoi(words[m[4]:m[5]])
		out = append(out, compared{m[0], m[3], massOfIons, a > b})
	}
	slices.SortFunc(out, func(a, b compared) int { return cmp.Or(cmp.Compare(a.from, b.from), cmp.Compare(b.to, a.to)) })
	kept := out[:0]
	for _, c := range out {
		if n := len(kept); n > 0 && c.quantity == kept[n-1].quantity && c.to <= kept[n-1].to {
			continue // inside of the one before
		}
		kept = append(kept, c)
	}
	return kept
}

var behindThan = regexp.MustCompile(`(?i)\bthan(?: \w+){0,4} *$`)

// twoIons compares two ions by their m/z.
var twoIons = regexp.MustCompile(`\bm ?/ ?z (\d+)\b[^;]*\bthan\b[^;]*\bm ?/ ?z (\d+)\b`)

// together says whether two quantities rise together, other things equal. It is
// computed from the relation of the magnetic sector; known is false for pairs
// that it says nothing about.
func together(a, b quantity) (rise, known bool) {
	if a > b {
		a, b = b, a
	}
	radius := func(mz, field, volts float64) float64 {
		x, _ := sector.Radius(mz, sector.Tesla(field), sector.Volt(volts))
		return float64(x)
	}
	const mz, field, volts = 100, 0.4, 4000
	r := radius(mz, field, volts)
	rises := map[quantity]bool{ // of the radius with each
		massOfIons: radius(2*mz, field, volts) > r, chargeOfIons: radius(mz/2, field, volts) > r,
		fieldOf: radius(mz, 2*field, volts) > r, voltageOf: radius(mz, field, 2*volts) > r,
	}
	rise, known = rises[a]
	switch {
	case a == massOfIons && b == chargeOfIons || a == fieldOf && b == voltageOf || !known:
		return false, false
	case b == radiusOf:
		return rise, true
	case b == bendingOf:
		return !rise, true
	case b == speedOf: // e V = m v²/2
		return a != massOfIons, a != fieldOf
	case b == fieldOf || b == voltageOf: // what keeps the radius, when the other changes
		return rise != rises[b], true
	}
	return false, false
}

var (
	otherPhysics = regexp.MustCompile(`(?i)\belectric sector|quadrupole|momentum|velocity selector|energy filter|time[- ]of[- ]flight|\bpeaks?\b|isotope|\bmany students|intens|abundan`)
	firstOf      = regexp.MustCompile(`(?i)\b(?:first|before the)\b`)
)

// relation judges comparisons of ions in a magnetic sector.
func (r *reader) relation(s *sentence) {
	if denies.MatchString(relaxed.ReplaceAllString(s.words, "")) || otherPhysics.MatchString(s.words) {
		return
	}
	whole := comparisons(s.words)
	if len(whole) == 2 {
		r.judgeRelation(s, 0, len(s.words), whole)
		return
	}
	for _, clause := range clauses(s.words) {
		part := comparisons(s.words[clause[0]:clause[1]])
		if len(part) == 2 {
			for i := range part {
				part[i].from, part[i].to = part[i].from+clause[0], part[i].to+clause[0]
			}
			r.judgeRelation(s, clause[0], clause[1], part)
		}
	}
}

// relaxed are words that don't deny here: "if the field is raised".
var relaxed = regexp.MustCompile(`(?i)^\W*if\b`)

func (r *reader) judgeRelation(s *sentence, from, to int, pair []compared) {
	a, b := pair[0], pair[1]
	if a.quantity > b.quantity {
		a, b = b, a
	}
	rise, known := together(a.quantity, b.quantity)
	if !known {
		return
	}
	if a.quantity == massOfIons && b.quantity == fieldOf && firstOf.MatchString(s.words[from:to]) {
		rise = !rise // what comes first in a sweep
	}
	if a.more == b.more == rise {
		return
	}
	subject, said := pair[0], pair[1]
	right := instead(said.quantity, !said.more)
	start, end := subject.from, max(said.to, subject.to)
	r.report(s, start, end, diag.InstrumentFalse, strings.TrimSpace(s.words[start:end]), right, "say the opposite: "+right,
		"it is the other way round, by m/z = e B² r² / (2 V u)")
}

// instead words what is right in place of what was said.
func instead(q quantity, more bool) string {
	pairs := map[quantity][2]string{
		massOfIons: {"lighter ions", "heavier ions"}, chargeOfIons: {"a smaller charge", "a larger charge"}, fieldOf: {"a weaker field", "a stronger field"},
		voltageOf: {"a lower voltage", "a higher voltage"}, radiusOf: {"bent more, on a smaller radius", "bent less, on a larger radius"},
		bendingOf: {"bent less, on a larger radius", "bent more, on a smaller radius"}, speedOf: {"slower", "faster"},
	}
	if more {
		return pairs[q][1]
	}
	return pairs[q][0]
}

var clauseEnd = regexp.MustCompile(`(?i)[,;:]|\b(?:and|while|whereas|but)\b`)

// clauses gives the places of the parts of a sentence.
func clauses(words string) [][2]int {
	var out [][2]int
	from := 0
	for _, m := range clauseEnd.FindAllStringIndex(words, -1) {
		out = append(out, [2]int{from, m[0]})
		from = m[1]
	}
	return append(out, [2]int{from, len(words)})
}
