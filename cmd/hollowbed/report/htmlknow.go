package report

import (
	"fmt"
	"html/template"
	"slices"
	"strings"

	"hollowbed/cmd/hollowbed/doc"
	"hollowbed/zones/basin"
)

// known says how one kind of number came about.
type Known struct {
	Key, What, How, Source string
	Number                 int // the mark that leads to it; 0 while none does
}

const (
	sourceFAO      = "Allen, Pereira, Raes and Smith 1998, FAO Irrigation and Drainage Paper 56"
	sourceFile     = "the garden file"
	sourceTable    = "the plant table"
	sourcePractice = "common practice, no source"
	sourceOurs     = "our own method, tested in data/METHOD.md"
)

// know lists every kind of number a page can show.
func (p Page) know() []Known {
	return append(p.knowBed(), p.knowPlants()...)
}

func (p Page) knowBed() []Known {
	et0 := "evapotranspiration from the day's temperatures (Hargreaves, Eq. 52) unless the record states it"
	weather := Known{Key: "record", What: "Weather record", How: "as it stands; gaps end a spell and are not filled with rain", Source: "the record named at the top"}
	if p.Record != nil && p.Record.Climate != "" {
		weather = Known{Key: "record", What: "Weather", How: "days made from the months of a climate, not measured; data/METHOD.md tells how far off such years were", Source: "the climate named at the top; Richardson 1981; Richardson and Wright 1984"}
	}
	return []Known{
		{Key: "shape", What: "Areas, heights and volumes", How: "from outline, rim, side slope and depth; heights count from the spill level, soil in place, which takes more room loosened", Source: sourceFile + "; geometry"},
		{Key: "catchment", What: "Ground that drains to the bed", How: "seen from above, by the share that reaches the bed", Source: sourceFile},
		{Key: "soil", What: "Rate of the soil below", How: p.Basin.Soil.Source, Source: "flow through the wall of a test hole: Ritzema (ed.) 1994, ILRI Publication 16, ch. 12; rates of texture classes: Rawls, Brakensiek and Miller 1983"},
		{Key: "drain", What: "Time in which a full pond soaks away", How: "depth over the slower rate of mix and soil below", Source: "Darcy with a gradient of 1"},
		{Key: "checks", What: "Checks of the bed", How: "what was found against what is wanted; local code comes first", Source: checkSources(p.Basin.Checks)},
		{Key: "inlet", What: "Levels, digging and flow of the way in", How: "levels from the ground stated; flow by Manning, at most that of code tables; rain by the rational method", Source: "SOURCES.md S20 to S25; cover and falls " + sourcePractice},
		{Key: "capture", What: "Roof water that stays in the bed", How: "hourly balance over the whole record: what arrived less what spilled", Source: sourceOurs},
		weather,
		{Key: "wet", What: "Wet spells", How: "longest run of hours in a year with water standing or the mix 95 % full; deepest water over the lowest ground; one year in ten by plotting position i/(n+1)", Source: "hourly balance; Weibull 1939, Hyndman and Fan 1996"},
		{Key: "dry", What: "Dry spells", How: "days of the growing season in a row on which roots find less than they draw freely; " + et0, Source: sourceFAO + ", Eq. 52 and 82 to 88"},
		{Key: "sun", What: "Hours of sun", How: "direct sun in the growing season, " + p.SunHow, Source: "sun positions: Michalsky 1988; Duffie and Beckman, ch. 1"},
	}
}

func (p Page) knowPlants() []Known {
	list := "every plant judged in every zone; whole numbers then fill each zone, as good as the wishes allow"
	if p.Choose != nil && len(p.Choose.Lines) > 0 {
		list += fmt.Sprintf(". At most %s is left to gain", gapText(float64(p.Choose.Gap)))
	}
	places := "by search, at mature spread; distances are level and run to the middle of the plant"
	if p.Place != nil {
		u := p.Garden.Units
		places += fmt.Sprintf(". An average year loses %s of planting, set out by chance %s, in no placement less than %s",
			doc.Raised(u.Area(float64(p.Place.LossM2))), doc.Raised(u.Area(float64(p.Place.RandomM2))), doc.Raised(u.Area(float64(p.Place.BoundM2))))
	}
	return []Known{
		{Key: "list", What: "How many of each plant", How: list, Source: sourceOurs},
		{Key: "spacing", What: "Spacing", How: "mature spread, in triangles: 0.866 times its square for each plant", Source: sourceTable + "; geometry"},
		{Key: "price", What: "Prices and cost", How: "price times number, in the currency of the plant table; without those that have no price", Source: sourceTable},
		{Key: "risk", What: "Risk a year", How: "chance that a year passes a limit of the plant (wet, deep, dry, cold), over the whole zone; at a stake at its own height and in its sun. Good to tell 5 % from 20 %, not 1 % from 3 %", Source: sourceOurs},
		{Key: "reason", What: "The closest limit", How: "the hardest year against what the plant tolerates. \"Like 30 dry days\": as bad for its roots as that in midsummer on garden loam; rain that half helps makes a spell count for less", Source: sourceTable + ", and the record"},
		{Key: "bloom", What: "Months in flower", How: "first to last month of bloom of every plant on the list", Source: sourceTable},
		{Key: "place", What: "Places and distances", How: places, Source: sourceOurs + "; Pythagoras"},
		{Key: "care", What: "First-year figures", How: "waterings, risks and weeks from a daily balance of young roots over every year of the record; rounds and mulch are rules of the trade", Source: sourceOurs + "; " + sourcePractice},
		{Key: "cause", What: "Causes", How: "chances, from the signs noted, the vigour and the season at each plant's place; learning moves limits no further than the notes bear out", Source: sourceOurs},
		{Key: "sure", What: "Nine cases of ten", How: "the record run anew with other soil, roof water and years, as far off as each may be", Source: sourceOurs},
		{Key: "digest", What: "Digests", How: "SHA-256 of each file read", Source: "FIPS 180-4"},
	}
}

// checkSources names where the limits of checks come from, each once.
func checkSources(checks []basin.Check) string {
	var all []string
	for _, c := range checks {
		if !slices.Contains(all, c.Source) {
			all = append(all, c.Source)
		}
	}
	return strings.Join(all, "; ")
}

// footnotes numbers the kinds of numbers in the order in which a page comes to
// them.
type footnotes struct {
	know []Known
	used []int // of know, by number
}

// ref is the small mark that leads from a number to how it is known.
func (f *footnotes) ref(key string) (template.HTML, error) {
	if f == nil {
		return "", nil
	}
	for i := range f.know {
		k := &f.know[i]
		if k.Key != key {
			continue
		}
		if k.Number == 0 {
			f.used = append(f.used, i)
			k.Number = len(f.used)
		}
		return template.HTML(fmt.Sprintf(`<sup class="ref"><a href="#know-%[1]d"><span class="hear">How we know, </span>%[1]d</a></sup>`, k.Number)), nil
	}
	return "", fmt.Errorf("report: no line of how we know for %q", key)
}

// lines are those that the page has led to so far.
func (f *footnotes) lines() []Known {
	var out []Known
	for _, i := range f.used {
		out = append(out, f.know[i])
	}
	return out
}
