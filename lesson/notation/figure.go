package notation

import (
	"slices"

	"ionwright/draw"
)

// Figure writes a figure's labels and words in the profile. The figure that was
// given stays as it is.
func (p Profile) Figure(f draw.Figure) draw.Figure {
	if len(p.words) == 0 && !p.Brackets && !p.NoDot {
		return f
	}
	f.Scene.Items = p.items(f.Scene.Items)
	f.Title, f.Description, f.Detail = p.Text(f.Title), p.Text(f.Description), p.Text(f.Detail)
	f.Table.Caption = p.Text(f.Table.Caption)
	f.Table.Columns = p.texts(f.Table.Columns)
	rows := make([][]string, len(f.Table.Rows))
	for i, row := range f.Table.Rows {
		rows[i] = p.texts(row)
	}
	f.Table.Rows = rows
	return f
}

func (p Profile) texts(all []string) []string {
	out := make([]string, len(all))
	for i, s := range all {
		out[i] = p.Text(s)
	}
	return out
}

func (p Profile) items(all []draw.Item) []draw.Item {
	out := make([]draw.Item, len(all))
	for i, item := range all {
		switch item := item.(type) {
		case *draw.Group:
			g := *item
			g.Title, g.Items = p.Text(g.Title), p.items(g.Items)
			out[i] = &g
		case draw.Text:
			item.Runs = p.Runs(item.Runs)
			out[i] = item
		default:
			out[i] = item
		}
	}
	return out
}

// Runs writes a label in the profile.
func (p Profile) Runs(runs []draw.Run) []draw.Run {
	out := slices.Clone(runs)
	for i := range out {
		if i+1 < len(out) && p.Brackets && out[i].Text == "M" && out[i+1].Script == draw.Super && out[i+1].Text == "+•" {
			out[i].Text = "[M]"
		}
		switch {
		case out[i].Script == draw.Normal:
			out[i].Text = p.Text(out[i].Text)
		case p.NoDot && out[i].Script == draw.Super && out[i].Text == "+•":
			out[i].Text = "+"
		}
	}
	if p.NoDot {
		out = slices.DeleteFunc(out, func(r draw.Run) bool { return r.Script == draw.Super && r.Text == "•" })
	}
	return out
}
