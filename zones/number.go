package zones

import (
	"strconv"
	"strings"
)

// cutNumber takes a plain decimal ("12", "0.5", ".5") or a fraction of a
// ruler ("1/2", "2 1/2") from the front of s.
func cutNumber(s string) (number float64, whole bool, rest string, ok bool) {
	if number, rest, proper, ok := cutFraction(s); ok {
		return number, false, rest, proper
	}
	n := leadingDigits(s, 15)
	end := n
	if end < len(s) && s[end] == '.' {
		if after := leadingDigits(s[end+1:], 15); n > 0 || after > 0 {
			end += 1 + after
		}
	}
	if end == 0 {
		return 0, false, s, false
	}
	v, err := strconv.ParseFloat(s[:end], 64)
	return v, !strings.Contains(s[:end], "."), s[end:], err == nil
}

// cutFraction takes "1/2" or "2 1/2" from the front; proper: the fraction is under one.
func cutFraction(s string) (number float64, rest string, proper, ok bool) {
	n := leadingDigits(s, 12)
	above := strings.TrimLeft(s[n:], " ")
	units := 0.0
	if n > 0 && len(above) < len(s)-n { // a whole number and a blank before it
		units, _ = strconv.ParseFloat(s[:n], 64) // digits only: cannot fail
	} else {
		above = s
	}
	a := leadingDigits(above, 3)
	if a == 0 || a == len(above) || above[a] != '/' {
		return 0, s, false, false
	}
	below := above[a+1:]
	b := leadingDigits(below, 3)
	if b == 0 {
		return 0, s, false, false
	}
	over, _ := strconv.ParseFloat(above[:a], 64)
	under, _ := strconv.ParseFloat(below[:b], 64)
	return units + over/under, below[b:], over < under, true
}

// leadingDigits counts the digits that s begins with, at most so many.
func leadingDigits(s string, most int) int {
	n := 0
	for n < len(s) && n < most && '0' <= s[n] && s[n] <= '9' {
		n++
	}
	return n
}
