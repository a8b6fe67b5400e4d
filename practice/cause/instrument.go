package cause

import (
	"slices"
)

// instrumentCauses are wrong rules about what the instrument does.
var instrumentCauses = []Cause{
	{
		Code: BendingOrder, Title: "the wrong ion is said to bend more",
		Rule:   "The heavier ion, or the one with the smaller charge, is bent more.",
		Remedy: "At one accelerating voltage the radius grows with the square root of m/z: of two ions the one with the smaller m/z is bent more, and a second charge halves m/z.",
		Source: "EDX, mark scheme's reject list (O2+ more deflected than O2 2+)",
		leads: func(f Facts) []Mistake {
			if f.Asks != Bending || len(f.Flying) < 2 {
				return nil
			}
			right := f.bent(func(a Flier) float64 { return a.Mass / float64(max(a.Charge, 1)) })
			var out []Mistake
			add := func(order []string, why string) {
				if !slices.Equal(order, right) && !slices.ContainsFunc(out, func(m Mistake) bool { return slices.Equal(m.List, order) }) {
					out = append(out, Mistake{List: order, Because: why})
				}
			}
			turned := slices.Clone(right)
			slices.Reverse(turned)
			add(f.bent(func(a Flier) float64 { return a.Mass }), "the charges were left out")
			add(f.bent(func(a Flier) float64 { return -a.Mass }), "the heavier ions were put first")
			add(turned, "the order is turned round")
			return out
		},
	}, {
		Code: BendingCause, Title: "something else than the magnetic field is said to bend the ions",
		Rule:   "Ions fall, or are pulled by plates, or are stopped by what is left of the air.",
		Remedy: "In the magnet only the magnetic field acts, across the path and across the field; gravity is far too weak, and the accelerating voltage ends before.",
		Source: "EDX, mark scheme's reject list (gravity, electric field, vacuum)",
		leads: func(f Facts) []Mistake {
			if f.Asks != Bending {
				return nil
			}
			var out []Mistake
			for _, w := range []string{"gravity", "gravitational", "electric field", "electrical field", "vacuum", "air resistance", "collisions"} {
				out = append(out, Mistake{Words: w, Because: w + " isn't what bends the path here"})
			}
			return out
		},
	}, {
		Code: UnitSlip, Title: "a unit or a step of the rearrangement slipped",
		Rule:   "The numbers go into the formula as they stand.",
		Remedy: "Write every quantity in SI units first (kg, m, V, C), rearrange with letters, and put numbers in last.",
		Source: "RSC-TOF, quoting examiners' reports",
		leads: func(f Facts) []Mistake {
			if f.Asks != Setting || f.Work == nil {
				return nil
			}
			return f.Work.slips()
		},
	}, {
		Code: ResolutionTerm, Title: "resolving power, peak separation and accuracy are mixed up",
		Rule:   "Resolution is how small a difference, or how exact a mass, the instrument gives.",
		Remedy: "The resolving power is m/Δm: a large number, without unit. Mass accuracy is how far a measured mass is off, often in ppm, and is another thing.",
		Source: "KM-2022; GROSS 3.5",
		leads: func(f Facts) []Mistake {
			if f.Asks != Power {
				return nil
			}
			x, y := float64(f.Ion.MZ()), float64(f.Other.MZ())
			d := abs(x - y)
			if d == 0 {
				return nil
			}
			m := (x + y) / 2
			return []Mistake{
				number(d, 0.02*d, "that is the difference Δm itself"),
				number(d/m, 0.02*d/m, "that is Δm/m, turned round"),
				number(1e6*d/m, 2e4*d/m, "that is the difference in ppm"),
				number(1/d, 0.02/d, "the difference was divided into 1 and not into the mass"),
			}
		},
		fits: func(f Facts, a Given) bool {
			return f.Asks == Power && (says(a, "accuracy") || says(a, "accurate") || says(a, "precision"))
		},
	},
}

// bent is the ions' names, by ascending rank.
func (f Facts) bent(rank func(Flier) float64) []string {
	all := slices.Clone(f.Flying)
	slices.SortStableFunc(all, func(a, b Flier) int {
		switch x, y := rank(a), rank(b); {
		case x < y:
			return -1
		case x > y:
			return 1
		}
		return 0
	})
	var names []string
	for _, a := range all {
		names = append(names, a.Name)
	}
	return names
}
