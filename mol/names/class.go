package names

import (
	"strings"
	"sync"

	"ionwright/chem"
)

// classWord ends a functional-class name (IUPAC 2013 P-51.2.2 and older
// usage): ethyl methyl ketone, benzyl chloride, acetic acid ethyl ester.
type classWord struct {
	text string
	kind classKind
	// what the word stands for, and where the parts before it bond
	smiles string
	bonds  []int
}

type classKind uint8

const (
	pairClass      classKind = iota // two parts: ketone
	etherClass                      // the same, or an alcohol and its parts
	singleClass                     // one part: chloride
	esterClass                      // an acid and its parts
	anhydrideClass                  // one or two acids
	acetalClass                     // an aldehyde or ketone and two parts
	carbonylClass                   // an aldehyde or ketone whose oxygen is replaced: oxime
	amideClass                      // an acid whose hydroxy group is replaced
	oxideClass                      // an alkene or an amine
)

// classWords lists them. A word that ends another comes after it.
var classWords = sync.OnceValue(func() []classWord {
	return []classWord{
		{text: "ketone", kind: pairClass, smiles: "C=O", bonds: []int{0, 0}},
		{text: "thioether", kind: pairClass, smiles: "S", bonds: []int{0, 0}},
		{text: "ether", kind: etherClass, smiles: "O", bonds: []int{0, 0}},
		{text: "tetrasulfide", kind: pairClass, smiles: "SSSS", bonds: []int{0, 3}},
		{text: "trisulfide", kind: pairClass, smiles: "SSS", bonds: []int{0, 2}},
		{text: "disulfide", kind: pairClass, smiles: "SS", bonds: []int{0, 1}},
		{text: "sulfide", kind: pairClass, smiles: "S", bonds: []int{0, 0}},
		{text: "selenide", kind: pairClass, smiles: "[SeH2]", bonds: []int{0, 0}},
		{text: "sulfoxide", kind: pairClass, smiles: "[SH2]=O", bonds: []int{0, 0}},
		{text: "sulfone", kind: pairClass, smiles: "[SH2](=O)=O", bonds: []int{0, 0}},
		{text: "hydroperoxide", kind: singleClass, smiles: "OO"},
		{text: "peroxide", kind: pairClass, smiles: "OO", bonds: []int{0, 1}},
		{text: "alcohol", kind: singleClass, smiles: "O"},
		{text: "mercaptan", kind: singleClass, smiles: "S"},
		{text: "fluoride", kind: singleClass, smiles: "F"},
		{text: "chloride", kind: singleClass, smiles: "Cl"},
		{text: "bromide", kind: singleClass, smiles: "Br"},
		{text: "iodide", kind: singleClass, smiles: "I"},
		{text: "isocyanide", kind: singleClass, smiles: "[N+]#[C-]"},
		{text: "cyanide", kind: singleClass, smiles: "C#N"},
		{text: "isothiocyanate", kind: singleClass, smiles: "N=C=S"},
		{text: "thiocyanate", kind: singleClass, smiles: "SC#N"},
		{text: "isocyanate", kind: singleClass, smiles: "N=C=O"},
		{text: "cyanate", kind: singleClass, smiles: "OC#N"},
		{text: "azide", kind: singleClass, smiles: "N=[N+]=[N-]"},
		{text: "cellosolve", kind: singleClass, smiles: "OCCO"},
		{text: "carbitol", kind: singleClass, smiles: "OCCOCCO"},
		{text: "ester", kind: esterClass},
		{text: "anhydride", kind: anhydrideClass},
		{text: "acetal", kind: acetalClass},
		{text: "ketal", kind: acetalClass},
		{text: "thiosemicarbazone", kind: carbonylClass, smiles: "NNC(=S)N"},
		{text: "semicarbazone", kind: carbonylClass, smiles: "NNC(=O)N"},
		{text: "hydrazone", kind: carbonylClass, smiles: "NN", bonds: []int{1, 1}},
		{text: "oxime", kind: carbonylClass, smiles: "NO", bonds: []int{1}},
		{text: "hydrazide", kind: amideClass, smiles: "NN", bonds: []int{1, 1}},
		{text: "amide", kind: amideClass, smiles: "N", bonds: []int{0, 0}},
		{text: "oxide", kind: oxideClass},
	}
})

