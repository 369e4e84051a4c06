package site

import (
	"math"
	"math/rand/v2"
	"time"
)

// Climate is an invented climate, for experiments and tests: rain as a chain of wet and
// dry days, temperature as a season with a memory. After Richardson 1981, Water Resources
// Research 17:182 (the idea, from memory); the figures describe no real place.
type Climate struct {
	Name          string
	ToWet, ToWetS float64 // chance of rain after a dry day, and what the season adds
	Stay          float64 // chance of rain after a wet day
	DepthMM       float64 // mean of a wet day
	DepthS        float64 // what the season adds
	PeakDay       float64 // day of the year when rain is likeliest
	MeanC, SwingC float64
	LatitudeDeg   float64
}

// InventedClimates are three that differ as climates do.
func InventedClimates() []Climate {
	return []Climate{
		{"temperate", 0.25, 0.03, 0.45, 8, 2, 200, 10, 14, 41},
		{"summer-dry", 0.20, 0.17, 0.55, 7, 2, 10, 12, 7, 45},
		{"monsoon", 0.22, 0.21, 0.60, 11, 7, 210, 24, 6, 22},
	}
}

// Invent draws whole years of weather, the same for the same seed; each day's rain falls
// from 9 to 15 o'clock.
func (c Climate) Invent(years int, seed uint64) (*Record, error) {
	const firstYear = 1801 // long past, so that nobody takes it for a real record
	rng := rand.New(rand.NewPCG(seed, 7))
	rec := &Record{Start: time.Date(firstYear, 1, 1, 0, 0, 0, 0, time.UTC), Step: "daily"}
	regime, warmth, mood, wet := 0.0, 0.0, 0.0, false
	for day := rec.Start; day.Year() < firstYear+years; day = day.AddDate(0, 0, 1) {
		if day.YearDay() == 1 {
			mood = 0.3*mood + 0.25*rng.NormFloat64()
		}
		regime = 0.96*regime + 0.28*rng.NormFloat64()
		angle := 2 * math.Pi * (float64(day.YearDay()) - c.PeakDay) / 365.25
		odds := math.Exp(-0.3*regime - mood)
		if regime > 1.5 {
			odds *= 0.3
		}
		chance := (c.ToWet + c.ToWetS*math.Cos(angle)) * odds
		if wet {
			chance = c.Stay * math.Sqrt(odds)
		}
		wet = rng.Float64() < min(chance, 0.9)
		rain := 0.0
		if wet {
			rain = max(0.2, (c.DepthMM+c.DepthS*math.Cos(angle))*rng.ExpFloat64())
			if rng.Float64() < 0.02 {
				rain += 30 * rng.ExpFloat64()
			}
		}
		hours := make([]float64, 24)
		for h := 9; h < 15; h++ {
			hours[h] = rain / 6
		}
		rec.RainMM = append(rec.RainMM, hours...)
		warmth = 0.75*warmth + 0.66*rng.NormFloat64()
		season := -math.Cos(2 * math.Pi * (float64(day.YearDay()) - 20) / 365.25)
		mean := c.MeanC + c.SwingC*season + (2.6-season)*warmth
		span := max(2, 11+1.5*rng.NormFloat64())
		rec.Days = append(rec.Days, Day{TMinC: mean - span/2, TMaxC: mean + span/2, ET0MM: math.NaN()})
	}
	rec.Missing = make([]bool, len(rec.RainMM))
	return rec, rec.FillET0(c.LatitudeDeg)
}
