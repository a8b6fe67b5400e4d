package draw

import "math"

// Box is an upright rectangle in pixels, y down. The zero Box is the point at
// the origin; start a union with NoBox.
type Box struct{ Left, Top, Right, Bottom float64 }

// NoBox returns the empty box: the union of it and any box is that box.
func NoBox() Box {
	return Box{math.Inf(1), math.Inf(1), math.Inf(-1), math.Inf(-1)}
}

// Empty reports whether the box holds no point.
func (b Box) Empty() bool { return b.Left > b.Right || b.Top > b.Bottom }

// Width and Height are the box's sides; those of an empty box are negative.
func (b Box) Width() float64  { return b.Right - b.Left }
func (b Box) Height() float64 { return b.Bottom - b.Top }

// Center is the middle of the box.
func (b Box) Center() Point { return Point{(b.Left + b.Right) / 2, (b.Top + b.Bottom) / 2} }

// Union is the smallest box around both.
func (b Box) Union(c Box) Box {
	return Box{min(b.Left, c.Left), min(b.Top, c.Top), max(b.Right, c.Right), max(b.Bottom, c.Bottom)}
}

// Include is the smallest box around b and the point.
func (b Box) Include(p Point) Box { return b.Union(Box{p.X, p.Y, p.X, p.Y}) }

// Overlaps reports whether the insides of the boxes meet; boxes that only
// touch don't.
func (b Box) Overlaps(c Box) bool {
	return b.Left < c.Right && c.Left < b.Right && b.Top < c.Bottom && c.Top < b.Bottom
}

// Contains reports whether c lies wholly in b.
func (b Box) Contains(c Box) bool {
	return b.Left <= c.Left && c.Right <= b.Right && b.Top <= c.Top && c.Bottom <= b.Bottom
}

// Grow is the box with each side moved outward by d, inward if d is negative.
func (b Box) Grow(d float64) Box {
	return Box{b.Left - d, b.Top - d, b.Right + d, b.Bottom + d}
}

// CrossedBy reports whether the segment from p to q passes through the inside
// of the box.
func (b Box) CrossedBy(p, q Point) bool {
	// Liang and Barsky's clipping (1984): the part of the segment, as a range
	// of its parameter, that is inside all four sides.
	from, to := 0.0, 1.0
	dx, dy := q.X-p.X, q.Y-p.Y
	for _, side := range [4][2]float64{
		{-dx, p.X - b.Left}, {dx, b.Right - p.X},
		{-dy, p.Y - b.Top}, {dy, b.Bottom - p.Y},
	} {
		slope, room := side[0], side[1]
		if slope == 0 {
			if room <= 0 {
				return false
			}
			continue
		}
		if t := room / slope; slope < 0 {
			from = max(from, t)
		} else {
			to = min(to, t)
		}
	}
	return from < to
}

// Bounds is the extent of an item's ink: of lines with their width, of text
// as its line box.
func Bounds(item Item) Box {
	switch it := item.(type) {
	case *Group:
		b := NoBox()
		for _, child := range it.Items {
			b = b.Union(Bounds(child))
		}
		return b
	case Path:
		b := NoBox()
		for _, part := range it.Flatten(0.05) {
			for _, p := range part {
				b = b.Include(p)
			}
		}
		if it.Stroke.Role != NoRole && !b.Empty() {
			b = b.Grow(it.Stroke.Width / 2)
		}
		return b
	case Text:
		return it.Bounds()
	}
	return NoBox()
}

// Bounds is the extent of all items, which may be outside the canvas.
func (s Scene) Bounds() Box {
	b := NoBox()
	for _, item := range s.Items {
		b = b.Union(Bounds(item))
	}
	return b
}
