package diag

var structureCodes = []Info{
	{IdeaUnexplained, Error, "An idea that no heading announces, or whose section has no sentence.", `---
title: Bottles
compounds: { solvent: { smiles: CCC(C)=O, computed: yes } }
ideas:
  ⟦idea-unexplained "{#acylium}"⟧acylium: Ketones break next to the carbonyl carbon.
---

## Where it breaks {#acylum}

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
~~~recap
ideas: [acylium]
~~~
`},
	{IdeaWithoutFigure, Error, "An idea whose section shows no figure.", `---
title: Bottles
compounds: { solvent: CCC(C)=O }
ideas:
  ⟦idea-without-figure "no figure"⟧acylium: Ketones break next to the carbonyl carbon.
---

## Where it breaks {#acylium}

Next to the carbonyl carbon.

~~~question
id: weigh
kind: number
idea: acylium
ask: What is its nominal mass?
answer: mass(solvent)
~~~
~~~recap
ideas: [acylium]
~~~
`},
	{IdeaUnasked, Error, "An idea that no question asks about.", `---
title: Bottles
compounds: { solvent: { smiles: CCC(C)=O, computed: yes } }
ideas:
  ⟦idea-unasked "no question"⟧acylium: Ketones break next to the carbonyl carbon.
---

## Where it breaks {#acylium}

Next to the carbonyl carbon. {{ figure("bottle") }} shows it.

~~~figure
id: bottle
spectrum: solvent
~~~
~~~recap
ideas: [acylium]
~~~
`},
	{IdeaNotRecapped, Error, "An idea that the recap leaves out.", `---
title: Bottles
compounds: { solvent: { smiles: CCC(C)=O, computed: yes } }
ideas:
  ⟦idea-not-recapped "recap"⟧acylium: Ketones break next to the carbonyl carbon.
---

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
	{FigureUnmentioned, Error, "A figure that no sentence of the lesson mentions.", `---
title: Bottles
compounds: { solvent: { smiles: CCC(C)=O, computed: yes } }
---

~~~figure
id: ⟦figure-unmentioned "{{ figure(\"bottle\") }}"⟧bottle
spectrum: solvent
~~~
`},
}
