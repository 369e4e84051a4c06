package zones

import (
	"fmt"
	"math"
	"slices"
	"time"

	"hollowbed/zones/site"
	"hollowbed/zones/water"
)

// Exposure is how wet, dry and sunny the zones of a lot get, from its record.
type Exposure struct {
	Lot    *Lot
	Run    *water.Result
	Whole  []int // years that count, indices in Run.Years
	Record RecordFacts
	Zones  []ZoneExposure
	Bands  []BandExposure
	MinC   []float64 // lowest temperature by year of Run.Years; NaN if unknown
}

// RecordFacts says what the figures rest on.
type RecordFacts struct {
	Source       string
	Climate      string    // what made it, wholly or in part; "" for a record
	From, To     time.Time // first and last day
	Years        int       // whole years, which count
	Step         string
	MissingHours int
	Notes        []string
	Doubts       []string // how far made years may be off
	Months       [12]site.MonthMean
	Figures      site.Figures // by which a wrong unit shows
}

// Spell is a wet or dry spell with its dates.
type Spell struct {
	Year  int
	From  time.Time
	To    time.Time // its end: the first hour after it
	Hours int
	Gap   bool // touches hours without a rain value
	// Frozen says that it holds days below freezing, where a pack of snow was
	// reckoned: frozen ground may have taken less than computed.
	Frozen bool
}

// BandExposure is one elevation band. Yearly figures follow the whole years.
type BandExposure struct {
	Zone                string
	FootMM, TopMM       float64 // relative to the spill
	AreaM2              float64
	WetHByYear          []float64 // longest wet spell
	WetGrowingHByYear   []float64 // longest, counting hours of the growing season
	DeepestMMByYear     []float64
	DryDByYear          []float64 // longest dry spell, days
	DryDaysByYear       []float64 // days short of water in all
	AirPoorHByYear      []float64 // longest spell wet or with under 10 % of air in the mix
	AirPoorOneInTenH    float64
	WetOneInTenH        float64 // longest wet spell of one year in ten
	WetGrowingOneInTenH float64
	DryOneInTenD        float64
	DeepestMM           float64
	WorstWet, WorstDry  Spell
}

// ZoneExposure is a zone as its hardest places have it, its wettest and driest band
// (indices of Bands); MildWetH and MildDryD are of the mildest.
type ZoneExposure struct {
	Zone            string
	AreaM2          float64
	SunH            float64
	Wettest, Driest int
	MildWetH        float64
	MildDryD        float64
}

// shortRecordError says that a record has no whole year.
type shortRecordError struct {
	File    string
	Days    int
	Missing int // hours without a rain value
}

func (e *shortRecordError) Error() string {
	text := fmt.Sprintf("%s: %d days, and no year with at least 90 %% of its hours: want a record of one whole year or more, better ten", e.File, e.Days)
	if e.Missing > 24*e.Days/20 {
		text += fmt.Sprintf("; %d of its hours have no rain value: if a day without a row was dry, set weather.absent_row to dry", e.Missing)
	}
	return text
}

// BadInput marks the error as one that the user can mend.
func (e *shortRecordError) BadInput() bool { return true }

// Expose runs the balance over the record and sums it up by band and zone.
func (l *Lot) Expose() (*Exposure, error) {
	if l.Record == nil {
		return nil, &NoRecordError{File: l.Garden.Weather.File}
	}
	run, err := water.Run(l.setup(l.Bed), l.Record)
	if err != nil {
		return nil, err
	}
	e := &Exposure{Lot: l, Run: run, Record: l.RecordFacts()}
	for i, y := range run.Years {
		if y.Whole {
			e.Whole = append(e.Whole, i)
		}
		e.MinC = append(e.MinC, l.lowestC(y))
	}
	if len(e.Whole) == 0 {
		return nil, &shortRecordError{File: l.Record.Source, Days: len(l.Record.Days), Missing: l.Record.MissingHours()}
	}
	e.sumUp()
	return e, nil
}

// sumUp fills in bands and zones from the run and the years that count.
func (e *Exposure) sumUp() {
	e.Bands, e.Zones = nil, nil
	for b := range e.Run.Bands {
		e.Bands = append(e.Bands, e.band(b))
	}
	for _, z := range e.Lot.Bed.Zones() {
		e.Zones = append(e.Zones, e.zone(z.Zone, z.AreaM2))
	}
}

// NoRecordError says that a garden has no weather record.
type NoRecordError struct{ File string }

func (e *NoRecordError) Error() string {
	return fmt.Sprintf("no weather record: put one at %s in the garden's folder (date, rain, tmin, tmax; a year at least, better ten), or name another under weather.file", e.File)
}

// BadInput marks the error as one that the user can mend.
func (e *NoRecordError) BadInput() bool { return true }

// WaterStands says whether water ever stood on a zone in a year that counts.
func (e *Exposure) WaterStands(zone string) bool {
	return slices.ContainsFunc(e.Bands, func(b BandExposure) bool { return b.Zone == zone && b.DeepestMM > 0 })
}

// HasCold says whether the record knows how cold it got.
func (e *Exposure) HasCold() bool {
	return slices.ContainsFunc(e.MinC, func(c float64) bool { return !math.IsNaN(c) })
}

// OverflowM3PerYear is what leaves over the spill in the mean of the years that count.
func (e *Exposure) OverflowM3PerYear() float64 {
	sum := 0.0
	for _, y := range e.Whole {
		sum += e.Run.ByYear[y].OverflowM3
	}
	return sum / float64(len(e.Whole))
}

