package report

import (
	"hollowbed/cmd/hollowbed/doc"
	"hollowbed/zones"
)

// Zones is the document of the command zones.
type Zones struct {
	Garden   Garden      `json:"garden"`
	Record   Record      `json:"record"`
	Balance  balanceSums `json:"balance"`
	Captured Number      `json:"captured_fraction" schema:"0..1"`
	// OverflowYear is what leaves over the spill in a mean year.
	OverflowYear Number    `json:"overflow_m3_per_year" schema:"known; 0.."`
	Zones        []zoneRow `json:"zones" schema:"some"`
	Bands        []bandRow `json:"bands" schema:"some"`
	// Blocks are for every paper, the others for a terminal.
	Blocks, ByYear, ByBand []doc.Block `json:"-"`
}

// Record says which weather a document rests on.
type Record struct {
	Source       string   `json:"source"`
	Climate      string   `json:"climate"`
	From         string   `json:"from" schema:"dated"`
	To           string   `json:"to" schema:"dated"`
	Years        int      `json:"years"`
	Step         string   `json:"step" schema:"one of hourly|daily"`
	MissingHours int      `json:"missing_hours"`
	MeanYearMM   Number   `json:"mean_year_mm"`
	WettestDayMM Number   `json:"wettest_day_mm"`
	WettestDay   string   `json:"wettest_day"`
	ColdestC     Number   `json:"coldest_c"`
	HottestC     Number   `json:"hottest_c"`
	Notes        []string `json:"notes"`
	Doubts       []string `json:"doubts" about:"how far years that a climate made are known to be off; empty for a record"`
}

// balanceSums are the volumes of the whole record.
type balanceSums struct {
	RainOnBedM3    Number `json:"rain_on_bed_m3" schema:"known; 0.."`
	InflowM3       Number `json:"inflow_m3" schema:"known; 0.."`
	InfiltratedM3  Number `json:"infiltrated_m3" schema:"known; 0.."`
	EvaporatedM3   Number `json:"evaporated_m3" schema:"known; 0.."`
	OverflowM3     Number `json:"overflow_m3" schema:"known; 0.."`
	StoredChangeM3 Number `json:"stored_change_m3" schema:"known"`
	Closure        Number `json:"closure" schema:"known; 0..1e-9"`
}

// zoneRow is a zone: wet as its wettest place has it, dry as its driest.
type zoneRow struct {
	Zone   string `json:"zone" schema:"one of bottom|slope|rim"`
	AreaM2 Number `json:"area_m2" schema:"known; 0.."`
	SunH   Number `json:"sun_h"`
	Wet    WetRow `json:"wet"`
	Dry    DryRow `json:"dry"`
}

// wetRow is how wet a place gets.
type WetRow struct {
	LongestHByYear     []Number `json:"longest_h_by_year" schema:"some; each known 0.."`
	OneYearInTenH      Number   `json:"one_year_in_ten_h" schema:"known; 0.."`
	GrowingOneInTenH   Number   `json:"growing_season_one_year_in_ten_h" schema:"known; 0.."`
	AirPoorHByYear     []Number `json:"air_poor_longest_h_by_year" schema:"some; each known 0.."`
	AirPoorOneInTenH   Number   `json:"air_poor_one_year_in_ten_h" schema:"known; 0.." about:"longest spell wet, or with under 10 % of air by volume in the mix"`
	DeepestMM          Number   `json:"deepest_mm" schema:"known; 0.."`
	DeepestMMByYear    []Number `json:"deepest_mm_by_year" schema:"each known 0.."`
	MildestPlaceOneInH Number   `json:"mildest_place_one_year_in_ten_h" schema:"known; 0.."`
	Worst              *spell   `json:"worst"`
}

// dryRow is how dry a place gets.
type DryRow struct {
	LongestDByYear     []Number `json:"longest_d_by_year" schema:"some; each known 0.."`
	OneYearInTenD      Number   `json:"one_year_in_ten_d" schema:"known; 0.."`
	DaysByYear         []Number `json:"short_of_water_d_by_year" schema:"each known 0.."`
	MildestPlaceOneInD Number   `json:"mildest_place_one_year_in_ten_d" schema:"known; 0.."`
	Worst              *spell   `json:"worst"`
}

