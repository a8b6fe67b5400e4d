// Package qti writes questions as a package of the open standard Question and
// Test Interoperability, in its versions 2.2 and 3.0 (1EdTech), so that
// learning platforms can set and mark them. For most uses call [Write].
//
// The marks are those of package mark wherever the standard can say so;
// [Limits] says of each question what it can't. Structures are typed as SMILES,
// electron arrows picked from a list, and reasons in words are carried for a
// person to mark. Errors carried forward and penalise-once groups are never
// carried: the standard marks each item by itself.
package qti

import (
	"archive/zip"
	"fmt"
	"io"
	"regexp"
	"strconv"

	"ionwright/practice"
)

// Version is a version of the standard.
type Version uint8

// The versions.
const (
	V22 Version = iota + 1
	V30
)

func (v Version) String() string {
	if v == V22 {
		return "2.2"
	}
	return "3.0"
}

// Limits says what of a question the standard can't carry, in sentences, and
// false where it can't carry the question at all.
func Limits(q *practice.Question) (limits []string, carried bool) {
	switch k := q.Key.(type) {
	case practice.Structure:
		limits = append(limits, fmt.Sprintf("a structure is typed as SMILES and recognised in %d spellings at most, not by its graph", mostSpellings))
	case practice.Arrows:
		if k.Drawn == nil {
			return []string{"the arrows belong to no drawn structure"}, false
		}
		limits = append(limits, "electron arrows are picked from a list by the numbers of atoms, not drawn, and other sets that lead to the same aren't offered")
	case practice.Reasons:
		limits = append(limits, "reasons in words are marked by a person")
	case practice.Number:
		if k.Units == practice.UnitRequired {
			limits = append(limits, "the unit stands beside the field and isn't asked for")
		}
		if k.Digits > 0 {
			limits = append(limits, "the number of significant digits isn't marked")
		}
	case practice.Formula, practice.Assign:
		limits = append(limits, "a formula is recognised in any order of its elements, but not condensed (CH3CO+)")
	case practice.Order:
		limits = append(limits, "a partly right order gets no marks")
	case practice.Peaks:
		limits = append(limits, "peaks are picked from the strongest, not typed")
	}
	if q.Scheme.Carry != nil {
		limits = append(limits, "an error carried forward from an earlier question isn't recognised")
	}
	for _, c := range q.Scheme.Credit {
		if c.Once != "" {
			limits = append(limits, fmt.Sprintf("a mistake of the group %q costs marks in every question", c.Once))
			break
		}
	}
	return limits, true
}

// Write writes the package of a test with the questions, in their order. Equal
// questions give equal bytes. It fails for a question that can't be marked,
// where none can be carried, and where w does.
func Write(w io.Writer, title string, questions []*practice.Question, v Version) error {
	z := zip.NewWriter(w)
	var refs []ref
	for i, q := range questions {
		if err := q.Check(); err != nil {
			return fmt.Errorf("writing the QTI package: %w", err)
		}
		if _, carried := Limits(q); !carried {
			continue
		}
		r := ref{id: fmt.Sprintf("item-%d-%s", i+1, safe.ReplaceAllString(q.ID, "-"))}
		r.file = "items/" + r.id + ".xml"
		refs = append(refs, r)
		if err := put(z, r.file, item(q, r.id, i+1), v); err != nil {
			return err
		}
	}
	if len(refs) == 0 {
		return fmt.Errorf("writing the QTI package %q: none of its %d questions can be carried", title, len(questions))
	}
	if err := put(z, "test.xml", test(title, refs), v); err != nil {
		return err
	}
	if err := put(z, "imsmanifest.xml", manifest(refs, v), v); err != nil {
		return err
	}
	if err := z.Close(); err != nil {
		return fmt.Errorf("writing the QTI package: %w", err)
	}
	return nil
}

// Item writes the item of one question by itself.
func Item(w io.Writer, q *practice.Question, v Version) error {
	if err := q.Check(); err != nil {
		return fmt.Errorf("writing the QTI item: %w", err)
	}
	if limits, carried := Limits(q); !carried {
		return fmt.Errorf("writing the QTI item %q: %s", q.ID, limits[0])
	}
	return write(w, item(q, "item-"+safe.ReplaceAllString(q.ID, "-"), 0), v)
}

// ref is an item of a package.
type ref struct{ id, file string }

var safe = regexp.MustCompile(`[^A-Za-z0-9_-]`)

func put(z *zip.Writer, name string, n *node, v Version) error {
	f, err := z.CreateHeader(&zip.FileHeader{Name: name, Method: zip.Deflate}) // without a time: equal bytes
	if err == nil {
		err = write(f, n, v)
	}
	if err != nil {
		return fmt.Errorf("writing %q into the QTI package: %w", name, err)
	}
	return nil
}

func test(title string, refs []ref) *node {
	section := el("qti-assessment-section", "identifier", "section-1", "title", title, "visible", "true")
	for _, r := range refs {
		section.add(el("qti-assessment-item-ref", "identifier", r.id, "href", r.file))
	}
	part := el("qti-test-part", "identifier", "part-1", "navigation-mode", "nonlinear", "submission-mode", "individual").add(section)
	sum := el("qti-outcome-processing").add(el("qti-set-outcome-value", "identifier", "SCORE").add(
		el("qti-sum").add(el("qti-test-variables", "variable-identifier", "SCORE"))))
	return el("qti-assessment-test", "identifier", "test-1", "title", title).add(
		el("qti-outcome-declaration", "identifier", "SCORE", "cardinality", "single", "base-type", "float"), part, sum)
}

// manifest is the package's list of contents. Its elements are those of the
// content-packaging standard and have no prefix in either version.
func manifest(refs []ref, v Version) *node {
	space, schema, version, suffix := "http://www.imsglobal.org/xsd/qti/qtiv3p0/imscp_v1p1", "QTI Package", "3.0.0", "v3p0"
	if v == V22 {
		space, schema, version, suffix = "http://www.imsglobal.org/xsd/imscp_v1p1", "QTIv2.2 Package", "1.0.0", "v2p2"
	}
	resources := el("resources")
	whole := el("resource", "identifier", "test-1-resource", "type", "imsqti_test_xml"+suffix, "href", "test.xml").add(el("file", "href", "test.xml"))
	for _, r := range refs {
		whole.add(el("dependency", "identifierref", r.id+"-resource"))
	}
	resources.add(whole)
	for _, r := range refs {
		resources.add(el("resource", "identifier", r.id+"-resource", "type", "imsqti_item_xml"+suffix, "href", r.file).add(el("file", "href", r.file)))
	}
	return el("manifest", "identifier", "package-1", "xmlns", space).add(
		el("metadata").add(el("schema").say(schema), el("schemaversion").say(version)), el("organizations"), resources)
}

func decimal(x float64) string { return strconv.FormatFloat(x, 'f', -1, 64) }
