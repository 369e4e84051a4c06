package season

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// The same table merged twice, or one that overlaps, adds only what is new, and
// corrections go with what they correct.
func TestMergeIsIdempotent(t *testing.T) {
	own := "entry,date,stake,kind,vigour,signs,corrects\n7,2024-05-01,TAR9,seen,5,,\n8,2024-05-04,TAR3,seen,4,new shoots,\n"
	out, added, known, err := Merge("season.csv", []byte(own), mustRead(t, small))
	require.NoError(t, err)
	require.Len(t, known, 1)
	assert.Equal(t, 1, known[0].Number)
	require.Len(t, added, 3)
	assert.Equal(t, []int{9, 10, 11}, []int{added[0].Number, added[1].Number, added[2].Number})
	assert.Equal(t, 10, added[2].Corrects)
	again, added, known, err := Merge("season.csv", out, mustRead(t, small))
	require.NoError(t, err)
	assert.Empty(t, added)
	assert.Len(t, known, 4)
	assert.Equal(t, string(out), string(again))

	// Twice within the table that comes in: such as two cans of water on one day.
	twice := "date,stake,vigour\n2024-05-01,TAR1,4\n2024-05-01,TAR1,4\n"
	out, added, known, err = Merge("season.csv", nil, mustRead(t, twice))
	require.NoError(t, err)
	assert.Len(t, added, 2)
	assert.Empty(t, known)
	_, added, known, err = Merge("season.csv", out, mustRead(t, twice))
	require.NoError(t, err)
	assert.Empty(t, added)
	assert.Len(t, known, 2)

	// Into nothing, and into a file with the same entry corrected otherwise.
	_, added, _, err = Merge("season.csv", nil, mustRead(t, small))
	require.NoError(t, err)
	assert.Len(t, added, 4)
}

// Two corrections that say the same of two entries are two.
func TestMergeTellsCorrectionsApart(t *testing.T) {
	const head = "entry,date,stake,vigour,corrects\n1,2024-05-01,TAR1,4,\n2,2024-05-01,TAR2,4,\n"
	_, added, known, err := Merge("season.csv", []byte(head+"3,2024-05-01,TAR3,3,1\n"), mustRead(t, head+"3,2024-05-01,TAR3,3,2\n"))
	require.NoError(t, err)
	assert.Len(t, known, 2)
	require.Len(t, added, 1)
	assert.Equal(t, 2, added[0].Corrects)
}

// Two people put the same entry right in two ways: both stay in the file, the one
// that comes second holds, and it is told which it took the place of.
func TestMergeOfTwoCorrections(t *testing.T) {
	mine, theirs := mustRead(t, small), mustRead(t, strings.Replace(small, "TAR4,seen,1,wilted", "TAR5,seen,1,wilted", 1))
	out, added, known, err := Merge("season.csv", []byte(small), theirs)
	require.NoError(t, err)
	require.Len(t, added, 1)
	assert.Len(t, known, 3)
	assert.Equal(t, 4, added[0].Corrects)
	both := mustRead(t, string(out))
	assert.True(t, strings.HasPrefix(string(out), small))
	assert.Empty(t, both.About("TAR4"))
	assert.Len(t, both.About("TAR5"), 1)
	over := mine.Overruled(added, theirs)
	require.Len(t, over, 1)
	assert.Equal(t, 4, over[0].Number)

	// The same again adds nothing; given back, both have the same hold.
	_, added, _, err = Merge("season.csv", out, theirs)
	require.NoError(t, err)
	assert.Empty(t, added)
	back, _, _, err := Merge("season.csv", []byte(strings.Replace(small, "TAR4,seen,1,wilted", "TAR5,seen,1,wilted", 1)), both)
	require.NoError(t, err)
	assert.Empty(t, mustRead(t, string(back)).About("TAR4"))
	assert.Len(t, mustRead(t, string(back)).About("TAR5"), 1)

	// A correction of theirs that I knew of is put right by them: nothing to tell.
	later := mustRead(t, small+"5,2024-07-02,TAR4,seen,2,wilted,,,,,4,\n")
	_, added, _, err = Merge("season.csv", []byte(small), later)
	require.NoError(t, err)
	assert.Len(t, added, 1)
	assert.Empty(t, mine.Overruled(added, later))
}
