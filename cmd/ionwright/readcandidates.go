package main

import (
	"bufio"
	"fmt"
	"path/filepath"
	"strings"

	"ionwright/mol"
	"ionwright/mol/names"
	"ionwright/reading/candidate"
)

type readRanking struct {
	Sentence string          `json:"sentence"`
	Ranked   []readCandidate `json:"ranked"`
	Deciding []readDeciding  `json:"deciding"`
	Refused  []readRefused   `json:"refused,omitempty"`
}

type readCandidate struct {
	Structure   string   `json:"structure"`
	Probability float64  `json:"probability"` // if one of the structures is the compound
	Cosine      float64  `json:"cosine"`      // of measured and computed spectrum, square roots
	Explained   float64  `json:"explained"`   // share of the ion current
	Against     []string `json:"against,omitempty"`
}

type readDeciding struct {
	MZ       int    `json:"mz"`
	ForFirst bool   `json:"forFirst"`
	Sentence string `json:"sentence"`
}

type readRefused struct {
	Structure string `json:"structure"`
	Reason    string `json:"reason"`
}

// structureLists are the endings of files that hold a structure a line.
var structureLists = map[string]bool{".smi": true, ".txt": true}

// readCandidates reads the structures to rank: each text is the name of a file
// with a structure a line, or a structure itself.
func (c *call) readCandidates(texts []string) ([]candidate.Structure, error) {
	var out []candidate.Structure
	for _, text := range texts {
		if !structureLists[strings.ToLower(filepath.Ext(text))] {
			s, err := candidateOf(text, text)
			if err != nil {
				return nil, err
			}
			out = append(out, s)
			continue
		}
		open, err := c.openFile(text)
		if err != nil {
			return nil, err
		}
		defer open.Close()
		lines := bufio.NewScanner(open)
		for n := 1; lines.Scan(); n++ {
			line := strings.TrimSpace(lines.Text())
			if line == "" || strings.HasPrefix(line, "#") {
				continue
			}
			if len(out) == candidate.Most {
				return nil, fmt.Errorf("reading %q: line %d: more than %d structures; that is the most that are ranked at a time", text, n, candidate.Most)
			}
			structure, name, _ := strings.Cut(line, " ")
			s, err := candidateOf(structure, strings.TrimSpace(name))
			if err != nil { // a name may hold blanks
				if s, err = candidateOf(line, line); err != nil {
					return nil, fmt.Errorf("reading %q: line %d: %w", text, n, err)
				}
			}
			out = append(out, s)
		}
		if err := lines.Err(); err != nil {
			return nil, fmt.Errorf("reading %q: %w", text, err)
		}
	}
	return out, nil
}

// candidateOf reads one structure, with a name of its own if there is one.
func candidateOf(structure, name string) (candidate.Structure, error) {
	var m *mol.Mol
	m, err := names.Structure(structure)
	if err != nil {
		return candidate.Structure{}, err
	}
	if name == "" {
		name = structure
	}
	return candidate.Structure{Name: name, Mol: m}, nil
}

func rankingOf(r candidate.Ranking) *readRanking {
	out := &readRanking{Sentence: r.Sentence, Ranked: []readCandidate{}, Deciding: []readDeciding{}}
	for _, x := range r.Ranked {
		out.Ranked = append(out.Ranked, readCandidate{x.Name, digits(x.Probability), digits(x.Match), digits(x.Explained), x.Against})
	}
	for _, d := range r.Deciding {
		out.Deciding = append(out.Deciding, readDeciding{d.MZ, d.ForFirst, d.Sentence})
	}
	for _, x := range r.Refused {
		out.Refused = append(out.Refused, readRefused{x.Name, x.Reason.Error()})
	}
	return out
}

// printRanking writes the structures best first, and what decides.
func (c *call) printRanking(r candidate.Ranking) {
	c.print("\ncandidates:")
	c.print("  %-40s %11s %7s %10s", "structure", "probability", "cosine", "explained")
	for _, x := range r.Ranked {
		c.print("  %-40s %11s %7.2f %10s", x.Name, chance(x.Probability), x.Match, chance(x.Explained))
		for _, text := range x.Against {
			c.print("    against it: %s", text)
		}
	}
	for _, x := range r.Refused {
		c.print("  %s couldn't be judged: %v", x.Name, x.Reason)
	}
	c.print("  %s", r.Sentence)
	for _, d := range r.Deciding {
		c.print("  %s", d.Sentence)
	}
}
