package check

import "testing"

// The terms are those of the licenses' own texts: Creative Commons 4.0, CC0
// 1.0, ODC-BY 1.0 (from memory).
func TestTerms(t *testing.T) {
	const allowed, attributed, forbidden, unknown = "allowed", "allowed with a name", "forbidden", "unknown"
	for license, want := range map[string]string{
		"own": allowed, "CC0": allowed, "CC0 1.0": allowed, "Public Domain": allowed,
		"CC BY": attributed, "CC-BY-4.0": attributed, "CC BY-SA 4.0": attributed, "CC BY-NC-SA": attributed, "CC BY-NC": attributed,
		"Creative Commons Attribution 4.0 International": attributed, "dl-de/by-2-0": attributed, "ODC-BY": attributed, "MIT": attributed,
		"CC BY-ND 4.0": forbidden, "CC BY-NC-ND": forbidden, "All rights reserved.": forbidden, "for internal use": forbidden,
		"(c) 2019, all rights reserved": forbidden, "not for redistribution": forbidden,
		"see website": unknown, "by": unknown, "free": unknown, "CC BY unless stated otherwise": unknown, "GPL": unknown, "CC": unknown,
	} {
		got := unknown
		switch terms := termsOf(license); {
		case terms.forbids != "":
			got = forbidden
		case terms.known && terms.attribution:
			got = attributed
		case terms.known:
			got = allowed
		}
		if got != want {
			t.Errorf("%q is %s, want %s", license, got, want)
		}
	}
}
