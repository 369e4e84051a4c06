package report

import (
	"bytes"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"

	"hollowbed/cmd/hollowbed/doc"
)

// Why plants found no place is said once for all of which the same is true.
func TestLeftSaysWhyOnce(t *testing.T) {
	d := Place{NeededOverlap: Number(math.NaN()), Left: []leftOver{
		{VernacularName: "Rush", Zone: "rim", Count: 2, Why: "full"}, {VernacularName: "Sedge", Zone: "rim", Count: 1, Why: "narrow"},
		{VernacularName: "Aster", Zone: "bottom", Count: 3, Why: "full"},
	}}
	var out bytes.Buffer
	doc.Terminal(&out, d.left())
	assert.Equal(t, "No place for: 1 Sedge in the rim (narrow); 2 Rush in the rim, 3 Aster in the\n  bottom (full).\n", out.String())
}
