package season

import (
	"math"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"hollowbed/plants/placement"
	"hollowbed/zones/site"
)

func noteOf(day, stake string, vigour int) Entry {
	e := NewEntry(date(day), stake, Seen)
	e.Vigour = vigour
	return e
}

func recordOf(t *testing.T, entries ...Entry) *Notes {
	t.Helper()
	out, _, err := Append("season.csv", nil, entries)
	require.NoError(t, err)
	return mustRead(t, string(out))
}

// One stay, three years, south and north. A case reaches back to planting, to the
// case before, or a year.
func TestSeasonsOfAPlant(t *testing.T) {
	rec := recordOf(t,
		noteOf("2024-06-01", "TAR1", 4), noteOf("2024-09-01", "TAR1", 2), noteOf("2024-09-01", "TAR2", 2),
		noteOf("2025-02-01", "TAR1", 3), noteOf("2027-05-01", "tar1", 3),
	)
	rows := []placement.Planted{{Stake: "TAR1", ID: "s", X: 1, Y: 2, Planted: "2023-10-01"}}
	stands := Stands(rows, rec)
	require.Len(t, stands, 1)
	assert.Equal(t, []Stay{{From: date("2023-10-01"), X: 1, Y: 2}}, stands[0].Stays)

	cases := Seasons("g", stands[0], rec, false)
	require.Len(t, cases, 3)
	assert.Equal(t, date("2023-10-01"), cases[0].From)
	assert.Equal(t, date("2024-09-01"), cases[0].To)
	assert.Len(t, cases[0].Notes, 2)
	assert.InDelta(t, 11.04, cases[0].Months, 0.01)
	assert.Equal(t, date("2024-09-02"), cases[1].From)
	assert.Equal(t, date("2025-02-01"), cases[1].To)
	assert.Equal(t, date("2026-05-02"), cases[2].From, "a year back and no more")
	assert.True(t, math.IsNaN(cases[0].Dose[0].Severity))

	south := Seasons("g", stands[0], rec, true)
	require.Len(t, south, 3)
	assert.Equal(t, date("2024-06-01"), south[0].To, "a year there ends with June")
	assert.Equal(t, date("2025-02-01"), south[1].To)
	assert.Len(t, south[1].Notes, 2)
}

func TestNotesWithoutVigourOrSigns(t *testing.T) {
	e := NewEntry(date("2024-06-01"), "TAR1", Seen)
	e.Remark = "moved the label"
	rec := recordOf(t, e)
	assert.Empty(t, Seasons("g", Stands([]placement.Planted{{Stake: "TAR1", ID: "s"}}, rec)[0], rec, false))
}

// Places go back through the moves; months count from the last one; notes from
// before and after a move are two cases though they are of one year.
func TestStandsGoBackThroughMoves(t *testing.T) {
	row := placement.Planted{Stake: "TAR1", ID: "s", X: 1, Y: 1, Planted: "2022-10-01"}
	first := Moving(row, date("2023-11-01"), "")
	row.X = 2
	second := Moving(row, date("2024-11-10"), "to the slope")
	row.X = 3
	rec := recordOf(t, first, second, noteOf("2024-06-01", "TAR1", 2), noteOf("2024-12-01", "TAR1", 3), noteOf("2023-06-01", "TAR1", 1))
	s := Stands([]placement.Planted{row}, rec)[0]
	assert.Equal(t, []Stay{
		{From: date("2022-10-01"), X: 1, Y: 1}, {From: date("2023-11-01"), X: 2, Y: 1}, {From: date("2024-11-10"), X: 3, Y: 1},
	}, s.Stays)
	cases := Seasons("g", s, rec, false)
	require.Len(t, cases, 3)
	assert.Equal(t, []int{0, 1, 2}, []int{cases[0].stay, cases[1].stay, cases[2].stay})
	assert.Equal(t, date("2023-11-01"), cases[1].From)
	assert.Equal(t, date("2024-11-10"), cases[2].From)
	assert.InDelta(t, 0.69, cases[2].Months, 0.01)
	assert.Equal(t, "TAR1", first.Stake)
	assert.Equal(t, 1.0, first.X)
}

