package draw

// Placed returns the items scaled by the factor and then moved, as new values;
// items stays as it was. Line widths, dashes and text sizes are scaled too.
// scale must be positive.
func Placed(items []Item, scale, dx, dy float64) []Item {
	move := func(p Point) Point { return Point{p.X*scale + dx, p.Y*scale + dy} }
	out := make([]Item, 0, len(items))
	for _, item := range items {
		switch it := item.(type) {
		case *Group:
			g := *it
			g.Items = Placed(it.Items, scale, dx, dy)
			out = append(out, &g)
		case Path:
			p := it
			p.Segments = make([]Segment, len(it.Segments))
			for i, s := range it.Segments {
				p.Segments[i] = Segment{s.Op, [3]Point{move(s.P[0]), move(s.P[1]), move(s.P[2])}}
			}
			p.Stroke.Width *= scale
			p.Stroke.Dash = nil
			for _, d := range it.Stroke.Dash {
				p.Stroke.Dash = append(p.Stroke.Dash, d*scale)
			}
			out = append(out, p)
		case Text:
			t := it
			t.At = move(it.At)
			t.Size *= scale
			out = append(out, t)
		}
	}
	return out
}