// spell is a spell with its dates; to is its last hour or day.
type spell struct {
	From       string `json:"from" schema:"dated"`
	To         string `json:"to" schema:"dated"`
	Hours      int    `json:"hours" schema:"1.."`
	TouchesGap bool   `json:"touches_gap"`
}

// bandRow is one elevation band.
type bandRow struct {
	Zone   string `json:"zone" schema:"one of bottom|slope|rim"`
	FootMM Number `json:"foot_mm" schema:"known"`
	TopMM  Number `json:"top_mm" schema:"known"`
	AreaM2 Number `json:"area_m2" schema:"known; 0.."`
	Wet    WetRow `json:"wet"`
	Dry    DryRow `json:"dry"`
}

// newRecord fills in what a document rests on.
func newRecord(f zones.RecordFacts) Record {
	r := Record{
		Source: f.Source, From: date(f.From), To: date(f.To), Years: f.Years,
		Climate: f.Climate, Step: f.Step, MissingHours: f.MissingHours, Notes: f.Notes, Doubts: orEmpty(f.Doubts),
	}
	r.MeanYearMM, r.WettestDayMM = Number(f.Figures.MeanYearMM), Number(f.Figures.WettestDayMM)
	r.ColdestC, r.HottestC = Number(f.Figures.ColdestC), Number(f.Figures.HottestC)
	if !f.Figures.WettestDay.IsZero() {
		r.WettestDay = date(f.Figures.WettestDay)
	}
	if r.Notes == nil {
		r.Notes = []string{}
	}
	return r
}

// NewZones makes the document of a lot's exposure.
func NewZones(g Garden, e *zones.Exposure) Zones {
	b := e.Run.Balance
	out := Zones{
		Garden: g, Record: newRecord(e.Record), Captured: Number(b.CapturedFraction()), OverflowYear: Number(e.OverflowM3PerYear()),
		Balance: balanceSums{
			RainOnBedM3: Number(b.RainOnBedM3), InflowM3: Number(b.InflowM3), InfiltratedM3: Number(b.InfiltratedM3),
			EvaporatedM3: Number(b.EvaporatedM3), OverflowM3: Number(b.OverflowM3),
			StoredChangeM3: Number(b.StoredChangeM3), Closure: Number(b.Closure()),
		},
	}
	for _, z := range e.Zones {
		row := zoneRow{Zone: z.Zone, AreaM2: Number(z.AreaM2), SunH: Number(z.SunH)}
		row.Wet = wetRow(e.Bands[z.Wettest])
		row.Wet.MildestPlaceOneInH = Number(z.MildWetH)
		row.Dry = dryRow(e.Bands[z.Driest])
		row.Dry.MildestPlaceOneInD = Number(z.MildDryD)
		out.Zones = append(out.Zones, row)
	}
	for _, band := range e.Bands {
		out.Bands = append(out.Bands, bandRow{
			Zone: band.Zone, FootMM: Number(band.FootMM), TopMM: Number(band.TopMM), AreaM2: Number(band.AreaM2),
			Wet: wetRow(band), Dry: dryRow(band),
		})
	}
	out.word(e)
	return out
}

func wetRow(b zones.BandExposure) WetRow {
	return WetRow{
		LongestHByYear: numbers(b.WetHByYear), OneYearInTenH: Number(b.WetOneInTenH), GrowingOneInTenH: Number(b.WetGrowingOneInTenH),
		AirPoorHByYear: numbers(b.AirPoorHByYear), AirPoorOneInTenH: Number(b.AirPoorOneInTenH),
		DeepestMM: Number(b.DeepestMM), DeepestMMByYear: numbers(b.DeepestMMByYear),
		MildestPlaceOneInH: Number(b.WetOneInTenH), Worst: newSpell(b.WorstWet, "2006-01-02T15:04"),
	}
}

func dryRow(b zones.BandExposure) DryRow {
	return DryRow{
		LongestDByYear: numbers(b.DryDByYear), OneYearInTenD: Number(b.DryOneInTenD), DaysByYear: numbers(b.DryDaysByYear),
		MildestPlaceOneInD: Number(b.DryOneInTenD), Worst: newSpell(b.WorstDry, "2006-01-02"),
	}
}

func newSpell(s zones.Spell, layout string) *spell {
	if s.Hours == 0 {
		return nil
	}
	last := s.To.Add(-1)
	return &spell{From: s.From.Format(layout), To: last.Format(layout), Hours: s.Hours, TouchesGap: s.Gap}
}
