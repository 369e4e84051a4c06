package plants

import (
	"bytes"
	"fmt"
	"os"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"hollowbed/plants/catalogue"
	"hollowbed/plants/fit"
	"hollowbed/plants/placement"
	"hollowbed/plants/season"
	"hollowbed/zones"
	"hollowbed/zones/site"
)

func shippedSigns(t testing.TB) *season.Table {
	f, err := os.Open("../data/signs.csv")
	require.NoError(t, err)
	defer f.Close()
	signs, err := season.ReadTable("signs.csv", f)
	require.NoError(t, err)
	return signs
}

// demoLot is the demo garden as the program ships it, with its first season.
func demoLot(t testing.TB) (*zones.Exposure, *catalogue.Catalogue, []placement.Planted, *season.Notes) {
	open := func(name string) *bytes.Reader {
		text, err := os.ReadFile("../data/" + name)
		require.NoError(t, err)
		return bytes.NewReader(text)
	}
	g, err := zones.ReadGarden("garden.yaml", open("garden.yaml"))
	require.NoError(t, err)
	weather, err := site.ReadRecord("rain.csv", open("rain.csv"), g.Weather.Format, g.Site.LatitudeDeg)
	require.NoError(t, err)
	lot, err := zones.Prepare(g, weather)
	require.NoError(t, err)
	e, err := lot.Expose()
	require.NoError(t, err)
	c, err := catalogue.Read("plants.csv", open("plants.csv"))
	require.NoError(t, err)
	rows, warnings, err := placement.ReadPlanted("planted.csv", open("season/planted.csv"))
	require.NoError(t, err)
	require.Empty(t, warnings)
	rec, err := season.Read("season.csv", open("season/season.csv"))
	require.NoError(t, err)
	return e, c, rows, rec
}

// The demo's first season: every plant noted stands in planted.csv, in the zone
// that its row says, and the story that its notes tell is what comes out.
func TestDemoSeason(t *testing.T) {
	e, c, rows, rec := demoLot(t)
	zone := map[string]string{}
	for _, r := range rows {
		band, ok := e.BandAt(r.X, r.Y)
		require.True(t, ok, r.Stake)
		assert.Equal(t, r.Zone, e.Bands[band].Zone, r.Stake)
		_, known := c.ByID(r.ID)
		assert.True(t, known, r.ID)
		zone[r.Stake] = r.Zone
	}
	for _, x := range rec.Entries {
		if x.Kind == season.Seen {
			assert.Contains(t, zone, x.Stake)
		}
	}
	r, err := Replay("demo", e, nil, c, rows, rec)
	require.NoError(t, err)
	assert.Empty(t, r.Notes)
	signs, m := shippedSigns(t), season.Default()
	learned := m.Learn(signs, r.Cases)
	top := map[string]season.Diagnosis{}
	for _, d := range r.diagnose(m, signs, learned) {
		top[d.Case.Plant] = d
	}
	for stake, want := range map[string]season.Cause{
		"AMP3": season.Fine, "COM2": season.Fine, "HIL4": season.Fine, "MOD14": season.Fine,
		"COW1": season.TooDry, "COW3": season.TooDry, "TOW3": season.TooDry,
		"MOD4": season.TooWet, "MOD9": season.TooWet, "MOD7": season.TooWet,
		"EYE1": season.TooShaded, "EAR3": season.Slow, "STA2": season.Other,
	} {
		assert.Equal(t, want, top[stake].Top, "%s: %v", stake, top[stake].Chance)
	}
	require.True(t, top["EAR3"].Wait)
	require.Equal(t, season.FewFlowers, top["EAR3"].Next.Sign)
	assert.Equal(t, "2025-02-15", top["EAR3"].LookOn.Format(time.DateOnly), "it blooms in February and March")
	assert.Equal(t, 0, top["TOW3"].Vigour)
	wet, ok := learned.Limit("modest-rovelin", fit.TooWet)
	require.True(t, ok)
	assert.Less(t, wet.High, 1.0, "four of the bottom's are too wet at half of what they are said to bear")
	assert.Equal(t, "modest-rovelin", season.ByChange(learned.Limits(c))[0].ID)
	for _, k := range top["COW3"].Evidence {
		if k.Kind == season.Met {
			assert.Equal(t, fit.TooDry, k.Limit)
			assert.Equal(t, time.July, k.Dose.When.Month(), "the drought of July 2024")
		}
	}
}

func ExampleReplay() {
	e, c, rows, rec := demoLot(&testing.T{})
	r, err := Replay("demo", e, nil, c, rows, rec)
	if err != nil {
		panic(err)
	}
	x, _ := r.last("COW3")
	fmt.Printf("%s stood like %.0f days without rain in %s, and bears %.0f at its age\n", x.Plant, x.Dose[2].Found, x.Dose[2].When.Format("January 2006"), x.Dose[2].Allowed)
	// Output: COW3 stood like 32 days without rain in July 2024, and bears 27 at its age
}
