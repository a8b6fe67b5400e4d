package names

import (
	_ "embed"
	"fmt"
	"slices"
	"strings"
	"sync"

	"ionwright/mol/smiles"
)

//go:embed data/rings.tsv
var ringRows string

//go:embed data/parents.tsv
var parentRows string

//go:embed data/acids.tsv
var acidRows string

//go:embed data/oxoacids.tsv
var oxoacidRows string

//go:embed data/radicals.tsv
var radicalRows string

// entry is one retained name of a list under data/: its structure with the
// locants on the atoms.
type entry struct {
	text    string
	graph   graph
	ring    bool     // a ring parent whose double bonds place sets
	stem    bool     // goes on with an, en, yn
	short   []string // a contracted stem: the suffixes it takes
	suffix  bool     // a fixed parent that may carry a suffix
	peptide bool     // an amino acid: without a locant only acyl groups, on the nitrogen
	indic   []string // indicated hydrogen understood where the name gives none
	acyl    []string // endings of the acyl name
	kind    radicalKind
	needs   int   // substituents a linking prefix must carry
	takes   bool  // may carry substituents without a locant
	sites   []int // acids: the carboxyl carbons; oxoacids: the acidic oxygens
	anion   bool  // oxoacids: the name of the anion
	alkyl   bool
	bridged int // the second bonding atom of a bridge
}

type radicalKind uint8

const (
	yl radicalKind = iota
	ylidene
	ylidyne
	bridge
)

// lexicon holds the retained names by the first byte of their text, longest
// first.
type lexicon struct {
	parents, acids, oxoacids, radicals [256][]*entry
	words                              []string // every text, for suggestions
}

// terms reads the lists once. They are part of the program: a fault in them is
// a programmer's mistake and panics with the row.
var terms = sync.OnceValue(func() *lexicon {
	var lex lexicon
	lex.fill(&lex.parents, ringRows, readRing)
	lex.fill(&lex.parents, parentRows, readParent)
	lex.fill(&lex.acids, acidRows, readAcid)
	lex.fill(&lex.oxoacids, oxoacidRows, readOxoacid)
	lex.fill(&lex.radicals, radicalRows, readRadical)
	return &lex
})

func (lex *lexicon) fill(index *[256][]*entry, rows string, read func(cells []string) ([]*entry, error)) {
	for cells := range rowsOf(rows) {
		entries, err := read(cells)
		if err != nil {
			panic(fmt.Sprintf("names: row %q: %v", strings.Join(cells, "\t"), err))
		}
		for _, e := range entries {
			index[e.text[0]] = append(index[e.text[0]], e)
			lex.words = append(lex.words, e.text)
		}
	}
	for _, list := range index {
		slices.SortStableFunc(list, func(a, b *entry) int { return len(b.text) - len(a.text) })
	}
}

// rowsOf yields the cells of each row of a list; lines that begin with # and
// empty lines are no rows. A row has at least four cells.
func rowsOf(rows string) func(yield func([]string) bool) {
	return func(yield func([]string) bool) {
		for line := range strings.SplitSeq(rows, "\n") {
			line = strings.TrimSuffix(line, "\r")
			if line == "" || line[0] == '#' {
				continue
			}
			cells := strings.Split(line, "\t")
			for len(cells) < 4 {
				cells = append(cells, "")
			}
			if !yield(cells) {
				return
			}
		}
	}
}

// expand replaces the shorthands of the locant column.
var expand = strings.NewReplacer(
	"AcPh", "1' 2'/2/o 3'/3/m 4'/4/p 5'/5/m 6'/6/o",
	"Ph'", "1' 2'/o' 3'/m' 4'/p' 5'/m' 6'/o'",
	"Ph", "1 2/o 3/m 4/p 5/m 6/o",
)

