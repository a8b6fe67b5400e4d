package jcamp

import (
	"fmt"
	"io"
	"strings"
)

// decoder reads a file block by block.
type decoder struct {
	lines     *lineReader
	limits    Limits
	file      File
	points    int      // read so far
	text      int      // bytes of text kept so far
	others    []string // data types of the blocks that were skipped
	doubts    int
	ordinates []ordinate // scratch of readSteps
}

// Decode reads all mass spectra of a JCAMP-DX file with their records, and what
// is doubtful about them as warnings. It fails like Read, but not for a doubt.
// A zero field of limits means the default.
func Decode(r io.Reader, limits Limits) (*File, error) {
	limits = limits.orDefault()
	d := &decoder{lines: newLineReader(r, limits), limits: limits}
	if err := d.readFile(); err != nil {
		return nil, err
	}
	return &d.file, nil
}

func (l Limits) orDefault() Limits {
	pick := func(given, byDefault int) int {
		if given <= 0 {
			return byDefault
		}
		return given
	}
	return Limits{
		LineBytes: pick(l.LineBytes, DefaultLimits.LineBytes),
		Lines:     pick(l.Lines, DefaultLimits.Lines),
		TextBytes: pick(l.TextBytes, DefaultLimits.TextBytes),
		AllText:   pick(l.AllText, DefaultLimits.AllText),
		Points:    pick(l.Points, DefaultLimits.Points),
		Blocks:    pick(l.Blocks, DefaultLimits.Blocks),
	}
}

// warn keeps a warning. A damaged file could have one for each of its lines,
// so it stops at a thousand of either kind.
func (d *decoder) warn(line int, doubt bool, format string, args ...any) {
	const most = 1000
	count := len(d.file.Warnings) - d.doubts
	if doubt {
		count = d.doubts
	}
	if count >= most {
		return
	}
	if doubt {
		d.doubts++
	}
	d.file.Warnings = append(d.file.Warnings, Warning{line, fmt.Sprintf(format, args...), doubt})
}

// readFile reads a file.
//
//	file = block { block }
func (d *decoder) readFile() error {
	for {
		line, err := d.nextLabel("##TITLE=")
		if err != nil {
			return err
		}
		if line == 0 {
			break
		}
		if err := d.readBlock(0); err != nil {
			return err
		}
	}
	if d.lines.latin1 > 0 {
		d.warn(d.lines.latin1, false, "the text isn't UTF-8; it was read as ISO 8859-1")
	}
	if len(d.file.Blocks) > 0 {
		return nil
	}
	if len(d.others) > 0 {
		return &Error{1, fmt.Sprintf("no mass spectrum in the file, only %s; expected ##DATA TYPE= MASS SPECTRUM and a data table", strings.Join(d.others, ", "))}
	}
	return &Error{1, "nothing in the file; expected ##TITLE= as the first record"}
}

// nextLabel goes over blank lines to the next label and returns its line, 0 at
// the end of the file.
func (d *decoder) nextLabel(expected string) (line int, err error) {
	for ; !d.lines.done; d.lines.advance() {
		if d.lines.atLabel() {
			return d.lines.number, nil
		}
		if text := strings.TrimSpace(decodeText(d.lines.line)); text != "" {
			return 0, &Error{d.lines.number, fmt.Sprintf("expected %s here, not %q", expected, clip(text))}
		}
	}
	return 0, d.lines.err
}

// readBlock reads a block, which the lines stand at.
//
//	block = title { record | table | page | block } end
func (d *decoder) readBlock(depth int) error {
	const deepest = 8
	if depth > deepest {
		return &Error{d.lines.number, fmt.Sprintf("LINK blocks nested deeper than %d", deepest)}
	}
	h := &header{line: d.lines.number}
	label, text, err := d.lines.label()
	if err != nil {
		return err
	}
	if label != "TITLE" {
		return &Error{h.line, fmt.Sprintf("expected ##TITLE= as the first record of a block, not ##%s=", clip(label))}
	}
	if err := d.readRecord(h, label, text); err != nil {
		return err
	}
	children := 0
	for {
		line, err := d.nextLabel("a label ##...=")
		if err != nil {
			return err
		}
		if line == 0 {
			return &Error{d.lines.number, fmt.Sprintf("the file ends inside the block that starts at line %d; expected ##END=", h.line)}
		}
		label, text, err := d.lines.label()
		if err != nil {
			return err
		}
		switch label {
		case "TITLE":
			if !strings.EqualFold(h.text("DATATYPE"), "LINK") {
				return &Error{line, fmt.Sprintf("##TITLE= inside the block that starts at line %d; expected ##END= before it, or ##DATA TYPE= LINK there", h.line)}
			}
			h.link = true
			children++
			if err := d.readBlock(depth + 1); err != nil {
				return err
			}
		case "END":
			d.lines.advance()
			return d.endBlock(h, children)
		case "PEAKTABLE", "XYDATA", "XYPOINTS", "PEAKASSIGNMENTS":
			if err := d.readSpectrum(h, label, text); err != nil {
				return err
			}
		case "NTUPLES":
			if err := d.readRecord(h, label, text); err != nil {
				return err
			}
			h.series = &ntuples{}
		case "PAGE":
			if h.series == nil {
				return &Error{line, "##PAGE= outside NTUPLES; expected ##NTUPLES= before it"}
			}
			h.page, h.series.pageLine = nil, line
			if err := d.readRecord(h, label, text); err != nil {
				return err
			}
			h.series.page = h.text("PAGE")
		case "DATATABLE":
			if h.series == nil {
				return &Error{line, "##DATA TABLE= outside NTUPLES; expected ##NTUPLES= before it"}
			}
			if err := d.readPage(h, text); err != nil {
				return err
			}
		case "ENDNTUPLES":
			h.series, h.page = nil, nil
			if err := d.readRecord(h, label, text); err != nil {
				return err
			}
		default:
			if err := d.readRecord(h, label, text); err != nil {
				return err
			}
		}
	}
}

