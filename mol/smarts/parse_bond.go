package smarts

// bond = { bondAnd ";" } bondAnd
//
// Without a bond at the position it returns the unwritten one, and false.
func (p *parser) bond() (bondMask, bool) {
	if !startsBond(p.peek()) {
		return unwritten, false
	}
	mask := p.bondOr()
	for p.peek() == ';' {
		p.pos++
		mask &= p.bondOr()
	}
	return mask, true
}

// bondOr = { bondAnd "," } bondAnd
func (p *parser) bondOr() bondMask {
	mask := p.bondAnd()
	for p.peek() == ',' {
		p.pos++
		mask |= p.bondAnd()
	}
	return mask
}

// bondAnd = { bondNot "&"? } bondNot
func (p *parser) bondAnd() bondMask {
	mask := p.bondNot()
	for p.peek() == '&' || startsBond(p.peek()) {
		if p.peek() == '&' {
			p.pos++
		}
		mask &= p.bondNot()
	}
	return mask
}

// bondNot = { "!" } ( "-" | "=" | "#" | "$" | ":" | "~" | "@" | "/" | "\" )
func (p *parser) bondNot() bondMask {
	negate := false
	for p.peek() == '!' {
		negate = !negate
		p.pos++
	}
	var mask bondMask
	at := p.pos
	switch p.peek() {
	case '-':
		mask = singleBond
		if p.pos+1 < len(p.src) && p.src[p.pos+1] == '>' {
			p.fail(at, `write "-" or "~"`, "dative bonds aren't supported")
		}
	case '=':
		mask = doubleBond
	case '#':
		mask = tripleBond
	case '$':
		mask = quadrupleBond
	case ':':
		mask = aromaticBond
	case '~':
		mask = anyBond
	case '@':
		mask = ringBond
	case '/', '\\':
		p.fail(at, `write "-": the two geometries of a double bond give the same spectrum, so no pattern here asks for one`,
			"bonds with a direction aren't supported")
	default:
		p.fail(at, `bonds are - = # : ~ @ $, combined with ! & , ;`, "expected a bond, found %s", p.next())
	}
	p.pos++
	if negate {
		mask = anyBond &^ mask
	}
	return mask
}

func startsBond(b byte) bool {
	switch b {
	case '-', '=', '#', '$', ':', '~', '@', '/', '\\', '!':
		return true
	}
	return false
}
