package foreign

// wrongStatements are wrong in one thing each, which the annotation names. The
// right values are computed by hand from IUPAC's masses and abundances.
const wrongStatements = `
The molecular mass of toluene is ⟦mass-false "computed: 92"⟧91.
Acetophenone has a molecular weight of ⟦mass-false "computed: 120"⟧105 g/mol.
The molecular ion of pentan-2-one appears at m/z ⟦mass-false "computed: 86"⟧84.
Benzoic acid (M = 122) is a solid, and its molecular ion peak is at m/z ⟦mass-false "computed: 122"⟧121.
The exact mass of hexane is ⟦mass-false "computed: 86.1096"⟧86.1196.
The nominal mass of C7H8O is ⟦mass-false "computed: 108"⟧106.
The acetyl ion: ⟦mass-false "computed: 43.0542"⟧C3H7+ = 43.0178.
The peak at 57.0699 fits C4H9+; ⟦mass-false "computed: 29.0386"⟧C2H5+ (29.0022) is seen too.
The molecular ion of acetone has m/z ⟦electron-mass "computed: 58.0413"⟧58.0419.
The propyl ion C3H7+ (⟦electron-mass "computed: 43.0542"⟧43.0548) is lighter than you think.
Butan-2-one (⟦formula-false "computed: C4H8O"⟧C4H10O) is a ketone.
The loss of a methyl radical (⟦loss-false "computed: 15"⟧16) is common.
The peak at M - ⟦loss-false "computed: 18"⟧16 is due to the loss of water.
A loss of ⟦loss-false "computed: 28"⟧27 corresponds to carbon monoxide.
Ethanol loses an ethyl radical (⟦loss-false "computed: 29"⟧28 u).
Hexane loses an ethyl radical to give an ion at m/z ⟦loss-false "computed: 57"⟧58.
The fragment lies at 120 - 15 = ⟦loss-false "computed: 105"⟧106.
A compound with one chlorine atom shows M and M+2 in a ratio of ⟦isotope-false "computed: 100:32"⟧1:1.
For a single bromine atom the isotope peaks M : M+2 have the ratio ⟦isotope-false "computed: 100:97"⟧3:1.
With one bromine atom the M+2 peak is ⟦isotope-false "computed: 100:97"⟧one third as high as M.
An M+1 peak of 8.8 % means ⟦isotope-false "computed: 8"⟧ten carbon atoms.
Carbon-13 has a natural abundance of ⟦isotope-false "1.07 %"⟧2.1 %.
The mass of 37Cl is ⟦isotope-false "36.9659"⟧36.9859.
An even molecular mass shows that there is ⟦nitrogen-false "none or an even number"⟧an odd number of nitrogen atoms.
A molecule with ⟦nitrogen-false "an odd number"⟧two nitrogen atoms has an odd molecular weight.
In the magnetic sector ⟦instrument-false "larger radius"⟧heavier ions are bent more than lighter ones.
At the same field the ⟦instrument-false "smaller radius"⟧lighter ions follow a larger radius.
At constant voltage, ⟦instrument-false "a stronger field"⟧heavier ions need a weaker magnetic field to come round.
A mass spectrum plots abundance against the ⟦charge-to-mass "mass to charge"⟧charge to mass ratio of the ions.
The minimum resolving power to separate C3H7 and C2H3O is ⟦resolution-false "computed: 1183"⟧430.
Heterolysis of the bond leaves ⟦bond-false "both electrons go to one partner"⟧two radicals.
`

