package zones

import (
	"regexp"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"pgregory.net/rapid"
)

// The numbers that are taken are those of two regular expressions.
func TestCutNumber(t *testing.T) {
	fraction := regexp.MustCompile(`^(?:(\d{1,12}) +)?(\d{1,3})/(\d{1,3})`)
	decimal := regexp.MustCompile(`^(?:\d{1,15}(?:\.\d{0,15})?|\.\d{1,15})`)
	rapid.Check(t, func(t *rapid.T) {
		s := rapid.StringMatching(`[0-9]{0,17}[ ./]{0,2}[0-9]{0,17}[ ./]{0,2}[0-9]{0,4}[ a-z/.]{0,3}`).Draw(t, "s")
		number, whole, rest, ok := cutNumber(s)
		if m := fraction.FindStringSubmatch(s); m != nil {
			a, _ := strconv.ParseFloat("0"+m[1], 64)
			b, _ := strconv.ParseFloat(m[2], 64)
			c, _ := strconv.ParseFloat(m[3], 64)
			assert.Equal(t, b < c, ok, s)
			assert.Equal(t, s[len(m[0]):], rest, s)
			if ok {
				assert.Equal(t, a+b/c, number, s)
				assert.False(t, whole, s)
			}
			return
		}
		m := decimal.FindString(s)
		assert.Equal(t, m != "", ok, s)
		assert.Equal(t, s[len(m):], rest, s)
		if ok {
			v, _ := strconv.ParseFloat(m, 64)
			assert.Equal(t, v, number, s)
			assert.Equal(t, !strings.Contains(m, "."), whole, s)
		}
	})
}
