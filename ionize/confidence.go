package ionize

// confidence is what to expect of the cosine (figure A, square roots of
// intensities) between a computed and a measured spectrum: a straight line
// through the values of the validation part (hash class 4 of the measured
// spectra, not fitted to) by the share of familiar surroundings and the nominal
// mass in Da. "go run ./bench spectra" prints the line and how well it holds.
func confidence(known float64, mass int) float64 {
	const constant, perKnown, perMass = 0.664, 0.420, -0.000681
	return min(max(constant+perKnown*known+perMass*float64(mass), 0.05), 0.95)
}