// readClass reads the words before a class word.
func (r *reader) readClass(w *classWord, p, limit int) []built {
	switch w.kind {
	case pairClass:
		return r.readPair(w, p, limit)
	case etherClass:
		return r.readEther(w, p, limit)
	case singleClass:
		return r.readSingle(w, p, limit)
	case esterClass:
		return r.readEster(p, limit)
	case anhydrideClass:
		return r.readAnhydride(p, limit)
	case acetalClass:
		return r.readAcetal(p, limit)
	case carbonylClass:
		return r.readCarbonylClass(w, p, limit)
	case amideClass:
		return r.readAmide(w, p, limit)
	}
	return r.readOxide(p, limit)
}

// fragments parses the structures of the class words once.
var fragments = sync.OnceValue(func() map[string]graph {
	m := map[string]graph{}
	for _, w := range classWords() {
		if w.smiles == "" {
			continue
		}
		g, err := template(w.smiles, "")
		if err != nil {
			panic("names: class word " + w.text + ": " + err.Error())
		}
		m[w.smiles] = g
	}
	return m
})

// named returns the readings of a stretch of text as a name of any kind.
func (r *reader) named(p, limit int) []built {
	found := r.compound(p, limit)
	if len(found) > 0 && bestPenalty(found) == 0 {
		return found
	}
	words := classWords()
	for i := range words {
		w := &words[i]
		head := limit - len(w.text)
		if head <= p || r.s[head:limit] != w.text {
			continue
		}
		for head > p && (r.s[head-1] == ' ' || r.s[head-1] == '-') {
			head--
		}
		if head > p {
			found = addBuilt(found, r.readClass(w, p, head)...)
		}
		break
	}
	found = addBuilt(found, r.readAnion(p, limit)...)
	return found
}

func bestPenalty(list []built) int {
	best := 1 << 30
	for i := range list {
		best = min(best, list[i].penalty)
	}
	return best
}

// complete makes a built of a graph and carries over what a reading of the
// parts knows.
func complete(g graph, a alkyls, others ...built) (built, bool) {
	b, ok := finished(g, a.penalty)
	b.stereo, b.cut = a.stereo, a.cut
	for _, o := range others {
		b.penalty += o.penalty
		b.stereo |= o.stereo
		b.cut = b.cut || o.cut
	}
	return b, ok
}

// readPair reads a class word between two parts: [alkyl] [alkyl] ketone.
func (r *reader) readPair(w *classWord, p, limit int) []built {
	var found []built
	for _, a := range r.alkylsAt(p, limit) {
		parts := a.parts
		if len(parts) == 1 && parts[0].kind == yl && r.s[limit-2:limit] == "yl" && !strings.Contains(r.s[p:limit], " ") && !a.mono && w.text != "ketone" {
			parts = []*radical{parts[0], parts[0]} // ethyl ether is diethyl ether
		}
		if len(parts) != 2 || parts[0].kind != yl || parts[1].kind != yl {
			continue
		}
		piece := fragments()[w.smiles]
		g := piece.clone()
		g.join(w.bonds[0], parts[0].graph, parts[0].bonds[0], 1)
		g.join(w.bonds[1], parts[1].graph, parts[1].bonds[0], 1)
		if b, ok := complete(g, a); ok {
			found = addBuilt(found, b)
		}
	}
	return found
}