func (l *Lot) lowestC(y site.Year) float64 {
	low := math.NaN()
	for _, d := range l.Record.Days[y.FromDay:y.ToDay] {
		if !math.IsNaN(d.TMinC) && !(d.TMinC >= low) {
			low = d.TMinC
		}
	}
	return low
}

func (e *Exposure) band(b int) BandExposure {
	band := e.Run.Bands[b]
	out := BandExposure{Zone: band.Zone, FootMM: band.FootMM, TopMM: band.TopMM, AreaM2: band.AreaM2}
	for _, y := range e.Whole {
		x := e.Run.Exposure[b][y]
		out.WetHByYear = append(out.WetHByYear, float64(x.Wet.Hours))
		out.WetGrowingHByYear = append(out.WetGrowingHByYear, float64(x.WetGrowing.GrowingHours))
		out.AirPoorHByYear = append(out.AirPoorHByYear, float64(x.AirPoorH))
		out.DeepestMMByYear = append(out.DeepestMMByYear, x.DeepestMM)
		out.DryDByYear = append(out.DryDByYear, float64(x.Dry.Hours)/24)
		out.DryDaysByYear = append(out.DryDaysByYear, float64(x.DryDays))
		out.DeepestMM = max(out.DeepestMM, x.DeepestMM)
		out.WorstWet = longer(out.WorstWet, e.spell(y, x.Wet))
		out.WorstDry = longer(out.WorstDry, e.spell(y, x.Dry))
	}
	out.WetOneInTenH = site.OneYearInTen(out.WetHByYear)
	out.AirPoorOneInTenH = site.OneYearInTen(out.AirPoorHByYear)
	out.WetGrowingOneInTenH = site.OneYearInTen(out.WetGrowingHByYear)
	out.DryOneInTenD = site.OneYearInTen(out.DryDByYear)
	return out
}

func (e *Exposure) spell(year int, s water.Spell) Spell {
	from := e.Lot.Record.Start.Add(time.Duration(s.FromHour) * time.Hour)
	return Spell{
		Year: e.Run.Years[year].Name, From: from, To: from.Add(time.Duration(s.Hours) * time.Hour),
		Hours: s.Hours, Gap: s.Gap,
		Frozen: e.Lot.Garden.Weather.Snow == "pack" && e.Lot.Record.FreezesWithin(s.FromHour/24, (s.FromHour+s.Hours+23)/24),
	}
}

func longer(a, b Spell) Spell {
	if b.Hours > a.Hours {
		return b
	}
	return a
}

func (e *Exposure) zone(name string, areaM2 float64) ZoneExposure {
	z := ZoneExposure{Zone: name, AreaM2: areaM2, SunH: e.Lot.Sun.Of(name), Wettest: -1}
	for i, b := range e.Bands {
		if b.Zone != name {
			continue
		}
		if z.Wettest < 0 {
			z.Wettest, z.Driest = i, i
			z.MildWetH, z.MildDryD = b.WetOneInTenH, b.DryOneInTenD
			continue
		}
		if b.WetOneInTenH > e.Bands[z.Wettest].WetOneInTenH {
			z.Wettest = i
		}
		if b.DryOneInTenD > e.Bands[z.Driest].DryOneInTenD {
			z.Driest = i
		}
		z.MildWetH = min(z.MildWetH, b.WetOneInTenH)
		z.MildDryD = min(z.MildDryD, b.DryOneInTenD)
	}
	return z
}

// worstSpell is the longest spell of one kind in a zone, and where it was.
type worstSpell struct {
	Kind string // "wet" or "dry"
	Band int
	Spell
}

// Worst gives the longest wet spell of a zone's wettest band and the longest
// dry spell of its driest. A kind that never happened has no hours.
func (e *Exposure) Worst(zone int) []worstSpell {
	z := e.Zones[zone]
	return []worstSpell{
		{"wet", z.Wettest, e.Bands[z.Wettest].WorstWet},
		{"dry", z.Driest, e.Bands[z.Driest].WorstDry},
	}
}

// Trace walks a band day by day through the days that a spell covers, with one
// day before and after where the record has them; nothing for no spell.
func (e *Exposure) Trace(band int, s Spell) ([]water.DayTrace, error) {
	if s.Hours == 0 {
		return nil, nil
	}
	start := e.Lot.Record.Start
	from := max(0, int(s.From.Sub(start).Hours()/24)-1)
	to := min(len(e.Lot.Record.Days), int(math.Ceil(s.To.Sub(start).Hours()/24))+1)
	return e.days(band, from, to)
}

// BandAt returns the index in Bands of the place (x, y), in metres in the
// coordinates of the outline; ok is false outside the bed.
func (e *Exposure) BandAt(x, y float64) (band int, ok bool) {
	zone, height, inside := e.Lot.Bed.GroundAt(x, y)
	if !inside {
		return 0, false
	}
	best := -1
	for i, b := range e.Bands {
		if b.Zone != zone {
			continue
		}
		if height >= b.FootMM && height <= b.TopMM {
			return i, true
		}
		if best < 0 || math.Abs(height-b.FootMM) < math.Abs(height-e.Bands[best].FootMM) {
			best = i
		}
	}
	return best, best >= 0
}

// days walks a band through days of the record, up to but not including to.
func (e *Exposure) days(band, from, to int) ([]water.DayTrace, error) {
	return water.Trace(e.Lot.setup(e.Lot.Bed), e.Lot.Record, band, from, to)
}
