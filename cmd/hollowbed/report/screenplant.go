package report

import (
	"fmt"
	"math"
	"strings"

	"hollowbed/plants"
	"hollowbed/zones"
)

// livesShown is how many plants that would live at a place are named.
const livesShown = 40

// ScreenPlace is one place of the bed.
type ScreenPlace struct {
	Inside  bool         `json:"inside"`
	Zone    string       `json:"zone"`
	Ground  string       `json:"ground"`
	Sun     string       `json:"sun"`
	Wet     string       `json:"wet"`
	Air     string       `json:"air"` // short of air
	Deepest string       `json:"deepest"`
	Dry     string       `json:"dry"`
	Words   string       `json:"words"`
	Kept    string       `json:"kept"` // what it is kept free for; "": plants may stand here
	Lives   []ScreenNext `json:"lives"`
	LivesN  int          `json:"lives_n"`
}

// OutsideBed is what is said of a place that is not in the bed.
const OutsideBed = "Outside the bed."

// NewScreenPlace words a place and the plants of a table there, best first; none where
// ground is kept free.
func NewScreenPlace(e *zones.Exposure, s plants.Spot, all []plants.Verdict) ScreenPlace {
	u := e.Lot.Garden.Units
	b := e.Bands[s.Band]
	out := ScreenPlace{
		Inside: true, Zone: s.Zone, Ground: heightWords(u, s.HeightMM), Sun: sunText(Number(s.SunH)),
		Wet: spellText(u.Duration)(b.WetOneInTenH), Air: spellText(u.Duration)(b.AirPoorOneInTenH), Deepest: spellText(u.Depth)(b.DeepestMM), Dry: days(b.DryOneInTenD), Lives: []ScreenNext{},
	}
	if out.Kept = plants.KeptFree(e.Lot, s.X, s.Y); out.Kept != "" {
		out.Words = fmt.Sprintf("On the %s, %s: kept free of plants (%s).", s.Zone, out.Ground, out.Kept)
		return out
	}
	for _, v := range all {
		if !v.Lives() {
			continue
		}
		out.LivesN++
		if len(out.Lives) < livesShown {
			out.Lives = append(out.Lives, ScreenNext{
				ID: v.Plant.ID, Name: Plain(v.Plant.VernacularName), ScreenRisk: newScreenRisk(v, e.Lot.Garden.Wishes.YearlyRiskMax), Reason: reasonOf(v, u),
			})
		}
	}
	out.Words = fmt.Sprintf("On the %s, %s: %s of the table's %d plants would live here.", s.Zone, out.Ground, plural(out.LivesN, "plant", "plants"), len(all))
	return out
}

// ScreenDrag is the risk of a plant at a place, while it is moved.
type ScreenDrag struct {
	Stake  string `json:"stake"`
	ID     string `json:"id"`
	Name   string `json:"name"`
	Inside bool   `json:"inside"`
	Zone   string `json:"zone"`
	Ground string `json:"ground"`
	ScreenRisk
	Reason string   `json:"reason"`
	Here   string   `json:"here"`
	Change string   `json:"change"`
	Clash  []string `json:"clash"`
}

// NewScreenDrag words the risk of a plant at a place; before is the verdict
// where it stands now, nil if it stands nowhere.
func NewScreenDrag(g *zones.Garden, s plants.Spot, v plants.Verdict, before *plants.Verdict) ScreenDrag {
	out := ScreenDrag{
		ID: v.Plant.ID, Name: Plain(v.Plant.VernacularName), Inside: true, Zone: s.Zone, Ground: heightWords(g.Units, s.HeightMM),
		ScreenRisk: newScreenRisk(v, g.Wishes.YearlyRiskMax), Reason: reasonOf(v, g.Units), Clash: []string{},
	}
	if before != nil {
		out.Here = newScreenRisk(*before, g.Wishes.YearlyRiskMax).Risk
		out.Change = changeWords(before.Loss(), v.Loss())
	}
	return out
}

// changeWords compares two yearly losses in whole points of a hundred.
func changeWords(before, after float64) string {
	switch points := math.Round(100 * (after - before)); {
	case points < 0:
		return fmt.Sprintf("better: %d fewer of 100 lost a year", int(-points))
	case points > 0:
		return fmt.Sprintf("worse: %d more of 100 lost a year", int(points))
	}
	return "no better and no worse"
}

// Fate is a plant's yearly risk, NaN if its limits are not all known, and what
// limits it. Where it is not the risk that bars it, what does is told.
func Fate(v plants.Verdict, u zones.Units) (risk float64, why string) {
	why = Reason(v.Fit.Reason, u)
	switch v.Bar {
	case plants.BarUnknown:
		return math.NaN(), v.Detail
	case plants.BarSun:
		why = v.Detail + "; " + why
	}
	return v.Fit.YearlyRisk, why
}

// CrowdWords says what a plant would stand too near to.
func CrowdWords(stakes, grounds []string) []string {
	out := []string{}
	if n := len(stakes); n > 0 {
		words := "too near to " + join(stakes[:min(n, crowdShown)])
		if n > crowdShown {
			words = fmt.Sprintf("too near to %s and %d more", strings.Join(stakes[:crowdShown], ", "), n-crowdShown)
		}
		out = append(out, words)
	}
	for _, g := range grounds {
		out = append(out, "reaches into what is kept free: "+g)
	}
	return out
}

// crowdShown is how many plants that stand too near are named.
const crowdShown = 3