// A plant that was taken out keeps teaching: its kind, its place and when it was
// planted are in the record.
func TestStandsKeepThoseThatAreGone(t *testing.T) {
	row := placement.Planted{Stake: "TAR1", ID: "s", X: 1, Y: 2, Planted: "2023-10-01"}
	rec := recordOf(t, noteOf("2024-07-01", "TAR1", 0))
	leaving := Leaving(row, rec, date("2024-10-10"), "taken out")
	require.Len(t, leaving, 2)
	rec = recordOf(t, append([]Entry{noteOf("2024-07-01", "TAR1", 0)}, leaving...)...)
	stands := Stands(nil, rec)
	require.Len(t, stands, 1)
	assert.Equal(t, Standing{
		Stake: "TAR1", ID: "s", Planted: date("2023-10-01"), Gone: date("2024-10-10"),
		Stays: []Stay{{From: date("2023-10-01"), X: 1, Y: 2}},
	}, stands[0])
	assert.True(t, stands[0].standsOn(date("2024-10-09")))
	assert.False(t, stands[0].standsOn(date("2024-10-10")))
	assert.False(t, stands[0].standsOn(date("2023-09-30")))
	assert.Len(t, Seasons("g", stands[0], rec, false), 1)
	assert.Len(t, Leaving(row, rec, date("2025-01-01"), ""), 1, "when it was planted is written already")

	row.Planted = ""
	assert.Len(t, Leaving(row, &Notes{}, date("2025-01-01"), ""), 1, "nobody knows when it was planted")
}

// A stake that was given to another plant after one was taken out: what was
// noted and moved before is not of the plant that stands now, and new stakes are
// others than all that were ever written down.
func TestAStakeGivenAgain(t *testing.T) {
	old := placement.Planted{Stake: "TAR1", ID: "s", X: 1, Y: 2, Planted: "2023-10-01"}
	all := append([]Entry{noteOf("2024-07-01", "TAR1", 0), Moving(old, date("2024-03-01"), "")}, Leaving(old, &Notes{}, date("2024-10-10"), "")...)
	water := NewEntry(date("2024-08-01"), allPlants, Watered)
	water.WaterL = 5
	rec := recordOf(t, append(all, water, noteOf("2025-06-01", "tar1", 4), noteOf("2025-06-01", "TAR2", 4))...)
	s := Stands([]placement.Planted{{Stake: "TAR1", ID: "s", X: 3, Y: 3}}, rec)[0]
	assert.Equal(t, date("2024-10-11"), s.Planted)
	assert.Equal(t, []Stay{{From: date("2024-10-11"), X: 3, Y: 3}}, s.Stays)
	cases := Seasons("g", s, rec, false)
	require.Len(t, cases, 1)
	assert.Equal(t, date("2025-06-01"), cases[0].To)
	assert.Equal(t, []string{"TAR1", "TAR2"}, rec.Stakes())
}

func TestPlantedOnADayThatNobodyKnows(t *testing.T) {
	rec := recordOf(t, noteOf("2024-07-01", "TAR1", 3))
	s := Stands([]placement.Planted{{Stake: "TAR1", ID: "s"}}, rec)[0]
	c := Seasons("g", s, rec, false)[0]
	assert.True(t, math.IsNaN(c.Months))
	assert.Equal(t, date("2024-07-01").AddDate(0, 0, -364), c.From)

	entry := NewEntry(date("2024-04-01"), "TAR1", Planted)
	rec = recordOf(t, entry, noteOf("2024-07-01", "TAR1", 3))
	s = Stands([]placement.Planted{{Stake: "TAR1", ID: "s"}}, rec)[0]
	assert.Equal(t, date("2024-04-01"), s.Planted)
}

func TestCutsMakeWholeWindows(t *testing.T) {
	rec := &site.Record{Start: time.Date(2024, 1, 1, 0, 0, 0, 0, time.FixedZone("", -6*3600)), Days: make([]site.Day, 70)}
	cuts := Cuts(rec, []Case{{From: date("2024-01-20"), To: date("2024-02-10")}})
	assert.Equal(t, []int{0, 19, 31, 41, 60}, cuts)
	assert.Equal(t, 19, dayOf(rec.Start, date("2024-01-20")))
	assert.Equal(t, -1, dayOf(rec.Start, date("2023-12-31")))
}
