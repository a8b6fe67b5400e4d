package draw

// Renderer paints the items of a scene. Colours come as roles; the renderer
// holds the palette. Render calls the methods in the scene's order.
type Renderer interface {
	BeginGroup(g *Group)
	EndGroup(g *Group)
	Path(p Path)
	Text(t Text)
}

// Render paints every item of the scene.
func (s Scene) Render(r Renderer) { renderItems(s.Items, r) }

func renderItems(items []Item, r Renderer) {
	for _, item := range items {
		switch it := item.(type) {
		case *Group:
			r.BeginGroup(it)
			renderItems(it.Items, r)
			r.EndGroup(it)
		case Path:
			r.Path(it)
		case Text:
			r.Text(it)
		}
	}
}
