package script

import (
	"bytes"
	"encoding/csv"
	"fmt"
	"strings"
	"time"
)

// Markdown is the script to read from: the sections with their times, what is
// said as it is spoken, and the cues in between. A recap is a checklist.
func (s *Script) Markdown() []byte {
	var b bytes.Buffer
	fmt.Fprintf(&b, "# Script: %s\n\n%d words, %s minutes at %d words a minute. Time for looking and thinking isn't counted.\n",
		plainMarkdown(s.Title), s.Words, clock(s.Time(s.Words)), s.Pace)
	for _, section := range s.Sections {
		from, to := s.Time(section.At).Round(time.Second), s.Time(section.At+section.Words).Round(time.Second)
		fmt.Fprintf(&b, "\n## %s\n\n*%s to %s, %d words, %s*", plainMarkdown(section.Title), clock(from), clock(to), section.Words, clock(to-from))
		cued := false
		for _, p := range section.Parts {
			if p.Show != nil {
				fmt.Fprintf(&b, "\n\n> **[%s] Show:** %s", clock(s.Time(p.At)), plainMarkdown(p.Show.What))
				if p.Show.File != "" {
					fmt.Fprintf(&b, " (`%s`)", p.Show.File)
				}
				cued = true
				continue
			}
			switch {
			case p.Item:
				fmt.Fprintf(&b, "\n\n- [ ] [%s] ", clock(s.Time(p.At)))
			case p.Paragraph || cued:
				fmt.Fprintf(&b, "\n\n[%s] ", clock(s.Time(p.At)))
			default:
				b.WriteString(" ")
			}
			cued = false
			b.WriteString(plainMarkdown(spoken(p.Says)))
		}
		b.WriteString("\n")
	}
	return b.Bytes()
}

func spoken(words []Word) string {
	var all []string
	for _, w := range words {
		all = append(all, w.Spoken)
	}
	return strings.Join(all, " ")
}

// plainMarkdown takes the meaning from characters that Markdown would read as
// markup.
func plainMarkdown(s string) string {
	return strings.NewReplacer(`\`, `\\`, "*", `\*`, "_", `\_`, "`", "\\`", "<", `\<`, "[", `\[`, "]", `\]`, "#", `\#`, "&", `\&`).Replace(s)
}

// CueSheet lists what to show as comma-separated values: start (hh:mm:ss.ttt),
// section, file in the pack, what.
func (s *Script) CueSheet() ([]byte, error) {
	var b bytes.Buffer
	w := csv.NewWriter(&b)
	rows := [][]string{{"start", "section", "file", "show"}}
	for _, section := range s.Sections {
		for _, p := range section.Parts {
			if p.Show != nil {
				rows = append(rows, []string{timestamp(s.Time(p.At)), section.Title, p.Show.File, p.Show.What})
			}
		}
	}
	if err := w.WriteAll(rows); err != nil {
		return nil, fmt.Errorf("writing the cue sheet: %w", err)
	}
	return b.Bytes(), nil
}
