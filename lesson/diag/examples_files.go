package diag

var fileCodes = []Info{
	{MissingFile, Error, "A file that the lesson names isn't in its folder.", `---
title: Bottles
compounds:
  solvent: { smiles: CCC(C)=O, measured: ⟦missing-file "there is no file \"botle.jdx\""⟧botle.jdx }
---
`},
	{Unreadable, Error, "A file of the lesson exists but can't be read.", `---
title: Bottles
compounds: { solvent: CCC(C)=O }
---

~~~include
file: ⟦unreadable "reading \"parts\""⟧parts
~~~
-- parts/one.md --
The name of a folder can't be read as a file.
`},
	{OutsidePath, Error, "A file name leads out of the lesson's folder.", `---
title: Bottles
compounds: { solvent: CCC(C)=O }
---

~~~include
file: ⟦outside-path "outside of the lesson's folder"⟧../secret.md
~~~
`},
	{TooLarge, Error, "A file or a piece of YAML is larger than what is read.", `---
title: Bottles
compounds: { solvent: CCC(C)=O }
---

~~~include
file: many.md
~~~
` + manyIncludes},
	{BadEncoding, Error, "A source file holds something other than UTF-8 text.", "---\ntitle: Bottles\ncompounds: { solvent: CCC(C)=O }\n---\n\n" +
		"A gr⟦bad-encoding \"byte 0xfc\"⟧\xfcn bottle.\n"},
	{CircularInclude, Error, "A file includes itself, directly or through another.", `---
title: Bottles
compounds: { solvent: CCC(C)=O }
---

~~~include
file: a.md
~~~
-- a.md --
~~~include
file: b.md
~~~
-- b.md --
~~~include
file: ⟦circular-include "a.md -> b.md -> a.md"⟧a.md
~~~
`},
}

// manyIncludes is a file that is put in by more than the allowed number of
// blocks in all.
var manyIncludes = func() string {
	text := "-- many.md --\n"
	for i := range 101 {
		mark := ""
		if i == 99 { // many.md is the first
			mark = "⟦too-large \"more than 100 include blocks\"⟧"
		}
		text += "~~~include\nfile: " + mark + "one.md\n~~~\n"
	}
	return text + "-- one.md --\nOne.\n"
}()
