// Package rival tells whether the answer to an unknown is the only one: it
// makes every structure that the given information allows, computes how each
// would look, and names those that the spectrum can't exclude, the peaks that
// decide about the others, and the one extra fact that would leave a single
// answer.
//
// For most uses call [Find].
//
// # When two structures can't be told apart
//
// Two measurements of one compound aren't the same: over the 859 compounds
// with two or more records among the shared measured spectra, the median
// cosine of square roots of intensities is 0.934, and in one compound of ten it
// is 0.776 or less. So a rival whose computed spectrum agrees with the answer's
// to 0.934 or better can't be told apart by a spectrum, and one from 0.776 on
// only by someone who trusts small differences. Both spectra compared are
// computed, so that the model's errors, which the two have in common, count
// less than they would beside a measurement.
//
// Two rules stand beside the cosine. Compounds that differ only in the places
// of the groups on a benzene ring are the same where both or neither have
// neighboring groups (median cosine of measured spectra 0.942, over 41 sets of
// such compounds up to 160 Da; the computed ones differ more), and where the
// groups are alkyl groups (four pairs, 0.93 to 0.99); otherwise at least close.
// And an odd-electron fragment in the spectrum given that only one of the two
// makes tells them apart though it is weak, as m/z 58 does for 2-pentanone and
// 3-methyl-2-butanone.
//
// # What isn't looked at
//
// Structures with a pattern of isomer.Instabilities, formulas that the spectrum
// makes improbable where no formula is given, stereoisomers, and, where there
// are more structures than can be computed, those that come off worst in a
// quick look ([Result.Passed]). The result says which of these it was.
package rival
