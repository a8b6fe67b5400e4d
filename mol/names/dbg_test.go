package names

import (
	"os"
	"strings"
	"testing"
)

func TestDbg(t *testing.T) {
	for _, name := range strings.Split(os.Getenv("NAMES"), ";") {
		tx, _ := newText(name)
		r := newReader(tx)
		for p := range tx.s {
			for _, x := range r.radicalsAt(p, len(tx.s)) {
				t.Logf("%s: rad %q pen %d key %s", name, tx.s[x.at:x.end], x.penalty, x.key)
			}
			for _, x := range r.candidatesAt(p, len(tx.s)) {
				t.Logf("%s: cand %q kind %d bonds %v form %d", name, tx.s[p:x.end], x.core.kind, x.bonds, x.form)
			}
		}
		for _, b := range r.named(0, len(tx.s)) {
			t.Logf("%s => pen %d %s cut %v", name, b.penalty, b.key, b.cut)
		}
		t.Log(r.fault, r.budget)
	}
}
