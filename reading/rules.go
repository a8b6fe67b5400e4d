package reading

import "fmt"

// Kind is a family of clues.
type Kind uint8

// The kinds, in the order in which they are taught.
const (
	BasePeak Kind = iota
	MolecularIon
	IsotopePattern
	CarbonCount
	NitrogenRule
	NeutralLoss
	IonSeries
	FragmentIon
	OddElectronFragment
	ChargeTwo
	Metastable
	Background
)

// Rule is a family of clues as the catalogue shows it.
type Rule struct {
	Kind Kind
	Name string
	Doc  string // what is looked at and what it is worth, in sentences
	read func(*desk) []Clue
}

// rules is the visible list: a new family is a new row and a new file.
var rules = [...]Rule{
	{BasePeak, "base peak", "The strongest peak: the most stable ion or the one formed most easily. It is seldom the molecular ion.", readBasePeak},
	{MolecularIon, "molecular ion", "The whole molecule less one electron. Its m/z is the nominal mass. Losses of 4 to 14 and of 21 to 25 from it hardly occur; its isotope peaks stand just right of it; it can be too weak to see.", readMolecularIon},
	{IsotopePattern, "isotope pattern", "Chlorine, bromine, sulfur and silicon show by the peaks two (silicon also one) above an ion that holds them.", readIsotopePattern},
	{CarbonCount, "number of carbons", "About 1.1 % of carbon is carbon-13, so the peak one above the molecular ion counts the carbons. Measured ratios scatter by a tenth or two and are often too high.", readCarbonCount},
	{NitrogenRule, "nitrogen rule", "A molecule of odd nominal mass has an odd number of nitrogens, one of even mass none or an even number.", readNitrogenRule},
	{NeutralLoss, "neutral loss", "The difference between the molecular ion and a fragment is what was lost.", readLosses},
	{IonSeries, "ion series", "Ions 14 apart at low m/z belong to chains of CH₂ groups; where the series stands tells what the chain carries.", readSeries},
	{FragmentIon, "fragment ion", "A strong peak and all that is commonly found at its m/z. One m/z is rarely one ion.", readFragments},
	{OddElectronFragment, "odd-electron fragment", "Without nitrogen, a fragment of even m/z has lost a whole molecule: a rearrangement or a ring broken twice.", readParity},
	{ChargeTwo, "doubly charged ion", "A peak at half a unit belongs to an ion with two charges and odd mass, mostly of fused aromatic rings.", readChargeTwo},
	{Metastable, "metastable ion", "A weak, broad peak at a broken m/z m* shows that an ion m₁ lost something on the way to the detector: m* = m₂²/m₁.", readMetastable},
	{Background, "background", "Air, water, pump oil, column bleed and plasticizers give peaks of their own.", readBackground},
}

// Rules returns the families of clues in the order in which they are taught.
func Rules() []Rule { return append([]Rule(nil), rules[:]...) }

// String returns the family's name.
func (k Kind) String() string {
	for _, r := range rules {
		if r.Kind == k {
			return r.Name
		}
	}
	return fmt.Sprintf("Kind(%d)", uint8(k))
}
