package smarts

// A memo keeps what the environments of a set have found out about a
// molecule, two bits an atom and environment.
type memo struct {
	set   *Set
	words int // a row: the words for one bit an atom
	rows  []row
	bits  []uint64 // of environment i: words of known, then of true, from 2*words*i
}

// A row is the state of one environment.
type row struct{ current bool }

// forget makes the memo empty.
func (m *memo) forget() { m.set = nil }

// serve makes the memo ready for a set: what it knows stays where the set is
// the one before.
func (m *memo) serve(s *Set, atoms int) {
	if m.set == s {
		return
	}
	m.set = s
	m.words = (atoms + 63) / 64
	m.rows = resized(m.rows, len(s.envs))
	clear(m.rows)
	m.bits = resized(m.bits, 2*m.words*len(s.envs))
}

// places returns the words of known and true bits of an environment.
func (m *memo) places(env int) (known, truths []uint64) {
	from := 2 * m.words * env
	both := m.bits[from : from+2*m.words]
	if !m.rows[env].current {
		clear(both)
		m.rows[env].current = true
	}
	return both[:m.words], both[m.words:]
}

// environment says whether the environment of that index holds at an atom.
// Its frames are mt.frames from base on.
func (mt *Matcher) environment(env int, atom int32, base int) bool {
	known, truths := mt.memo.places(env)
	word, bit := atom>>6, uint64(1)<<(atom&63)
	if known[word]&bit != 0 {
		return truths[word]&bit != 0
	}
	holds := mt.starts(env, atom, base)
	// Environments within this one have written to the memo, but never to
	// its own places, for none is within itself.
	if mt.trials >= 0 {
		known[word] |= bit
		if holds {
			truths[word] |= bit
		}
	}
	return holds
}

// starts searches for an environment with its first atom on the given one.
func (mt *Matcher) starts(env int, atom int32, base int) bool {
	p := &mt.memo.set.envs[env].plan
	n := len(p.steps)
	s := search{mt: mt, plan: p, frames: mt.frames[base : base+n : base+n], above: base + n}
	if !s.passes(p.steps[0].test, atom) {
		return false
	}
	if n == 1 {
		return true
	}
	s.frames[0].atom = atom
	s.enter(1)
	return s.run(1, 1)
}
