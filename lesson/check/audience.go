package check

import (
	"io/fs"

	"ionwright/lesson/diag"
	"ionwright/lesson/source"
)

// audiences checks the lesson for the audiences that this reading isn't for:
// what is wrong for one of them is wrong.
func (c *checker) audiences(fsys fs.FS) error {
	if _, chosen := source.AudienceOf(fsys); chosen {
		return nil
	}
	for i, a := range c.report.Source.Audiences {
		if i == 0 {
			continue // this reading
		}
		_, found, err := Check(c.ctx, source.ForAudience(fsys, a.Key.Value))
		if err != nil {
			return err
		}
		for _, d := range found {
			if !c.has(d) {
				c.add(d.Noted("for the audience %q", a.Key.Value))
			}
		}
	}
	return nil
}

// has reports that a diagnostic is in the report already.
func (c *checker) has(d diag.Diagnostic) bool {
	for _, known := range c.report.Diags {
		if known.Span == d.Span && known.Code == d.Code && known.Message == d.Message {
			return true
		}
	}
	return false
}
