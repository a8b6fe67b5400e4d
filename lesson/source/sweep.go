package source

// Sweep flies the ions of a compound's spectrum through an instrument while
// the field is raised, or the accelerating voltage at a held field, and draws
// what the detector records.
type Sweep struct {
	place
	ID         Text
	Instrument Text    // key
	Ions       Text    // the compound's key
	From, To   Text    // m/z range; zero: the whole spectrum
	Field      float64 // T, held while the voltage is swept; 0: the field is swept
	// Counting: how long the sweep takes, how many ions a second arrive at the
	// top of the strongest peak, and which of all possible runs is shown. 0:
	// the current is drawn as it is, without the scatter of counting.
	Seconds float64
	Rate    float64
	Seed    int
	Caption *Prose
}

// Paths draws an instrument with the paths of ions through it, at the field
// that brings the first of them to the detector, or at a given one.
type Paths struct {
	place
	ID         Text
	Instrument Text    // key
	Ions       []Text  // m/z
	Field      float64 // T; 0: what the first ion needs
	Caption    *Prose
}

const mostSeed = 1_000_000

func (p *reader) sweep(f fields, at place) Block {
	f.require("id", "instrument", "ions")
	s := &Sweep{place: at, ID: p.id(f), Instrument: f.text("instrument"), Ions: f.text("ions"), From: f.text("from"), To: f.text("to"),
		Field: f.quantity("field", fluxes), Seconds: f.quantity("seconds", times), Rate: f.number("rate"), Seed: f.whole("seed", mostSeed), Caption: p.sentence(f, "caption")}
	if s.Seconds > 0 || s.Rate > 0 || s.Seed > 0 {
		f.require("seconds", "rate") // counting needs both
	}
	return s
}

func (p *reader) paths(f fields, at place) Block {
	f.require("id", "instrument", "ions")
	return &Paths{place: at, ID: p.id(f), Instrument: f.text("instrument"), Ions: f.texts("ions"), Field: f.quantity("field", fluxes), Caption: p.sentence(f, "caption")}
}

var (
	times  = []unit{{"s", 1}, {"ms", 1e-3}, {"min", 60}}
	fluxes = []unit{{"T", 1}, {"mT", 1e-3}}
)
