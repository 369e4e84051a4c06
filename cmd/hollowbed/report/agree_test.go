package report

import (
	"bytes"
	"fmt"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"hollowbed/cmd/hollowbed/doc"
	"hollowbed/plants"
)

// A placement says that its risks are those of places, and names the plants whose
// place is riskier than is wished, each with the risk of the list.
func TestPlaceSaysWhatItsRisksAreOf(t *testing.T) {
	in := demoIn(t)
	text := func() string {
		var out bytes.Buffer
		doc.Terminal(&out, NewPlace(in.Garden, in.Placed, "").Blocks)
		return strings.Join(strings.Fields(out.String()), " ")
	}
	const of = "Risk a year: each plant's own, at the height and in the sun of its stake. The planting list has the mean over the zone, and goes by that."
	assert.Contains(t, text(), of)
	assert.NotContains(t, text(), "At more risk")
	worst := -1 // of those whose place tells apart from their line
	for i, s := range in.Placed.Result.Plants {
		if inList(in.Placed, i) != risk(s.Risk, false) && (worst < 0 || s.Risk > in.Placed.Result.Plants[worst].Risk) {
			worst = i
		}
	}
	require.GreaterOrEqual(t, worst, 0)
	s := in.Placed.Result.Plants[worst]
	in.Lot.Garden.Wishes.YearlyRiskMax = s.Risk - 0.001
	listed := ""
	for _, l := range in.Planting.Lines {
		if l.Plant.ID == s.ID && l.Zone == s.Zone {
			listed = risk(l.Fit.YearlyRisk, false)
		}
	}
	assert.NotEqual(t, listed, risk(s.Risk, false))
	_, named, found := strings.Cut(text(), "At more risk than the ")
	require.True(t, found)
	assert.Contains(t, named, fmt.Sprintf("%s %s (list: %s)", s.Stake, risk(s.Risk, false), listed))
	assert.Equal(t, listed, NewScreenStanding(NewPlace(in.Garden, in.Placed, ""), in.Placed)[worst].InList)
}

// A place that planted.csv holds is no word that a plant stands there.
func TestPlacesAreNotCalledPlanted(t *testing.T) {
	in := demoIn(t)
	for i := range in.Placed.Result.Plants {
		in.Placed.Result.Plants[i].Stayed = true
	}
	text := written(t, in)
	assert.Contains(t, text, fmt.Sprintf("%d of them by planted.csv", len(in.Placed.Result.Plants)))
	assert.NotContains(t, text, "stand already")
	assert.NotContains(t, text, "stands already")
}

// One paper says one thing of mulch, roof water, draining and what stays in the bed, and
// no level finer than anybody digs.
func TestReportSaysOneThing(t *testing.T) {
	in := demoIn(t)
	text := strings.Join(strings.Fields(regexp.MustCompile(`<[^>]+>`).ReplaceAllString(written(t, in), " ")), " ")
	mulch := in.Garden.Units.Depth(plants.MulchMM) + " deep"
	assert.Equal(t, 2, strings.Count(text, mulch), "ordered, and laid")
	assert.NotContains(t, text, "coarse bark")
	assert.NotContains(t, text, "only when the plants have rooted")
	assert.Contains(t, text, "Dig the bottom 24 in below the spill level: 6 in for the pond")
	assert.Contains(t, text, "16 h at most 24 h")
	assert.NotContains(t, text, "16.5 h")
	assert.Contains(t, text, "98 % at least 80 %")
	assert.Contains(t, text, "99 % stays in the bed at the rate that the soil has (basin counts on a slower one, to be safe)")
	assert.NotContains(t, text, "-0.0")
}

// The plan on the first page leaves the year its place beside it, on A4 (184 mm within the
// margins, 4 between them), and is no smaller than that asks.
func TestPlanFillsThePage(t *testing.T) {
	wide := regexp.MustCompile(`<svg [^>]*width="([0-9.]+)mm"`).FindAllStringSubmatch(written(t, demoIn(t)), 2)
	require.Len(t, wide, 2)
	plan, _ := strconv.ParseFloat(wide[0][1], 64)
	year, _ := strconv.ParseFloat(wide[1][1], 64)
	assert.InDelta(t, 180, plan+4+year, 5)
	assert.LessOrEqual(t, plan+4+year, 184.0)
}
