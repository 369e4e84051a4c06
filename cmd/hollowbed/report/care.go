package report

import (
	"fmt"
	"math"
	"slices"
	"time"

	"hollowbed/cmd/hollowbed/doc"
	"hollowbed/plants"
	"hollowbed/plants/care"
	"hollowbed/plants/catalogue"
	"hollowbed/plants/placement"
	"hollowbed/plants/season"
	"hollowbed/zones"
)

// CareIn is what the document of the command care is made from.
type CareIn struct {
	plants.FirstYear
	HoseGiven       bool
	PlantedFrom     string // what says so
	PlantedAssumed  bool
	SoFar, Forecast string // files of this year's weather
	Notes           []string
	rows            []placement.Planted // that still grow
	badTime         string              // warns of the day of planting; "" if it is a good one
}

// NewCareIn begins with what is planted by rows and still grows by the notes or,
// where nothing does, with what is to be.
func NewCareIn(p *plants.Planting, table *catalogue.Catalogue, rows []placement.Planted, rec *season.Notes) CareIn {
	in := CareIn{FirstYear: plants.FirstYear{Exposure: p.Exposure, Setting: care.Default(), Stands: p.Stands()}, rows: rec.Guess(rows).Alive(rows)}
	if len(in.rows) > 0 {
		in.Stands, in.Notes = plants.StandingIn(p.Exposure, in.rows, table)
	}
	in.Noted = plants.NotedIn(rec, rows, table)
	if lost := len(rows) - len(in.rows); lost > 0 {
		in.Notes = append(in.Notes, fmt.Sprintf("%s of planted.csv not counted: dead or gone by your notes", plural(lost, "plant", "plants")))
	}
	if len(in.rows) > 0 {
		if err := p.Exposure.Lot.NeedDrain(); err != nil {
			in.Notes = append(in.Notes, "warning: "+err.Error())
		}
	}
	if most := p.Exposure.Lot.Garden.Wishes.YearlyRiskMax; most > 0 {
		in.Setting.RiskMax = most
	}
	in.Setting.Never = p.Exposure.Lot.Garden.Wishes.Watering == zones.WaterNever
	in.LookAround()
	return in
}

// Begin sets today and the day of planting: the one given unless it is zero, the
// first of what grows by file, or else the next that is usual here.
func (in *CareIn) Begin(today, given time.Time, file string) (err error) {
	zone := in.Exposure.Lot.Record.Start.Location()
	day := func(t time.Time) time.Time {
		y, m, d := t.Date()
		return time.Date(y, m, d, 0, 0, 0, 0, zone)
	}
	in.Today.Date = day(today)
	var dates []string
	for _, r := range in.rows {
		if r.Planted != "" {
			dates = append(dates, r.Planted) // ISO 8601: sorts by date
		}
	}
	switch {
	case !given.IsZero():
		in.Planted, in.PlantedFrom = day(given), "--planted"
	case len(dates) > 0:
		in.PlantedFrom = file
		if in.Planted, err = time.ParseInLocation(time.DateOnly, slices.Min(dates), zone); err != nil {
			return err
		}
		if last := slices.Max(dates); last != slices.Min(dates) {
			in.Notes = append(in.Notes, "planted.csv has plants set out up to "+last+": count their year from that day")
		}
	default:
		in.Planted, in.PlantedFrom, in.PlantedAssumed = in.When.Next(in.Today.Date), "the next usual season for planting here", true
	}
	if why := in.When.Why[in.Planted.Month()]; why != "" && (!given.IsZero() || in.Planted.After(in.Today.Date)) {
		in.badTime = fmt.Sprintf("warning: %s is no good time to plant here (%s: %s); the next is from %s", date(in.Planted), in.Planted.Month(), why, date(in.When.Next(in.Planted)))
	}
	return nil
}

