package ionize

// Kind names an elementary step as the trade does.
type Kind uint8

const (
	SigmaCleavage Kind = iota
	AlphaCleavage
	AllylicCleavage
	BenzylicCleavage
	InductiveCleavage
	HydrogenAtomLoss
	HydrogenMoleculeLoss
	GammaHydrogenRearrangement
	HydrogenRearrangement
	DoubleHydrogenRearrangement
	WaterElimination
	HydrogenHalideElimination
	Elimination
	RetroDielsAlder
	RingCleavage
	RingCleavageWithHydrogen
	CarbonMonoxideLoss
	HydrogenCyanideLoss
	EtheneLoss
	EthyneLoss
	NitroRearrangement
	Extrusion
	GroupMigration
	numKinds
)

// KindDoc is what the catalogue says of a kind of step.
type KindDoc struct {
	Kind        Kind
	Name        string
	Description string
	Reference   string
}

// Kinds is the visible list of elementary steps; the printed catalogue is
// made from it. Names are those of IUPAC's 2013 recommendations (Murray et
// al., Pure Appl. Chem. 85 (2013) 1515) where they have one, and otherwise
// the trade's. References marked "from memory" were not at hand when the row
// was written.
var Kinds = []KindDoc{
	{SigmaCleavage, "sigma cleavage", "A single bond breaks and its two electrons part; one piece keeps the charge, the other leaves as a radical.", "McLafferty and Turecek, Interpretation of Mass Spectra, 4th ed. 1993, ch. 4 (from memory)"},
	{AlphaCleavage, "alpha-cleavage", "The bond next to the atom that bears the heteroatom or carbonyl breaks; the unpaired electron at the heteroatom pairs with one electron of that bond.", "Murray et al. 2013, term alpha-cleavage (from memory)"},
	{AllylicCleavage, "allylic cleavage", "The bond next but one to a double bond breaks; the cation is spread over three carbons.", "common practice, no source"},
	{BenzylicCleavage, "benzylic cleavage", "The bond next to the ring's first side-chain carbon breaks; the cation is spread over the ring (as benzyl or tropylium).", "common practice, no source"},
	{InductiveCleavage, "inductive cleavage", "The heteroatom or group draws both electrons of its bond and leaves; the charge moves to the carbon.", "Murray et al. 2013, term inductive cleavage (from memory)"},
	{HydrogenAtomLoss, "loss of a hydrogen atom", "A bond to hydrogen breaks.", "common practice, no source"},
	{HydrogenMoleculeLoss, "loss of molecular hydrogen", "Two hydrogens leave together.", "common practice, no source"},
	{GammaHydrogenRearrangement, "hydrogen rearrangement through a six-membered ring", "A hydrogen on the third atom from the double bond moves to its far end through a six-membered ring, and the bond between the first two atoms breaks.", "McLafferty, Anal. Chem. 31 (1959) 82 (from memory)"},
	{HydrogenRearrangement, "hydrogen rearrangement", "A hydrogen moves from the part that leaves to the part that keeps the charge, while the bond between them breaks.", "common practice, no source"},
	{DoubleHydrogenRearrangement, "double hydrogen rearrangement", "Two hydrogens move from the part that leaves to the part that keeps the charge.", "common practice, no source"},
	{WaterElimination, "loss of water", "The hydroxyl group leaves with a hydrogen of the rest.", "common practice, no source"},
	{HydrogenHalideElimination, "loss of a hydrogen halide", "The halogen leaves with a hydrogen of the rest.", "common practice, no source"},
	{Elimination, "elimination", "A group leaves as a neutral molecule with a hydrogen of the part that keeps the charge.", "common practice, no source"},
	{RetroDielsAlder, "retro-Diels-Alder reaction", "A cyclohexene ring opens into a diene and an alkene, two single bonds breaking together.", "Biemann, Mass Spectrometry, 1962 (from memory)"},
	{RingCleavage, "ring cleavage", "Two bonds of a ring break one after the other, and the piece between them leaves.", "common practice, no source"},
	{RingCleavageWithHydrogen, "ring cleavage with hydrogen shift", "A ring bond breaks, a hydrogen moves between the open ends, and a second bond breaks.", "common practice, no source"},
	{CarbonMonoxideLoss, "loss of carbon monoxide", "A carbonyl carbon leaves with its oxygen; in a ring the ends close to a ring one atom smaller.", "common practice, no source"},
	{HydrogenCyanideLoss, "loss of hydrogen cyanide", "A nitrogen leaves with its carbon and a hydrogen; in a ring the ends close.", "common practice, no source"},
	{EtheneLoss, "loss of ethene", "Two carbons leave as ethene from a ring or a chain end.", "common practice, no source"},
	{EthyneLoss, "loss of ethyne", "Two carbons of an unsaturated ring leave as ethyne, and the ends close.", "common practice, no source"},
	{NitroRearrangement, "nitro-nitrite rearrangement", "The nitro group turns over so that an oxygen binds to the carbon; nitrogen monoxide leaves.", "common practice, no source"},
	{GroupMigration, "group migration", "A silyl group or a halogen moves to the atom at which the rest breaks away.", "common practice, no source"},
	{Extrusion, "extrusion", "A small group between two others leaves and these join.", "common practice, no source"},
}

