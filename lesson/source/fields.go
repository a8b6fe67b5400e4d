package source

import (
	"math"
	"strconv"
	"strings"

	"ionwright/lesson/diag"
)

// fields reads the keys of one mapping and reports what is missing, unknown
// or of the wrong shape.
type fields struct {
	what  string // for messages: "the compound solvent", "this claim"
	at    diag.Span
	have  []entry
	wrong bool // not a mapping, which is reported
	diags *diag.List
}

// fieldsOf checks that v is a mapping with known keys only. What it isn't is
// reported once; the fields of a non-mapping are all absent.
func fieldsOf(what string, at diag.Span, v value, diags *diag.List, known ...string) fields {
	f := fields{what: what, at: at, diags: diags}
	if v.shape != mapping {
		if v.text.Value != "" {
			at = v.text.Place()
		}
		diags.Add(diag.New(diag.WrongType, at, "%s needs keys (%s), but has %s", what, strings.Join(known, ", "), v.shape))
		f.wrong = true
		return f
	}
	for _, e := range v.entries {
		ok := false
		for _, k := range known {
			ok = ok || e.key.Value == k
		}
		if ok {
			f.have = append(f.have, e)
			continue
		}
		d := diag.New(diag.UnknownKey, e.key.Place(), "%s has no key %q", what, e.key.Value)
		if near, ok := diag.Nearest(e.key.Value, known); ok {
			d = d.Suggesting("did you mean %q?", near)
		} else {
			d = d.Suggesting("the keys are %s", strings.Join(known, ", "))
		}
		diags.Add(d)
	}
	return f
}

func (f fields) get(key string) (value, bool) {
	for _, e := range f.have {
		if e.key.Value == key {
			return e.value, true
		}
	}
	return value{}, false
}

// require reports the keys that are absent or empty.
func (f fields) require(keys ...string) {
	if f.wrong {
		return
	}
	for _, key := range keys {
		if v, ok := f.get(key); !ok || v.shape == empty || v.shape == scalar && strings.TrimSpace(v.text.Value) == "" {
			at := f.at
			if ok {
				at = v.text.Place()
			}
			f.diags.Add(diag.New(diag.MissingKey, at, "%s needs %q", f.what, key))
		}
	}
}

// text is a scalar's content without surrounding white space; zero when the
// key is absent or empty.
func (f fields) text(key string) Text {
	v, ok := f.get(key)
	if !ok || v.shape == empty {
		return Text{}
	}
	if v.shape != scalar {
		f.misshapen(key, v, "a single value")
		return Text{}
	}
	t := v.text.Trimmed()
	if t.Value == "" {
		return Text{}
	}
	return t
}

// texts is a list of scalars; a single scalar counts as a list of one.
func (f fields) texts(key string) []Text {
	v, ok := f.get(key)
	if !ok || v.shape == empty {
		return nil
	}
	if v.shape == scalar {
		return []Text{v.text.Trimmed()}
	}
	if v.shape != sequence {
		f.misshapen(key, v, "a list")
		return nil
	}
	var out []Text
	for _, item := range v.items {
		if item.shape != scalar {
			f.misshapen(key, item, "a single value in the list")
			continue
		}
		out = append(out, item.text.Trimmed())
	}
	return out
}

// list is a list of anything.
func (f fields) list(key string) []value {
	v, ok := f.get(key)
	if !ok || v.shape == empty {
		return nil
	}
	if v.shape != sequence {
		f.misshapen(key, v, "a list")
		return nil
	}
	return v.items
}

// entries are the pairs of a mapping.
func (f fields) entries(key string) []entry {
	v, ok := f.get(key)
	if !ok || v.shape == empty {
		return nil
	}
	if v.shape != mapping {
		f.diags.Add(diag.New(diag.WrongType, v.text.Place(), "%q of %s must be a set of keys, not %s", key, f.what, v.shape).
			Suggesting("write one row for each below %s:, indented, such as%s", key, rowOf[key]))
		return nil
	}
	return v.entries
}

// rowOf is an example of a row of each of the front matter's sets of keys.
var rowOf = map[string]string{
	"compounds": " solvent: CCC(C)=O", "ideas": " acylium: Ketones break next to the carbonyl carbon.", "hooks": " acylium: A ketone snaps at the elbow.",
	"instruments": " bench: { radius: 25 cm, voltage: 4 kV }", "glossary": " base peak: the strongest peak", "audiences": " organic: first-year students",
	"lessons": " 1-isotopes: what it is about",
}

// number is a plain finite number of at least 0, 0 when absent.
func (f fields) number(key string) float64 {
	t := f.text(key)
	if t.IsZero() {
		return 0
	}
	n, err := strconv.ParseFloat(t.Value, 64)
	if err != nil || math.IsNaN(n) || math.IsInf(n, 0) || n < 0 {
		f.diags.Add(diag.New(diag.WrongType, t.Place(), "%q of %s must be a number of at least 0, not %q", key, f.what, t.Value))
		return 0
	}
	return n
}

// truth is yes or no, false when absent.
func (f fields) truth(key string) bool {
	t := f.text(key)
	switch t.Value {
	case "yes", "true":
		return true
	case "", "no", "false":
		return false
	}
	f.diags.Add(diag.New(diag.WrongType, t.Place(), "%q of %s must be yes or no, not %q", key, f.what, t.Value))
	return false
}

// quantity is a positive number with one of the units, given with their size
// in the base unit; 0 when absent.
func (f fields) quantity(key string, units []unit) float64 {
	t := f.text(key)
	if t.IsZero() {
		return 0
	}
	number, name, _ := strings.Cut(t.Value, " ")
	var names []string
	for _, u := range units {
		if u.name == strings.TrimSpace(name) {
			n, err := strconv.ParseFloat(number, 64)
			if err == nil && n > 0 && !math.IsInf(n, 0) {
				return n * u.size
			}
		}
		names = append(names, u.name)
	}
	f.diags.Add(diag.New(diag.WrongType, t.Place(), "%q of %s must be a positive number and a unit, not %q", key, f.what, t.Value).
		Suggesting("write for example %q; the units are %s", "1 "+names[0], strings.Join(names, ", ")))
	return 0
}

type unit struct {
	name string
	size float64
}

var (
	lengths  = []unit{{"m", 1}, {"cm", 1e-2}, {"mm", 1e-3}}
	voltages = []unit{{"V", 1}, {"kV", 1e3}}
)

func (f fields) misshapen(key string, v value, want string) {
	f.diags.Add(diag.New(diag.WrongType, v.text.Place(), "%q of %s must be %s, not %s", key, f.what, want, v.shape))
}
