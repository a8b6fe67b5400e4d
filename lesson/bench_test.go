package lesson_test

import (
	"context"
	"testing"

	"ionwright/lesson"
	"ionwright/lesson/example"
	"ionwright/lesson/pack"
)

// BenchmarkBuildTheExample is what "serve" does after every change: check,
// compute three spectra, draw five figures twice, write both pages.
func BenchmarkBuildTheExample(b *testing.B) {
	for b.Loop() {
		p, diags, err := lesson.Build(context.Background(), example.Bottles(), pack.Options{})
		if err != nil || p == nil {
			b.Fatal(diags, err)
		}
	}
}
