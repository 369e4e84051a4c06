package plants

import (
	"bytes"
	"encoding/json"
	"os/exec"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"hollowbed/plants/care"
	"hollowbed/plants/season"
	"hollowbed/testdata/testenv"
)

// secondReplay is what testdata/replay/second.py makes of the same record, bed
// and plant.
type secondReplay struct {
	WetH      float64 `json:"wet_h"`
	WetBearsH float64 `json:"wet_bears_h"`
	AirPoorH  float64 `json:"air_poor_h"`
	DryD      float64 `json:"dry_d"`
	DryBearsD float64 `json:"dry_bears_d"`
}

// What a wet and a dry plant of the demo met in their first season is what a
// second computation finds from the daily record: written in Python from the
// published formulas, by explicit steps of a minute, with nothing of ours but the
// figures of the bed.
func TestReplayAgainstSecond(t *testing.T) {
	python := testenv.Python(t)
	e, c, rows, rec := demoLot(t)
	r, err := Replay("demo", e, nil, c, rows, rec)
	require.NoError(t, err)
	l := e.Lot
	ground := l.Ground()
	var bands []map[string]float64
	for _, b := range e.Bands {
		bands = append(bands, map[string]float64{"foot_mm": b.FootMM, "top_mm": b.TopMM, "area_m2": b.AreaM2})
	}
	var spreads []float64 // of the bottom, all planted on one day
	for _, row := range rows {
		if p, ok := c.ByID(row.ID); ok && row.Zone == "bottom" {
			spreads = append(spreads, p.SpreadCM)
		}
	}
	var watered [][2]any
	for _, x := range rec.Current() {
		if x.Kind == season.Watered && x.Stake == "bottom" {
			watered = append(watered, [2]any{x.Date.Format(time.DateOnly), x.WaterL})
		}
	}
	require.NotEmpty(t, watered)
	for _, stake := range testenv.Of([]string{"COW1"}, []string{"MOD4", "COW1"}) {
		x, ok := r.last(stake)
		require.True(t, ok)
		plant, ok := c.ByID(x.Species)
		require.True(t, ok)
		planted := ""
		for _, row := range rows {
			if season.SameStake(row.Stake, stake) {
				planted = row.Planted
			}
		}
		ask, err := json.Marshal(map[string]any{
			"rain_csv": "../data/rain.csv", "type_ii_csv": "../testdata/records/nrcs-type-ii-0.1h.csv", "record_days": len(l.Record.Days),
			"latitude": l.Garden.Site.LatitudeDeg, "bands": bands, "band": x.Band, "kc": l.Garden.Bed.Kc,
			"fc": l.Mix.FC, "wp": l.Mix.WP, "sat": l.Mix.Sat, "mix_depth_mm": l.Garden.Mix.DepthMM, "mix_mmh": l.Mix.KMMH,
			"native_mmh": l.Native.TestedMMH, "native_fc": l.Native.FC, "native_wp": l.Native.WP,
			"roof_m2": l.Catches[0].AreaM2, "coefficient": l.Catches[0].Coefficient, "loss_mm": l.Catches[0].LossMM,
			"planted": planted, "from": x.From.Format(time.DateOnly), "to": x.To.Format(time.DateOnly),
			"spreads_cm": spreads, "watered": watered, "wet_h": plant.WetH, "dry_d": plant.DryD, "root_cm": care.MatureCM(plant, ground),
		})
		require.NoError(t, err)
		command := exec.Command(python, "../testdata/replay/second.py")
		command.Stdin = bytes.NewReader(ask)
		var errs bytes.Buffer
		command.Stderr = &errs
		out, err := command.Output()
		require.NoError(t, err, errs.String())
		var second secondReplay
		require.NoError(t, json.Unmarshal(out, &second))
		wet, dry := x.Dose[0], x.Dose[2]
		t.Logf("%s: wet %.2f h of %.2f, second %.2f of %.2f; short of air %g h, second %g; dry %.2f d of %.2f, second %.2f of %.2f", stake,
			wet.Found, wet.Allowed, second.WetH, second.WetBearsH, x.AirPoorH, second.AirPoorH, dry.Found, dry.Allowed, second.DryD, second.DryBearsD)
		assert.InDelta(t, second.WetH, wet.Found, 1, "%s: the hour is the step of the balance", stake)
		assert.InDelta(t, second.AirPoorH, x.AirPoorH, 1, "%s: short of air", stake)
		assert.Greater(t, x.AirPoorH, wet.Found, stake)
		assert.InEpsilon(t, second.WetBearsH, wet.Allowed, 0.01, "%s: a window is judged by its middle", stake)
		assert.InEpsilon(t, second.DryD, dry.Found, 0.01, stake)
		assert.InEpsilon(t, second.DryBearsD, dry.Allowed, 0.01, stake)
	}
}
