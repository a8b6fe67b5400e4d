package mark

import (
	"errors"
	"fmt"
	"strings"

	"ionwright/chem"
	"ionwright/practice"
	"ionwright/practice/answer"
	"ionwright/practice/cause"
)

// number judges a number: unit first, then the value, then the digits.
func number(k practice.Number, a answer.Answer) judgement {
	n, err := answer.ReadNumber(a.Text)
	if err != nil {
		return judgement{unread: "A number is expected here" + withUnit(k.Unit) + "."}
	}
	var j judgement
	x := n.Value
	switch {
	case k.Unit == "" && n.Unit != "" && dimensionless(n.Unit):
	case n.Unit == "" && k.Unit != "":
		if k.Units == practice.UnitRequired {
			j.slips = append(j.slips, practice.SlipUnit)
		}
	case n.Unit != "" && k.Unit == "":
		j.reasons = append(j.reasons, fmt.Sprintf("This number has no unit; you wrote %q.", cut(n.Unit)))
	default:
		converted, ok := n.In(k.Unit)
		if !ok {
			j.given = cause.Given{Number: &x}
			j.reasons = []string{fmt.Sprintf("The unit %q isn't one of this quantity; write it in %s.", cut(n.Unit), k.Unit)}
			j.found = unitSlip()
			return j
		}
		x = converted
	}
	j.given = cause.Given{Number: &x}
	if !near(k.Value, x, k.Tolerance) {
		j.slips = nil
		if d := max(x-k.Value, k.Value-x); k.Tolerance > 0 && d <= 3*k.Tolerance {
			j.reasons = append(j.reasons, "This is close, but outside the accepted range: check the last digits and where you rounded.")
		}
		return j
	}
	j.share = 1
	if k.Digits > 0 && (k.Digits < n.Least || k.Digits > n.Most) {
		j.slips = append(j.slips, practice.SlipDigits)
	}
	for _, s := range j.slips {
		switch s {
		case practice.SlipUnit:
			j.reasons = append(j.reasons, fmt.Sprintf("The value is right, but its unit is missing: %s.", k.Unit))
		case practice.SlipDigits:
			j.reasons = append(j.reasons, fmt.Sprintf("The value is right, but it is asked for in %s.", digits(k.Digits)))
		}
	}
	return j
}

func digits(n int) string {
	if n == 1 {
		return "one significant digit"
	}
	return fmt.Sprintf("%d significant digits", n)
}

// dimensionless are words that go with m/z and with plain numbers and say
// nothing wrong.
func dimensionless(unit string) bool {
	switch strings.Trim(strings.ToLower(unit), ". ") {
	case "m/z", "atoms", "atom", "carbons", "carbon atoms", "c", "n":
		return true
	}
	return false
}

func unitSlip() []cause.Found {
	c, _ := cause.Named(cause.UnitSlip)
	return []cause.Found{{Cause: c}}
}

// formula judges a formula: composition and charge, then the dot.
func formula(k practice.Formula, facts cause.Facts, a answer.Answer) judgement {
	f, err := answer.ReadFormula(a.Text)
	if err != nil {
		reason := "A formula is expected here, such as C2H3O+."
		var parse *chem.ParseError
		if errors.As(err, &parse) {
			reason = sentence("this can't be read as a formula: "+parse.Reason) + " Write it like C2H3O+."
		}
		return judgement{unread: reason}
	}
	j := judgement{given: cause.Given{Formula: &f, Words: answer.Words(a.Text)}}
	if z := k.Formula.Charge(); f.Charge() == 0 && z != 0 && f.WithCharge(z) != k.Formula {
		// What else is wrong is looked for as if the charge were there.
		f.Formula = f.WithCharge(z)
		j.reasons = []string{"The charge is missing, and the atoms aren't right either."}
		return j
	}
	switch {
	case f.Heavy > 0:
		j.reasons = []string{fmt.Sprintf("No atom in %q has the mass number %d.", cut(a.Text), f.Heavy)}
		if c, ok := cause.Named(cause.MassNumberPlace); ok {
			j.found = []cause.Found{{Cause: c}}
		}
		return j
	case f.Formula == k.Formula:
		if k.Dot && f.OddElectron() && !f.Dot {
			j.reasons = []string{"The ion is right, but its unpaired electron is missing: write the dot."}
			j.slips = []cause.Code{practice.SlipDot}
		}
		if f.Dot && !f.OddElectron() {
			j.reasons = []string{"The ion is right, but it has no unpaired electron: leave the dot out."}
			j.slips = []cause.Code{practice.SlipDot}
		}
		j.share = 1
		return j
	case f.Natural() == k.Formula.Natural() && f.Formula != k.Formula && k.Formula != k.Formula.Natural():
		j.reasons = []string{"The elements are right; the mass numbers of the isotopes aren't."}
	case f.WithCharge(0) == k.Formula.WithCharge(0) && f.Charge() != 0:
		j.reasons = []string{fmt.Sprintf("The atoms are right; the charge isn't: you wrote %s.", charged(f.Charge()))}
	case f.NominalMass() != k.Formula.NominalMass():
		j.otherwise = []string{fmt.Sprintf("%s weighs %d, and what is asked for weighs %d.", f.Unicode(), f.NominalMass(), k.Formula.NominalMass())}
	}
	return j
}

func charged(z int) string {
	sign := "+"
	if z < 0 {
		sign, z = "−", -z
	}
	if z == 1 {
		return sign
	}
	return fmt.Sprintf("%d%s", z, sign)
}

// cut is a student's text, short enough to be repeated.
func cut(s string) string {
	const most = 40
	runes := []rune(strings.ToValidUTF8(strings.TrimSpace(s), "?"))
	if len(runes) > most {
		return string(runes[:most]) + "…"
	}
	return string(runes)
}

func withUnit(unit string) string {
	if unit == "" {
		return ""
	}
	return ", with the unit " + unit
}