// FirstYearOf works out the first year as the printed report and the page show
// it; nil where nothing is planted or to be.
func FirstYearOf(p *plants.Planting, table *catalogue.Catalogue, rows []placement.Planted, rec *season.Notes, today time.Time, file string) (*CareIn, error) {
	in := NewCareIn(p, table, rows, rec)
	if len(in.Stands) == 0 {
		return nil, nil
	}
	if err := in.Begin(today, time.Time{}, file); err != nil {
		return nil, err
	}
	if err := in.WorkOut(); err != nil {
		return nil, err
	}
	in.SayToday()
	return &in, nil
}

// Care is the document of the command care.
type Care struct {
	Garden         Garden        `json:"garden"`
	Record         Record        `json:"record"`
	Planted        string        `json:"planted" schema:"day"`
	PlantedFrom    string        `json:"planted_from" schema:"some"`
	PlantedAssumed bool          `json:"planted_assumed"`
	RootedOn       string        `json:"rooted_on" schema:"day"`
	HoseLMin       Number        `json:"hose_l_min" schema:"known; >0"`
	HoseAssumed    bool          `json:"hose_assumed"`
	RiskMax        Number        `json:"risk_max" schema:"known; >0; ..1"`
	Zones          []careZone    `json:"zones" schema:"some"`
	ThisYear       *careThisYear `json:"this_year"`
	Plants         []carePlant   `json:"plants" schema:"some"`
	LetIn          careLetIn     `json:"let_in"`
	HeavyRainMM    Number        `json:"heavy_rain_mm" schema:"0.."`
	Watering       *listWatering `json:"watering,omitempty" about:"with wishes.watering: weekly-in-drought: what the risks of later years count on"`
	Tasks          []careTask    `json:"tasks" schema:"some"`
	Dated          []careDue     `json:"dated"`
	Later          []careLater   `json:"later" schema:"some"`
	Today          careToday     `json:"today"`
	Notes          []string      `json:"notes" schema:"each some"`
	Cautions       []string      `json:"cautions" schema:"some; each some"`
	Blocks         []doc.Block   `json:"-"`
	in             CareIn
	dueAfter       []care.Due // every year, once rooted
	due            []care.Due // until then
}

// careZone is the watering of one zone in its first year.
type careZone struct {
	Zone        string      `json:"zone" schema:"one of bottom|slope|rim"`
	AreaM2      Number      `json:"area_m2" schema:"known; 0.."`
	Plants      int         `json:"plants" schema:"1.."`
	GapDays     int         `json:"gap_days" schema:"0.." about:"fewest between two waterings until roots have come half the way, once settled; 0: none"`
	LaterDays   int         `json:"gap_days_later" schema:"0.." about:"the same from then on"`
	Sooner      []string    `json:"sooner_for" schema:"each some" about:"ids of plants that cannot wait for a week"`
	RootCM      Number      `json:"root_cm" schema:"known; 0.."`
	TypicalYear int         `json:"typical_year" schema:"any"`
	DryYear     int         `json:"dry_year" schema:"any"`
	Typical     []careVisit `json:"typical"`
	Dry         []careVisit `json:"dry"`
	ThisYear    []careVisit `json:"this_year" schema:"or null"` // null without --so-far
	Rules       []careRule  `json:"rules" schema:"len 4..4"`
}

// careVisit is one watering.
type careVisit struct {
	Date    string `json:"date" schema:"day"`
	DepthMM Number `json:"depth_mm" schema:"known; 0.."`
	Litres  Number `json:"litres" schema:"known; 0.."`
	Minutes Number `json:"minutes" schema:"known; 0.."`
	RootCM  Number `json:"root_cm" schema:"known; 0.."`
}

