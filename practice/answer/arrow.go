package answer

import (
	"fmt"
	"regexp"
	"slices"
	"strconv"
	"strings"
)

// Arrow is a curved arrow that moves electrons in a drawn structure: from a
// bond or an atom to a bond, an atom, or the place between two atoms where a
// bond forms.
type Arrow struct {
	Half     bool // a half (fishhook) arrow moves one electron, a full one a pair
	From, To Place
}

// Place is an atom (B is 0) or a pair of atoms, numbered from 1 as they are
// in the drawing; of a pair the smaller number comes first.
type Place struct{ A, B int }

// IsAtom tells whether the place is a single atom.
func (p Place) IsAtom() bool { return p.B == 0 }

func (p Place) String() string {
	if p.IsAtom() {
		return strconv.Itoa(p.A)
	}
	return fmt.Sprintf("%d-%d", p.A, p.B)
}

// String writes the arrow as ParseArrow reads it.
func (a Arrow) String() string {
	head := " => "
	if a.Half {
		head = " > "
	}
	return a.From.String() + head + a.To.String()
}

var arrowForm = regexp.MustCompile(`^(\d{1,4})(?:-(\d{1,4}))?\s*(=>|>|⇀|→)\s*(\d{1,4})(?:-(\d{1,4}))?$`)

// ParseArrow reads an arrow: "2-3 > 1-2" is a half arrow from the bond of
// atoms 2 and 3 to the bond of atoms 1 and 2, "2-3 => 3" a full arrow from a
// bond to an atom.
func ParseArrow(text string) (Arrow, error) {
	m := arrowForm.FindStringSubmatch(strings.TrimSpace(strings.NewReplacer("–", "-", "−", "-", "‑", "-").Replace(text)))
	if m == nil {
		return Arrow{}, fmt.Errorf("reading the arrow %q: it isn't of the form \"2-3 > 1-2\" (one electron) or \"2-3 => 3\" (a pair)", short(text))
	}
	from, err := placeOf(m[1], m[2])
	if err != nil {
		return Arrow{}, fmt.Errorf("reading the arrow %q: %w", short(text), err)
	}
	to, err := placeOf(m[4], m[5])
	if err != nil {
		return Arrow{}, fmt.Errorf("reading the arrow %q: %w", short(text), err)
	}
	return Arrow{Half: m[3] == ">" || m[3] == "⇀", From: from, To: to}, nil
}

func placeOf(first, second string) (Place, error) {
	a, _ := strconv.Atoi(first)
	if a == 0 {
		return Place{}, fmt.Errorf("atoms are numbered from 1")
	}
	if second == "" {
		return Place{A: a}, nil
	}
	b, _ := strconv.Atoi(second)
	if b == 0 || a == b {
		return Place{}, fmt.Errorf("%s-%s isn't a pair of atoms", first, second)
	}
	return Place{min(a, b), max(a, b)}, nil
}

// ReadArrows reads the arrows of an answer, given as a list or as one text
// with commas, semicolons or line ends between them, in the order of writing.
func ReadArrows(a Answer) ([]Arrow, error) {
	list := a.List
	if list == nil {
		list = strings.FieldsFunc(a.Text, func(r rune) bool { return strings.ContainsRune(",;\n\r", r) })
	}
	var out []Arrow
	for _, s := range list {
		if strings.TrimSpace(s) == "" {
			continue
		}
		arrow, err := ParseArrow(s)
		if err != nil {
			return nil, err
		}
		if !slices.Contains(out, arrow) {
			out = append(out, arrow)
		}
	}
	return out, nil
}
