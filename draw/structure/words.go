package structure

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"ionwright/chem"
	"ionwright/draw"
	"ionwright/mol"
)

// nameOf is what the structure is called: its name or else its formula.
func nameOf(m *mol.Mol, o Options) string {
	if o.Name != "" {
		return o.Name
	}
	return formulaOf(m, o).String()
}

// formulaOf counts a charge outside of brackets too.
func formulaOf(m *mol.Mol, o Options) chem.Formula {
	if o.Brackets == nil {
		return m.Formula()
	}
	f := o.Brackets.Mol.Formula()
	return f.WithCharge(f.Charge() + o.Brackets.Charge)
}

func title(m *mol.Mol, o Options) string { return "Structure of " + nameOf(m, o) }

// description is one sentence on what is drawn: formula, atoms, rings, multiple
// bonds, charge and unpaired electrons.
func description(m *mol.Mol, o Options) string {
	f := formulaOf(m, o)
	start := "Skeletal formula"
	if o.Name != "" {
		start += " of " + o.Name
	}
	if text := f.String(); text != "" {
		start += ", " + text
	}
	parts := []string{atomWords(m)}
	if rings := ringWords(m); rings != "" {
		parts = append(parts, rings)
	}
	drawn := m
	if o.Brackets != nil {
		drawn = o.Brackets.Mol
	}
	if bonds := bondWords(drawn); bonds != "" {
		parts = append(parts, bonds)
	}
	if o.Brackets != nil && len(o.Brackets.Partial) > 0 {
		parts = append(parts, plural(len(o.Brackets.Partial), "bond")+" drawn partly double")
	}
	if charges := chargeWords(drawn); charges != "" {
		parts = append(parts, charges)
	}
	if o.Brackets != nil {
		parts = append(parts, "in brackets, "+o.Brackets.Words(func(a int) int { return a + 1 }))
	}
	return start + ": " + strings.Join(parts, "; ") + "."
}

func plural(n int, noun string) string {
	if n == 1 {
		return "1 " + noun
	}
	return fmt.Sprintf("%d %ss", n, noun)
}

func list(words []string) string {
	if len(words) < 2 {
		return strings.Join(words, "")
	}
	return strings.Join(words[:len(words)-1], ", ") + " and " + words[len(words)-1]
}

// atomWords counts the atoms that are drawn, carbon first, by element.
func atomWords(m *mol.Mol) string {
	counts := map[chem.Element]int{}
	var order []chem.Element
	for i := range m.NumAtoms() {
		e := m.Atom(i).Element
		if counts[e]++; counts[e] == 1 {
			order = append(order, e)
		}
	}
	slices.SortFunc(order, func(a, b chem.Element) int {
		if (a == chem.C) != (b == chem.C) {
			if a == chem.C {
				return -1
			}
			return 1
		}
		return strings.Compare(a.Symbol(), b.Symbol())
	})
	var words []string
	for _, e := range order {
		words = append(words, plural(counts[e], e.Name()+" atom"))
	}
	if len(words) == 0 {
		return "no atoms"
	}
	return list(words)
}

// ringWords counts the rings by size, aromatic ones apart.
func ringWords(m *mol.Mol) string {
	rings := m.Rings()
	if len(rings) == 0 {
		return ""
	}
	counts := map[string]int{}
	var order []string
	for _, r := range rings {
		kind := fmt.Sprintf("ring of %d atoms", len(r))
		if !slices.ContainsFunc(r, func(a int32) bool { return !m.Atom(int(a)).Aromatic }) {
			kind = fmt.Sprintf("aromatic ring of %d atoms", len(r))
		}
		if counts[kind]++; counts[kind] == 1 {
			order = append(order, kind)
		}
	}
	var words []string
	for _, kind := range order {
		if n := counts[kind]; n == 1 {
			words = append(words, "1 "+kind)
		} else {
			words = append(words, strconv.Itoa(n)+" "+strings.Replace(kind, "ring", "rings", 1))
		}
	}
	return list(words)
}

// bondWords counts double and triple bonds outside aromatic rings by the
// elements they join.
func bondWords(m *mol.Mol) string {
	counts := map[string]int{}
	var order []string
	for i := range m.NumBonds() {
		b := m.Bond(i)
		name, sign := "", ""
		switch b.Order {
		case mol.Double:
			name, sign = "double bond", "="
		case mol.Triple:
			name, sign = "triple bond", "≡"
		default:
			continue
		}
		x, y := m.Atom(int(b.Begin)).Element.Symbol(), m.Atom(int(b.End)).Element.Symbol()
		if y == "C" || x != "C" && y < x {
			x, y = y, x
		}
		kind := name + " " + x + sign + y
		if counts[kind]++; counts[kind] == 1 {
			order = append(order, kind)
		}
	}
	slices.Sort(order)
	var words []string
	for _, kind := range order {
		if n := counts[kind]; n > 1 {
			kind = strings.Replace(kind, "bond", "bonds", 1)
			words = append(words, strconv.Itoa(n)+" "+kind)
		} else {
			words = append(words, "1 "+kind)
		}
	}
	return list(words)
}

// chargeWords says which atoms carry charges and unpaired electrons.
func chargeWords(m *mol.Mol) string {
	var words []string
	for i := range m.NumAtoms() {
		a := m.Atom(i)
		if a.Charge != 0 {
			sign := "positive"
			n := int(a.Charge)
			if n < 0 {
				sign, n = "negative", -n
			}
			words = append(words, fmt.Sprintf("%s on %s", plural(n, sign+" charge"), a.Element.Name()))
		}
		if a.Radical != 0 {
			words = append(words, fmt.Sprintf("%s on %s", plural(int(a.Radical), "unpaired electron"), a.Element.Name()))
		}
	}
	return list(words)
}

// table lists the atoms with what they are bonded to.
func table(m *mol.Mol) draw.Table {
	t := draw.Table{Caption: "Atoms of the structure", Columns: []string{"atom", "element", "hydrogens", "charge", "bonded to"}}
	marks := map[mol.Order]string{mol.Double: "=", mol.Triple: "≡", mol.Quadruple: "$"}
	for i := range m.NumAtoms() {
		a := m.Atom(i)
		var bonded []string
		for _, n := range m.Neighbors(i) {
			bonded = append(bonded, marks[m.KekuleOrder(int(n.Bond))]+strconv.Itoa(int(n.Atom)+1))
		}
		charge := "0"
		if a.Charge != 0 {
			charge = fmt.Sprintf("%+d", a.Charge)
		}
		t.Rows = append(t.Rows, []string{strconv.Itoa(i + 1), a.Element.Symbol(), strconv.Itoa(int(a.Hydrogens)), charge, strings.Join(bonded, ", ")})
	}
	return t
}
