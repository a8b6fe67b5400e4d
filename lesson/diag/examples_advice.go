package diag

import "strings"

// adviceCodes are about the writing, and about what is prepared and not used.
var adviceCodes = []Info{
	{CalledMeasured, Warning, "The text calls a spectrum measured that is computed.", `---
title: Bottles
compounds: { solvent: { name: butan-2-one, smiles: CCC(C)=O, computed: yes } }
---

We take the ⟦called-measured "is computed"⟧measured spectrum of butan-2-one.
`},
	{HookNotRecalled, Warning, "A hook that is given in its idea's section and never recalled: the recap comes before the section.", `---
title: Bottles
compounds: { solvent: { smiles: CCC(C)=O, computed: yes } }
ideas:
  acylium: Ketones break next to the carbonyl carbon.
hooks:
  ⟦hook-not-recalled "never recalled"⟧acylium: A ketone snaps at the elbow.
---

~~~recap
ideas: [acylium]
~~~

## Where it breaks {#acylium}

Next to the carbonyl carbon. {{ figure("bottle") }} shows it.

~~~figure
id: bottle
spectrum: solvent
~~~
~~~question
id: weigh
kind: number
idea: acylium
ask: What is its nominal mass?
answer: mass(solvent)
~~~
`},
	{TermUnused, Advice, "A term of the glossary that no glossary block shows, or that the text never uses.", `---
title: Bottles
compounds: { solvent: CCC(C)=O }
glossary:
  base peak: the strongest peak of a spectrum
  ⟦term-unused "never uses"⟧acylium ion: a cation R–CO⁺
---

The base peak stands out.

~~~glossary
terms: all
~~~
`},
	{LongSentence, Advice, "A sentence with more words than the lesson's limit: 45, or what the front matter says (reading: { words: ... }).", `---
title: Bottles
compounds: { solvent: CCC(C)=O }
reading: { words: 12 }
---

⟦long-sentence "has 14 words"⟧The bottle that stood on the shelf by the door has lost its label.
`},
	{HardReading, Advice, "A section of a hundred words or more whose Flesch-Kincaid grade level is above the lesson's limit: 14, or what the front matter says (reading: { grade: ... }).", `---
title: Bottles
compounds: { solvent: CCC(C)=O }
reading: { grade: 9 }
---

## ⟦hard-reading "Flesch-Kincaid"⟧Ionization

` + strings.Repeat("Spectrometric instrumentation occasionally necessitates considerable preliminary familiarization.\n", 17)},
	{LongSection, Advice, "A section that takes longer to say, at the author's pace, than the lesson's limit: 8 minutes, or what the front matter says (reading: { minutes: ... }).", `---
title: Bottles
pace: 60
compounds: { solvent: CCC(C)=O }
reading: { minutes: 0.1 }
---

## ⟦long-section "0.2 minutes"⟧The shelf

The bottle that stood on the shelf by the door has lost its label.
`},
}
