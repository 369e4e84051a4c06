package inlet

import (
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
)

func show() Show {
	unit := func(u string) func(float64) string {
		return func(v float64) string { return fmt.Sprintf("%.4g %s", v, u) }
	}
	return Show{Depth: unit("mm"), Length: unit("m"), Flow: unit("m3/h"), Speed: unit("m/s"), Volume: unit("m3")}
}

// Every kind of trouble has words for what is wrong and for what would do.
func TestEveryTroubleHasWords(t *testing.T) {
	for _, kind := range []troubleKind{tooLow, wallLow, edgeLow, groundRises, narrowLiner, aboveGround, thinCover, drowned, backsToWall, smallPipe, smallSwale,
		smallExtension, smallDownspout, notInCode, narrows, fastSwale, fastLawn, flatLawn, shortOfSoil, noDesignRain} {
		what, change := Trouble{Kind: kind, Found: 1, Want: 2, Change: 3}.Text(show())
		assert.NotEmpty(t, what)
		assert.NotEmpty(t, change)
		assert.NotContains(t, what+change, "%!")
	}
	_, change := Trouble{Kind: smallPipe, Change: math.NaN()}.Text(show())
	assert.NotContains(t, change, "NaN")
	_, change = Trouble{Kind: smallSwale, Change: math.NaN()}.Text(show())
	assert.NotContains(t, change, "NaN")
	assert.Panics(t, func() { Trouble{Kind: "nonsense"}.Text(show()) })
	what, change := Trouble{Kind: tooLow, Change: 31}.Text(show())
	assert.Equal(t, "the water would arrive 31 mm below the bottom of the bed", what)
	assert.Equal(t, "make the bed 31 mm deeper, or set it further down the slope, or take another way", change)
}
