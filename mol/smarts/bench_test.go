package smarts_test

import (
	"testing"

	"ionwright/mol"
	"ionwright/mol/smarts"
)

// medium are molecules of the size that spectra are measured of.
var medium = []string{
	"CC(=O)Oc1ccccc1C(=O)O", "Cn1cnc2c1c(=O)n(C)c(=O)n2C", "CC12CCC3C(CCC4=CC(=O)CCC34C)C1CCC2O", "CCCCCCCCCCCC(=O)OC",
	"CN1CCCC1c1cccnc1", "Clc1ccc(cc1)C(c1ccc(Cl)cc1)C(Cl)(Cl)Cl", "CCN(CC)CC(=O)Nc1c(C)cccc1C", "C[Si](C)(C)OC(=O)c1ccccc1",
}

func mediumMolecules(b *testing.B) []*mol.Mol {
	var all []*mol.Mol
	for _, text := range medium {
		all = append(all, parse(b, text))
	}
	return all
}

// BenchmarkLoad prepares one molecule.
func BenchmarkLoad(b *testing.B) {
	molecules := mediumMolecules(b)
	var mt smarts.Matcher
	b.ReportAllocs()
	for i := 0; b.Loop(); i++ {
		mt.Load(molecules[i%len(molecules)])
	}
}

// BenchmarkMatch matches one pattern with one prepared molecule.
func BenchmarkMatch(b *testing.B) {
	set, err := smarts.CompileSet(scored...)
	if err != nil {
		b.Fatal(err)
	}
	var targets []*smarts.Target
	for _, m := range mediumMolecules(b) {
		targets = append(targets, smarts.Prepare(m))
	}
	var mt smarts.Matcher
	b.ReportAllocs()
	for i := 0; b.Loop(); i++ {
		if i%set.Len() == 0 {
			mt.Use(targets[i/set.Len()%len(targets)])
		}
		mt.Match(set.Pattern(i % set.Len()))
	}
}

// BenchmarkCompile compiles one pattern.
func BenchmarkCompile(b *testing.B) {
	b.ReportAllocs()
	for i := 0; b.Loop(); i++ {
		if _, err := smarts.Compile(scored[i%len(scored)]); err != nil {
			b.Fatal(err)
		}
	}
}
