package draw

// Figure is a drawing with the words that stand for it where it can't be
// seen. They are computed from the same values as the drawing.
type Figure struct {
	Scene       Scene
	Title       string // names the figure
	Description string // one sentence: what the drawing shows
	Detail      string // further sentences; may be empty
	Table       Table  // the data behind the drawing; may be empty
}

// Table is a figure's data in words, for a reader, a screen reader or a
// spreadsheet.
type Table struct {
	Caption string
	Columns []string
	Rows    [][]string // each as long as Columns
}
