package report

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"hollowbed/zones/basin"
)

// The first line never says that all is well while a check could not be made.
func TestVerdictCountsWhatIsNotKnown(t *testing.T) {
	well, slope, bank := basin.Check{Name: "well"}, basin.Check{Name: "slope", Known: true, OK: true}, basin.Check{Name: "bank", Known: true}
	capture, deep := basin.Check{Name: "capture"}, basin.Check{Name: "depth of the pond", Known: true}
	first := func(recorded bool, checks ...basin.Check) string { return verdict(checks, false, recorded)[0] }
	assert.Equal(t, "This bed meets every check.", first(true, slope))
	assert.Equal(t, "1 of 2 checks could not be made; the others hold.", first(true, slope, well))
	assert.Equal(t, "2 of 3 checks could not be made; the others hold.", first(false, slope, well, capture))
	assert.Equal(t, "Not yet: depth of the pond is outside what is wanted (below). hollowbed basin --size finds a bed that does. 1 of 2 checks could not be made.", first(true, deep, well))
	assert.Equal(t, "Not yet: bank and depth of the pond are outside what is wanted (below). hollowbed basin --size finds a bed for depth of the pond; mend the rest first.", first(true, bank, deep))
	assert.Equal(t, "Not yet: bank is outside what is wanted (below).", first(true, bank)) // no size mends it
}
