package table

import (
	"fmt"
	"math"
	"strconv"
	"strings"
	"unicode/utf8"
)

// split divides a line into fields. A field may stand in double quotes, which
// then hide separators; a doubled quote inside is one.
func split(line string, separator byte) []field {
	var fields []field
	column, at := 1, 0
	for {
		begin := at
		for at < len(line) && (line[at] == ' ' || line[at] == '\t' && separator != '\t') {
			at++
		}
		f := field{column: column + utf8.RuneCountInString(line[begin:at])}
		if at < len(line) && line[at] == '"' {
			var text strings.Builder
			for at++; at < len(line); at++ {
				if line[at] != '"' {
					text.WriteByte(line[at])
					continue
				}
				if at+1 < len(line) && line[at+1] == '"' {
					at++
					text.WriteByte('"')
					continue
				}
				at++
				break
			}
			f.text = text.String()
			if rest := strings.IndexByte(line[at:], separator); rest >= 0 {
				f.text += line[at : at+rest]
				at += rest
			} else {
				f.text += line[at:]
				at = len(line)
			}
		} else {
			end := strings.IndexByte(line[at:], separator)
			if end < 0 {
				end = len(line) - at
			}
			f.text = line[at : at+end]
			at += end
		}
		f.text = strings.TrimSpace(f.text)
		fields = append(fields, f)
		column += utf8.RuneCountInString(line[begin:at]) + 1
		if at >= len(line) {
			return fields
		}
		at++ // the separator
	}
}

// header takes the first line: it finds the columns by their names, or sets
// the two of a table without header.
func (d *decoder) header(fields []field) (bool, error) {
	if _, err := d.number(fields[0], ""); err == nil || looksNumeric(fields[0].text) {
		d.mz, d.intensity, d.columns = 0, 1, 2
		return false, nil
	}
	d.columns = len(fields)
	d.mz, d.intensity = -1, -1
	for i, f := range fields {
		var to *int
		switch {
		case isMZ(f.text):
			to = &d.mz
		case isIntensity(f.text):
			to = &d.intensity
		default:
			continue
		}
		if *to >= 0 {
			return true, &Error{d.line, f.column, fmt.Sprintf("the column %q says the same as an earlier one; expected one column of m/z and one of intensity", clip(f.text))}
		}
		*to = i
	}
	if d.mz < 0 || d.intensity < 0 {
		return true, &Error{d.line, fields[0].column, fmt.Sprintf("the first line starts with %q; expected a peak such as 43,100 or a header with the columns m/z and intensity", clip(fields[0].text))}
	}
	return true, nil
}

// miscounted is the error for a line with the wrong number of fields.
func (d *decoder) miscounted(fields []field) error {
	want := d.columns
	message := fmt.Sprintf("%d fields; expected %d", len(fields), want)
	if d.separator == ',' && len(fields) > want {
		message += "\nif the numbers have a decimal comma, write decimal points or divide the fields by semicolons"
	}
	column := fields[len(fields)-1].column
	if len(fields) > want {
		column = fields[want].column
	}
	return &Error{d.line, column, message}
}

// looksNumeric reports whether a text was meant as a number, so that a damaged
// first line isn't taken for a header.
func looksNumeric(text string) bool {
	return text != "" && strings.Trim(text, "0123456789.,+-eE ") == ""
}

// number reads the number of a field.
func (d *decoder) number(f field, what string) (float64, error) {
	text := f.text
	if strings.Contains(text, ",") {
		if !d.options.DecimalComma {
			return 0, &Error{d.line, f.column, fmt.Sprintf("%q has a comma where %s stands\nwrite decimal points, or say that the file has decimal commas", clip(text), what)}
		}
		if strings.Contains(text, ".") || strings.Count(text, ",") > 1 {
			return 0, &Error{d.line, f.column, fmt.Sprintf("%q isn't %s with a decimal comma; expected a number such as 43,0184", clip(text), what)}
		}
		text = strings.Replace(text, ",", ".", 1)
	}
	value, err := strconv.ParseFloat(text, 64)
	if err != nil || math.IsInf(value, 0) || math.IsNaN(value) || strings.ContainsAny(text, "xX_") {
		return 0, &Error{d.line, f.column, fmt.Sprintf("%q isn't %s; expected a number", clip(f.text), what)}
	}
	return value, nil
}

// isMZ and isIntensity know the names of the columns, in any letter case, and
// with a unit in brackets behind.
func isMZ(name string) bool {
	switch plain(name) {
	case "m/z", "mz", "m/e", "mass", "mass/charge", "mass-to-charge ratio":
		return true
	}
	return false
}

func isIntensity(name string) bool {
	switch plain(name) {
	case "intensity", "int", "int.", "abundance", "relative intensity", "relative abundance", "rel. int.", "rel. intensity", "counts", "height", "%", "% of base":
		return true
	}
	return false
}

func plain(name string) string {
	if at := strings.IndexAny(name, "(["); at > 0 {
		name = name[:at]
	}
	return strings.ToLower(strings.Join(strings.Fields(strings.ReplaceAll(name, "_", " ")), " "))
}
