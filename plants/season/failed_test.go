package season

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"hollowbed/plants/placement"
)

// Where a plant died is known from its notes, also once it was taken out; one
// that came up again did not die, and a stake may hold a second plant.
func TestFailed(t *testing.T) {
	rec, err := read("season.csv", []byte(`date,stake,kind,vigour,signs,id,x_m,y_m
2024-05-01,A1,seen,0,dead,,,
2024-05-01,B1,seen,0,dead,,,
2024-06-01,B1,seen,1,,,,
2024-05-01,C1,seen,0,,,,
2024-05-01,D1,seen,0,dead,,,
2024-05-02,D1,removed,,,second-madeup,3,1
2024-05-01,E1,seen,4,,,,
2024-05-02,E1,removed,,,first-madeup,4,1
2024-05-01,F1,seen,0,dead,,,
2024-05-01,G1,seen,0,dead,,,
2024-05-02,G1,removed,,,first-madeup,5,1
2024-05-03,G1,seen,3,,,,
2024-06-03,a1,seen,,soil dry,,,
`))
	require.NoError(t, err)
	row := func(stake string, x float64, planted string) placement.Planted {
		return placement.Planted{Stake: stake, ID: "first-madeup", X: x, Y: 1, Planted: planted}
	}
	var got []string
	for _, f := range rec.Failed([]placement.Planted{row("A1", 1, "2023-04-01"), row("B1", 2, ""), row("C1", 2, ""), row("F1", 2, "2024-06-01"), row("G1", 5, "")}) {
		assert.Positive(t, f.X)
		got = append(got, f.Stake+" "+f.ID)
	}
	assert.Equal(t, []string{"A1 first-madeup", "D1 second-madeup", "G1 first-madeup"}, got)
}

// What died or was taken out since it was planted grows no more; what came up again,
// was planted since or was seen since does.
func TestAlive(t *testing.T) {
	rec, err := read("season.csv", []byte(`date,stake,kind,vigour,signs,id
2024-05-01,DEAD1,seen,0,dead,
2024-05-01,BACK1,seen,0,dead,
2024-06-01,BACK1,seen,1,,
2024-05-01,OUT1,removed,,,s
2024-05-01,NEW1,removed,,,s
2024-05-01,SEEN1,removed,,,s
2024-06-01,SEEN1,seen,3,,
2024-05-01,POOR1,seen,0,wilted,
`))
	require.NoError(t, err)
	var rows []placement.Planted
	for _, stake := range []string{"DEAD1", "BACK1", "OUT1", "NEW1", "SEEN1", "POOR1", "ELSE1"} {
		rows = append(rows, placement.Planted{Stake: stake, ID: "s", Planted: "2023-04-01"})
	}
	rows[3].Planted = "2024-05-20"
	var got []string
	for _, r := range rec.Alive(rows) {
		got = append(got, r.Stake)
	}
	assert.Equal(t, []string{"BACK1", "NEW1", "SEEN1", "POOR1", "ELSE1"}, got)
	assert.Equal(t, rows, (*Notes)(nil).Alive(rows))
}

// Of a drift so many are dead as were said to be, whichever they were; that plants died
// at their very places is known where it was said of all, or of a stake.
func TestAliveInDrifts(t *testing.T) {
	rows := make([]placement.Planted, 6)
	for i := range rows {
		rows[i] = placement.Planted{Stake: string(rune('A'+i)) + "1", ID: "s", Planted: "2023-04-01", Drift: "C"}
	}
	for text, want := range map[string]struct{ alive, failed int }{
		"2024-05-01,C,,dead,2,":                                           {4, 0},
		"2024-05-01,C,,dead,2 of 6,A1 B1 C1 D1 E1 F1":                     {4, 0},
		"2024-05-01,C,,dead,6 of 6,A1 B1 C1 D1 E1 F1":                     {0, 6},
		"2024-05-01,C,,dead,2,\n2024-06-01,D1,,dead,,":                    {4, 1},
		"2024-05-01,C,,dead,2,\n2025-06-01,A1,4,,,":                       {4, 0},
		"2024-05-01,C,4,,6 of 6,A1 B1 C1 D1 E1 F1\n2024-05-01,C,,dead,1,": {5, 0},
		"2024-05-01,C,,wilted,3,":                                         {6, 0},
		// Those of whom all died later had lived until then.
		"2024-05-01,C,,dead,1 of 6,A1 B1 C1 D1 E1 F1\n2024-07-01,C,,dead,5 of 5,B1 C1 D1 E1 F1": {0, 5},
		"2024-05-01,C,,dead,1 of 6,\n2024-07-01,C,,dead,1 of 5,B1 C1 D1 E1 F1":                  {4, 0},
	} {
		rec, err := read("season.csv", []byte("date,stake,vigour,signs,drift_count,drift_plants\n"+text+"\n"))
		require.NoError(t, err, text)
		assert.Len(t, rec.Guess(rows).Alive(rows), want.alive, text)
		assert.Len(t, rec.Failed(rows), want.failed, text)
	}
}
