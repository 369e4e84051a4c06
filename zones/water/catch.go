package water

import (
	"fmt"

	"hollowbed/zones/site"
)

// Catch is one surface that drains to the bed: by coefficient and loss (a
// roof), or by curve number (ground) where that is above 0.
type Catch struct {
	AreaM2      float64 // plan area
	Coefficient float64 // share of the rain that runs off once it is wet
	LossMM      float64 // rain that wets it first; dries out at the rate of ET0
	CurveNumber float64 // 0, or NRCS curve number: then the storm's rain so far decides
}

func (c Catch) check() error {
	if !(c.AreaM2 >= 0 && c.CurveNumber >= 0 && c.CurveNumber <= 100 && c.Coefficient >= 0 && c.Coefficient <= 1 && c.LossMM >= 0) {
		return fmt.Errorf("water balance: catch of %g m2, coefficient %g, loss %g mm, curve number %g: want none below 0, a coefficient of at most 1 and a curve number of at most 100", c.AreaM2, c.Coefficient, c.LossMM, c.CurveNumber)
	}
	return nil
}

// A storm, for curve numbers, ends after stormGapH rainless hours (common
// practice, no source), and at the latest stormMostH after it began: curve
// numbers were found from rain and runoff by the day (USDA NRCS, National
// Engineering Handbook part 630, chapter 10, from memory), and a wet season in
// which it rains some hours of every day is not one storm.
const (
	stormGapH  = 12
	stormMostH = 24
)

// catchState is a catch at one moment.
type catchState struct {
	Catch
	wettingMM float64 // rain that it still takes to wet it
	stormMM   float64 // rain of this storm so far
	rainless  int     // hours since it last rained
	ageH      int     // hours since the storm began
}

// runoffM3 returns what leaves the catch in an hour with rainMM of rain, and
// lets it dry by et0MM. For a roof V = (rain - what wets it first) x
// coefficient x area, common practice, no source; for ground the growth of the
// curve-number runoff of the storm so far, TR-55 Eq. 2-1 [S5].
func (c *catchState) runoffM3(rainMM, et0MM float64) float64 {
	if c.CurveNumber > 0 {
		return c.groundMM(rainMM) * c.AreaM2 / 1000
	}
	wetting := min(c.wettingMM, rainMM)
	c.wettingMM = min(c.LossMM, c.wettingMM-wetting+et0MM)
	return (rainMM - wetting) * c.Coefficient * c.AreaM2 / 1000
}

// dry lets hours without rain pass, in which so much evaporates.
func (c *catchState) dry(hours int, et0MM float64) {
	c.wettingMM = min(c.LossMM, c.wettingMM+et0MM)
	c.ageH += hours
	c.rainless += hours
}

func (c *catchState) groundMM(rainMM float64) float64 {
	c.ageH++
	if rainMM == 0 {
		c.rainless++
		return 0
	}
	if c.rainless >= stormGapH || c.ageH > stormMostH {
		c.stormMM, c.ageH = 0, 1
	}
	c.rainless = 0
	before := site.RunoffMM(c.stormMM, c.CurveNumber)
	c.stormMM += rainMM
	return site.RunoffMM(c.stormMM, c.CurveNumber) - before
}
