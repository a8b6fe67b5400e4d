package main

import (
	"bytes"
	"context"
	"errors"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"ionwright/lesson"
)

// madeHolds writes a lesson and checks that it builds without a finding.
func madeHolds(t *testing.T, a *newAnswers) string {
	t.Helper()
	text, err := a.lesson(context.Background())
	if err != nil {
		t.Fatal(err)
	}
	dir := t.TempDir()
	write(t, filepath.Join(dir, "lesson.md"), text)
	files, err := lesson.Open(dir)
	if err != nil {
		t.Fatal(err)
	}
	_, found, err := lesson.Check(context.Background(), files)
	if err != nil {
		t.Fatal(err)
	}
	for _, d := range found {
		t.Errorf("%s\nin\n%s", d, text)
	}
	return text
}

// The questions are asked again where an answer can't be used, and what they
// give builds.
func TestNewAsks(t *testing.T) {
	answers := strings.Join([]string{
		"Where it's broken: \"a [test] {{ of }} <quotes>\"", "first years",
		"", "butan-2-oen", "butan-2-one", "c1ccccc1Cl", "[Na+].[Cl-]", "",
		"", "Ketones break *next* to the {{ carbonyl }} carbon: always.", "Chlorine shows <two> peaks [in the ratio 3:1].", "",
	}, "\n") + "\n"
	var a newAnswers
	var out bytes.Buffer
	if err := a.ask(context.Background(), strings.NewReader(answers), &out); err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{"at least one is needed", `the compound "butan-2-oen"`, "did you mean", "computing the spectrum of"} {
		if !strings.Contains(out.String(), want) {
			t.Errorf("nothing says %q:\n%s", want, out.String())
		}
	}
	if len(a.compounds) != 2 || len(a.ideas) != 2 {
		t.Fatalf("compounds %v, ideas %v", a.compounds, a.ideas)
	}
	text := madeHolds(t, &a)
	for _, want := range []string{"named: 'butan-2-one'", "smiles: 'c1ccccc1Cl'", "audience: 'first years'"} {
		if !strings.Contains(text, want) {
			t.Errorf("no %q in\n%s", want, text)
		}
	}
}

func TestNewFillsInWhatIsNotSaid(t *testing.T) {
	madeHolds(t, &newAnswers{title: "Only a title"})
	many := &newAnswers{}
	for _, s := range []string{"hexane", "hexane", "CC=O"} {
		if err := many.addCompound(s); err != nil {
			t.Fatal(err)
		}
	}
	for _, s := range []string{"True is true.", "True is true.", "for for for", "a", "mass"} {
		if err := many.addIdea(s); err != nil {
			t.Fatal(err)
		}
	}
	madeHolds(t, many)
}

func TestNewStops(t *testing.T) {
	var a newAnswers
	if err := a.ask(context.Background(), strings.NewReader("title\n"), &bytes.Buffer{}); !errors.Is(err, errNoAnswer) {
		t.Errorf("answers that end: %v", err)
	}
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	waiting, typing, err := os.Pipe()
	if err != nil {
		t.Fatal(err)
	}
	defer typing.Close()
	if err := a.ask(ctx, waiting, &bytes.Buffer{}); !errors.Is(err, context.Canceled) {
		t.Errorf("Ctrl-C: %v", err)
	}
}