// Doc returns the catalogue's entry of the kind.
func (k Kind) Doc() KindDoc {
	for _, doc := range Kinds {
		if doc.Kind == k {
			return doc
		}
	}
	return KindDoc{Kind: k, Name: "unknown step"}
}

// String is the step's name, such as "alpha-cleavage".
func (k Kind) String() string { return k.Doc().Name }

// trait is what the kinetics need of a kind: the frequency factor as its
// decadic logarithm (1/s) and the barrier above the energy of the products.
// Cleavages are loose and have none; rearrangements are tight.
type trait struct {
	logFrequency float64
	barrier      float64 // eV
}

// traits are order-of-magnitude values of unimolecular kinetics, from memory;
// the fitted corrections move them.
var traits = [numKinds]trait{
	SigmaCleavage:               {14.0, 0},
	AlphaCleavage:               {14.5, 0},
	AllylicCleavage:             {14.2, 0},
	BenzylicCleavage:            {14.2, 0},
	InductiveCleavage:           {14.0, 0},
	HydrogenAtomLoss:            {13.5, 0.1},
	HydrogenMoleculeLoss:        {12.0, 0.8},
	GammaHydrogenRearrangement:  {12.3, 0.5},
	HydrogenRearrangement:       {12.0, 0.9},
	DoubleHydrogenRearrangement: {11.5, 0.6},
	WaterElimination:            {12.3, 0.4},
	HydrogenHalideElimination:   {12.3, 0.5},
	Elimination:                 {12.0, 0.8},
	RetroDielsAlder:             {13.3, 0.5},
	RingCleavage:                {13.0, 0.5},
	RingCleavageWithHydrogen:    {12.0, 0.8},
	CarbonMonoxideLoss:          {13.0, 0.6},
	HydrogenCyanideLoss:         {12.8, 0.8},
	EtheneLoss:                  {13.0, 0.5},
	EthyneLoss:                  {12.8, 0.9},
	NitroRearrangement:          {12.5, 0.8},
	Extrusion:                   {11.5, 2.0},
	GroupMigration:              {12.0, 0.8},
}

// tightness is what a cyclic transition state costs beside the kind's barrier,
// in eV, by its number of members with the hydrogen counted: strain in small
// rings. Orders of magnitude, from memory.
var tightness = [8]float64{3: 1.0, 4: 0.6, 5: 0.25, 6: 0, 7: 0.1}

// What some circumstances cost beside the kind's barrier, in eV. Orders of
// magnitude, from memory.
const (
	shiftInRing   = 0.4 // a hydrogen shift before a ring breaks
	ringClosure   = 0.5 // a bond formed where the neutral leaves
	ontoSaturated = 1.6 // a hydrogen that moves to a carbon without lone pair or double bond
	radicalFromEE = 0.5 // a radical lost by an even-electron ion (even-electron rule)
)

// barrier is the energy in eV that a step needs above that of its products.
func (p *proposal) barrier() float64 {
	total := traits[p.kind].barrier
	if mv := p.moves[0]; mv.count > 0 {
		if int(mv.ring) < len(tightness) {
			total += tightness[mv.ring]
		}
		if mv.ring == 0 && p.kind != RingCleavageWithHydrogen {
			total += shiftInRing
		}
		if p.ontoSaturated {
			total += ontoSaturated
		}
	}
	if p.formed >= 0 && p.kind != Extrusion && p.kind != GroupMigration && p.kind != NitroRearrangement {
		total += ringClosure
	}
	return total
}
