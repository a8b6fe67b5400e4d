package smarts

// A frame is the state of one step of a search: the atom on which the step's
// atom lies, and where to look for the next one.
type frame struct {
	atom   int32
	cursor int32
	end    int32
}

// A search places the atoms of a plan on the molecule, step by step.
type search struct {
	mt     *Matcher
	plan   *plan
	frames []frame // one a step
	above  int     // where in mt.frames the frames of environments start
	begun  bool
}

// begin prepares the search for a pattern; false where the census already
// says that there is nothing to find.
func (mt *Matcher) begin(p *Pattern) (search, bool) {
	t := mt.target
	if t == nil {
		panic("smarts: a Matcher without a molecule: call Load or Use first")
	}
	if len(p.plan.steps) > len(t.atoms) || !p.census.within(&t.census) {
		return search{}, false
	}
	if len(mt.frames) < p.needs.depth {
		mt.frames = make([]frame, p.needs.depth)
	}
	if p.needs.sizes {
		t.needSizes()
	}
	mt.memo.serve(p.set, len(t.atoms))
	mt.trials = mt.Limit
	if mt.trials <= 0 {
		mt.trials = DefaultLimit
	}
	n := len(p.plan.steps)
	return search{mt: mt, plan: &p.plan, frames: mt.frames[:n:n], above: n}, true
}

// next finds the next way in which the plan lies on the molecule: frames
// holds it. It is false when there are no more.
func (s *search) next() bool {
	if s.begun {
		return s.run(len(s.frames)-1, 0)
	}
	s.begun = true
	s.enter(0)
	return s.run(0, 0)
}

// run goes on with the search at a step, whose frame is entered, and gives up
// when nothing is left for the step floor.
func (s *search) run(depth, floor int) bool {
	for depth >= floor {
		if !s.advance(depth) {
			depth--
			continue
		}
		if depth == len(s.frames)-1 {
			return true
		}
		depth++
		s.enter(depth)
	}
	return false
}

// enter sets the frame of a step to the start of its candidates.
func (s *search) enter(depth int) {
	t := s.mt.target
	st := &s.plan.steps[depth]
	f := &s.frames[depth]
	switch {
	case st.from >= 0:
		on := s.frames[st.from].atom
		f.cursor, f.end = t.start[on], t.start[on+1]
	case st.class >= 0:
		f.cursor, f.end = t.classes[st.class], t.classes[st.class+1]
	default:
		f.cursor, f.end = 0, int32(len(t.atoms))
	}
}

// advance moves a step to its next atom that passes; false when there is
// none, or the trials are used up.
func (s *search) advance(depth int) bool {
	t := s.mt.target
	st := &s.plan.steps[depth]
	f := &s.frames[depth]
	for f.cursor < f.end {
		at := f.cursor
		f.cursor++
		if s.mt.trials--; s.mt.trials < 0 {
			s.mt.err = ErrLimit
			return false
		}
		var atom int32
		if st.from >= 0 {
			nb := t.neighbors[at]
			if !st.bond.has(nb.kind) {
				continue
			}
			atom = nb.atom
		} else if st.class >= 0 {
			atom = t.byClass[at]
		} else {
			atom = at
		}
		if s.taken(depth, atom) || !s.passes(st.test, atom) || !s.closes(st, atom) {
			continue
		}
		if s.mt.trials < 0 { // within an environment, whose answer is void
			return false
		}
		f.atom = atom
		return true
	}
	return false
}

// taken says whether an earlier step lies on the atom.
func (s *search) taken(depth int, atom int32) bool {
	for i := range s.frames[:depth] {
		if s.frames[i].atom == atom {
			return true
		}
	}
	return false
}

// closes says whether the atom has the bonds to earlier atoms that its step
// asks for.
func (s *search) closes(st *step, atom int32) bool {
	t := s.mt.target
	for _, ring := range s.plan.rings[st.ringFrom:st.ringTo] {
		other := s.frames[ring.to].atom
		found := false
		for _, nb := range t.neighbors[t.start[atom]:t.start[atom+1]] {
			if nb.atom == other {
				found = ring.bond.has(nb.kind)
				break
			}
		}
		if !found {
			return false
		}
	}
	return true
}

// passes runs the test that starts at pc on an atom.
func (s *search) passes(pc int32, atom int32) bool {
	a := &s.mt.target.atoms[atom]
	for pc >= 0 {
		in := &s.plan.code[pc]
		var holds bool
		switch in.test {
		case testPlain:
			holds = in.lit.holdsPlain(a)
		case testSize:
			holds = in.lit.holds(a)
		default:
			holds = s.mt.environment(int(in.test), atom, s.above)
		}
		if holds {
			pc = in.yes
		} else {
			pc = in.no
		}
	}
	return pc == accept
}