// careRule is what one way to water asks for and leaves.
type careRule struct {
	Rule          string `json:"rule" schema:"one of by depletion|an inch a week less rain|an inch a week|none"`
	TypicalLitres Number `json:"typical_litres" schema:"known; 0.."`
	DryLitres     Number `json:"dry_litres" schema:"known; 0.."`
	SavedLitres   Number `json:"saved_litres" schema:"known"` // by the plan, against this rule, in a typical year
	Visits        Number `json:"visits" schema:"known; 0.."`
	Lost          Number `json:"lost_to_drought" schema:"0..1"`
	DrySpellD     Number `json:"dry_spell_d" schema:"0.."`
	PastYears     int    `json:"past_years"`
}

// careThisYear says what weather of this year is known.
type careThisYear struct {
	SoFar    string   `json:"so_far" schema:"some"`
	Forecast string   `json:"forecast"`
	From     string   `json:"from" schema:"day"`
	Known    string   `json:"known_to" schema:"day"`
	To       string   `json:"to" schema:"day"`
	Heavy    []string `json:"heavy_rain_days" schema:"each day"`
}

// carePlant is one line of the planting list in its first year.
type carePlant struct {
	ID             string   `json:"id" schema:"some"`
	VernacularName string   `json:"vernacularName"`
	Zone           string   `json:"zone" schema:"one of bottom|slope|rim"`
	Count          int      `json:"count" schema:"1.."`
	Verdict        string   `json:"verdict" schema:"one of safe from the start|safe with watering, then on its own|safe if roof water is kept out at first, then on its own|safe if watered and roof water is kept out at first, then on its own|not safe in the first year even so, only once established|not safe, even established|not known"`
	Weekly         bool     `json:"needs_weekly_water,omitempty" about:"established, it needs the weekly watering in drought that established_risk counts on"`
	Limit          string   `json:"limit" schema:"one of |too wet|too deep|too dry|too cold|too little sun|too much sun"`
	Established    Number   `json:"established_risk" schema:"0..1"`
	Alone          Number   `json:"alone_risk" schema:"0..1"`
	Planned        Number   `json:"planned_risk" schema:"0..1" about:"by the schedule, in the same years, with the roof water let in when let_in says"`
	KeptDry        Number   `json:"kept_dry_risk" schema:"0..1" about:"with the roof water let in then, but not watered; null if it is let in from the start"`
	Left           string   `json:"planned_limit" schema:"one of |too wet|too deep|too dry|too cold|too little sun|too much sun"`
	Remedies       []string `json:"remedies" schema:"each some" about:"of plants that the plan does not keep: what would, with the risk that is left"`
	TypicalLitres  Number   `json:"typical_litres_each" schema:"0.."`
	DryLitres      Number   `json:"dry_litres_each" schema:"0.."`
}

// careLetIn says when to let the roof water in. Weeks count from planting;
// null for none.
type careLetIn struct {
	Years     int        `json:"years" schema:"1.."`
	Earliest  *careWeek  `json:"earliest"`
	Best      *careWeek  `json:"best"`
	Latest    *careWeek  `json:"latest"`
	Clash     bool       `json:"clash"`
	Weeks     []careWeek `json:"weeks" schema:"some"`
	WetFrom   int        `json:"wet_season_from_month" schema:"1..12"`
	WetShare  Number     `json:"wet_season_share" schema:"known; 0..1"`
	WetMarked bool       `json:"wet_season_marked"`
	Cautions  []string   `json:"cautions" schema:"some; each some"`
}

// careWeek is what comes of letting the water in in a week.
type careWeek struct {
	Week    int    `json:"week"`
	Date    string `json:"date" schema:"day"`
	Rooted  Number `json:"rooted" schema:"known; 0..1"`
	Drowned Number `json:"drowned" schema:"0..1"`
	Parched Number `json:"parched_unwatered" schema:"0..1"`
	Watered Number `json:"parched_watered" schema:"0..1"`
	Litres  Number `json:"litres" schema:"known; 0.."`
}

// careTask is one thing to look after.
type careTask struct {
	ID     string `json:"id" schema:"some"`
	Title  string `json:"title" schema:"some"`
	Do     string `json:"do" schema:"some"`
	Months []int  `json:"months" schema:"each 1..12"`
	RainMM Number `json:"after_rain_mm" schema:"0.."` // null: not tied to rain
	Young  bool   `json:"until_rooted"`
	Source string `json:"source" schema:"some"`
}

