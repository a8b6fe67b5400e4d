package foreign

import (
	"math"
	"regexp"
	"strconv"
	"strings"

	"ionwright/lesson/diag"
)

func group(words string, m []int, i int) string {
	if m[2*i] < 0 {
		return ""
	}
	return words[m[2*i]:m[2*i+1]]
}

var (
	homolysis   = regexp.MustCompile(`(?i)\bhomoly(?:sis|tic|tically|se)\b`)
	heterolysis = regexp.MustCompile(`(?i)\bheteroly(?:sis|tic|tically|se)\b`)
	ionPair     = regexp.MustCompile(`\b[A-Z][a-z]?\.?\+ ?\+ ?:?[A-Z][a-z]?:?-(?:\W|$)|(?i:\b(?:two ions|two oppositely charged|a cation and an anion|an anion and a cation|both electrons (?:go|stay|move)|both electrons of the bond))`)
	radicalPair = regexp.MustCompile(`(?i)\b(?:two (?:neutral )?radicals|one electron (?:goes |stays )?(?:to|with|on) each|each (?:atom|fragment|partner) (?:keeps|takes|gets) one electron)`)
	bothKinds   = regexp.MustCompile(`(?i)whereas|while|\bbut\b|contrast|unlike|compared|molecular ion|radical cation`)
)

// bondBreaking judges what homolysis and heterolysis make of a bond.
func (r *reader) bondBreaking(s *sentence) {
	if denies.MatchString(s.words) || bothKinds.MatchString(s.words) || homolysis.MatchString(s.words) && heterolysis.MatchString(s.words) {
		return
	}
	if m := ionPair.FindStringIndex(s.words); m != nil && homolysis.MatchString(s.words) {
		right := "two radicals: each partner keeps one electron (A. + B.)"
		r.report(s, m[0], m[1], diag.BondFalse, strings.TrimSpace(s.words[m[0]:m[1]]), right, "write A-B -> A. + B., or say heterolysis",
			"homolysis of a neutral bond gives no ions")
	}
	if m := radicalPair.FindStringIndex(s.words); m != nil && heterolysis.MatchString(s.words) {
		right := "both electrons go to one partner"
		r.report(s, m[0], m[1], diag.BondFalse, s.words[m[0]:m[1]], right, "write "+right+", or say homolysis", "heterolysis doesn't share the electrons out")
	}
}

var (
	cationLost = regexp.MustCompile(`(?i)\b(?:loss of|loses?|losing|lost as|expels?|expelling|eject(?:s|ing)?|eliminat(?:es|ing))(?: (?:an?|the|its))? ((?:methyl|ethyl|propyl|isopropyl|butyl|tert-butyl|alkyl|phenyl|acyl|acetyl|allyl|benzyl)(?: group)?(?: as an?)? (?:cation|carbocation|anion|carbanion|ion))\b`)
	charged    = regexp.MustCompile(`(?i)doubly|dication|2\+|multiply|negative|\[M-H\]`)
)

// chargedLoss judges what an ion with one charge loses.
func (r *reader) chargedLoss(s *sentence) {
	if denies.MatchString(s.words) || charged.MatchString(s.words) {
		return
	}
	for _, m := range cationLost.FindAllStringSubmatchIndex(s.words, -1) {
		right := "a radical (the charge stays with what is seen)"
		piece := s.words[m[2]:m[3]]
		r.report(s, m[2], m[3], diag.BondFalse, piece, right, "write "+strings.Fields(piece)[0]+" radical",
			"a singly charged ion that loses %q would leave nothing to be seen", piece)
	}
}

var (
	chargeMass  = regexp.MustCompile(`(?i)\bcharge[- ](?:to[- ]|/ ?)mass\b(?:[- ]ratios?)?`)
	aboutMZ     = regexp.MustCompile(`(?i)m ?/ ?z|\bions?\b|spectr|separat|x[- ]axis|horizontal`)
	trueInverse = regexp.MustCompile(`(?i)\bq ?/ ?m\b|\be ?/ ?m\b|\bz ?/ ?m\b|electrons?'? |\bC/kg|inverse|reciprocal|specific charge|Thomson|coulombs?|proton\b`)
)

// chargeToMass reports "charge to mass" where m/z is meant.
func (r *reader) chargeToMass(s *sentence) {
	if !aboutMZ.MatchString(s.words) || trueInverse.MatchString(s.words) || denies.MatchString(s.words) {
		return
	}
	for _, m := range chargeMass.FindAllStringIndex(s.words, -1) {
		r.report(s, m[0], m[1], diag.ChargeToMass, s.words[m[0]:m[1]], "mass to charge", "write mass-to-charge ratio", "m/z is mass over charge number; %q is its inverse", s.words[m[0]:m[1]])
	}
}

var resolves = regexp.MustCompile(`(?i)\b(?:resolution|resolving power|R ?=)`)
var resolvedBetween = regexp.MustCompile(`(?i)^(?:[\s,:=()]|\x00|m ?/ ?\S*m|\b(?:of|is|at|least|about|approximately|roughly|needed|required|necessary|to|separate|distinguish|resolve|tell|from|and|for|between|the|an?|would|be|doublet|pair|therefore|thus|equals?|apart|R|minimum|ions?|u|Da)\b|\d+\.\d+)*$`)

// resolvingPower judges the m/Δm that two formulas need.
func (r *reader) resolvingPower(s *sentence) {
	if denies.MatchString(s.words) || len(s.mentions) < 2 {
		return
	}
	a, b := s.mentions[0].formula, s.mentions[1].formula
	for _, m := range s.mentions[2:] {
		if m.formula != a && m.formula != b {
			return
		}
	}
	if a == b || a.NominalMass() != b.NominalMass() {
		return
	}
	x, y := float64(a.MonoisotopicMass()), float64(b.MonoisotopicMass())
	needed := max(x, y) / math.Abs(x-y)
	for _, term := range resolves.FindAllStringIndex(s.words, -1) {
		for _, n := range s.numbers {
			if n.from < term[1] || n.decimals > 0 || !resolvedBetween.MatchString(s.blanked(term[1], n.from)) {
				continue
			}
			if n.value < 50 || math.Abs(n.value-needed) <= 0.1*needed {
				return
			}
			right := strconv.Itoa(int(math.Round(needed)))
			r.report(s, n.from, n.to, diag.ResolutionFalse, n.in(s.words), right, "write about "+right,
				"%s and %s differ by %.4f at %.4f, which needs m/Δm = %s", a, b, math.Abs(x-y), max(x, y), right)
			return
		}
	}
}
