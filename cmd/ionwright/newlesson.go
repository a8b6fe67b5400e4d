package main

import (
	"context"
	"fmt"
	"regexp"
	"strings"
	"unicode/utf8"

	"ionwright/ionize"
	"ionwright/mol"
	"ionwright/mol/names"
	"ionwright/mol/smiles"
)

// newAnswers are what a new lesson is made from.
type newAnswers struct {
	title, audience string
	compounds       []newCompound
	ideas           []newIdea
}

type newCompound struct {
	key, name string
	text      string // as given: a name or SMILES
	named     bool
	mol       *mol.Mol
}

type newIdea struct{ key, sentence string }

// Longest answers, in characters; longer ones are a slip of the clipboard.
const (
	longestTitle    = 200
	longestSentence = 600
)

// oneLine takes line breaks and repeated spaces out of an answer.
func oneLine(s string) string { return strings.Join(strings.Fields(s), " ") }

// addCompound takes a compound by its name or SMILES.
func (n *newAnswers) addCompound(text string) error {
	text = oneLine(text)
	m, err := names.Structure(text)
	if err != nil {
		return fmt.Errorf("taking the compound %q: %w", text, err)
	}
	_, notSMILES := smiles.Parse(text)
	c := newCompound{text: text, named: notSMILES != nil, mol: m}
	c.name = text
	if !c.named {
		c.name = fmt.Sprintf("compound %d", len(n.compounds)+1)
	}
	c.key = n.unused(c.name, "compound")
	n.compounds = append(n.compounds, c)
	return nil
}

// computable reports why the spectrum of a compound can't be computed.
func (c newCompound) computable(ctx context.Context) error {
	if _, err := ionize.Predict(ctx, c.mol, ionize.Settings{}); err != nil {
		return fmt.Errorf("computing the spectrum of %q: %w\nhint: begin with another compound; a measured spectrum can be added in lesson.md", c.text, err)
	}
	return nil
}

// addIdea takes a sentence that students must take away.
func (n *newAnswers) addIdea(text string) error {
	text = oneLine(text)
	if text == "" || utf8.RuneCountInString(text) > longestSentence {
		return fmt.Errorf("an idea is a sentence of at most %d characters", longestSentence)
	}
	n.ideas = append(n.ideas, newIdea{n.unused(longestWord(text), "idea"), text})
	return nil
}

// longestWord is the word by which an idea is called in the source.
func longestWord(sentence string) string {
	best := ""
	for _, w := range regexp.MustCompile(`[A-Za-z]+`).FindAllString(sentence, -1) {
		if len(w) > len(best) {
			best = w
		}
	}
	return best
}

var notInKeys = regexp.MustCompile(`[^a-z0-9]+`)

// unused makes a key of some words that no other has: letters and digits,
// beginning with a letter. Words without letters, and those of the expression
// language, get a number behind fallback.
func (n *newAnswers) unused(words, fallback string) string {
	key := notInKeys.ReplaceAllString(strings.ToLower(words), "")
	if key == "" || key[0] < 'a' || len(key) > 24 || len(key) < 3 || keptWords[key] {
		key = fallback
	}
	taken := map[string]bool{}
	for _, c := range n.compounds {
		taken[c.key] = true
	}
	for _, i := range n.ideas {
		taken[i.key] = true
	}
	for i, first := 2, key; taken[key]; i++ {
		key = fmt.Sprintf("%s%d", first, i)
	}
	return key
}

// keptWords are words that the expression language keeps for itself or for
// functions that the new lesson calls.
var keptWords = map[string]bool{"true": true, "false": true, "null": true, "for": true, "break": true, "const": true, "continue": true, "else": true,
	"function": true, "import": true, "let": true, "loop": true, "package": true, "namespace": true, "return": true, "var": true, "void": true,
	"while": true, "formula": true, "mass": true, "figure": true, "size": true, "math": true}