// careDue is a task on a day.
type careDue struct {
	Date  string `json:"date" schema:"day"`
	ID    string `json:"id" schema:"some"`
	Title string `json:"title" schema:"some"`
}

// careToday is what to do today.
type careToday struct {
	Date  string          `json:"date" schema:"day"`
	Basis string          `json:"basis" schema:"one of this year|a typical year"` // "this year" or "a typical year"
	Water []careZoneToday `json:"water" schema:"some"`
	Tasks []careDue       `json:"tasks"`
	Lines []string        `json:"lines" schema:"len 3..3; each some"`
}

// careZoneToday is one zone's watering today.
type careZoneToday struct {
	Zone    string `json:"zone" schema:"one of bottom|slope|rim"`
	Known   bool   `json:"known"`
	Now     bool   `json:"now"`
	Litres  Number `json:"litres" schema:"known; 0.."`
	Minutes Number `json:"minutes" schema:"known; 0.."`
	RootCM  Number `json:"root_cm" schema:"known; 0.."`
	Next    string `json:"next" schema:"day or none"` // "" for none
}

// NewCare makes the document of a first year.
func NewCare(g Garden, in CareIn) Care {
	rooted := in.RootedOn()
	out := Care{
		Garden: g, Record: newRecord(in.Exposure.Record), in: in,
		Planted: date(in.Planted), PlantedFrom: in.PlantedFrom, PlantedAssumed: in.PlantedAssumed, RootedOn: date(rooted),
		HoseLMin: Number(in.Setting.HoseLMin), HoseAssumed: !in.HoseGiven, RiskMax: Number(in.Setting.RiskMax), HeavyRainMM: Number(in.HeavyMM),
		LetIn: newCareLetIn(in), Notes: careNotes(in), Cautions: careCautions(),
		due: care.Dated(in.Tasks, in.Planted, rooted, in.Planted, rooted), dueAfter: care.Dated(in.Tasks, rooted, rooted.AddDate(1, 0, 0), in.Planted, rooted),
		Plants: []carePlant{}, Tasks: []careTask{},
	}
	for i := range in.Stands {
		out.Zones = append(out.Zones, newCareZone(in, i))
	}
	for _, p := range in.Plants {
		out.Plants = append(out.Plants, carePlant{
			ID: p.Plant.ID, VernacularName: p.Plant.VernacularName, Zone: p.Zone, Count: p.Count, Verdict: string(p.Verdict), Weekly: p.Weekly, Limit: string(p.Limit),
			Established: Number(p.Established.YearlyRisk), Alone: Number(p.Alone), Planned: Number(p.Planned), KeptDry: Number(p.KeptDry), Left: string(p.Left), Remedies: remedies(p),
			TypicalLitres: Number(p.TypicalLitres), DryLitres: Number(p.DryLitres),
		})
	}
	for _, t := range in.Tasks {
		row := careTask{ID: t.ID, Title: t.Title, Do: t.Do, Months: []int{}, RainMM: Number(math.NaN()), Young: t.Young, Source: t.Source}
		for _, m := range t.Months {
			row.Months = append(row.Months, int(m))
		}
		if t.RainMM > 0 {
			row.RainMM = Number(t.RainMM)
		}
		out.Tasks = append(out.Tasks, row)
	}
	out.Later, out.Watering = newLaters(in), newListWatering(in.Watering)
	out.Dated = careDues(out.due)
	if y := in.This; y != nil {
		out.ThisYear = &careThisYear{SoFar: in.SoFar, Forecast: in.Forecast, From: date(y.From), Known: date(y.Known), To: date(y.To), Heavy: []string{}}
		for _, d := range y.Heavy {
			out.ThisYear.Heavy = append(out.ThisYear.Heavy, date(d))
		}
	}
	out.Today = newCareToday(in)
	out.word()
	return out
}

