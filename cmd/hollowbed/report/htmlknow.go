package report

import (
	"fmt"
	"html/template"

	"hollowbed/cmd/hollowbed/doc"
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
	sourceOurs     = "our own method; data/METHOD.md tells how it was tested"
)

// know lists every kind of number a page can show.
func (p Page) know() []Known {
	return append(p.knowBed(), p.knowPlants()...)
}

func (p Page) knowBed() []Known {
	et0 := "reference evapotranspiration from the day's lowest and highest temperature (Hargreaves, Eq. 52) unless the record states it"
	weather := Known{Key: "record", What: "Weather record", How: "read as it stands; gaps are counted, end a spell and are not filled with rain", Source: "the record named at the top"}
	if p.Record != nil && p.Record.Climate != "" {
		weather = Known{Key: "record", What: "Weather", How: "years made day by day from the months of a climate, not measured; data/METHOD.md tells how far off such years were", Source: "the climate named at the top; Richardson 1981; Richardson and Wright 1984"}
	}
	return []Known{
		{Key: "shape", What: "Areas, depths, heights and volumes", How: "from outline, rim, side slope and depth; every place by its exact distance from the outline. Heights count from the spill level", Source: sourceFile + "; geometry"},
		{Key: "catchment", What: "Ground that drains to the bed", How: "seen from above, by the share that reaches this downspout, with other surfaces added", Source: sourceFile},
		{Key: "soil", What: "Rate of the soil below", How: p.Basin.Soil.Source, Source: "flow through the wall of a test hole: Ritzema (ed.) 1994, ILRI Publication 16, ch. 12; rates of texture classes: Rawls, Brakensiek and Miller 1983"},
		{Key: "drain", What: "Time in which a full pond soaks away", How: "depth divided by the slower of the rates of mix and soil below", Source: "Darcy with a gradient of 1"},
		{Key: "dig", What: "Soil to dig out, and mix", How: "volume between the old ground and the foot of the mix, in place; loosened soil takes more room", Source: "geometry"},
		{Key: "checks", What: "Checks of the bed", How: "what was found against what is wanted; each row names its source. Local code comes first", Source: "as each row says"},
		{Key: "inlet", What: "Levels, digging and flow of the way in", How: "levels from the ground stated along the way; flow by Manning, held to the lower figure of code tables; rain off the roof by the rational method", Source: "SOURCES.md S20 to S25; cover and falls " + sourcePractice},
		{Key: "capture", What: "Roof water that stays in the bed", How: "hourly balance of pond and soil over the whole record: what arrived less what left over the spill", Source: sourceOurs},
		{Key: "handbook", What: "Handbook size", How: "factor by soil and depth times the ground that drains to the bed", Source: "Univ. of Wisconsin-Extension and Wisconsin DNR 2003, GWQ037"},
		weather,
		{Key: "wet", What: "Wet spells", How: "longest run of hours in each year with water standing or the mix at least 95 % full; one year in ten by plotting position i/(n+1)", Source: "hourly balance; Weibull 1939, Hyndman and Fan 1996"},
		{Key: "deepest", What: "Depth of water", How: "highest level of the pond over the lowest ground of the zone, hour by hour", Source: "hourly balance"},
		{Key: "dry", What: "Dry spells", How: "days of the growing season in a row on which roots find less than they can draw freely; " + et0, Source: sourceFAO + ", Eq. 52 and 82 to 88"},
		{Key: "sun", What: "Hours of sun", How: "direct sun a day in the growing season, " + p.SunHow, Source: "sun positions: Michalsky 1988; Duffie and Beckman, ch. 1"},
	}
}

func (p Page) knowPlants() []Known {
	list := "every plant of the table was judged in every zone; whole numbers of plants then fill each zone, as good as the wishes allow"
	if p.Choose != nil && len(p.Choose.Lines) > 0 {
		list += fmt.Sprintf(". This list reaches %.4f of a possible %.4f, so at most %s is left to gain", float64(p.Choose.Objective), float64(p.Choose.Bound), gapText(float64(p.Choose.Gap)))
	}
	places := "every plant by search, at its mature spread, with its own height and sun; distances from A and B are level and run to the middle of the plant"
	if p.Place != nil {
		u := p.Garden.Units
		places += fmt.Sprintf(". In an average year %s of planting would be lost here, %s if set out by chance, and in no placement less than %s",
			doc.Raised(u.Area(float64(p.Place.LossM2))), doc.Raised(u.Area(float64(p.Place.RandomM2))), doc.Raised(u.Area(float64(p.Place.BoundM2))))
	}
	return []Known{
		{Key: "list", What: "How many of each plant", How: list, Source: sourceOurs},
		{Key: "spacing", What: "Spacing", How: "the mature spread, set in triangles; ground for each plant is 0.866 times the spread squared", Source: sourceTable + "; geometry"},
		{Key: "price", What: "Prices and cost", How: "price times number, in the currency of the plant table; plants without a price are left out of the sum", Source: sourceTable},
		{Key: "risk", What: "Risk a year", How: "chance that a year passes one of the plant's limits (wet, deep, dry, cold), from each year of the record at every height of the zone. Good to tell 5 % from 20 %, not 1 % from 3 %", Source: sourceOurs},
		{Key: "riskhere", What: "Risk a year at a stake", How: "the same chance at the plant's own height, and what its own sun takes from it; the list has the mean over the zone, without the sun", Source: sourceOurs},
		{Key: "reason", What: "The closest limit", How: "what the hardest year brought, against what the plant bears. Dry limits count days without rain in midsummer on a garden loam", Source: sourceTable + ", and the record"},
		{Key: "bloom", What: "Months in flower", How: "first to last month of bloom of every plant on the list", Source: sourceTable},
		{Key: "place", What: "Places and distances", How: places, Source: sourceOurs + "; Pythagoras"},
		{Key: "refused", What: "Plants kept out", How: "each plant and zone counted once, under the limit or wish that keeps it out", Source: sourceTable + ", the record, " + sourceFile},
		{Key: "labels", What: "Labels that do not hold", How: "the zone that the plant table names, against the risk worked out for this bed", Source: sourceTable + ", and the record"},
		{Key: "care", What: "First-year figures", How: "waterings, risks and weeks from a daily balance of young roots over every planting year of the record, where there is one; rounds and mulch are rules of the trade", Source: sourceOurs + "; " + sourcePractice},
		{Key: "cause", What: "Causes", How: "chances, from the signs noted, the vigour and what the season's weather did at each plant's place; what is learned moves the limits of the plant table by no more than the notes bear out", Source: sourceOurs},
		{Key: "sure", What: "Nine cases of ten", How: "the whole record run anew with other soil, roof water and years, drawn from how far each may be off", Source: sourceOurs},
		{Key: "digest", What: "Digests", How: "SHA-256 of every file that was read: the same digests and the same --date give the same page", Source: "FIPS 180-4"},
	}
}

// footnotes numbers the kinds of numbers in the order in which a page comes to
// them.
type footnotes struct {
	know []Known
	used []int // of know, by number
}

// ref is the small mark that leads from a number to how it is known.
func (f *footnotes) ref(key string) (template.HTML, error) {
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
