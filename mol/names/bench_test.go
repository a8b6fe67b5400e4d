package names

import "testing"

// BenchmarkResolve resolves the textbook names in turn.
func BenchmarkResolve(b *testing.B) {
	var names []string
	for cells := range rowsOf(textbookNames) {
		names = append(names, cells[0])
	}
	b.ReportAllocs()
	b.ResetTimer()
	for i := range b.N {
		if _, err := Resolve(names[i%len(names)]); err != nil {
			b.Fatal(err)
		}
	}
}

// BenchmarkResolveLong resolves one long name.
func BenchmarkResolveLong(b *testing.B) {
	const name = "3-(tert-butyldimethylsilyloxy)-5-(4-methyl-3-pentenyl)-2,2-dimethyl-3,4,4a,5,6,7,8,8a-octahydronaphthalen-1(2H)-one"
	b.ReportAllocs()
	for b.Loop() {
		if _, err := Resolve(name); err != nil {
			b.Fatal(err)
		}
	}
}