func newCareZone(in CareIn, i int) careZone {
	plan, stand := in.Plans[i], in.Stands[i]
	z := careZone{
		Zone: stand.Zone, AreaM2: Number(stand.AreaM2), GapDays: plan.GapDays[0], LaterDays: plan.GapDays[1], Sooner: []string{}, RootCM: Number(plan.RootCM),
		TypicalYear: plan.Years[plan.Typical].Year, DryYear: plan.Years[plan.Dry].Year,
		Typical: careVisits(plan.Years[plan.Typical].For(in.Planted)), Dry: careVisits(plan.Years[plan.Dry].For(in.Planted)),
	}
	for _, g := range stand.Groups {
		z.Plants += g.Count
	}
	for _, g := range plan.Sooner {
		z.Sooner = append(z.Sooner, g.Plant.ID)
	}
	if in.This != nil {
		z.ThisYear = careVisits(in.This.Seasons[i].Waterings)
	}
	for _, r := range plan.ByRule {
		z.Rules = append(z.Rules, careRule{
			Rule: string(r.Rule), TypicalLitres: Number(r.TypicalLitres), DryLitres: Number(r.DryLitres), SavedLitres: Number(plan.Saved(r.Rule)),
			Visits: Number(r.Visits), Lost: Number(r.Lost), DrySpellD: Number(r.DrySpellD), PastYears: r.PastYears,
		})
	}
	return z
}

func careVisits(waterings []care.Watering) []careVisit {
	out := []careVisit{}
	for _, w := range waterings {
		out = append(out, careVisit{date(w.Date), Number(w.DepthMM), Number(w.Litres), Number(w.Minutes), Number(w.RootCM)})
	}
	return out
}

func careDues(due []care.Due) []careDue {
	out := []careDue{}
	for _, d := range due {
		out = append(out, careDue{date(d.Date), d.Task.ID, d.Task.Title})
	}
	return out
}

const weekDays = 7

func newCareToday(in CareIn) careToday {
	lines := careTodayLines(in, care.Metric())
	out := careToday{Date: date(in.Today.Date), Basis: careBasis(in), Water: []careZoneToday{}, Tasks: careDues(in.Today.Tasks), Lines: lines[:]}
	for _, z := range in.Today.Water {
		row := careZoneToday{Zone: z.Zone, Known: z.Watched, Now: z.Now, Litres: Number(z.Litres), Minutes: Number(z.Minutes), RootCM: Number(z.RootCM)}
		if !z.Next.IsZero() {
			row.Next = date(z.Next)
		}
		out.Water = append(out.Water, row)
	}
	return out
}

// fewYears is how many years are too few to tell one of ten.
const fewYears = 9

func careNotes(in CareIn) []string {
	notes := append([]string{}, in.Notes...)
	if in.badTime != "" {
		notes = append(notes, in.badTime)
	}
	if in.PlantedAssumed {
		notes = append(notes, "day of planting assumed, state yours with --planted")
	}
	if !in.HoseGiven {
		notes = append(notes, "hose assumed, time a bucket and state yours with --hose")
	}
	if n := in.LetIn.Years; n < fewYears {
		notes = append(notes, "this rests on "+plural(n, "planting year", "planting years")+", so a dry one is hardly told from a typical one")
	}
	if in.Followed {
		notes = append(notes, "the record is followed by itself, since it ends before the first year does: two years of it would hold one for any day")
	}
	if in.Seasons.Assumed {
		notes = append(notes, "the record has no temperatures: the months go by the latitude alone")
	}
	for i, z := range in.Stands {
		if in.This != nil && in.This.Seasons[i].LostDays > 0 {
			notes = append(notes, plural(in.This.Seasons[i].LostDays, "day", "days")+" of this year without rain values, in the "+z.Zone+" taken as dry")
		}
	}
	return notes
}
