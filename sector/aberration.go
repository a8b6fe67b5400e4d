package sector

// Aberration returns the coefficient of the second-order image error of the
// slope, in m: a ray from the middle of the source slit with slope a arrives
// Aberration a^2 beside the one with slope 0, out of focus aside. Negative is
// inward. For a symmetric instrument with normal entry and exit it is minus the
// radius (W. E. Stephens, Phys. Rev. 45 (1934) 513, from memory), so that a beam of
// half-angle alpha makes the image wider by r alpha^2.
//
// It comes from exact paths with sharp field edges, by differences.
func (i Instrument) Aberration() (Metre, error) {
	if err := i.Check(); err != nil {
		return 0, err
	}
	o, err := i.optics()
	if err != nil {
		return 0, err
	}
	a, err := i.aberration(o)
	return Metre(a), err
}

func (i Instrument) aberration(o optics) (float64, error) {
	curvature := func(slope float64) (float64, bool) {
		middle, ok0 := i.fly(newRay(0, 0, 1, 0), o.after)
		left, ok1 := i.fly(newRay(0, slope, 1, 0), o.after)
		right, ok2 := i.fly(newRay(0, -slope, 1, 0), o.after)
		return (left.x + right.x - 2*middle.x) / (2 * slope * slope), ok0 && ok1 && ok2
	}
	const slope = 1e-3
	coarse, ok1 := curvature(2 * slope)
	fine, ok2 := curvature(slope)
	if !ok1 || !ok2 {
		return 0, &SettingError{"magnet angle", i.bend(), "rad", "rays beside the central path don't get through the magnet with these tilts of its faces"}
	}
	return (4*fine - coarse) / 3, nil // the error is of order slope^4
}
