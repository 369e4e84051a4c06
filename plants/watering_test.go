package plants

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"hollowbed/plants/catalogue"
	"hollowbed/plants/fit"
	"hollowbed/plants/placement"
	"hollowbed/zones"
)

func wateredWishes(watering string) map[string]string {
	return map[string]string{"wishes": "{yearly_risk_max: 15 %, smallest_group: 1, share_cap: 100 %" + watering + "}"}
}

// A list counts on weekly watering in drought where the garden file says so, and
// says who is lost without it; water in the first year, or none, changes no risk.
func TestListCountsOnWatering(t *testing.T) {
	rec := someYears(6)
	thirsty, wet := with(hardy("thirsty"), func(p *catalogue.Plant) { p.DryD = 11 }), with(hardy("wet"), func(p *catalogue.Plant) { p.WetH, p.PondMM = 1, 10 })
	c := tableOf(thirsty, wet, hardy("hardy"))
	choose := func(watering string) *Planting {
		p, err := Choose(NewJudge(expose(t, wateredWishes(watering), rec)), c)
		require.NoError(t, err)
		return p
	}
	usual := choose("")
	for _, watering := range []string{", watering: first-year", ", watering: none"} {
		p := choose(watering)
		assert.Equal(t, usual.Verdicts, p.Verdicts)
		assert.Equal(t, usual.Lines, p.Lines)
		assert.Nil(t, p.Watering)
	}
	bar := func(p *Planting, id, zone string) Bar {
		for _, v := range p.Verdicts {
			if v.Plant.ID == id && v.Zone == zone {
				return v.Bar
			}
		}
		return "not there"
	}
	weekly := choose(", watering: weekly-in-drought, wanted: [thirsty]")
	assert.Equal(t, BarRisk, bar(usual, "thirsty", "rim"))
	assert.Equal(t, NoBar, bar(weekly, "thirsty", "rim"))
	for _, p := range []*Planting{usual, weekly} {
		assert.Equal(t, BarRisk, bar(p, "wet", "bottom"), "water does not help against water")
	}
	require.NotNil(t, weekly.Watering)
	assert.Positive(t, weekly.Watering.Litres)
	assert.InDelta(t, weekly.Watering.Litres/15, weekly.Watering.Minutes, 1e-9)
	require.Len(t, weekly.Watering.Lost, 1)
	lost, count := weekly.Watering.Lost[0], 0
	assert.Equal(t, "thirsty", lost.Plant.ID)
	for _, l := range weekly.Lines {
		if l.Plant.ID == "thirsty" && bar(usual, "thirsty", l.Zone) == BarRisk {
			count += l.Count
		}
		assert.Equal(t, bar(usual, "thirsty", l.Zone) == NoBar || l.Plant.ID != "thirsty", usualLives(usual, l.Plant.ID, l.Zone))
	}
	assert.Equal(t, count, lost.Count, "no more and no fewer than those that the unwatered list bars")
	alone, err := Choose(NewJudge(expose(t, wateredWishes(", watering: weekly-in-drought"), rec)), tableOf(hardy("hardy")))
	require.NoError(t, err)
	assert.Empty(t, alone.Watering.Lost)
	assert.Equal(t, []string{"bottom", "slope", "rim"}, alone.Watering.Safe)
}

func usualLives(p *Planting, id, zone string) bool {
	for _, v := range p.Verdicts {
		if v.Plant.ID == id && v.Zone == zone {
			return v.Lives()
		}
	}
	return false
}

// A place and a move count on the watering too; what a plant met does not, since
// notes say when it was watered. A bed that is watered is not told to water.
func TestWhatCountsOnWatering(t *testing.T) {
	rec := someYears(6)
	thirsty := with(hardy("thirsty"), func(p *catalogue.Plant) { p.DryD = 11 })
	dry, watered := NewJudge(expose(t, wateredWishes(""), rec)), NewJudge(expose(t, wateredWishes(", watering: weekly-in-drought"), rec))
	spot, ok := dry.SpotAt(0.15, 1.5)
	require.True(t, ok)
	assert.Greater(t, dry.At(thirsty, spot).Loss(), 0.5)
	assert.Less(t, watered.At(thirsty, spot).Loss(), 0.15)
	bed := func(j *Judge) fit.Year { return fitBed(j.Exposure).At(thirsty, spot.Band, j.Exposure.Whole[0]) }
	assert.LessOrEqual(t, bed(watered).DryD, 7.0)
	assert.Greater(t, bed(dry).DryD, 7.0)

	again := *dry.Exposure
	lot := *again.Lot
	garden := *lot.Garden
	garden.Wishes.Watering, lot.Garden, again.Lot = zones.WaterWeekly, &garden, &lot
	assert.Equal(t, watered.At(thirsty, spot).Fit, dry.Over(&again).At(thirsty, spot).Fit, "nothing that was found dry is kept")

	notes := noted(t, note(2003, 12, 31, "TEN1", 3), note(2030, 12, 30, "TEN1", 3)) // the last in an ordinary year
	rows := []placement.Planted{middle("TEN1", "1990-05-01")}
	was, err := Replay("g", dry.Exposure, nil, tableOf(tender()), rows, notes)
	require.NoError(t, err)
	is, err := Replay("g", watered.Exposure, nil, tableOf(tender()), rows, notes)
	require.NoError(t, err)
	require.Len(t, was.Cases, 2)
	for _, x := range was.Cases {
		assert.Greater(t, x.Dose[2].Severity, 7.0/15)
	}
	assert.Equal(t, was.Cases, is.Cases)

	p, err := Choose(watered, tableOf(with(hardy("tender"), func(p *catalogue.Plant) { p.LowestC = 5 })))
	require.NoError(t, err)
	require.NoError(t, p.TryChanges(tableOf(hardy("a"))))
	_, tried := changeOf(zoneFill(t, p, "rim").Refusal, ChangeWater)
	assert.False(t, tried)
	require.NotEmpty(t, zoneFill(t, p, "rim").Refusal.Changes)
}
