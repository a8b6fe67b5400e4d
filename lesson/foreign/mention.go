package foreign

import (
	"errors"
	"regexp"
	"strconv"
	"strings"
	"sync"

	"ionwright/chem"
	"ionwright/mol/names"
	"ionwright/mol/smiles"
)

// mention is a compound's name or a formula in a sentence.
type mention struct {
	from, to int
	formula  chem.Formula
	named    bool // by a name, not a formula
	lost     bool // as what an ion loses
	subject  *Subject
}

// known is what looking a name up gave.
type known struct {
	formula chem.Formula
	subject *Subject // nil: none of those that the text is about
	ok      bool
}

const (
	// maxLookups bounds the names looked up in one text, for hostile texts.
	maxLookups = 5000
	// maxName is the length of the longest word that is looked up.
	maxName = 60
	// minName keeps abbreviations out, which are words of English too often.
	minName = 5
	// shortestOwn is the length of the shortest name of a text's own.
	shortestOwn = 3
)

var (
	word          = regexp.MustCompile(`[A-Za-z0-9][A-Za-z0-9,'()-]*`)
	formulaWord   = regexp.MustCompile(`(?:\(CH3\)\d)?[A-Z][A-Za-z0-9()]*\.?[+-]?`)
	nameLike      = regexp.MustCompile(`(?:ane|ene|yne|ol|one|al|amine|acid|ate|nitrile|amide|ide|ether|phenone|aldehyde|idine|ine)$`)
	notCompound   = regexp.MustCompile(`^[ -](?:rings?|groups?|moiet|units?|residue|derivativ|dimer|hydrochlorid|hydrate|isomer|skeleton|family|series|chain|d\d|homolog|radical (?:is )?lost|ions?\b)`)
	lostBefore    = regexp.MustCompile(`(?i)(?:\b(?:loss(?:es)? of|loses?|losing|lost|eliminat(?:es?|ing|ion of)|expels?|expelling|ejects?|minus|less|expulsion of|ejection of|neutral)|M ?-)(?: (?:an?|the|one|neutral|molecule of|radical|small|its|whole|entire|terminal|stable))* *$`)
	oneElement    = regexp.MustCompile(`^(?:H2|N2|O2|Cl2|Br2|I2|F2|S8)$`)
	digitless     = regexp.MustCompile(`^(?:CO|NO|HCl|HBr|HCN|HF|HI|CHO)$`)
	classNames    = regexp.MustCompile(`^(?:ether|alcohol|glycol|acetal|aminal|nitrate|acetate|chloride|bromide|iodide|oxide|octane number)$`)
	afterMentions = 40 // characters before a mention that are looked at
)

// mentionsIn finds formulas and names; at one place the longest counts.
func (r *reader) mentionsIn(words string) []mention {
	var out []mention
	tokens := word.FindAllStringIndex(words, -1)
	for i := 0; i < len(tokens); {
		n, m := r.mentionAt(words, tokens[i:])
		if n == 0 {
			i++
			continue
		}
		before := words[max(0, m.from-afterMentions):m.from]
		m.lost = lostBefore.MatchString(before)
		out = append(out, m)
		i += n
	}
	return out
}

// mentionAt gives how many tokens the mention at the first of them takes.
func (r *reader) mentionAt(words string, tokens [][]int) (int, mention) {
	from := tokens[0][0]
	if from > 0 && (isWord(words[from-1]) || words[from-1] == '(' && from > 1 && isWord(words[from-2])) {
		return 0, mention{}
	}
	if m, n := r.subjectAt(words, tokens); n > 0 {
		return n, m
	}
	for n := min(3, len(tokens)); n >= 1; n-- {
		text := strings.TrimRight(words[from:tokens[n-1][1]], ",')-")
		if strings.Count(text, "(") > strings.Count(text, ")") {
			text = words[from:tokens[n-1][1]]
			text = strings.TrimRight(text, ",'-")
		}
		to := from + len(text)
		if len(text) > maxName || n > 1 && strings.Contains(text, "\n") {
			continue
		}
		if found := r.lookUp(strings.ToLower(text), n); found.ok && !notCompound.MatchString(words[to:]) && !alters(words[:from]) {
			return n, mention{from: from, to: to, formula: found.formula, named: true, subject: found.subject}
		}
	}
	at := formulaWord.FindStringIndex(words[from:min(len(words), from+maxName)])
	if at == nil || at[0] != 0 {
		return 0, mention{}
	}
	text := words[from : from+at[1]]
	for strings.HasSuffix(text, ")") && strings.Count(text, ")") > strings.Count(text, "(") {
		text = text[:len(text)-1]
	}
	if rest := words[from+len(text):]; rest != "" && isWord(rest[0]) {
		return 0, mention{}
	}
	text = strings.TrimSuffix(text, "-")
	text = strings.TrimSuffix(text, ".")
	bare := strings.TrimRight(text, "+.")
	f, err := chem.ParseFormula(bare)
	if err != nil || !looksChemical(bare, f) {
		return 0, mention{}
	}
	if strings.HasSuffix(text, "+") {
		f = f.WithCharge(1)
	}
	n := 1
	for n < len(tokens) && tokens[n][0] < from+len(text) {
		n++
	}
	return n, mention{from: from, to: from + len(text), formula: f}
}