// template reads a structure and puts the locants on its atoms.
func template(smilesText, locants string) (graph, error) {
	m, err := smiles.Parse(smilesText)
	if err != nil {
		return graph{}, err
	}
	g, err := fromMol(m)
	if err != nil {
		return graph{}, err
	}
	labels := strings.Fields(expand.Replace(locants))
	if len(labels) != 0 && len(labels) != len(g.atoms) {
		return graph{}, fmt.Errorf("%d locants for %d atoms", len(labels), len(g.atoms))
	}
	for i, cell := range labels {
		if cell == "-" {
			continue
		}
		cell, explicit := strings.CutPrefix(cell, "!")
		g.atoms[i].labels = strings.Split(cell, "/")
		g.atoms[i].open = !explicit && slices.ContainsFunc(g.atoms[i].labels, func(label string) bool {
			return !greekLabel(label)
		})
	}
	return g, nil
}

// greekLabel reports whether a locant is a Greek letter, with or without
// primes.
func greekLabel(label string) bool {
	label = strings.TrimRight(label, "'")
	for _, word := range greek {
		if label == word {
			return true
		}
	}
	return false
}

func readRing(cells []string) ([]*entry, error) {
	g, err := template(cells[1], cells[2])
	if err != nil {
		return nil, err
	}
	base := entry{ring: true, suffix: true}
	saturated := map[string]bool{}
	all := false
	for option := range strings.SplitSeq(cells[3], ";") {
		key, value, _ := strings.Cut(option, "=")
		switch key {
		case "sat":
			all = true
		case "stem":
			base.stem, all = true, true
		case "sp3":
			for label := range strings.SplitSeq(value, ",") {
				saturated[label] = true
			}
		case "H":
			base.indic = strings.Split(value, ",")
		case "short":
			base.short = strings.Split(value, ",")
		case "":
		default:
			return nil, fmt.Errorf("unknown option %q", option)
		}
	}
	for i := range g.atoms {
		a := &g.atoms[i]
		if !all && len(valences(a.element)) == 1 && valences(a.element)[0] > 2 {
			a.pool = !saturated[a.labels[0]]
		}
	}
	return named(cells[0], base, g), nil
}

func readParent(cells []string) ([]*entry, error) {
	g, err := template(cells[1], cells[2])
	if err != nil {
		return nil, err
	}
	return named(cells[0], entry{suffix: cells[3] == "suffix", peptide: cells[3] == "peptide"}, g), nil
}

func readRadical(cells []string) ([]*entry, error) {
	g, err := template(cells[1], cells[2])
	if err != nil {
		return nil, err
	}
	base := entry{}
	switch cells[3] {
	case "yl":
	case "alkyl":
		base.alkyl = true
	case "ylidene":
		base.kind = ylidene
	case "ylidenetakes":
		base.kind, base.takes = ylidene, true
	case "bridge":
		base.kind, base.bridged = bridge, len(g.atoms)-1
	case "bridge4":
		base.kind, base.bridged = bridge, 3
	case "bridge3":
		base.kind, base.bridged = bridge, 2
	case "needs1":
		base.needs = 1
	case "needs2":
		base.needs = 2
	case "takes":
		base.takes = true
	case "peptide":
		base.peptide = true
	default:
		return nil, fmt.Errorf("unknown kind %q", cells[3])
	}
	return named(cells[0], base, g), nil
}

// readAcid cuts the acid groups back to their carbon, which sites lists: what
// stands there depends on the ending.
func readAcid(cells []string) ([]*entry, error) {
	g, err := template(cells[1], cells[2])
	if err != nil {
		return nil, err
	}
	sites, ok := g.cutCarboxyls()
	if !ok {
		return nil, fmt.Errorf("no carboxyl group")
	}
	base := entry{sites: sites}
	if cells[3] != "" {
		base.acyl = strings.Split(cells[3], ",")
	}
	return named(cells[0], base, g), nil
}

func readOxoacid(cells []string) ([]*entry, error) {
	g, err := template(cells[2], cells[3])
	if err != nil {
		return nil, err
	}
	sites := g.acidOxygens()
	if len(sites) == 0 {
		return nil, fmt.Errorf("no acidic hydroxy group")
	}
	list := named(cells[0], entry{sites: sites}, g)
	return append(list, named(cells[1], entry{sites: sites, anion: true}, g)...), nil
}

// named makes an entry for each of the names of a row.
func named(texts string, base entry, g graph) []*entry {
	var list []*entry
	for text := range strings.SplitSeq(texts, "|") {
		e := base
		e.text, e.graph = text, g
		list = append(list, &e)
	}
	return list
}
