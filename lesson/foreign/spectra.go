package foreign

import (
	"fmt"
	"regexp"
	"strconv"

	"ionwright/lesson/diag"
)

var (
	basePeakAt  = regexp.MustCompile(`(?i)\b(?:base peak|strongest peak|most intense peak|largest peak|tallest peak)\b(?:[\s,;:()]|\x00|\b(?:of|in|its|the|spectrum|is|at|stands|lies|appears|found|seen|an?|one|mass|ion|located|occurs|comes|again|too|therefore|and|has|by|far)\b)*m ?/ ?z (?:of |= ?)?(\d+)`)
	atIsBase    = regexp.MustCompile(`(?i)\bm ?/ ?z (\d+)[,)]? (?:is|was|gives|forms|makes) (?:the |its )?(?:base peak|strongest peak)\b`)
	strongAt    = regexp.MustCompile(`(?i)\b(?:strong|intense|large|abundant|prominent|tall) (?:peak|signal|ion)s? (?:is |stands |appears |seen |found |lies )?at m ?/ ?z (\d+)`)
	percentAt   = regexp.MustCompile(`(?i)\bm ?/ ?z (\d+) (?:has|reaches|with|is|shows)(?: (?:a|an|about|only|just|roughly|relative|intensity|abundance|height|of|some|nearly))* (\d+(?:\.\d+)?) ?% of the base peak`)
	otherSource = regexp.MustCompile(`(?i)\b(?:chemical ionization|protonated|electrospray|\[M|deuterat\w+|labell?ed|at \d+ eV|unknown|which|what|suppose|imagine|would|had|were|if)\b`)
)

// leastStrong is the relative intensity in percent under which nobody calls a
// peak strong.
const leastStrong = 5

// spectrumPeaks judges what is said of the peaks of a compound whose spectrum
// is known.
func (r *reader) spectrumPeaks(s *sentence) {
	if len(r.subjects) == 0 || denies.MatchString(s.words) || otherSource.MatchString(s.words) {
		return
	}
	m, ok := only(s.mentions, func(m mention) bool { return !m.lost && m.formula.Charge() == 0 })
	if !ok && !s.mentionsCompound() {
		m, ok = only(s.passage.mentions, func(m mention) bool { return !m.lost && m.formula.Charge() == 0 })
	}
	if !ok || m.subject == nil || len(m.subject.Spectrum.Peaks) == 0 || otherSubject.MatchString(s.words) {
		return
	}
	known := m.subject
	base, _ := known.Spectrum.Base()
	words := s.blankedPieces(0)
	for _, pattern := range []*regexp.Regexp{basePeakAt, atIsBase} {
		for _, at := range pattern.FindAllStringSubmatchIndex(words, -1) {
			mz, _ := strconv.Atoi(words[at[2]:at[3]])
			if known.Spectrum.Relative(mz) >= known.baseFrom() {
				continue
			}
			right := strconv.Itoa(int(base.MZ + 0.5))
			r.report(s, at[2], at[3], diag.PeakFalse, words[at[2]:at[3]], right, "write m/z "+right,
				"the base peak of %s (%s) is at m/z %s", known.Names[0], known.Origin, right)
		}
	}
	for _, at := range strongAt.FindAllStringSubmatchIndex(words, -1) {
		mz, _ := strconv.Atoi(words[at[2]:at[3]])
		if x := known.Spectrum.Relative(mz); x < leastStrong {
			r.report(s, at[2], at[3], diag.PeakFalse, "a strong peak", fmt.Sprintf("%.1f %% of the base peak", x), "name one of its strong peaks",
				"%s (%s) has no strong peak at m/z %d", known.Names[0], known.Origin, mz)
		}
	}
	for _, at := range percentAt.FindAllStringSubmatchIndex(words, -1) {
		mz, _ := strconv.Atoi(words[at[2]:at[3]])
		said, _ := strconv.ParseFloat(words[at[4]:at[5]], 64)
		if x := known.Spectrum.Relative(mz); said < x-max(3, 0.3*x) || said > x+max(3, 0.3*x) {
			right := fmt.Sprintf("%.0f %%", x)
			r.report(s, at[4], at[5], diag.PeakFalse, words[at[4]:at[5]]+" %", right, "write "+right, "the peak of %s (%s) at m/z %d has another height", known.Names[0], known.Origin, mz)
		}
	}
}

// baseFrom is the relative intensity in percent from which a peak may be called
// the base peak: two peaks can be about as strong, and computed heights are off
// by so much.
func (s *Subject) baseFrom() float64 {
	if s.Computed {
		return 25
	}
	return 90
}

// mentionsCompound reports that the sentence itself names a compound.
func (s *sentence) mentionsCompound() bool {
	for _, m := range s.mentions {
		if !m.lost && m.formula.Charge() == 0 {
			return true
		}
	}
	return false
}