// subjectAt finds a compound by the name that the text has for it, and gives
// how many tokens it takes.
func (r *reader) subjectAt(words string, tokens [][]int) (mention, int) {
	from := tokens[0][0]
	for i := range r.subjects {
		s := &r.subjects[i]
		for _, name := range s.Names {
			to := from + len(name)
			if len(name) < shortestOwn || to > len(words) || !strings.EqualFold(words[from:to], name) || to < len(words) && isWord(words[to]) {
				continue
			}
			n := 1
			for n < len(tokens) && tokens[n][0] < to {
				n++
			}
			return mention{from: from, to: to, formula: s.Formula, named: true, subject: s}, n
		}
	}
	return mention{}, 0
}

// called gives the subject with a structure, or nil.
func (r *reader) called(structure string) *Subject {
	for i := range r.subjects {
		if structure != "" && r.subjects[i].SMILES == structure {
			return &r.subjects[i]
		}
	}
	return nil
}

func isWord(c byte) bool {
	return c >= '0' && c <= '9' || c|0x20 >= 'a' && c|0x20 <= 'z' || c == '-' || c == '['
}

// alters reports whether the words before a name make another compound of it.
func alters(before string) bool {
	return changedWord.MatchString(before[max(0, len(before)-20):])
}

var changedWord = regexp.MustCompile(`(?i)(?:deuterated|labelled|labeled|protonated|substituted|chlorinated|brominated|derivatized|polymeric|d\d+) $`)

// looksChemical keeps out words and grid references that happen to be
// formulas: In, As, C5, NO3 stays.
func looksChemical(text string, f chem.Formula) bool {
	if digitless.MatchString(text) || oneElement.MatchString(text) {
		return true
	}
	elements := 0
	for range f.All() {
		elements++
	}
	return strings.ContainsAny(text, "23456789") && elements > 1 || strings.HasPrefix(text, "CH") && elements > 1
}

// lookUp gives the formula of a name in small letters; n is its words.
func (r *reader) lookUp(name string, n int) known {
	if len(name) < minName || classNames.MatchString(name) || isElement(name) || !strings.ContainsAny(name, "aeiou") {
		return known{}
	}
	if k, ok := r.known[name]; ok {
		return k
	}
	last := name[strings.LastIndexByte(name, ' ')+1:]
	if !nameLike.MatchString(name) || len(r.known) >= maxLookups || n > 1 && len(last) < 4 {
		return known{}
	}
	m := named.meaning(name)
	k := known{m.formula, r.called(m.structure), m.ok}
	r.known[name] = k
	return k
}

// meaning is what a name means by itself.
type meaning struct {
	formula   chem.Formula
	structure string // canonical SMILES; empty where the name leaves several with one formula
	ok        bool
}

// named keeps what names mean: a lesson is read again at every change of it,
// and most words in it aren't names.
var named = nameCache{known: map[string]meaning{}}

// nameCache is safe for concurrent use.
type nameCache struct {
	lock  sync.Mutex
	known map[string]meaning
}

// maxKept is how many names are kept before all are forgotten.
const maxKept = 20_000

func (c *nameCache) meaning(name string) meaning {
	c.lock.Lock()
	m, ok := c.known[name]
	c.lock.Unlock()
	if ok {
		return m
	}
	m = resolve(name)
	c.lock.Lock()
	defer c.lock.Unlock()
	if len(c.known) >= maxKept {
		clear(c.known)
	}
	c.known[name] = m
	return m
}

func resolve(name string) meaning {
	mol, err := names.Resolve(name)
	var several *names.AmbiguousError
	switch {
	case err == nil:
		return meaning{mol.Formula(), smiles.Canonical(mol), true}
	case errors.As(err, &several) && !several.More:
		return sameFormula(several.Meanings)
	}
	return meaning{}
}

// sameFormula is the formula that all structures share.
func sameFormula(structures []string) meaning {
	var k meaning
	for _, s := range structures {
		mol, err := smiles.Parse(s)
		if err != nil || k.ok && mol.Formula() != k.formula {
			return meaning{}
		}
		k = meaning{mol.Formula(), "", true}
	}
	return k
}

func isElement(name string) bool {
	for e := chem.Element(1); int(e) <= chem.Elements; e++ {
		if strings.EqualFold(e.Name(), name) {
			return true
		}
	}
	return name == "deuterium"
}

// number is a number in a sentence that is no part of a name or formula.
type number struct {
	from, to int
	value    float64
	decimals int
}

var numeral = regexp.MustCompile(`\d+(?:\.\d+)?`)

func numbersIn(words string, mentions []mention) []number {
	var out []number
	for _, at := range numeral.FindAllStringIndex(words, -1) {
		inside := at[0] > 0 && (words[at[0]-1] == '.' || isLetter(words[at[0]-1])) || at[1] < len(words) && isLetter(words[at[1]])
		for _, m := range mentions {
			inside = inside || at[0] < m.to && at[1] > m.from
		}
		value, err := strconv.ParseFloat(words[at[0]:at[1]], 64)
		if inside || err != nil {
			continue
		}
		decimals := 0
		if dot := strings.IndexByte(words[at[0]:at[1]], '.'); dot >= 0 {
			decimals = at[1] - at[0] - dot - 1
		}
		out = append(out, number{at[0], at[1], value, decimals})
	}
	return out
}

func isLetter(c byte) bool { return c|0x20 >= 'a' && c|0x20 <= 'z' }

func (n number) in(words string) string { return words[n.from:n.to] }
