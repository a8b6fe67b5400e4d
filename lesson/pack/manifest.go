package pack

import (
	"encoding/hex"
	"encoding/json"
	"maps"
	"slices"

	"ionwright/lesson/check"
)

// manifestData is what manifest.json says about a pack. It holds no answers.
type manifestData struct {
	Title     string             `json:"title"`
	Audience  string             `json:"audience,omitempty"`
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
	Origin  string `json:"origin"` // "measured" or "computed"
	Note    string `json:"note,omitempty"`
	File    string `json:"file,omitempty"` // of the lesson
	SHA256  string `json:"sha256,omitempty"`
	Source  string `json:"source,omitempty"` // the source's identifier
	Owner   string `json:"owner,omitempty"`
	License string `json:"license,omitempty"`
}

type manifestFigure struct {
	ID       string `json:"id"`
	Number   int    `json:"number"`
	Compound string `json:"compound,omitempty"`
	File     string `json:"file"`
	SHA256   string `json:"sha256"`
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
	Name   string `json:"name"`
	SHA256 string `json:"sha256"`
}

func manifest(r *check.Report, figures []*figure, spoken manifestNarration, files map[string][]byte) ([]byte, error) {
	m := manifestData{
		Title: r.Source.Title.Value, Audience: r.Source.Audience.Value,
		Notice: "For teaching only; no result may be used for a clinical, forensic or safety decision.",
		Pages:  map[string]string{Student: "for students", Key: "for the instructor"},
		Ideas:  []string{}, Questions: []manifestQuestion{}, Claims: []manifestClaim{}, Figures: []manifestFigure{},
		Narration: spoken,
	}
	for _, c := range r.Lesson.Compounds {
		row := manifestCompound{Key: c.Key, Name: c.Name, SMILES: c.SMILES, Formula: c.Formula.String(), Origin: "computed",
			Note: "computed from the structure by a crude model"}
		if c.Measured {
			info := c.Spectrum.Info
			row.Origin, row.Note, row.File, row.SHA256 = "measured", "", c.File, hex.EncodeToString(c.Hash[:])
			row.Source, row.Owner, row.License = info.SourceID, info.Owner, info.License
		}
		m.Compounds = append(m.Compounds, row)
	}
	for _, f := range figures {
		row := manifestFigure{ID: f.ID, Number: f.Number, File: f.File, SHA256: hash(f.standalone)}
		if f.Compound != nil {
			row.Compound = f.Compound.Key
		}
		m.Figures = append(m.Figures, row)
	}
	for _, idea := range r.Source.Ideas {
		m.Ideas = append(m.Ideas, idea.Key.Value)
	}
	for _, q := range r.Questions {
		m.Questions = append(m.Questions, manifestQuestion{q.Source.ID.Value, q.Source.Kind.String(), q.Source.Idea.Value})
	}
	for _, c := range r.Claims {
		m.Claims = append(m.Claims, manifestClaim{c.Number, c.Source.That.Value, c.Holds, c.Source.Teaches.Value})
	}
	for _, name := range slices.Sorted(maps.Keys(files)) {
		m.Files = append(m.Files, manifestFile{name, hash(files[name])})
	}
	text, err := json.MarshalIndent(m, "", "  ")
	return append(text, '\n'), err
}
