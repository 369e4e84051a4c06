package catalogue

import (
	"math"
	"strconv"
	"strings"

	"hollowbed/zones/table"
)

// The cells of a row as gocsv binds them. Each type reads its text strictly.
// A cell keeps what is wrong with it instead of returning an error, since
// gocsv stops at the first error and all of them are to be told at once.

type textCell struct{ is, wrong string }

func (c *textCell) UnmarshalCSV(s string) error {
	c.is, c.wrong = table.Unguard(s), table.WrongText(s)
	return nil
}

func (c textCell) MarshalCSV() (string, error) { return table.Guard(c.is), nil }

type wordCell struct{ is, wrong string }

func (c *wordCell) UnmarshalCSV(s string) error {
	c.is, c.wrong = strings.TrimSpace(s), table.WrongText(s)
	return nil
}

func (c wordCell) MarshalCSV() (string, error) { return c.is, nil }

type listCell struct {
	is    []string
	wrong string
}

func (c *listCell) UnmarshalCSV(s string) error {
	if strings.TrimSpace(s) == "" {
		return nil
	}
	if c.wrong = table.WrongText(s); c.wrong != "" {
		return nil
	}
	if strings.ContainsAny(s, ",;/") {
		parts := strings.FieldsFunc(s, func(r rune) bool { return strings.ContainsRune(",;/|", r) })
		c.wrong = "want | between the values: " + strings.Join(table.Trimmed(parts), "|")
		return nil
	}
	c.is = table.Trimmed(strings.Split(s, "|"))
	for _, v := range c.is {
		if v == "" {
			c.is, c.wrong = nil, "want a value on both sides of every |"
			return nil
		}
	}
	return nil
}

func (c listCell) MarshalCSV() (string, error) { return strings.Join(c.is, "|"), nil }

type numberCell struct {
	is    float64
	wrong string
}

func (c *numberCell) UnmarshalCSV(s string) error {
	v, ok, hint := parseNumber(s)
	c.is = v
	if !ok {
		c.wrong = wantNumber + hint // the unit is put in where the column is known
	}
	return nil
}

func (c numberCell) MarshalCSV() (string, error) { return formatNumber(c.is), nil }

type monthCell struct {
	is    int
	wrong string
}

func (c *monthCell) UnmarshalCSV(s string) error {
	s = strings.TrimSpace(s)
	if s == "" {
		return nil
	}
	// Whether the month exists is a check; here only its writing counts.
	n, err := strconv.Atoi(s)
	if err != nil || n <= 0 || strconv.Itoa(n) != s {
		c.wrong = "want a month from 1 to 12"
		return nil
	}
	c.is = n
	return nil
}

func (c monthCell) MarshalCSV() (string, error) {
	if c.is == 0 {
		return "", nil
	}
	return strconv.Itoa(c.is), nil
}

const wantNumber = "want a number"

// formatNumber writes a number so that reading gives the same; NaN as nothing.
func formatNumber(v float64) string {
	if math.IsNaN(v) {
		return ""
	}
	if v == 0 {
		v = 0 // no negative zero
	}
	return strconv.FormatFloat(v, 'f', -1, 64)
}

// parseNumber reads a plain decimal number: digits, at most one point between
// digits, a hyphen before it if it is negative. Empty is NaN, unknown. The hint
// says how a wrong one may be written; it begins with a space or is "".
func parseNumber(s string) (v float64, ok bool, hint string) {
	s = strings.TrimSpace(s)
	if s == "" {
		return math.NaN(), true, ""
	}
	if !plainDecimal(s) {
		return math.NaN(), false, numberHint(s)
	}
	v, err := strconv.ParseFloat(s, 64)
	if err != nil {
		return math.NaN(), false, " that is not so large"
	}
	if v == 0 {
		v = 0 // no negative zero
	}
	return v, true, ""
}

func plainDecimal(s string) bool {
	whole, part, point := strings.Cut(strings.TrimPrefix(s, "-"), ".")
	if !digits(whole) || len(whole) > 1 && whole[0] == '0' {
		return false
	}
	return !point || digits(part)
}

func digits(s string) bool {
	if s == "" {
		return false
	}
	for i := range len(s) {
		if s[i] < '0' || s[i] > '9' {
			return false
		}
	}
	return true
}

// numberHint says how a number that is written otherwise is written here.
func numberHint(s string) string {
	whole, part, _ := strings.Cut(s, ",")
	switch {
	case plainDecimal(whole) && digits(part) && len(part) == 3:
		return " without a comma: " + whole + part + ", or " + whole + "." + part
	case plainDecimal(whole) && digits(part):
		return " with a point: " + whole + "." + part
	case plainDecimal(strings.ReplaceAll(s, ",", "")):
		return " without commas: " + strings.ReplaceAll(s, ",", "")
	case digits(s):
		if t := strings.TrimLeft(s, "0"); t != "" {
			return " without leading zeros: " + t
		}
		return " without leading zeros: 0"
	case plainDecimal(strings.TrimPrefix(s, "+")):
		return " without a plus sign: " + s[1:]
	case plainDecimal(strings.Replace(s, "\u2212", "-", 1)):
		return " with a hyphen for minus: " + strings.Replace(s, "\u2212", "-", 1)
	case plainDecimal("0" + s):
		return " with a digit before the point: 0" + s
	}
	if n := strings.TrimRight(s, " \u00b0abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ\"'"); n != s && plainDecimal(n) {
		return ", the number alone without its unit"
	}
	return ""
}
