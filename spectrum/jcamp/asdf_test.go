package jcamp

import (
	"slices"
	"strings"
	"testing"
)

// decodeLine reads ordinates that follow an abscissa, as one line of XYDATA.
func decodeLine(t *testing.T, lines ...string) ([]float64, error) {
	t.Helper()
	d := &decoder{limits: DefaultLimits, lines: &lineReader{}}
	table := &table{shape: steps}
	for _, line := range lines {
		d.lines.number++
		if err := d.readSteps(table, []byte(line)); err != nil {
			return nil, err
		}
	}
	return table.y, nil
}

func TestPublishedForms(t *testing.T) {
	// All lines of McDonald & Wilks, Appl. Spectrosc. 42 (1988) 151, table VIIb,
	// mean the same ten ordinates (seen as quoted in a public test of a Perl
	// reader; the abscissa in front is ours).
	want := []float64{1, 2, 3, 3, 2, 1, 0, -1, -2, -3}
	for _, line := range []string{
		"0 1 2 3 3 2 1 0 -1 -2 -3", // FIX
		"0+1+2+3+3+2+1+0-1-2-3",    // PAC
		"0 1 2 3 3 2 1 0-1-2-3",    // PAC with spaces
		"0ABCCBA@abc",              // SQZ, the first one too
		"0 1BCCBA@abc",             // SQZ
		"0 1JJ%jjjjjj",             // DIF
		"0 1JT%jX",                 // DIF with DUP
		"0 1J J % j,j;j j j j",     // ours: separators are allowed
	} {
		got, err := decodeLine(t, line)
		if err != nil || !slices.Equal(got, want) {
			t.Errorf("%q gives %v, %v; want %v", line, got, err, want)
		}
	}
}

func TestPublishedTable(t *testing.T) {
	// The same source, table VI, as corrected by Baumbach et al. (2001): the
	// FIX and the DIFDUP form of 53 ordinates (seen as quoted in public tests
	// of two readers).
	fixed := []string{
		"599.860 0 0 0 0 2 4 4 4 7 5 4 4 5 5 7 10 11 11 6 5 7 6 9 9 7",
		"648.081 10 10 9 10 11 12 15 16 16 14 17 38 38 35 38 42 47 54",
		"682.799  59  66  75  78  88  96 104 110 121 128",
	}
	difdup := []string{
		"599.860@VKT%TLkj%J%KLJ%njKjL%kL%jJULJ%kLK1%lLMNPNPRLJ0QTOJ1P",
		"700.158A28",
	}
	want, err := decodeLine(t, fixed...)
	if err != nil {
		t.Fatal(err)
	}
	got, err := decodeLine(t, difdup...)
	if err != nil {
		t.Fatal(err)
	}
	if len(want) != 53 || !slices.Equal(got, want) {
		t.Errorf("DIFDUP gives\n%v, FIX\n%v", got, want)
	}
}

func TestOrdinateForms(t *testing.T) {
	tests := []struct {
		lines []string
		want  []float64
	}{
		{[]string{"1 1.5E+03 2.5E-01"}, []float64{1500, 0.25}},                         // exponent with sign and two digits
		{[]string{"1 1E3"}, []float64{1, 53}},                                          // SQZ 53: E without a sign is +5
		{[]string{"1AT"}, []float64{1, 1}},                                             // DUP counts the first one
		{[]string{"1AS"}, []float64{1}},                                                // DUP of one
		{[]string{"1AS2"}, []float64{1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1}},              // S2 is 12
		{[]string{"1A00JT"}, []float64{100, 101, 102}},                                 // DUP of a difference
		{[]string{"1A00J", "2A01J", "3A02"}, []float64{100, 101, 102}},                 // check ordinates are no points
		{[]string{"1A00JT", "3A02U", "5A02"}, []float64{100, 101, 102, 102, 102, 102}}, // a repeated check counts on
		{[]string{"1,A00,J1"}, []float64{100, 111}},
		{[]string{"-1A"}, []float64{1}},
	}
	for _, test := range tests {
		got, err := decodeLine(t, test.lines...)
		if err != nil || !slices.Equal(got, test.want) {
			t.Errorf("%q gives %v, %v; want %v", test.lines, got, err, test.want)
		}
	}
}

func TestOrdinatesRefused(t *testing.T) {
	tests := []struct {
		lines []string
		want  string
	}{
		{[]string{"A1"}, "has an m/z but no ordinate"},
		{[]string{"J1"}, "doesn't start with an m/z"},
		{[]string{"1J"}, "is a difference, but no ordinate stands before it"},
		{[]string{"1T"}, "nothing before it to repeat"},
		{[]string{"1ATT"}, "ordinate 3 of the line is a repeat count"},
		{[]string{"1A00J", "2A02"}, "line 2: the check ordinate is 102, but the line before ends at 101"},
		{[]string{"1A00J", "2J"}, "no check ordinate"},
		{[]string{"1 1E+3"}, `"1E+3" can be an exponent or a compressed 5`},
		{[]string{"1 1E+1234"}, "can be an exponent or a compressed 5"},
		{[]string{"1 A.5"}, "has a decimal point"},
		{[]string{"1 A1234567890123456"}, "more than 15 digits"},
		{[]string{"1 1_000"}, `"_000" isn't a number`},
		{[]string{"1 --5"}, `"--5" isn't a number`},
		{[]string{"1 1E+999"}, "isn't a number that can be held"},
		{[]string{"1 nan"}, `is a difference`},
		{[]string{"1AZ999999999"}, "more than 1000000 points"},
		{[]string{"1AR00000000000000Z9999999"}, "too large to be added up exactly"},
	}
	for _, test := range tests {
		got, err := decodeLine(t, test.lines...)
		if err == nil || !strings.Contains(err.Error(), test.want) {
			t.Errorf("%q gives %v, error %v; want an error with %q", test.lines, len(got), err, test.want)
		}
	}
}

func TestCompressedWritesWhatIsRead(t *testing.T) {
	for _, value := range []float64{0, 1, 9, 10, 123, 999999999999999, -1, -9, -10, -987} {
		for _, token := range []string{squeezed(value), compressed(value, '%', 'J', 'j')} {
			got, err := ordinates([]byte(token), nil)
			if err != nil || len(got) != 1 || got[0].value != value {
				t.Errorf("%v is written %q and read %v, %v", value, token, got, err)
			}
		}
	}
	for _, n := range []int{1, 2, 9, 10, 345} {
		got, err := ordinates([]byte(repeated(n)), nil)
		if err != nil || len(got) != 1 || got[0] != (ordinate{duplicate, float64(n)}) {
			t.Errorf("a count of %d is written %q and read %v, %v", n, repeated(n), got, err)
		}
	}
}
