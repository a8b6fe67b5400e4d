package diag

var sourceCodes = []Info{
	{FrontMatter, Error, "The front matter is missing, not closed, or stands in an included file.", `⟦front-matter "begins with front matter"⟧# Bottles
`},
	{BadYAML, Error, "The front matter or the body of a block isn't YAML, or uses a part of YAML that lessons don't.", `---
title: ⟦bad-yaml "mapping value is not allowed"⟧Bottles: three of them
compounds: { solvent: CCC(C)=O }
---
`},
	{MissingKey, Error, "A block or an entry of the front matter lacks something it needs.", `---
title: Bottles
compounds: { solvent: CCC(C)=O }
---

~~~⟦missing-key "this claim needs \"that\""⟧claim
says: It breaks next to the carbonyl group.
~~~
`},
	{UnknownKey, Error, "A key that nothing reads, often a slip of the pen.", `---
title: Bottles
⟦unknown-key "did you mean \"compounds\"?"⟧compunds: { solvent: CCC(C)=O }
compounds: { solvent: CCC(C)=O }
---
`},
	{WrongType, Error, "A value of the wrong kind: a word for a number, a number without its unit, a list for a single value.", `---
title: Bottles
compounds: { solvent: CCC(C)=O }
instruments:
  bench: { radius: ⟦wrong-type "must be a positive number and a unit"⟧0.25, voltage: 4 kV }
---
`},
	{BadName, Error, "A name that expressions couldn't use.", `---
title: Bottles
compounds: { ⟦bad-name "can't be the name of the compound"⟧bottle-7: CCC(C)=O }
---
`},
	{Duplicate, Error, "A key, name or id that is already taken.", `---
title: Bottles
compounds: { solvent: CCC(C)=O }
instruments:
  ⟦duplicate "\"solvent\" is taken"⟧solvent: { radius: 25 cm, voltage: 4 kV }
---
`},
	{UnknownBlock, Error, "A fenced block whose word looks like a lesson's block but isn't one, or a block inside of another.", `---
title: Bottles
compounds: { solvent: CCC(C)=O }
---

~~~⟦unknown-block "did you mean \"claim\"?"⟧clam
that: mass(solvent) == 72
~~~
`},
	{OpenValue, Error, "A computed value that isn't closed on its line.", `---
title: Bottles
compounds: { solvent: CCC(C)=O }
---

Its nominal mass is ⟦open-value "isn't closed"⟧{{ mass(solvent) }.
`},
	{RawHTML, Error, "HTML in the source. Comments are allowed and left out of the pages.", `---
title: Bottles
compounds: { solvent: CCC(C)=O }
---

Shake ⟦raw-html "HTML isn't carried over"⟧<b>well.
`},
	{Picture, Error, "A picture. Figures are drawn from the data, so that each has a table and a text for those who can't see it.", `---
title: Bottles
compounds: { solvent: CCC(C)=O }
---

![⟦picture "pictures aren't carried over"⟧the bottle](bottle.png)
`},
}
