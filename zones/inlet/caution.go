package inlet

import "math"

// cautions is what to mind before and while leading water to a bed, in order.
func cautions(in Input) []string {
	c := []string{
		"Local code first. Ask whether roof water may be led this way and whether a permit is needed; where local rules differ from this, they hold.",
		"Have buried pipes and cables located and marked before you dig, even for a shallow trench, and dig by hand near the marks.",
		"If the downspout runs into a drain today, cap the standpipe that is left with a proper cap, so that neither water, animals nor gas come through.",
		"Use pipe, fittings and liner that are approved for the purpose, never join roof water to a sewer, and never cut into one.",
		"Lead the overflow to a safe place, away from buildings and from the neighbours' ground. Think of the day the pipe is blocked.",
		"Keep the route clear of wells, septic tanks and their fields.",
		"Leave work on drains, foundations, walls and steep banks to people licensed for it.",
		"Where winters freeze, a pipe that holds water freezes shut: let it drain dry, and let water that finds it shut come out on rock, away from the wall.",
		"A trench can fall in: keep it shallow, keep the soil back from its edge, and keep children away.",
	}
	if in.steepest() > 0.12 {
		c = append(c, "The ground on this route is steep, and wetting it can make it slip. Ask an engineer before you dig, or choose another route.")
	}
	switch in.Foundation {
	case "basement", "crawl space":
		c = append(c, "Water beside a wall can find its way in. Let nothing leak within reach of the wall, and look at it from inside after the first heavy rains.")
	case "":
		c = append(c, "The foundation is not known, so the reach for a basement is taken. Look before you dig beside the wall.")
	}
	if in.FoundationM < in.needReachM() {
		c = append(c, "The edge of the bed lies closer to the building than liner or extension should reach. Move the bed.")
	}
	return c
}

// steepest is the greatest slope of the ground along the route, up or down.
func (in Input) steepest() float64 {
	most := 0.0
	for i := 1; i < len(in.Ground); i++ {
		a, b := in.Ground[i-1], in.Ground[i]
		most = math.Max(most, math.Abs(b.LevelMM-a.LevelMM)/1000/(b.StationM-a.StationM))
	}
	return most
}