// lesson writes the source of the lesson. It fails where a compound's spectrum
// can't be computed.
func (n *newAnswers) lesson(ctx context.Context) (string, error) {
	if len(n.compounds) == 0 {
		if err := n.addCompound("acetone"); err != nil {
			return "", err
		}
	}
	if len(n.ideas) == 0 {
		if err := n.addIdea("Say here, in one sentence, what students must take away."); err != nil {
			return "", err
		}
	}
	for _, c := range n.compounds {
		if err := c.computable(ctx); err != nil {
			return "", err
		}
	}
	title := oneLine(n.title)
	if title == "" {
		title = "A lesson to begin with"
	}
	if utf8.RuneCountInString(title) > longestTitle {
		return "", fmt.Errorf("the title has more than %d characters\nhint: say the rest in the lesson", longestTitle)
	}
	var b strings.Builder
	fmt.Fprintf(&b, "---\ntitle: %s\n", yamlText(title))
	if audience := oneLine(n.audience); audience != "" {
		fmt.Fprintf(&b, "audience: %s\n", yamlText(audience))
	}
	b.WriteString("pace: 130\ncompounds:\n")
	for _, c := range n.compounds {
		kind := "smiles"
		if c.named {
			kind = "named"
		}
		fmt.Fprintf(&b, "  %s: { name: %s, %s: %s, computed: yes }\n", c.key, yamlText(c.name), kind, yamlText(c.text))
	}
	b.WriteString("ideas:\n")
	for _, i := range n.ideas {
		fmt.Fprintf(&b, "  %s: %s\n", i.key, yamlText(asMarkdown(i.sentence)))
	}
	b.WriteString("---\n\nSay here what the lesson is about. What stands in double braces is computed, and a number in square brackets is yours and is checked.\n")
	for k := range max(len(n.ideas), len(n.compounds)) {
		n.section(&b, k)
	}
	b.WriteString("\n## What to take away\n\n```recap\nideas: [")
	for k, i := range n.ideas {
		if k > 0 {
			b.WriteString(", ")
		}
		b.WriteString(i.key)
	}
	b.WriteString("]\n```\n")
	return b.String(), nil
}

// section writes the section of an idea about a compound; where there are more
// of the one than of the other, the last one serves again.
func (n *newAnswers) section(b *strings.Builder, k int) {
	c := n.compounds[min(k, len(n.compounds)-1)]
	figure := fmt.Sprintf("spectrum%d", k+1)
	heading := fmt.Sprintf("What %s shows", asMarkdown(c.name))
	if k < len(n.ideas) {
		heading += fmt.Sprintf(" {#%s}", n.ideas[k].key)
	}
	fmt.Fprintf(b, "\n## %s\n\nWrite the explanation here. {{ figure(%q) }} is the spectrum of {{ %s.name }}, {{ formula(%s) }}. Its nominal mass is\n[%d]{= mass(%s) }, and its base peak is at m/z {{ basePeak(%s).mz }}.\n",
		heading, figure, c.key, c.key, c.mol.Formula().NominalMass(), c.key, c.key)
	fmt.Fprintf(b, "\n```figure\nid: %s\nspectrum: %s\ncaption: Say here what to look for.\n```\n", figure, c.key)
	if k < len(n.ideas) {
		fmt.Fprintf(b, "\n```question\nid: question%d\nkind: number\nidea: %s\nask: What is the nominal mass of {{ %s.name }}?\nanswer: mass(%s)\nbecause: Say here how to find it.\n```\n",
			k+1, n.ideas[k].key, c.key, c.key)
	}
}

// asMarkdown takes the meaning that Markdown and lessons give to some
// characters from an answer.
func asMarkdown(s string) string {
	return strings.NewReplacer(`\`, `\\`, "{{", `\{{`, "[", `\[`, "<", "&lt;", "*", `\*`, "_", `\_`, "`", "\\`").Replace(s)
}

// yamlText is a text as a value of the front matter, in single quotes.
func yamlText(s string) string { return "'" + strings.ReplaceAll(s, "'", "''") + "'" }
