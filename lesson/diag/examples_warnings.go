package diag

var warningCodes = []Info{
	{ClueAlternatives, Warning, "An ion or loss is given one formula although others are as common, and the lesson doesn't list them.", `---
title: Bottles
compounds: { solvent: CCC(C)=O }
---

The peak at m/z [43]{= basePeak(solvent).mz } is {{ ⟦clue-alternatives "assignments(43)"⟧ion(solvent, 43).formula }}.
`},
	{MolecularIonWeak, Warning, "The molecular ion of a compound is too weak to be seen, and the lesson speaks of it.", `---
title: Bottles
compounds:
  tank: { smiles: CC(C)(C)C, measured: tank.csv, license: own }
---

The molecular ion stands at m/z {{ ⟦molecular-ion-weak "0.0 %"⟧molecularIon(tank).mz }}.
-- tank.csv --
m/z,intensity
29,38
41,41
57,100
`},
	{LowConfidence, Warning, "A computed spectrum is shown that the engine itself trusts little.", `---
title: Bottles
compounds:
  odd: C[Si](C)(C)OP(=O)(OC)SC1CC2CC1C=C2
---

{{ figure("crude") }} is a guess.

~~~figure
id: crude
spectrum: ⟦low-confidence "confidence"⟧odd
~~~
`},
	{NumberUnchecked, Warning, "A number stands beside \"m/z\" in the prose and nothing computes it.", `---
title: Bottles
compounds: { solvent: CCC(C)=O }
---

The strongest peak is ⟦number-unchecked "[43]{= basePeak(...).mz }"⟧m/z 43.
`},
	{ProseFalse, Warning, "A sentence of the prose that the computation contradicts: a mass, loss, peak or isotope ratio beside a compound's name, the nitrogen rule, or a statement about the instrument. The codes of texts that aren't lessons, below, say what is looked for.", `---
title: Bottles
compounds: { solvent: { name: butan-2-one, smiles: CCC(C)=O, computed: yes } }
---

Butan-2-one has a molecular mass of ⟦prose-false "computed: 72"⟧74.
`},
	{AmbiguousUnknown, Warning, "Another structure fits what students are given of an unknown as well as its answer does.", `---
title: Bottles
compounds:
  bottle: { smiles: Cc1ccc(C)cc1, computed: yes, unknown: ⟦ambiguous-unknown "can't be told apart"⟧formula, known: [phenyl] }
---

What is in the bottle?
`},
	{UnknownUnchecked, Warning, "The rivals of an unknown can't be looked for.", `---
title: Bottles
compounds:
  bottle: { smiles: CCC(=O)CC, computed: yes, unknown: ⟦unknown-unchecked "there is no group"⟧formula, known: [no such group] }
---

What is in the bottle?
`},
	{TermDiscouraged, Warning, "A term that IUPAC's recommendations of 2013 discourage, or a known slip.", `---
title: Bottles
compounds: { solvent: CCC(C)=O }
---

The ⟦term-discouraged "\"molecular ion\""⟧parent ion is at the right, sorted by mass to charge.
`},
}
