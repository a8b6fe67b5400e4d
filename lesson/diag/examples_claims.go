package diag

var claimCodes = []Info{
	{BadExpression, Error, "An expression that isn't CEL, has the wrong type, or fails when it is computed.", `---
title: Bottles
compounds: { solvent: CCC(C)=O }
---

It weighs {{ mass(solvent) +⟦bad-expression "it ends where something more is needed"⟧ }}.
`},
	{UnknownName, Error, "A compound, instrument, idea, figure or function that doesn't exist.", `---
title: Bottles
compounds: { solvent: CCC(C)=O }
---

The strongest peak is m/z {{ ⟦unknown-name "did you mean \"basePeak\"?"⟧basPeak(solvent).mz }}.
`},
	{NoIon, Error, "An ion that the compound doesn't form, as far as the engine knows.", `---
title: Bottles
compounds: { solvent: CCC(C)=O }
---

There is {{ ⟦no-ion "no ion of solvent at m/z 50"⟧ion(solvent, 50).formula }}.
`},
	{NoPeak, Error, "A figure labels an m/z at which the spectrum has no peak.", `---
title: Bottles
compounds: { solvent: { smiles: CCC(C)=O, computed: yes } }
---

{{ figure("bottle") }} has no such peak.

~~~figure
id: bottle
spectrum: solvent
label: [43, ⟦no-peak "no peak at m/z 50"⟧50]
~~~
`},
	{ClaimFalse, Error, "A claim that doesn't hold.", `---
title: Bottles
compounds: { solvent: CCC(C)=O }
---

~~~claim
that: ⟦claim-false "computed: 72"⟧mass(solvent) == 74
~~~
`},
	{TextFalse, Error, "Words in the prose that the computation contradicts.", `---
title: Bottles
compounds: { solvent: CCC(C)=O }
---

Its nominal mass is [⟦text-false "computed: 72"⟧74]{= mass(solvent) }.
`},
	{QuestionAnswer, Error, "A question without an answer, or a choice of which not exactly one is right.", `---
title: Bottles
compounds: { solvent: CCC(C)=O }
---

~~~⟦question-answer "2 of its choices are right"⟧question
id: weigh
kind: choice
ask: What is its nominal mass?
choices:
  - says: "72"
    right: mass(solvent) == 72
    because: Four carbon atoms, eight hydrogen atoms and an oxygen atom.
  - says: less than 100
    right: mass(solvent) < 100
    because: It is a small molecule.
~~~
`},
	{QuestionScheme, Error, "A marking scheme that contradicts itself or can't work: an accepted answer that can't be read, more marks than the question has, a right answer that its own rules reject.", `---
title: Bottles
compounds: { solvent: CCC(C)=O }
---

~~~question
id: weigh
kind: number
ask: What is its nominal mass?
answer: mass(solvent)
accept:
  - { answer: ⟦question-scheme "the whole question has 1"⟧72.06, marks: 2, because: That is the exact mass. }
~~~
`},
}
