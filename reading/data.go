package reading

import (
	"fmt"

	"ionwright/reading/infer"
)

// takePeaks makes the view that everything is read from, and says in doubts
// what is wrong with the data and what was done about it.
func (d *desk) takePeaks() {
	peaks, bad := ascending(d.spectrum.Peaks)
	if bad > 0 {
		d.doubt("%d of the %d peaks are no positive finite numbers and were left out.", bad, len(d.spectrum.Peaks))
	}
	if isProfile(peaks) {
		points := len(peaks)
		peaks = centroids(peaks)
		d.inexact = true
		d.doubt("The data are a profile of %d points; each hill was made one peak, %d in all, with its area as height.", points, len(peaks))
	}
	if s, fractions := scaleOf(peaks); fractions {
		top := peaks[len(peaks)-1].MZ
		d.inexact = d.inexact || s.off(top) || s.agreement < exactAgreement
		switch {
		case s.off(top):
			peaks = s.whole(peaks)
			d.doubt("The m/z lie %+.2f beside whole numbers at the lower end and %+.2f at the upper; they were taken to be off by that much, and moved.", s.zero+s.slope*peaks[0].MZ, s.zero+s.slope*top)
		case s.agreement < leastAgreement:
			d.doubt("The decimals of the m/z scatter by some tenths; each peak was counted with the nearest whole m/z.")
		}
	}
	d.spectrum.Peaks = peaks
	d.whole = infer.NewView(d.spectrum)
	d.view = d.whole
	if d.whole.Beyond > 0 {
		d.doubt("%d peaks lie above m/z %d, beyond what is read here, and were left out.", d.whole.Beyond, infer.MaxMZ)
	}
	if kept, apart, names := setApart(d.whole, peaks); len(apart) > 0 {
		d.spectrum.Peaks, d.apart = kept, apart
		d.view = infer.NewView(d.spectrum)
		d.doubt("Some peaks look like %s; m/z %s were set apart and aren't read.", list(names, "and"), numbers(apart))
	}
	if height := noiseOf(d.view); height > 0 {
		d.doubt("Nearly every m/z has a peak up to the end of the record: a background. Peaks under %.1f %% were left out, and weak ones that belong to the compound with them.", height)
		d.spectrum.Peaks = above(d.spectrum.Peaks, d.view, height)
		d.view = infer.NewView(d.spectrum)
	}
	d.checkView()
}

// fewPeaks is the number of peaks under which a spectrum is no whole one.
const fewPeaks = 8

// checkView looks for a late start and for peaks cut off by the detector.
func (d *desk) checkView() {
	if d.view.Count == 0 {
		return
	}
	if d.view.Count < fewPeaks {
		d.doubt("There are only %s; the probabilities of groups and formulas come from whole spectra and mean little here.", plural(d.view.Count, "peak", "peaks"))
	}
	if d.view.Low >= 40 {
		d.doubt("The record starts at m/z %d, so small fragment ions may be missing.", d.view.Low)
	}
	for mz := d.view.Low; mz <= d.view.Top; mz++ {
		if d.rel(mz) > 99.9 {
			d.saturated = append(d.saturated, mz)
		}
	}
	const chance = 2 // two equally strong peaks may be chance
	if len(d.saturated) <= chance {
		d.saturated = nil
		return
	}
	d.doubt("%d peaks are equally strong at 100 %%: the detector was probably saturated, and heights that involve them mean little.", len(d.saturated))
}

func (d *desk) doubt(format string, args ...any) {
	d.doubts = append(d.doubts, fmt.Sprintf(format, args...))
}

// isSaturated tells whether the height at mz is one that the detector cut off.
func (d *desk) isSaturated(mz int) bool {
	for _, m := range d.saturated {
		if m == mz {
			return true
		}
	}
	return false
}
