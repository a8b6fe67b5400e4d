package smiles

import "fmt"

// Error says why a SMILES can't be read, and where.
type Error struct {
	SMILES  string // the text, as given
	Offset  int    // in bytes from the start of SMILES, 0-based
	Token   string // the character, atom or bond that is wrong, "" where it is the whole
	Problem string // what is wrong
	Hint    string // what to do, "" where nothing is to be said
}

// Position is where the error is, as 1-based character position.
func (e *Error) Position() int { return e.Offset + 1 }

// Error gives position, the token and the problem; the hint follows on a line
// of its own.
func (e *Error) Error() string {
	text := e.SMILES
	if len(text) > maxQuoted {
		text = text[:maxQuoted] + "..."
	}
	at := ""
	if e.Token != "" {
		at = fmt.Sprintf("at character %d, %q: ", e.Position(), e.Token)
	}
	message := fmt.Sprintf("reading SMILES %q: %s%s", text, at, e.Problem)
	if e.Hint != "" {
		message += "\nhint: " + e.Hint
	}
	return message
}

// maxQuoted bounds how much of the text an error quotes, in bytes.
const maxQuoted = 80
