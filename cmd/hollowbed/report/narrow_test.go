package report

import (
	"bytes"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
)

// On a phone of 40 columns notes are lines that wrap, on paper a table; no line is
// wider, and nothing is lost.
func TestNotesOnAPhone(t *testing.T) {
	vigour := 2
	d := Note{Garden: Garden{Name: "A garden with a rather long name, at the end of Pond Street"}, Entries: []noteEntry{
		{Entry: 6, Date: "2024-05-04", Stake: "COW1", VernacularName: "Common Wespil", Kind: "seen", Vigour: &vigour, Signs: []string{"wilted", "soil dry"}, Remark: "the hose did not reach"},
	}}
	print := func(columns int) string {
		var b bytes.Buffer
		d.Text(Paper{Writer: &b, Columns: columns})
		return b.String()
	}
	phone := print(40)
	for line := range strings.Lines(phone) {
		assert.LessOrEqual(t, len(strings.TrimSuffix(line, "\n")), 40, line)
	}
	assert.Contains(t, strings.Join(strings.Fields(phone), " "), "2024-05-04, COW1 (Common Wespil): vigour 2, wilted, soil dry, the hose did not reach. Entry 6.")
	assert.Contains(t, print(100), "entry  date        stake  plant")
	assert.Contains(t, print(0), "entry  date        stake  plant", "a file has no width")
}
