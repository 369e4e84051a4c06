package report

import (
	"fmt"
	"math"
	"strings"
	"time"

	"hollowbed/cmd/hollowbed/doc"
	"hollowbed/plants"
	"hollowbed/plants/care"
	"hollowbed/zones"
)

// byHelp words the plants by what help they need, from the easiest to the hardest, but
// for those that no watering keeps, which are named one by one, each with what would.
func byHelp(all []plants.YoungPlant, words func(v care.Verdict, weekly bool) string) []string {
	var out []string
	for _, v := range careVerdicts() {
		if v == care.SafeLater || v == care.NotSafe {
			out = append(out, unkept(all, v)...)
			continue
		}
		for _, weekly := range []bool{false, true} {
			if s := words(v, weekly); s != "" {
				out = append(out, s)
			}
		}
	}
	return out
}

// helpedCounts counts the plants by what help they need.
func helpedCounts(all []plants.YoungPlant) doc.List {
	return doc.List{Items: byHelp(all, func(v care.Verdict, weekly bool) string {
		count, kinds := 0, map[string]bool{}
		for _, p := range all {
			if p.Verdict == v && p.Weekly == weekly {
				count += p.Count
				kinds[p.Plant.ID] = true
			}
		}
		if count == 0 {
			return ""
		}
		return fmt.Sprintf("%s of %s: %s", plural(count, "plant", "plants"), plural(len(kinds), "kind", "kinds"), verdictWords(v, weekly))
	})}
}

// verdictWords words a verdict on plants that do or do not need weekly water later.
func verdictWords(v care.Verdict, weekly bool) string {
	if !weekly {
		return string(v)
	}
	return strings.TrimSuffix(string(v), ", then on its own") + ", then only if watered weekly in drought, every year"
}

// careVerdicts lists the verdicts from the easiest plant to the hardest.
func careVerdicts() []care.Verdict {
	return []care.Verdict{care.SafeFromStart, care.SafeWatered, care.SafeKeptDry, care.SafeBridged, care.SafeLater, care.NotSafe, care.NotKnown}
}

// youngPlants say which plants need what help.
func youngPlants(u zones.Units, in CareIn) []string {
	return byHelp(in.Plants, func(v care.Verdict, weekly bool) string { return youngPlantsOf(u, in, v, weekly) })
}

// youngPlantsOf are those of a verdict that do or do not need weekly water later.
func youngPlantsOf(u zones.Units, in CareIn, v care.Verdict, weekly bool) string {
	var names []string
	var alone, helped riskSpan
	water := 0.0
	for _, p := range in.Plants {
		if p.Verdict == v && p.Weekly == weekly {
			names = append(names, fmt.Sprintf("%d %s (%s)", p.Count, p.Plant.VernacularName, p.Zone))
			alone.add(p.Alone)
			helped.add(helpedRisk(p))
			water += float64(p.Count) * p.TypicalLitres
		}
	}
	if len(names) == 0 {
		return ""
	}
	what := ""
	if v != care.NotKnown {
		what = " Risk of the year without help " + alone.String()
	}
	if v != care.NotKnown && v != care.SafeFromStart {
		what += ", with it " + helped.String()
	}
	if v == care.SafeWatered || v == care.SafeBridged {
		what += fmt.Sprintf("; they take %s of the hose in a typical year", litres(u, water))
	}
	if what != "" {
		what += "."
	}
	return verdictWords(v, weekly) + ": " + strings.Join(names, ", ") + "." + what
}

// helpedRisk is the risk with the help that the verdict speaks of.
func helpedRisk(p plants.YoungPlant) float64 {
	if p.Verdict == care.SafeKeptDry {
		return p.KeptDry
	}
	return p.Planned
}

// unkept names the plants that the schedule does not keep, each with what would.
func unkept(all []plants.YoungPlant, v care.Verdict) []string {
	var out []string
	for _, p := range all {
		if p.Verdict != v {
			continue
		}
		why := fmt.Sprintf("watering alone does not keep it, %s, %s of its first year", p.Left, risk(p.Planned, false))
		if v == care.NotSafe {
			why = fmt.Sprintf("no watering keeps it, %s of each year once established", risk(p.Established.YearlyRisk, false))
		}
		out = append(out, fmt.Sprintf("%d %s (%s): %s. %s.", p.Count, p.Plant.VernacularName, p.Zone, why, capital(strings.Join(remedies(p), ", or "))))
	}
	return out
}

// remedies say what would keep a plant that the plan does not, the easiest first, each
// with the risk that is left.
func remedies(p plants.YoungPlant) []string {
	out, months := []string{}, []time.Month{}
	if p.Verdict != care.SafeLater && p.Verdict != care.NotSafe {
		return out
	}
	var left riskSpan
	for _, r := range p.Remedies {
		switch {
		case r.SoldAs != "":
			out = append(out, fmt.Sprintf("buy it as %s (%s)", r.SoldAs, risk(r.Risk, false)))
		case r.Month > 0:
			months = append(months, r.Month)
			left.add(r.Risk)
		default:
			out = append(out, fmt.Sprintf("keep the roof water out until it has rooted (%s)", risk(r.Risk, false)))
		}
	}
	if len(months) > 0 {
		out = append(out, fmt.Sprintf("plant it in %s (%s)", yearMonths(months), left))
	}
	return append(out, "choose another plant for this place")
}

// riskSpan is the least and the greatest of some risks.
type riskSpan struct {
	least, most float64
	some        bool
}

func (r *riskSpan) add(v float64) {
	if math.IsNaN(v) {
		return
	}
	if !r.some {
		r.least, r.most, r.some = v, v, true
	}
	r.least, r.most = min(r.least, v), max(r.most, v)
}

func (r riskSpan) String() string {
	low, high := risk(r.least, false), risk(r.most, false)
	switch {
	case !r.some:
		return "not known"
	case low == high:
		return low
	case r.least < leastRisk:
		return "up to " + high
	}
	return low + " to " + high
}
