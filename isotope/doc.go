// Package isotope computes what the natural isotopes make of an ion: the
// pattern by mass number, the list of isotopologues, and the profile that an
// instrument of given resolving power records.
//
// For most uses call [Unit]. Abundances are mole fractions from chem's table,
// scaled per element so that they add up to 1; labelled atoms ([13C], [2H])
// count as pure. The electron's mass matters only to exact masses, so [Unit]
// doesn't look at the charge.
package isotope
