package pack

import (
	"encoding/hex"
	"encoding/json"

	"ionwright/lesson/check"
	"ionwright/lesson/load"
	"ionwright/lesson/notation"
	"ionwright/lesson/script"
)

// manifestData is what manifest.json says about a pack. It is for the
// instructor: the structures of unknowns stand in it.
type manifestData struct {
	Title     string             `json:"title"`
	Audience  string             `json:"audience,omitempty"`
	Author    string             `json:"author,omitempty"`
	License   string             `json:"license"` // of the lesson's own text and figures
	Notation  string             `json:"notation"`
	Notice    string             `json:"notice"`
	Pages     map[string]string  `json:"pages"` // what each page is for
	Compounds []manifestCompound `json:"compounds"`
	Figures   []manifestFigure   `json:"figures"`
	Ideas     []string           `json:"ideas"`
	Questions []manifestQuestion `json:"questions"`
	Claims    []manifestClaim    `json:"claims"`
	Narration manifestNarration  `json:"narration"`
	Files     []manifestFile     `json:"files"` // all of the pack but the manifest
}

type manifestCompound struct {
	Key     string `json:"key"`
	Name    string `json:"name"`
	SMILES  string `json:"smiles"`
	Formula string `json:"formula"`
	Drawn   string `json:"structure"` // where the structure comes from
	Note    string `json:"note,omitempty"`
	File    string `json:"file,omitempty"` // of the lesson
	SHA256  string `json:"sha256,omitempty"`
	Source  string `json:"source,omitempty"` // the source's identifier
	manifestRights
}

// manifestRights says who made something and how it may be used.
type manifestRights struct {
	Origin     string `json:"origin"` // "measured" or "computed"
	Owner      string `json:"owner"`
	License    string `json:"license"`
	Permission string `json:"permission,omitempty"` // why it may be published where the license doesn't say so
}

type manifestFigure struct {
	ID        string           `json:"id"`
	Number    int              `json:"number,omitempty"` // 0: the spectrum of a question
	Compounds []string         `json:"compounds,omitempty"`
	File      string           `json:"file"`
	SHA256    string           `json:"sha256"`
	Key       string           `json:"key,omitempty"` // the file that the key shows, where it differs
	Rights    []manifestRights `json:"rights"`
}

type manifestQuestion struct {
	ID   string `json:"id"`
	Kind string `json:"kind"`
	Idea string `json:"idea,omitempty"`
}

type manifestClaim struct {
	Number int    `json:"number"`
	That   string `json:"that"`
	Holds  bool   `json:"holds"`
	Idea   string `json:"idea,omitempty"`
}

type manifestFile struct {
	Name     string `json:"name"`
	What     string `json:"what"`
	Students bool   `json:"students"` // may be given to students
	SHA256   string `json:"sha256"`
}

// theAuthor is a lesson's author who gives no name.
const theAuthor = "the author of the lesson"

// unstated is the license of a lesson that names none.
const unstated = "not stated by the author"

func (b *builder) manifest(p *Pack, spoken *script.Script) ([]byte, error) {
	src := b.report.Source
	m := manifestData{
		Title: src.Title.Value, Audience: src.Audience.Value, Author: src.Author.Value, License: orElse(src.License.Value, unstated),
		Notation: orElse(src.Notation.Name, notation.IUPAC), Notice: notice,
		Pages: map[string]string{Student: "for students", Key: "for the instructor"},
		Ideas: []string{}, Questions: []manifestQuestion{}, Claims: []manifestClaim{},
		Compounds: b.manifestCompounds(), Figures: b.manifestFigures(), Narration: spokenOf(spoken),
	}
	for _, idea := range src.Ideas {
		m.Ideas = append(m.Ideas, idea.Key.Value)
	}
	for _, q := range b.report.Questions {
		m.Questions = append(m.Questions, manifestQuestion{q.Source.ID.Value, q.Source.Kind.String(), q.Source.Idea.Value})
	}
	for _, c := range b.report.Claims {
		m.Claims = append(m.Claims, manifestClaim{c.Number, c.Source.That.Value, c.Holds, c.Source.Teaches.Value})
	}
	for _, e := range p.Contents {
		if data, ok := p.Files[e.Name]; ok { // the manifest and the archive of all come after
			m.Files = append(m.Files, manifestFile{e.Name, e.What, e.Students, hash(data)})
		}
	}
	text, err := json.MarshalIndent(m, "", "  ")
	return append(text, '\n'), err
}

func (b *builder) manifestCompounds() []manifestCompound {
	rows := []manifestCompound{}
	for _, c := range b.report.Lesson.Compounds {
		row := manifestCompound{Key: c.Key, Name: c.Name, SMILES: c.SMILES, Formula: c.Formula.String(), Drawn: structureOf(c),
			Note: "computed from the structure by a model", manifestRights: b.rights(c)}
		if c.Measured {
			row.Note, row.File, row.SHA256 = "", c.File, hex.EncodeToString(c.Hash[:])
			row.Source = check.RightsOf(c).SourceID
		}
		rows = append(rows, row)
	}
	return rows
}

// structureOf says where a compound's structure comes from.
func structureOf(c *load.Compound) string {
	switch s := c.Source; {
	case !s.Drawn.IsZero():
		return "the drawing " + s.Drawn.Value
	case !s.Named.IsZero():
		return "the name " + s.Named.Value
	}
	return "written in the lesson"
}

// rights are those of a compound's spectrum; nil: of what the lesson itself
// makes.
func (b *builder) rights(c *load.Compound) manifestRights {
	src := b.report.Source
	author := orElse(src.Author.Value, theAuthor)
	if c == nil || !c.Measured {
		return manifestRights{Origin: "computed", Owner: author, License: orElse(src.License.Value, unstated)}
	}
	r := check.RightsOf(c)
	return manifestRights{"measured", orElse(r.Origin, author), orElse(r.License, unstated), r.Permission}
}

func (b *builder) manifestFigures() []manifestFigure {
	rows := []manifestFigure{}
	add := func(row manifestFigure, v *view, drawn bool, compounds ...*load.Compound) {
		row.File, row.SHA256 = v.File, hash(v.standalone)
		for _, c := range compounds {
			if c != nil {
				row.Compounds = append(row.Compounds, c.Key)
				if !drawn {
					row.Rights = append(row.Rights, b.rights(c))
				}
			}
		}
		if len(row.Rights) == 0 {
			row.Rights = append(row.Rights, b.rights(nil))
		}
		rows = append(rows, row)
	}
	for _, f := range b.figures {
		row := manifestFigure{ID: f.ID, Number: f.Number}
		if f.key != f.student {
			row.Key = f.key.File
		}
		// Structures and mechanisms come from the structure, not from a spectrum.
		add(row, f.student, f.Structure != nil || f.Mechanism != nil || f.Map != nil, f.Compound, f.Against)
	}
	for _, q := range b.report.Questions {
		if f := b.questions[q]; f != nil {
			add(manifestFigure{ID: q.Source.ID.Value}, f.view, false, f.compound)
		}
	}
	return rows
}
