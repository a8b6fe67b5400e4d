package molfile

import (
	"bufio"
	"errors"
	"io"
	"strings"
)

// Read reads one MOL file, or the first record of an SD file. Errors in the
// text are of type *[Error].
func Read(r io.Reader) (Record, error) {
	record, err := NewReader(r).Next()
	if err == io.EOF {
		return Record{}, &Error{Line: 1, Problem: "the file is empty", Hint: "a MOL file has three header lines, a counts line, and the atoms"}
	}
	return record, err
}

// Reader reads the records of an SD file one by one.
type Reader struct {
	lines   *bufio.Reader
	number  int    // of the line read last, 1-based
	text    string // the line read last
	pending bool   // text is to be read again
}

// NewReader returns a Reader of r.
func NewReader(r io.Reader) *Reader { return &Reader{lines: bufio.NewReader(r)} }

// maxLine bounds the length of a line, in bytes.
const maxLine = 1 << 16

// line reads a line without its end; io.EOF after the last.
func (r *Reader) line() (string, error) {
	if r.pending {
		r.pending = false
		return r.text, nil
	}
	var long []byte
	for {
		piece, err := r.lines.ReadSlice('\n')
		long = append(long, piece...)
		if len(long) > maxLine {
			r.number++
			return "", &Error{Line: r.number, Text: string(long[:maxQuoted]), Problem: "the line is too long for a connection table"}
		}
		if errors.Is(err, bufio.ErrBufferFull) {
			continue
		}
		if err != nil && err != io.EOF {
			return "", err
		}
		if len(long) == 0 {
			return "", io.EOF
		}
		break
	}
	r.number++
	r.text = strings.TrimRight(string(long), "\r\n")
	return r.text, nil
}

// need reads a line that must be there.
func (r *Reader) need(what string) (string, error) {
	line, err := r.line()
	if err == io.EOF {
		return "", r.fail(r.text, "the file ends where "+what+" is expected", "the file is cut short")
	}
	return line, err
}

// fail makes an error about the line read last.
func (r *Reader) fail(text, problem, hint string) error {
	return &Error{Line: max(r.number, 1), Text: text, Problem: problem, Hint: hint}
}

// Next reads the next record, io.EOF after the last. After an error in a
// record the following records of an SD file can still be read: Next goes on
// behind the line "$$$$".
func (r *Reader) Next() (Record, error) {
	record, err := r.record()
	if err != nil && err != io.EOF {
		r.skip()
	}
	return record, err
}

// skip goes on behind the end of the record.
func (r *Reader) skip() {
	for !strings.HasPrefix(r.text, "$$$$") || r.pending {
		if _, err := r.line(); err != nil {
			return
		}
	}
}

// record reads header, table and data items.
func (r *Reader) record() (Record, error) {
	var record Record
	name, err := r.line()
	if err != nil {
		return record, err
	}
	second, err := r.line()
	if err == io.EOF && strings.TrimSpace(name) == "" {
		return record, io.EOF // blank lines after the last record
	}
	if err == io.EOF {
		return record, r.fail(name, "the file ends in the header", "a MOL file has three header lines, a counts line, and the atoms")
	}
	if err != nil {
		return record, err
	}
	record.Name = strings.TrimSpace(name)
	comment, err := r.need("the third header line")
	if err != nil {
		return record, err
	}
	record.Comment = strings.TrimSpace(comment)
	counts, err := r.need("the counts line")
	if err != nil {
		return record, err
	}
	t := table{Reader: r, flat: !strings.HasPrefix(column(second, 21, 22), "3")}
	switch version := strings.TrimSpace(column(counts, 34, 39)); version {
	case "V2000", "":
		err = t.readV2000(counts)
	case "V3000":
		err = t.readV3000()
	default:
		err = r.fail(counts, "the version "+version+" isn't known", "V2000 and V3000 are read; the version is in columns 35 to 39 of the counts line")
	}
	if err != nil {
		return record, err
	}
	if record.Mol, err = t.molecule(); err != nil {
		return record, err
	}
	if t.placed {
		record.Points = t.points
	}
	record.Data, err = r.data()
	return record, err
}

// column returns the columns from to before to of a line, 1-based, as far as
// the line has them.
func column(line string, from, to int) string {
	if from-1 >= len(line) {
		return ""
	}
	return line[from-1 : min(to, len(line))]
}

// data reads the data items of an SD file up to its "$$$$".
func (r *Reader) data() ([]Field, error) {
	var fields []Field
	for {
		line, err := r.line()
		if err == io.EOF {
			return fields, nil
		}
		if err != nil {
			return nil, err
		}
		switch {
		case strings.HasPrefix(line, "$$$$"):
			return fields, nil
		case strings.HasPrefix(line, ">"):
			open := strings.IndexByte(line, '<')
			end := strings.LastIndexByte(line, '>')
			field := Field{}
			if open >= 0 && end > open {
				field.Name = line[open+1 : end]
			}
			var value []string
			for {
				line, err := r.line()
				if err != nil && err != io.EOF {
					return nil, err
				}
				if err == io.EOF || strings.TrimSpace(line) == "" {
					break
				}
				if strings.HasPrefix(line, "$$$$") {
					r.pending = true
					break
				}
				value = append(value, line)
			}
			field.Value = strings.Join(value, "\n")
			fields = append(fields, field)
		}
	}
}
