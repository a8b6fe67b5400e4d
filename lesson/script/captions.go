package script

import (
	"bytes"
	"fmt"
	"strconv"
	"strings"
	"time"
	"unicode/utf8"
)

// LineLength is the most characters in a line of captions, and Lines the most
// lines of one caption.
const (
	LineLength = 42 // common practice of subtitling, no source
	Lines      = 2
)

// Captions is the narration as WebVTT (W3C Recommendation): a cue for at most
// two lines, one after another without a gap, no longer than what is said
// takes. The words are the written ones. The lines of a sentence are about
// equally long.
func (s *Script) Captions() []byte {
	var b bytes.Buffer
	b.WriteString("WEBVTT\n")
	cue := 0
	for _, section := range s.Sections {
		for _, p := range section.Parts {
			at := p.At
			lines := balanced(p.Says)
			for len(lines) > 0 {
				n := min(Lines, len(lines))
				end := at
				var text []string
				for _, line := range lines[:n] {
					text = append(text, escape(lineText(line)))
					end += count(line)
				}
				lines = lines[n:]
				cue++
				fmt.Fprintf(&b, "\n%d\n%s --> %s\n%s\n", cue, timestamp(s.Time(at)), timestamp(s.Time(end)), strings.Join(text, "\n"))
				at = end
			}
		}
	}
	return b.Bytes()
}

// escape writes what WebVTT would read as markup.
func escape(s string) string {
	return strings.NewReplacer("&", "&amp;", "<", "&lt;", ">", "&gt;").Replace(s)
}

func lineText(words []Word) string {
	var all []string
	for _, w := range words {
		all = append(all, w.Written)
	}
	return strings.Join(all, " ")
}

// balanced breaks a sentence into as few lines as it needs, of the smallest
// width that does.
func balanced(words []Word) [][]Word {
	words = chopped(words)
	best := broken(words, LineLength)
	for width := LineLength - 1; width > 0; width-- {
		narrower := broken(words, width)
		if len(narrower) > len(best) {
			break
		}
		best = narrower
	}
	return best
}

// broken fills lines of a width; a word that is longer has its own.
func broken(words []Word, width int) [][]Word {
	var lines [][]Word
	length := 0
	for _, w := range words {
		size := utf8.RuneCountInString(w.Written)
		if len(lines) == 0 || length+1+size > width {
			lines, length = append(lines, nil), -1
		}
		lines[len(lines)-1] = append(lines[len(lines)-1], w)
		length += 1 + size
	}
	return lines
}

// chopped cuts words that are longer than a line. Its pieces share the time of
// the word, a spoken word each at least; what is longer ends in an ellipsis.
func chopped(words []Word) []Word {
	var out []Word
	for _, w := range words {
		runes := []rune(w.Written)
		pieces := min((len(runes)+LineLength-1)/LineLength, w.count)
		if len(runes) > pieces*LineLength {
			runes = append(runes[:pieces*LineLength-1], '…')
		}
		for i := range pieces {
			out = append(out, Word{
				Written: string(runes[i*LineLength : min((i+1)*LineLength, len(runes))]),
				count:   w.count*(i+1)/pieces - w.count*i/pieces,
			})
		}
	}
	return out
}

// timestamp is a WebVTT timestamp: hh:mm:ss.ttt.
func timestamp(d time.Duration) string {
	ms := d.Milliseconds()
	return fmt.Sprintf("%02d:%02d:%02d.%03d", ms/3_600_000, ms/60_000%60, ms/1000%60, ms%1000)
}

// clock is a time for people: minutes and seconds.
func clock(d time.Duration) string {
	s := int(d.Round(time.Second).Seconds())
	return strconv.Itoa(s/60) + fmt.Sprintf(":%02d", s%60)
}
