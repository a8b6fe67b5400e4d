package mark

import (
	"fmt"
	"strings"

	"ionwright/practice"
	"ionwright/practice/answer"
	"ionwright/practice/cause"
)

// reasons looks for the clues of the key in an answer's words, as many as are
// needed, and takes one off for each thing that must not be said.
func reasons(k practice.Reasons, a answer.Answer) judgement {
	text := a.Text
	if a.List != nil {
		text = strings.Join(a.List, ". ")
	}
	j := judgement{given: cause.Given{Words: answer.Words(text)}}
	var found []string
	for _, c := range k.Clues {
		for _, phrase := range c.Any {
			if answer.Says(j.given.Words, phrase) {
				found = append(found, c.Says)
				break
			}
		}
	}
	j.given.Found = len(found)
	wrong := 0
	for _, r := range k.Reject {
		for _, phrase := range r.Any {
			if !answer.Says(j.given.Words, phrase) {
				continue
			}
			wrong++
			j.reasons = append(j.reasons, sentence(orElse(r.Because, fmt.Sprintf("%q isn't right here", phrase))))
			if c, known := cause.Named(r.Cause); known {
				j.found = append(j.found, cause.Found{Cause: c})
			}
			break
		}
	}
	have := min(len(found), k.Needs)
	j.share = max(0, float64(have-wrong)/float64(k.Needs))
	switch {
	case have >= k.Needs:
	case have == 0:
		j.otherwise = append(j.otherwise, fmt.Sprintf("None of the expected reasons was recognised; %s needed.", needed(k.Needs)))
	default:
		j.reasons = append(j.reasons, fmt.Sprintf("%s recognised; %s needed.", capital(reasonsWere(have)), needed(k.Needs)))
	}
	if j.share == 0 && len(found) == 0 && wrong == 0 {
		j.otherwise = append(j.otherwise, "A program looked for key words only: show this answer to your instructor if it says the same in other words.")
	}
	return j
}

func needed(n int) string {
	if n == 1 {
		return "1 is"
	}
	return fmt.Sprintf("%d are", n)
}

func reasonsWere(n int) string {
	if n == 1 {
		return "1 reason was"
	}
	return fmt.Sprintf("%d reasons were", n)
}

func capital(s string) string { return strings.ToUpper(s[:1]) + s[1:] }
