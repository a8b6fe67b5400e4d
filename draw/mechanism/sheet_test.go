package mechanism

import (
	"flag"
	"os"
	"testing"

	"ionwright/draw"
	"ionwright/draw/png"
	"ionwright/internal/textbook"
)

var sheetFile = flag.String("sheet", "", "draw all textbook routes into this `FILE`, as PNG, to be looked at")

// TestSheet puts every textbook route on one sheet, three columns wide, and
// writes it where -sheet says. That each has its own room is tested.
func TestSheet(t *testing.T) {
	rows := textbook.Rows()
	if testing.Short() {
		rows = rows[:2]
	}
	const column, most = 640.0, 18
	var sheet draw.Scene
	x, y := 0.0, 0.0
	for i, row := range rows {
		f, err := Peak(predict(t, row.SMILES), row.MZ, Options{Name: row.Compound, Width: column})
		if err != nil {
			t.Fatal(err)
		}
		if i > 0 && i%most == 0 {
			x, y = x+column, 0
		}
		if f.Scene.Width > column {
			t.Errorf("%s, m/z %d: %g pixels wide, and a column has %g", row.Compound, row.MZ, f.Scene.Width, column)
		}
		sheet.Items = append(sheet.Items, draw.Text{At: draw.Point{X: x + 8, Y: y + 16}, Size: 13, Role: draw.Muted, Runs: draw.Plain(f.Title)})
		sheet.Items = append(sheet.Items, draw.Placed(f.Scene.Items, 1, x, y+18)...)
		y += f.Scene.Height + 26
		sheet.Width, sheet.Height = max(sheet.Width, x+column), max(sheet.Height, y)
	}
	if *sheetFile == "" {
		return
	}
	out, err := os.Create(*sheetFile)
	if err != nil {
		t.Fatal(err)
	}
	defer out.Close()
	if err := png.Write(out, draw.Figure{Scene: sheet}, png.Options{}); err != nil {
		t.Fatal(err)
	}
}
