package source

import "slices"

// BlockForm is a fenced block that means something in a lesson: the word after
// the fence and the keys that it can have.
type BlockForm struct {
	Word string
	Keys []string
}

// Blocks lists the fenced blocks, for an editor that completes them.
func Blocks() []BlockForm {
	var out []BlockForm
	for _, b := range blockForms() {
		out = append(out, BlockForm{b.word, slices.Clone(b.keys)})
	}
	return out
}
