package smarts

// An instruction tests one literal or one environment of an atom and says
// where to go on.
type instruction struct {
	lit     literal
	test    int32 // index of an environment, or testPlain or testSize for lit
	yes, no int32 // the next instruction, or accept or reject
}

const (
	testPlain = -1 // a literal that is plain
	testSize  = -2 // one that isn't

	accept = -1
	reject = -2
)

// A program is a decision graph for the atom expressions of one pattern:
// every path through it ends at accept or reject, and tests each literal at
// most once.
type program []instruction

// add appends the code of an expression in normal form and returns where it
// starts. It goes to the instruction onYes where the expression holds and to
// onNo where it doesn't.
func (code *program) add(e *expr, onYes, onNo int32) int32 {
	switch e.op {
	case opLiteral:
		if e.lit == (literal{}) {
			return onYes
		}
		test := int32(testPlain)
		if !e.lit.plain() {
			test = testSize
		}
		*code = append(*code, instruction{e.lit, test, onYes, onNo})
		return int32(len(*code) - 1)
	case opRecursive:
		*code = append(*code, instruction{literal{}, int32(e.rec), onYes, onNo})
		return int32(len(*code) - 1)
	case opNot:
		return code.add(e.kids[0], onNo, onYes)
	}
	entry := onYes
	if e.op == opOr {
		entry = onNo
	}
	for i := len(e.kids) - 1; i >= 0; i-- {
		if e.op == opAnd {
			entry = code.add(e.kids[i], entry, onNo)
		} else {
			entry = code.add(e.kids[i], onYes, entry)
		}
	}
	return entry
}
