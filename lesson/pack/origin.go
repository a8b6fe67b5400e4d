package pack

import (
	"fmt"
	"strings"

	"ionwright/lesson/check"
	"ionwright/lesson/load"
)

// sourceRow says where a compound's spectrum comes from, for the foot of a
// page.
type sourceRow struct {
	Name       string
	Measured   bool
	From       string
	License    string
	Permission string
}

// computedOrigin is the origin of a spectrum that isn't measured.
const computedOrigin = "computed from its structure by this program, not measured"

// sourceRows lists the spectra of a page. The students' leaves out what would
// name an unknown: its file and the source's identifier.
func (b *builder) sourceRows(key bool) []sourceRow {
	var rows []sourceRow
	for _, c := range b.report.Lesson.Compounds {
		name, hidden, shown := b.shownAs(c)
		if key {
			name, hidden, shown = c.Name, false, true
		}
		if !shown {
			continue
		}
		row := sourceRow{Name: name, Measured: c.Measured, From: computedOrigin}
		if c.Measured {
			r := check.RightsOf(c)
			var from []string
			add := func(part string, to bool) {
				if part != "" && to {
					from = append(from, part)
				}
			}
			add(c.File, key)
			add(r.SourceID, !hidden)
			add(r.Origin, true)
			if len(from) == 0 {
				from = append(from, "by "+theAuthor)
			}
			row.From, row.License, row.Permission = strings.Join(from, ", "), r.License, strings.TrimSuffix(r.Permission, ".")
		}
		rows = append(rows, row)
	}
	return rows
}

// shownAs is what students read of a compound whose spectrum they see: its name
// where a figure shows it, or the number of the question that does. Hidden says
// that it is for them to find out what it is.
func (b *builder) shownAs(c *load.Compound) (name string, hidden, shown bool) {
	for _, f := range b.figures {
		if (f.Compound == c || f.Against == c) && f.Structure == nil {
			return c.Name, unknown(c), true
		}
	}
	for _, q := range b.report.Questions {
		if f := b.questions[q]; f != nil && f.compound == c {
			return testName(q), true, true
		}
	}
	return "", true, false
}

// testName is what the compound of a question is called.
func testName(q *check.Question) string { return fmt.Sprintf("the compound of question %d", q.Number) }
