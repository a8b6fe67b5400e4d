package diag

var dataCodes = []Info{
	{BadSMILES, Error, "A structure that isn't a SMILES string; the place is that of the wrong character.", `---
title: Bottles
compounds:
  solvent: CCC(C=⟦bad-smiles "CCC(C=?O"⟧?O
---
`},
	{BadSpectrum, Error, "A spectrum file that can't be read, or that holds no peaks or several spectra.", `---
title: Bottles
compounds:
  solvent: { smiles: CCC(C)=O, measured: ⟦bad-spectrum "bottle.csv"⟧bottle.csv }
---
-- bottle.csv --
m/z,intensity
43,plenty
`},
	{SpectrumMismatch, Error, "A spectrum file that says it is of another formula than the compound's.", `---
title: Bottles
compounds:
  solvent: { smiles: CCC(C)=O, measured: ⟦spectrum-mismatch "C5H12"⟧bottle.jdx }
---
-- bottle.jdx --
##TITLE= pentane
##JCAMP-DX= 5.00
##DATA TYPE= MASS SPECTRUM
##DATA CLASS= PEAK TABLE
##ORIGIN= store room
##OWNER= the course
##MOLFORM= C 5 H 12
##XUNITS= M/Z
##YUNITS= RELATIVE ABUNDANCE
##NPOINTS= 2
##PEAK TABLE= (XY..XY)
43,100 72,11
##END=
`},
	{NotComputed, Error, "A structure whose spectrum the engine can't compute.", `---
title: Bottles
compounds:
  salt: '⟦not-computed "[Na+].[Cl-]"⟧[Na+].[Cl-]'
---
`},
	{NoLicense, Error, "A measured spectrum that a pack would publish without a license, or without naming the owner whom its license wants named.", `---
title: Bottles
compounds:
  solvent: { smiles: CCC(C)=O, measured: ⟦no-license "says no license"⟧bottle.csv }
---
-- bottle.csv --
mz,intensity
43,100
72,17
`},
	{LicenseForbids, Error, "A measured spectrum whose license forbids publishing it or figures of it, isn't known to allow it, or isn't the one that the lesson states.", `---
title: Bottles
compounds:
  solvent: { smiles: CCC(C)=O, measured: ⟦license-forbids "changed forms"⟧bottle.csv, license: CC BY-ND 4.0, origin: Ilse Quarnholt }
---
-- bottle.csv --
mz,intensity
43,100
72,17
`},
}
