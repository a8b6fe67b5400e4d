package rival

import (
	"context"
	"fmt"
	"os"
	"strings"
	"syscall"
	"testing"
	"time"

	"ionwright/mol/smiles"
)

func cpu() time.Duration {
	var u syscall.Rusage
	syscall.Getrusage(syscall.RUSAGE_SELF, &u)
	return time.Duration(u.Utime.Nano() + u.Stime.Nano())
}

func TestTry(t *testing.T) {
	for _, text := range strings.Fields(os.Getenv("ANSWERS")) {
		parts := strings.Split(text, "/")
		m, err := smiles.Parse(parts[0])
		if err != nil {
			t.Fatal(err)
		}
		p := Problem{Answer: m, FormulaGiven: true}
		for _, g := range parts[1:] {
			p.Groups = append(p.Groups, strings.ReplaceAll(g, "_", " "))
		}
		start, wall := cpu(), time.Now()
		r, err := Find(context.Background(), p, Options{})
		if err != nil {
			t.Fatal(err)
		}
		fmt.Printf("## %s same %d close %d computed %d passed %d refused %d complete %v cpu %v wall %v formulas %v\n", r.Answer, r.Same, r.Close, r.Computed, r.Passed, r.Refused, r.Complete, cpu()-start, time.Since(wall), r.Formulas)
		for i, x := range r.Rivals {
			if i < 14 {
				fmt.Printf("   %-22s %-20s likeness %.3f match %.3f odds %.2g %v\n", x.SMILES, x.Verdict, x.Likeness, x.Match, x.Odds, x.Deciding)
			}
		}
		fmt.Println("   facts", r.Facts, "close", r.CloseFacts)
		for _, n := range r.Notes {
			fmt.Println("   note:", n)
		}
	}
}
