package pdf

import (
	"bytes"
	"fmt"
	"strconv"
	"strings"
	"unicode/utf16"

	"ionwright/draw"
)

// tagged appends to a document what makes it a tagged one (ISO 32000-1, 14.7
// and 14.8): a structure tree with an element Figure for each page, which has
// the figure's words as its alternative text. The library writes no structure
// tree, so it comes as an incremental update (7.5.6): new objects, and the
// catalog and the pages again with their references to the tree. The pages'
// contents are marked already.
func tagged(document []byte, figures []draw.Figure) ([]byte, error) {
	offsets, start, err := crossReferences(document)
	if err != nil {
		return nil, err
	}
	u := update{document: bytes.TrimRight(document, "\n"), number: len(offsets), offsets: map[int]int{}}
	u.document = append(u.document, '\n')
	root, tree := 0, len(offsets)
	var pages []int // object numbers
	for n, at := range offsets {
		switch object := document[at:]; {
		case bytes.HasPrefix(object, fmt.Appendf(nil, "%d 0 obj\n<</Type /Page\n", n)):
			pages = append(pages, n)
		case bytes.HasPrefix(object, fmt.Appendf(nil, "%d 0 obj\n<<\n/Type /Catalog\n", n)):
			root = n
		}
	}
	if len(pages) != len(figures) || root == 0 {
		return nil, fmt.Errorf("the document has %d pages for %d figures and its catalog as object %d", len(pages), len(figures), root)
	}
	// Objects of the tree: its root, the document, then a figure for each page.
	element := func(k int) int { return tree + 2 + k }
	var kids, parents []string
	for k := range figures {
		kids = append(kids, fmt.Sprintf("%d 0 R", element(k)))
		parents = append(parents, fmt.Sprintf("%d [%d 0 R]", k, element(k)))
	}
	u.add(tree, fmt.Sprintf("<</Type /StructTreeRoot /K %d 0 R /ParentTree <</Nums [%s]>> /ParentTreeNextKey %d>>", tree+1, strings.Join(parents, " "), len(figures)))
	u.add(tree+1, fmt.Sprintf("<</Type /StructElem /S /Document /P %d 0 R /K [%s]>>", tree, strings.Join(kids, " ")))
	for k, f := range figures {
		u.add(element(k), fmt.Sprintf("<</Type /StructElem /S /Figure /P %d 0 R /Pg %d 0 R /K 0 /T %s /Alt %s /A <</O /Layout /BBox [0 0 %.2f %.2f]>>>>",
			tree+1, pages[k], textString(f.Title), textString(alternative(f)), f.Scene.Width*pointsPerPixel, f.Scene.Height*pointsPerPixel))
	}
	for k, page := range pages {
		if err := u.extend(page, offsets[page], fmt.Sprintf("/StructParents %d /Tabs /S", k)); err != nil {
			return nil, err
		}
	}
	if err := u.extend(root, offsets[root], fmt.Sprintf("/Version /1.7 /MarkInfo <</Marked true>> /StructTreeRoot %d 0 R /ViewerPreferences <</DisplayDocTitle true>>", tree)); err != nil {
		return nil, err
	}
	return u.finish(document, start)
}

// alternative is what stands for a figure where it can't be seen.
func alternative(f draw.Figure) string {
	return strings.TrimSpace(f.Description + " " + f.Detail)
}

// textString is a text as PDF writes it: in ASCII, or else in UTF-16 as
// hexadecimal digits.
func textString(s string) string {
	if !strings.ContainsFunc(s, func(c rune) bool { return c < ' ' || c > '~' }) {
		return "(" + strings.NewReplacer(`\`, `\\`, "(", `\(`, ")", `\)`).Replace(s) + ")"
	}
	var b strings.Builder
	b.WriteString("<FEFF")
	for _, unit := range utf16.Encode([]rune(s)) {
		fmt.Fprintf(&b, "%04X", unit)
	}
	return b.String() + ">"
}

// crossReferences reads where a document's objects stand, by number, and where
// the table that says so does.
func crossReferences(document []byte) (offsets []int, start int, err error) {
	fail := func() ([]int, int, error) {
		return nil, 0, fmt.Errorf("the document's cross-reference table can't be read")
	}
	at := bytes.LastIndex(document, []byte("startxref\n"))
	if at < 0 {
		return fail()
	}
	line, _, _ := bytes.Cut(document[at+len("startxref\n"):], []byte("\n"))
	if start, err = strconv.Atoi(string(line)); err != nil || start < 0 || start >= len(document) {
		return fail()
	}
	var size int
	if _, err := fmt.Sscanf(string(document[start:min(start+40, len(document))]), "xref\n0 %d\n", &size); err != nil {
		return fail()
	}
	rows := bytes.SplitN(document[start:], []byte("\n"), size+3)
	if len(rows) < size+3 {
		return fail()
	}
	for _, row := range rows[2 : size+2] {
		offset, err := strconv.Atoi(string(row[:min(10, len(row))]))
		if err != nil || offset >= len(document) {
			return fail()
		}
		offsets = append(offsets, offset)
	}
	return offsets, start, nil
}

// update is an incremental update in the making.
type update struct {
	document []byte
	number   int         // of objects before
	offsets  map[int]int // of the objects written, by number
}

func (u *update) add(n int, body string) {
	u.offsets[n] = len(u.document)
	u.document = fmt.Appendf(u.document, "%d 0 obj\n%s\nendobj\n", n, body)
}

// extend writes an object, a dictionary at an offset of the document, again
// with more entries.
func (u *update) extend(n, offset int, entries string) error {
	body, _, found := bytes.Cut(u.document[offset:], []byte("\nendobj"))
	_, body, ok := bytes.Cut(body, []byte("obj\n"))
	body, closed := bytes.CutSuffix(body, []byte(">>"))
	if !found || !ok || !closed {
		return fmt.Errorf("object %d of the document is no dictionary", n)
	}
	u.add(n, string(body)+"\n"+entries+">>")
	return nil
}

// finish writes the table of the new objects and the trailer, which refers to
// the table before.
func (u *update) finish(document []byte, start int) ([]byte, error) {
	_, trailer, found := bytes.Cut(document[start:], []byte("trailer\n<<\n"))
	trailer, _, closed := bytes.Cut(trailer, []byte(">>"))
	_, rest, sized := bytes.Cut(trailer, []byte("\n")) // after its size
	if !found || !closed || !sized {
		return nil, fmt.Errorf("the document's trailer can't be read")
	}
	table := len(u.document)
	u.document = append(u.document, "xref\n"...)
	last := u.number
	for n := range u.offsets {
		last = max(last, n+1)
	}
	for n := range last {
		if at, ok := u.offsets[n]; ok {
			u.document = fmt.Appendf(u.document, "%d 1\n%010d 00000 n \n", n, at)
		}
	}
	u.document = fmt.Appendf(u.document, "trailer\n<<\n/Size %d\n%s/Prev %d\n>>\nstartxref\n%d\n%%%%EOF\n", last, rest, start, table)
	return u.document, nil
}
