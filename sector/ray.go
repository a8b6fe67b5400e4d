package sector

// Ray is the path of one ion through the instrument, for drawing.
type Ray struct {
	Points Polyline `json:"points"` // in the frame of Layout, from the source slit to where the path ends
	End    End      `json:"end"`
	Inner  bool     `json:"inner"`  // it ends inward of the central path: the ion bends more
	Beside Metre    `json:"beside"` // at the collector plane, outward of the central path; only where the ion gets there
}

// End tells where a path ends.
type End uint8

// The ends of a path.
const (
	Collected   End = iota // it gets through the collector slit
	SlitPlate              // it hits the plate beside the collector slit
	ChamberWall            // it hits the wall of the flight tube
	Plates                 // it hits a plate of the electric sector
	Turned                 // it circles in the field, or leaves it where it came in
)

// MarshalText writes the end as String does.
func (e End) MarshalText() ([]byte, error) { return []byte(e.String()), nil }

// String returns where the path ends in words.
func (e End) String() string {
	switch e {
	case Collected:
		return "through the collector slit"
	case SlitPlate:
		return "on the plate beside the collector slit"
	case ChamberWall:
		return "on the wall of the flight tube"
	case Plates:
		return "on a plate of the electric sector"
	case Turned:
		return "turned back in the field"
	}
	return "unknown"
}

// Ray returns the path of an ion with m/z mz in the field b that leaves the
// source slit x outward of its middle with the given slope, by closed forms with
// sharp field edges. Arcs are drawn with a point every three degrees.
func (i Instrument) Ray(mz float64, b Tesla, x Metre, slope Radian) (Ray, error) {
	t, err := i.tracer(b)
	if err != nil {
		return Ray{}, err
	}
	if err := check(massToCharge(mz)); err != nil {
		return Ray{}, err
	}
	return t.ray(mz, t.front(float64(x), float64(slope))), nil
}

// Fan returns the paths of one ion kind from the middle of the source slit over
// the divergence of the beam, n of them, evenly spread; one is the middle one.
func (i Instrument) Fan(mz float64, b Tesla, n int) ([]Ray, error) {
	t, err := i.tracer(b)
	if err != nil {
		return nil, err
	}
	if err := check(massToCharge(mz), quantity{"number of rays", float64(n), "", "expected one or more"}); err != nil {
		return nil, err
	}
	return t.rays(mz, t.fronts(n)), nil
}
