// Package draw is the scene: a drawing as a plain value, and the few methods
// that render it.
//
// A [Scene] is a tree of paths and texts in absolute coordinates (x to the
// right, y down, in CSS pixels of 1/96 inch). Colours are roles ([Ink],
// [Muted], [Accent] ...) that a [Palette] fills in when the scene is rendered,
// so one scene prints, projects and shows on a dark page. A [Figure] is a
// scene with its words: title, description and data table, computed from the
// same values by whoever made the scene.
//
// For most uses make a Figure with one of the rooms below (draw/plot,
// draw/structure, draw/apparatus) and write it with draw/svg. The package
// knows no file format.
package draw

// Point is a place in the scene, in pixels, y down.
type Point struct{ X, Y float64 }

// Item is a part of a scene: *Group, Path or Text.
type Item interface{ item() }

// Scene is a drawing.
type Scene struct {
	Width, Height float64 // canvas in pixels
	Items         []Item  // painted in order
}

// Group is a part of a drawing with a name, so that it can be found again:
// by a test, a style sheet, or a pointer hovering over it.
type Group struct {
	ID    string // unique in the scene, or empty; letters, digits and hyphens
	Class string // what sort of part it is, such as "peak"
	Title string // one phrase about it, shown by a browser on hovering; may be empty
	Items []Item
}

func (*Group) item() {}

// Add appends items.
func (g *Group) Add(items ...Item) { g.Items = append(g.Items, items...) }

// Path is a line or an area.
type Path struct {
	Segments []Segment
	Fill     Role // NoRole: not filled
	Stroke   Stroke
}

func (Path) item() {}

// Stroke is how a path's line is drawn. The zero Stroke draws none.
type Stroke struct {
	Role  Role
	Width float64   // pixels
	Dash  []float64 // lengths of dashes and gaps in pixels; nil: solid
	Round bool      // round ends and joins instead of butt ends and mitred joins
}

// Op is what a segment of a path does.
type Op uint8

// The segments there are. P holds their points in the order given here.
const (
	Move  Op = iota // to P[0]
	Line            // to P[0]
	Cubic           // Bézier curve with control points P[0], P[1], to P[2]
	Close           // straight back to the last Move
)

// Segment is one step of a path.
type Segment struct {
	Op Op
	P  [3]Point
}

// Anchor says which part of a text stands at its point.
type Anchor uint8

// The anchors there are.
const (
	Start Anchor = iota
	Middle
	End
)

// Text is a line of text.
type Text struct {
	At     Point  // on the baseline
	Anchor Anchor // which part of the line stands at At
	Size   float64
	Role   Role
	Halo   Role    // outlined with this, so that lines behind don't cut the letters; NoRole: no outline
	Angle  float64 // degrees, clockwise, about At
	Runs   []Run
}

func (Text) item() {}

// Run is a part of a text in one style.
type Run struct {
	Text   string
	Italic bool
	Bold   bool
	Script Script
}

// Script raises or lowers a run.
type Script int8

// The scripts there are.
const (
	Sub    Script = -1
	Normal Script = 0
	Super  Script = 1
)

// Walk calls visit for every item of the scene, groups before what they hold;
// within is the chain of groups around it, outermost first.
func (s Scene) Walk(visit func(item Item, within []*Group)) {
	var walk func(items []Item, within []*Group)
	walk = func(items []Item, within []*Group) {
		for _, item := range items {
			visit(item, within)
			if g, ok := item.(*Group); ok {
				walk(g.Items, append(within[:len(within):len(within)], g))
			}
		}
	}
	walk(s.Items, nil)
}
