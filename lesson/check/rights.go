package check

import (
	"regexp"
	"strings"

	"ionwright/lesson/diag"
	"ionwright/lesson/load"
)

// Rights says where a compound's spectrum comes from and how it may be
// published. For a computed spectrum all fields are empty: it is the lesson's
// own.
type Rights struct {
	Origin     string // who made it, or holds the rights
	SourceID   string // the source's own identifier
	License    string
	Permission string // why it may be published where the license doesn't say so
}

// RightsOf joins what the spectrum's file says with what the lesson adds.
func RightsOf(c *load.Compound) Rights {
	if !c.Measured {
		return Rights{}
	}
	info := c.Spectrum.Info
	r := Rights{Origin: info.Owner, SourceID: info.SourceID, License: info.License, Permission: c.Source.Permission.Value}
	if r.License == "" {
		r.License = c.Source.License.Value
	}
	if own := c.Source.Origin.Value; own != "" {
		r.Origin = own
	}
	return r
}

// rights reports the spectra that a pack would publish and may not.
func (c *checker) rights() {
	for _, compound := range c.report.Lesson.Compounds {
		if compound.Measured {
			c.compoundRights(compound)
		}
	}
}

func (c *checker) compoundRights(compound *load.Compound) {
	r, at := RightsOf(compound), compound.Source.Measured
	if stated := compound.Source.License; !stated.IsZero() && !sameLicense(stated.Value, r.License) {
		c.add(diag.New(diag.LicenseForbids, stated.Place(), "%q says that its license is %q, not %q", compound.File, r.License, stated.Value).
			Suggesting("leave license out; where its owner lets you publish it all the same, write permission: with the reason"))
		return
	}
	if r.Permission != "" {
		return
	}
	if r.License == "" {
		c.add(diag.New(diag.NoLicense, at.Place(), "the pack would publish the spectrum in %q, which says no license", compound.File).
			Suggesting("write license: beside measured: (license: own where you measured it yourself), or permission: with the reason why you may publish it"))
		return
	}
	terms := termsOf(r.License)
	switch {
	case terms.forbids != "":
		c.add(diag.New(diag.LicenseForbids, at.Place(), "the pack would publish the spectrum in %q, whose license %q %s", compound.File, r.License, terms.forbids).
			Suggesting("use another spectrum, or write permission: with the reason why you may publish it"))
	case !terms.known:
		c.add(diag.New(diag.LicenseForbids, at.Place(), "the pack would publish the spectrum in %q, and the program can't tell whether its license %q allows that", compound.File, r.License).
			Suggesting("read the license; where it allows publishing, write permission: and say where it does"))
	case terms.attribution && r.Origin == "":
		c.add(diag.New(diag.NoLicense, at.Place(), "the license %q of the spectrum in %q asks that its owner be named, and the file names none", r.License, compound.File).
			Suggesting("write origin: beside measured:, with the owner's name"))
	}
}

// terms are what a license says about publishing a spectrum and figures of it.
type terms struct {
	known       bool
	forbids     string // in words; empty where it doesn't
	attribution bool   // the owner must be named
}

var (
	// Creative Commons, version 4.0 and before: ND forbids sharing what is
	// adapted, and a figure or a spectrum at unit m/z is.
	creative   = regexp.MustCompile(`^(cc|creative commons)( attribution| by)( (sa|nc|nd|sharealike|noncommercial|noderivatives|noderivs))*( [1-4] ?[05]?)?( international| unported)?$`)
	noChanges  = regexp.MustCompile(`\b(nd|no ?derivatives|no ?derivs)\b`)
	free       = regexp.MustCompile(`^(own|own work|cc ?0( 1 0)?|cc zero|public domain( mark)?|pddl|us government work)$`)
	named      = regexp.MustCompile(`^(odc by|odbl|open database license|dl de by 2 0|mit|apache( license)? ?2( 0)?|bsd|bsd [23] clause)$`)
	reserved   = regexp.MustCompile(`\b(all rights reserved|confidential|proprietary|internal use|personal use|private|not for (re)?distribution|no (re)?distribution|do not (re)?(distribute|publish|copy))\b`)
	separators = regexp.MustCompile(`[\s\-_/.,;()]+`)
)

// plainLicense is a license's name in small letters with single spaces.
func plainLicense(license string) string {
	return strings.TrimSpace(separators.ReplaceAllString(strings.ToLower(license), " "))
}

func sameLicense(a, b string) bool { return plainLicense(a) == plainLicense(b) }

// termsOf reads the name of a license. What it doesn't know isn't allowed.
func termsOf(license string) terms {
	name := plainLicense(license)
	switch {
	case reserved.MatchString(name):
		return terms{known: true, forbids: "doesn't let it be published"}
	case noChanges.MatchString(name):
		return terms{known: true, forbids: "doesn't let changed forms be published, such as figures of it"}
	case free.MatchString(name):
		return terms{known: true}
	case creative.MatchString(name), named.MatchString(name):
		return terms{known: true, attribution: true}
	}
	return terms{}
}