// rightStatements give no finding. Values from IUPAC's masses and abundances,
// common practice and the definitions of the terms.
const rightStatements = `
The molecular mass of toluene is 92.
Acetophenone has a molecular weight of 120.15 g/mol.
The molecular ion of pentan-2-one appears at m/z 86.
Benzoic acid (C7H6O2, M = 122) shows its molecular ion at m/z 122 and loses OH (17 u) to give m/z 105.
The exact mass of hexane is 86.1096.
C5H12 has an exact mass of 72.0939 amu, whereas C4H8O has an exact mass of 72.0575 amu.
The molecular ion of chlorobenzene stands at m/z 112, with a second peak at 114.
The molecular mass of bromobenzene is 157.
Bromobenzene has M+ at 156 and 158 in equal height.
The average molecular mass of chlorobenzene is 112.56.
The molecular ion of acetone has m/z 58.0413.
The acetyl ion C2H3O+ has m/z 43.0178, the propyl ion C3H7+ has m/z 43.0542.
The base peak of acetone is at m/z 43, its molecular ion at m/z 58.
The loss of a methyl radical (15) is common, and so is the loss of ethyl (29).
M - 18 is due to the loss of water, M - 28 to the loss of CO or ethylene.
The loss of a propyl radical (C3H7, M = 43) accounts for a fragment of mass 86 - 43 = 43.
1-Butanol loses water to give an ion at m/z 56, while its base peak is at m/z 31.
Hexane loses an ethyl radical to give an ion at m/z 57.
A loss of 36 or 38 from an alkyl chloride is HCl.
The loss of 35 is the loss of a chlorine atom.
A loss of 33 corresponds to the loss of water and a methyl radical.
Chlorine exists as two isotopes, 35Cl and 37Cl, in roughly a 3:1 ratio.
A compound with one chlorine atom shows M and M+2 peaks in the ratio 3:1.
With one chlorine atom the M+2 peak is one third as high as M.
One bromine atom gives two peaks, M and M+2, of equal height.
Two chlorine atoms give M, M+2 and M+4 in the ratio 9:6:1.
Two bromine atoms give the isotope pattern 1:2:1.
For one bromine atom the ratio of M+2 to M is 97:100.
For one chlorine atom the ratio of the M+2 peak to M is 1:3.
An M+1 peak of 8.8 % means eight carbon atoms.
With M+1 at 11 % of M we expect ten carbons.
The natural abundance of 13C is 1.1 %, that of 2H only 0.0115 %.
In bromine, the isotopic distribution is 50.7% 79Br and 49.3% 81Br.
34S (33.96787 u, 4.25 %) makes the M+2 peak of sulfur compounds visible.
An odd molecular mass means an odd number of nitrogen atoms.
A compound with an odd number of nitrogen atoms has an odd-numbered molecular weight.
An odd-numbered molecular ion usually means that the unknown compound has one or three nitrogen atoms, and an even-numbered molecular ion usually means that a compound has either zero or two nitrogen atoms.
If the molecular mass is even, there are no nitrogen atoms or an even number of nitrogens.
Even-electron fragments of a compound with one nitrogen atom have even masses.
In the magnetic sector heavier ions are bent less than lighter ones.
At the same field, lighter ions follow a tighter path and heavier ions move on a larger radius.
Heavier ions need a stronger magnetic field, or a lower accelerating voltage.
It is not true that heavier ions are deflected more.
Many students think that the heavier ions are deflected more, which is a misconception.
The instrument separates ions by mass-to-charge ratio.
Thomson measured the charge-to-mass ratio of the electron, e/m.
The ratio m/z is the inverse of the charge-to-mass ratio, apart from the units.
A double-focusing instrument has a magnetic sector and an electric sector.
The resolving power needed to separate CO and N2 is about 2500.
To tell C2H4 (28.0313) from N2 (28.0061) takes a resolution of 1114.
Homolysis gives two radicals: A-B -> A. + B.
Heterolysis gives a cation and an anion, because both electrons go to one partner.
By alpha-cleavage the ion loses a propyl radical and the charge stays with oxygen.
Is the molecular mass of butanone 74?
Protonated acetone [M+H]+ appears at m/z 59.
Pentane boils at 36 °C, hexane at 69 °C and toluene at 110.6 °C.
The column was eluted with hexane and ethyl acetate (9:1), and 5 mL of methanol were added.
Samples of hexane (MW = 86), 1-hexene (MW = 84) and 1-hexyne (MW = 82) are easily told apart.
Both spectra show molecular ions at M+ = 98, corresponding to C7H14.
The molecular ion is weak; the peak at m/z 91 of ethylbenzene is the base peak.
Aniline has a molecular mass of 93, which is odd, as it must be with one nitrogen atom.
The molecular ion of dichloromethane is a group of three peaks at m/z 84, 86 and 88.
In 1995 we recorded 20 spectra at 70 eV; the source was at 200 °C.
The doubly charged ion C7H7 2+ appears at m/z 45.5.
Glucose (C6H12O6) has a molar mass of 180.16 g/mol.
Ethyl acetate (CH3CO2CH2CH3) and butanoic acid (CH3CH2CH2CO2H) both weigh 88.
`
