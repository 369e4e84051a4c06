package inlet

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
)

func TestCautions(t *testing.T) {
	text := strings.Join(cautions(demo()), "\n")
	for _, word := range []string{"Local code first", "permit", "located and marked before you dig", "cap the standpipe", "approved", "neighbours", "wells, septic", "licensed", "basement wall"} {
		if word == "basement wall" {
			word = "Water beside a wall"
		}
		assert.Contains(t, text, word)
	}
	assert.NotContains(t, text, "steep, and wetting")
	in := demo()
	in.Ground[0].LevelMM = 1000
	in.Foundation = ""
	text = strings.Join(cautions(in), "\n")
	assert.Contains(t, text, "steep, and wetting")
	assert.Contains(t, text, "foundation is not known")
}
