package placement

import (
	"bytes"
	"fmt"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"hollowbed/zones/basin"
)

// A bed of 6 m by 4 m, its corner at 0,0. The distance from 9,8 to its corner
// 6,4 is 5 m.
func TestUnlikely(t *testing.T) {
	bed := basin.Outline{Kind: "rectangle", LengthM: 6, WidthM: 4}
	today := time.Date(2026, 3, 1, 18, 0, 0, 0, time.UTC)
	warned := func(p ...Planted) (out []string) {
		for _, f := range Unlikely("planted.csv", p, bed, today) {
			out = append(out, f.String())
		}
		return out
	}
	assert.Empty(t, warned(
		Planted{Stake: "A1", X: 3, Y: 2, Planted: "2027-02-28"}, Planted{Stake: "A2", X: -1.9, Y: 2, Planted: "1927-01-01"}, Planted{Stake: "A3"},
	))
	assert.Equal(t, []string{
		`planted.csv:4: x_m,y_m: "9,8": A1 is 5 m outside the bed, which lies within 0,0 and 6,4: are these metres in the frame of its outline?`,
		`planted.csv:4: planted: "1600-01-01": A1 was planted more than 100 years ago: is the year right?`,
	}, warned(Planted{Stake: "A1", X: 9, Y: 8, Planted: "1600-01-01", Line: 4}))
	assert.Equal(t, []string{`planted.csv:4: planted: "9999-12-31": A1 is planted more than a year ahead: is the year right?`}, warned(Planted{Stake: "A1", Planted: "9999-12-31", Line: 4}))
	var many []Planted
	for i := range 50 {
		many = append(many, Planted{Stake: fmt.Sprint("A", i), X: -100, Y: 2})
	}
	lines := warned(many...)
	require.Len(t, lines, 3)
	assert.Contains(t, lines[2], "So in 47 more rows.")
}

// A control of direction in an id could make it read as another.
func TestPlantedRefusesDirection(t *testing.T) {
	for _, r := range []rune{0x061c, 0x200e, 0x200f, 0x202a, 0x202e, 0x2066, 0x2069} {
		_, _, err := ReadPlanted("planted.csv", bytes.NewReader([]byte("stake,id,x_m,y_m\nA1,bell"+string(r)+",1,2\n")))
		require.ErrorContains(t, err, "planted.csv:2:4: id: ", "%U", r)
		assert.Error(t, WritePlanted(&bytes.Buffer{}, nil, []Planted{{Stake: "A1", ID: "bell" + string(r)}}))
	}
}