// readSingle reads a class word after one part: benzyl chloride, ethylene
// dibromide, adipoyl chloride.
func (r *reader) readSingle(w *classWord, p, limit int) []built {
	count := 0
	for _, m := range multipliers() { // ethylene dichloride
		if m.value > 1 && limit-len(m.text) > p+1 && r.s[limit-len(m.text):limit] == m.text && r.s[limit-len(m.text)-1] == ' ' {
			count, limit = m.value, limit-len(m.text)-1
			break
		}
	}
	piece := fragments()[w.smiles]
	var found []built
	for _, a := range r.alkylsAt(p, limit) {
		if len(a.parts) != 1 {
			continue
		}
		x := a.parts[0]
		if (w.smiles == "O" || w.smiles == "S") && x.graph.carbonyl(x.bonds[0]) {
			continue // an acyl group with a hydroxy group is an acid
		}
		g := x.graph.clone()
		var places []int
		switch {
		case x.kind == yl && count <= 1:
			places = x.bonds
		case x.kind == ylidene && count != 1 && count <= 2:
			places = []int{x.bonds[0], x.bonds[0]}
		case x.kind == bridge && count <= 2 && count != 1:
			places = x.bonds
		default:
			continue
		}
		for _, i := range places {
			g.join(i, &piece, 0, 1)
			g.atoms[i].site = noSite
		}
		if b, ok := complete(g, a); ok {
			found = addBuilt(found, b)
		}
	}
	for _, acyl := range r.compound(p, limit) { // names of polyacyls are open structures
		var places []int
		for i, x := range acyl.atoms {
			if x.site == acylSite {
				places = append(places, i)
			}
		}
		if len(places) == 0 || count > 1 && count != len(places) {
			continue
		}
		g := acyl.clone().graph
		for _, i := range places {
			g.join(i, &piece, 0, 1)
			g.atoms[i].site = noSite
		}
		if b, ok := complete(g, alkyls{}, acyl); ok {
			found = addBuilt(found, b)
		}
	}
	return found
}

// readEther reads [alkyl] [alkyl] ether, and [alcohol] [alkyl] ether, whose
// hydroxy groups take the alkyl parts.
func (r *reader) readEther(w *classWord, p, limit int) []built {
	found := r.readPair(w, p, limit)
	for _, cut := range r.cuts(p, limit) {
		for _, c := range r.compound(p, cut.end) {
			hydroxys := c.hydroxys()
			for _, a := range r.alkylsAt(cut.next, limit) {
				found = addBuilt(found, r.fill(c, hydroxys, a)...)
			}
		}
	}
	return found
}

// split is a place where a name may part into two.
type split struct{ end, next int }

// cuts lists the spaces outside parentheses between p and limit.
func (r *reader) cuts(p, limit int) []split {
	var list []split
	depth := 0
	for i := p; i < limit; i++ {
		switch r.s[i] {
		case '(':
			depth++
		case ')':
			depth--
		case ' ':
			if depth == 0 {
				list = append(list, split{i, i + 1})
			}
		}
	}
	return list
}

// fill bonds the parts to the oxygens of a structure: all of them, or fewer
// where the name says mono. Where different parts or fewer parts than oxygens
// leave a choice, each way is a reading of its own.
func (r *reader) fill(c built, oxygens []int, a alkyls) []built {
	for _, x := range a.parts {
		if x.kind != yl {
			return nil
		}
	}
	if len(a.parts) > len(oxygens) || len(a.parts) < len(oxygens) && !a.mono && len(a.parts) > 0 && !r.partial {
		return nil
	}
	var found []built
	used := make([]bool, len(oxygens))
	var place func(g graph, k int)
	place = func(g graph, k int) {
		if !r.spend() || len(found) > maxAlternatives {
			return
		}
		if k == len(a.parts) {
			if b, ok := complete(g, a, c); ok {
				found = addBuilt(found, b)
			}
			return
		}
		for n, o := range oxygens {
			if used[n] {
				continue
			}
			used[n] = true
			next := g.clone()
			next.join(o, a.parts[k].graph, a.parts[k].bonds[0], 1)
			next.atoms[o].site = noSite
			place(next, k+1)
			used[n] = false
			if same(a.parts) && len(a.parts) == len(oxygens) {
				break // any order gives the same
			}
		}
	}
	place(c.graph, 0)
	if len(found) > 1 {
		for i := range found {
			found[i].penalty++
		}
	}
	return found
}

func same(parts []*radical) bool {
	for _, x := range parts {
		if x != parts[0] {
			return false
		}
	}
	return true
}

// hasOpenSite reports whether a structure waits for a class word.
func (g *graph) hasOpenSite() bool {
	for _, a := range g.atoms {
		if a.site != noSite {
			return true
		}
	}
	return false
}

// carbonylOxygen is the oxygen of a carbonyl carbon, or -1.
func (g *graph) carbonylOxygen(i int) int {
	oxygen := -1
	g.neighbors(i, func(j, order int) {
		if order == 2 && g.atoms[j].element == chem.O {
			oxygen = j
		}
	})
	return oxygen
}
