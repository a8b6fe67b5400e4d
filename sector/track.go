package sector

import "math"

// Track is a path through the magnet whose field falls off smoothly at its
// edges, followed step by step.
type Track struct {
	Points  []Point // from source to collector plane
	Beside  Metre   // where it crosses the collector plane, outward of the central path
	Energy  float64 // kinetic energy at the end over that at the start: 1, but for the error of the integration
	Reached bool    // it crossed the collector plane
}

// Point is a point in the plane of the beam in m: the magnet's center of bend
// is at (0, 0), the central path enters the magnet at (Radius, 0) along +y and
// bends to the left.
type Point struct {
	X float64 `json:"x"`
	Y float64 `json:"y"`
}

// fall is how the field falls off at an edge: from nine tenths to one tenth
// over a gap, by 1 / (1 + exp(s / length)), s beyond the effective edge. It is
// a simple model (common practice, no source); the effective edges are those
// that Before, After and the faces are measured to.
const fall = 4.394449154672439 // 2 ln 9

// Follow follows an ion through the smooth field by numerical integration: an
// ion with m/z mz that leaves the source slit x outward of its middle with the
// given slope, in the field b of the magnet. Steps are so small that each adds
// an error of at most tolerance (in radii; 1e-12 to 1e-3). It fails for an
// instrument with an electric sector, whose edges are sharp here.
func (i Instrument) Follow(mz float64, b Tesla, x Metre, slope Radian, tolerance float64) (Track, error) {
	if err := i.Check(); err != nil {
		return Track{}, err
	}
	center, err := i.MZ(b)
	if err != nil {
		return Track{}, err
	}
	if err := check(massToCharge(mz)); err != nil {
		return Track{}, err
	}
	if i.Electric != nil {
		return Track{}, &SettingError{"radius of the electric sector", float64(i.Electric.Radius), "m", "step-by-step paths are computed for the magnet alone; take the electric sector out"}
	}
	if !(tolerance >= 1e-14 && tolerance <= 1e-3) {
		return Track{}, &SettingError{"tolerance", tolerance, "", "expected 1e-12 to 1e-3"}
	}
	o, err := i.optics()
	if err != nil {
		return Track{}, err
	}
	return i.follow(math.Sqrt(mz/center), float64(x), float64(slope), o.after, tolerance)
}

// follow integrates in units of the radius. The state is position and
// direction; the field turns the direction without changing its length, which
// is the speed.
func (i Instrument) follow(momentum, x, slope, after, tolerance float64) (Track, error) {
	r := float64(i.Radius)
	m := i.magnet()
	length := float64(i.Gap) / fall / r
	profile := func(at vec) float64 {
		inside := func(point, normal vec) float64 {
			s := at.minus(point.times(1 / r)).dot(normal)
			if length == 0 {
				if s > 0 {
					return 0
				}
				return 1
			}
			return 1 / (1 + math.Exp(s/length))
		}
		entry := inside(vec{r, 0}, m.entryNormal)
		if m.angle == math.Pi {
			return entry // both edges are one
		}
		return entry * inside(m.exit, m.exitNormal)
	}
	path := func(_ float64, y state) state {
		along := vec{y[2], y[3]}
		turn := along.left().times(profile(vec{y[0], y[1]}) / momentum)
		return state{along.x, along.y, turn.x, turn.y}
	}
	start := vec{1 + x/r, -float64(i.Before) / r}
	direction := heading(vec{0, 1}, math.Atan(slope))
	collector := m.exit.plus(m.along.times(after)).times(1 / r)
	outward := m.exit.times(1 / m.r)
	var t Track
	t.Points = append(t.Points, Point{start.x * r, start.y * r})
	beyond := func(at vec) float64 { return at.minus(collector).dot(m.along) }
	end := func(_ float64, y state) bool {
		at, along := vec{y[0], y[1]}, vec{y[2], y[3]}
		// The collector plane counts on its own side of the bend.
		t.Reached = beyond(at) >= 0 && at.dot(outward) > 0 && along.dot(m.along) > 0
		if t.Reached {
			at = at.minus(along.times(beyond(at) / along.dot(m.along)))
			t.Beside = Metre(at.minus(collector).dot(outward) * r)
		}
		t.Points = append(t.Points, Point{at.x * r, at.y * r})
		t.Energy = along.dot(along)
		return !t.Reached
	}
	whole := float64(i.Before)/r + after/r + 2*math.Pi
	_, err := integrate(path, 0, whole, state{start.x, start.y, direction.x, direction.y}, tolerance, end)
	return t, err
}