// overhead is what a record or an assignment takes beside its text, in bytes,
// as it counts towards Limits.AllText.
const overhead = 64

// readRecord reads the text of a record up to the next label and keeps it.
func (d *decoder) readRecord(h *header, label, text string) error {
	line := d.lines.number
	var whole strings.Builder
	whole.WriteString(text)
	for d.lines.advance(); !d.lines.done && !d.lines.atLabel(); d.lines.advance() {
		more := strings.TrimSpace(decodeText(d.lines.line))
		if more == "" {
			continue
		}
		if whole.Len() > 0 {
			whole.WriteByte(' ')
		}
		whole.WriteString(more)
		if whole.Len() > d.limits.TextBytes {
			return &Error{line, fmt.Sprintf("the text of ##%s= has more than %d bytes", clip(label), d.limits.TextBytes)}
		}
	}
	if d.lines.err != nil {
		return d.lines.err
	}
	if d.text += overhead + len(label) + whole.Len(); d.text > d.limits.AllText {
		return &Error{line, fmt.Sprintf("more than %d bytes of text", d.limits.AllText)}
	}
	h.keep(Record{Label: label, Text: whole.String(), Line: line})
	return nil
}

// endBlock makes the spectra of a block and checks what only its end shows.
func (d *decoder) endBlock(h *header, children int) error {
	if h.link || strings.EqualFold(h.text("DATATYPE"), "LINK") {
		blocks, err := h.given("BLOCKS")
		if err != nil {
			return err
		}
		if blocks.ok && blocks.value != float64(children) {
			d.warn(blocks.line, true, "##BLOCKS= says %s, but the LINK block that starts at line %d holds %d", blocks.text, h.line, children)
		}
		return nil
	}
	if h.dataType() != massSpectrum {
		d.skip(h)
		return nil
	}
	for i, t := range h.tables {
		if err := d.addBlock(h, t, i == 0); err != nil {
			return err
		}
	}
	if len(h.tables) == 0 && !h.paged {
		return &Error{h.line, "the mass spectrum that starts at this line has no data; expected ##PEAK TABLE=, ##XYDATA=, ##XYPOINTS=, ##PEAK ASSIGNMENTS= or NTUPLES before ##END="}
	}
	return nil
}

// skip notes a block that holds no mass spectrum.
func (d *decoder) skip(h *header) {
	what := h.text("DATATYPE")
	if what == "" {
		what = "a block without ##DATA TYPE="
	}
	d.warn(h.line, false, "skipped the block that starts at this line: %s", clip(what))
	const most = 10
	if len(d.others) < most {
		d.others = append(d.others, fmt.Sprintf("%q at line %d", clip(what), h.line))
	}
}

// readSpectrum reads a data table of a block, or passes over the one of a
// block that holds something else.
func (d *decoder) readSpectrum(h *header, label, form string) error {
	t := &table{label: label, line: d.lines.number}
	switch h.dataType() {
	case otherData:
		return d.passOver()
	case unsaid:
		return &Error{t.line, "a data table, but the block doesn't say of what; expected ##DATA TYPE= MASS SPECTRUM before it"}
	}
	var ok bool
	t.shape, ok = shapeOf(form, "X", "Y")
	if !ok || (t.shape == assigned) != (label == "PEAKASSIGNMENTS") {
		expected := "(XY..XY)"
		switch label {
		case "XYDATA":
			expected = "(X++(Y..Y)) or (XY..XY)"
		case "PEAKASSIGNMENTS":
			expected = "(XYA)"
		}
		return &Error{t.line, fmt.Sprintf("the form of the data table is %q; expected %s", clip(form), expected)}
	}
	h.tables = append(h.tables, t)
	return d.readTable(t)
}

// passOver skips lines up to the next label.
func (d *decoder) passOver() error {
	for d.lines.advance(); !d.lines.done && !d.lines.atLabel(); {
		d.lines.advance()
	}
	return d.lines.err
}
