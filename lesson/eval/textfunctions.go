package eval

import (
	"fmt"
	"slices"

	"ionwright/lesson/diag"
)

// textFunctions refer to other parts of the lesson.
var textFunctions = []Function{
	{
		Name: "figure", Forms: []Form{{{"id", "text"}}}, Result: "text", Kind: FigureRef,
		Doc:     "The number of a figure or sweep, with a link to it: \"Figure 2\". Every figure must be referred to in this way.",
		Example: `figure("spectrum3")`, Prints: "Figure\u00a03",
		bind: func(r *run, a args) (any, error) {
			id := a.text(0)
			n, ok := r.figureNumbers[id]
			if !ok {
				ids := make([]string, 0, len(r.figureNumbers))
				for known := range r.figureNumbers {
					ids = append(ids, known)
				}
				slices.Sort(ids)
				f := &failure{code: diag.UnknownName, message: fmt.Sprintf("there is no figure %q", id)}
				if near, ok := diag.Nearest(id, ids); ok {
					f.suggestion = fmt.Sprintf("did you mean %q?", near)
				} else {
					f.suggestion = "the figures are " + diag.Quoted(ids, 60)
				}
				return nil, f
			}
			r.figures = append(r.figures, id)
			return fmt.Sprintf("Figure\u00a0%d", n), nil
		},
	},
}
