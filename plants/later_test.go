package plants

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"hollowbed/plants/care"
	"hollowbed/plants/catalogue"
	"hollowbed/plants/placement"
	"hollowbed/plants/season"
)

// What notes tell of later years, counted by hand: a death that was noted twice counts
// once, some of a drift as many, vigour by the last note alone, the longest pond.
func TestNotedIn(t *testing.T) {
	c := tableOf(with(hardy("a"), func(p *catalogue.Plant) { p.Form = "forb" }), with(hardy("s"), func(p *catalogue.Plant) { p.Form = "shrub" }))
	var rows []placement.Planted
	for _, stake := range []string{"A1", "A2", "A3", "A4"} {
		rows = append(rows, placement.Planted{Stake: stake, ID: "a", Drift: "C", Planted: "2024-05-01"})
	}
	rows = append(rows, placement.Planted{Stake: "S1", ID: "s", Planted: "2024-05-01"})
	rec, err := season.Read("season.csv", strings.NewReader(`entry,date,stake,kind,vigour,signs,pond_mm,left_mm,from,to,drift_count,drift_plants
1,2024-08-01,A1,seen,0,dead,,,,,,
2,2024-09-01,A1,seen,0,dead,,,,,,
3,2024-08-01,C,seen,,silted,,,,,2 of 3,A2 A3 A4
4,2024-07-01,A2,seen,5,,,,,,,
5,2024-08-02,A2,seen,2,,,,,,,
6,2024-08-02,A3,seen,4,,,,,,,
7,2024-08-02,S1,seen,5,washed out|spread too far,,,,,,
8,2024-06-01,bottom,pond,,,100,0,8:00,14:00,,
9,2024-06-03,bottom,pond,,,100,20,20:00,18:00,,
`))
	require.NoError(t, err)
	got := NotedIn(rec, rows, c)
	assert.Equal(t, care.Noted{
		Died: []string{"1 Test a"}, Silted: []string{"2 Test a"}, Spread: []string{"1 Test s"}, Washed: []string{"1 Test s"},
		Thrive: []string{"1 Test a"}, // the shrub does well, but is not divided
		PondH:  22, PondLeft: true, PondOn: "2024-06-03", Drifts: map[string]string{"Test a": "drift C"},
	}, got)
	rows[0].Drift = ""
	assert.Equal(t, care.Noted{Drifts: map[string]string{}}, NotedIn(nil, rows, c), "without notes; not all of a kind in a drift")
}
