package names

import (
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
