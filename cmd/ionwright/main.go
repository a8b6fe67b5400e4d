// Command ionwright teaches electron-ionization mass spectrometry: it checks
// and builds lessons, serves them while they are written, and computes what
// they need, from masses to spectra.
//
// Exit status: 0 fine, 1 the work failed (a claim is false, a file damaged),
// 2 wrong usage.
package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"os/signal"
	"strings"
	"syscall"

	"ionwright/lesson/diag"
)

// verb is one thing the command does.
type verb struct {
	name    string
	args    string // after the name, for the usage line
	summary string
	run     func(ctx context.Context, c *call) error
}

// verbs is the visible list, in the order of the work.
func verbs() []verb {
	return []verb{
		{"new", "[--title TITLE] [--compound NAME]... [--idea SENTENCE]... FOLDER", "ask a few questions and write a lesson to begin with; --example writes a finished one, --course six", runNew},
		{"check", "[--strict] [--watch] [FOLDER|FILE]", "compute everything a lesson says and report what is wrong", runCheck},
		{"build", "[--out FOLDER] [--pdf] [--no-cache] [FOLDER]", "build a lesson or a course into pages, slides, figures and a manifest", runBuild},
		{"serve", "[--port N] [--open] [FOLDER]", "work in the browser: explain, demonstrate, read, write, practise; lessons are kept in FOLDER", runServe},
		{"practice", "[--level N] [--versions N] [IDEA]", "propose questions on an idea, with key, hints and expected mistakes; without an idea, list the ideas", runPractice},
		{"mark", "FOLDER ANSWERS", "mark answers (JSON) to a lesson's questions, with reasons", runMark},
		{"read", "[--given WHAT=VALUE]... [--candidates FILE|SMILES|NAME]... [--depth D] FILE", "read a spectrum alone: molecular ion, clues, formulas", runRead},
		{"predict", "[--ev ENERGY | --energies FROM:TO:STEP [-o FILE]] SMILES|NAME", "compute the spectrum of a structure, with the route to each ion; or its breakdown curves", runPredict},
		{"explain", "[--ev ENERGY] [--least PERCENT] SMILES|NAME FILE", "explain a measured spectrum by a structure: the ions and routes of each peak", runExplain},
		{"masses", "FORMULA", "masses and isotope pattern of a formula", runMasses},
		{"formulas", "[--tolerance T] [--unit ppm|Da] MASS", "formulas that fit a mass", runFormulas},
		{"isomers", "[--count] [--limit N] [--with GROUP]... FORMULA", "all constitutional isomers of a formula", runIsomers},
		{"rivals", "[--mass | --spectrum-only] [--group NAME]... ANSWER [FILE]", "the structures that fit an unknown as well as its answer does", runRivals},
		{"sweep", "[--instrument NAME|FILE] [-o FOLDER] [FLAG]... MZ[:INTENSITY]... | FILE | SMILES | NAME", "fly ions through a magnetic sector: when each arrives, the trace, the resolving power", runSweep},
		{"draw", "KIND [-o FILE] [FLAG]... ARGUMENT...", "draw a structure, spectrum, comparison or instrument as SVG, PNG or PDF, with its words", runDraw},
		{"convert", "IN OUT", "turn spectrum files (.jdx, .csv) or structure files (.smi, .mol) into another format", runConvert},
	}
}

func main() {
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
	defer stop()
	os.Exit(run(ctx, os.Args[1:], os.Stdin, os.Stdout, os.Stderr))
}

const (
	exitFine   = 0
	exitFailed = 1
	exitUsage  = 2
)

// run does what the arguments say and gives the exit status.
func run(ctx context.Context, args []string, in io.Reader, out, errOut io.Writer) int {
	if len(args) == 0 {
		fmt.Fprint(errOut, usage())
		return exitUsage
	}
	switch args[0] {
	case "help", "-h", "-help", "--help":
		fmt.Fprint(out, usage())
		return exitFine
	}
	var names []string
	for _, v := range verbs() {
		if v.name == args[0] {
			return runVerb(ctx, v, args[1:], in, out, errOut)
		}
		names = append(names, v.name)
	}
	fmt.Fprintf(errOut, "ionwright: there is no verb %q\n", args[0])
	if near, ok := diag.Nearest(args[0], names); ok {
		fmt.Fprintf(errOut, "hint: did you mean %q?\n", near)
	} else {
		fmt.Fprint(errOut, "hint: \"ionwright help\" lists the verbs\n")
	}
	return exitUsage
}

func runVerb(ctx context.Context, v verb, args []string, in io.Reader, out, errOut io.Writer) int {
	c := newCall(v, args, in, out, errOut)
	err := v.run(ctx, c)
	var wrong *usageError
	switch {
	case err == nil:
		return exitFine
	case errors.Is(err, errHelp):
		return exitFine
	case errors.As(err, &wrong):
		fmt.Fprintf(errOut, "ionwright %s: %v\nusage: ionwright %s %s\n", v.name, wrong, v.name, v.args)
		return exitUsage
	case errors.Is(err, errReported):
		return exitFailed
	case ctx.Err() != nil:
		fmt.Fprintf(errOut, "ionwright %s: stopped\n", v.name)
		return exitFailed
	}
	c.fail(err)
	return exitFailed
}

func usage() string {
	var b strings.Builder
	b.WriteString("Ionwright teaches electron-ionization mass spectrometry.\n\nusage: ionwright VERB [--json] ...\n\n")
	for _, v := range verbs() {
		fmt.Fprintf(&b, "  %-9s %s\n", v.name, v.summary)
	}
	b.WriteString("\n\"ionwright VERB --help\" lists a verb's flags. read, predict, explain, masses, formulas, isomers and convert also take --stream:\n" +
		"one JSON object a line on standard input, one a line out.\n\n" +
		"Exit status: 0 fine, 1 the work failed, 2 wrong usage.\n" +
		"For teaching only: no result may be used for a clinical, forensic or safety decision.\n")
	return b.String()
}
