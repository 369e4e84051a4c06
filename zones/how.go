package zones

import (
	"fmt"

	"hollowbed/zones/water"
)

// How states what a sceptic needs to recompute a day of the balance by hand.
func (l *Lot) How() []string {
	d := l.Garden.Mix.DepthMM
	lines := []string{
		"held today = held yesterday + taken in - seeped - used, all in mm over this place's ground (where water stands, what evaporates from it is in both taken in and used)",
		fmt.Sprintf("mix %.0f mm deep: full %.1f mm, field capacity %.1f mm, wilting %.1f mm; it takes water at up to %.1f mm/h",
			d, l.Mix.Sat*d, l.Mix.FC*d, l.Mix.WP*d, l.Mix.KMMH),
		fmt.Sprintf("seeping, above field capacity: %.2f mm/h x (held / full)^%.1f, but no more than the %.2f mm/h that the soil below takes (Saxton and Rawls 2006, Eq. 17)",
			l.Mix.KMMH, water.DrainPower(l.Mix.FC, l.Mix.WP), l.Native.TestedMMH),
		fmt.Sprintf("used = Ks x Kc x ET0 with Kc %.2f; depletion = field capacity - held; Ks = 1 until depletion passes p x TAW, then (TAW - depletion) / ((1 - p) TAW); TAW %.1f mm, p = %.2f + 0.04 (5 - Kc ET0) (FAO-56 Eq. 82 to 84)",
			l.Garden.Bed.Kc, water.TAWMM(l.Mix.FC, l.Mix.WP, d/1000), depletionFraction),
	}
	hours := "the balance runs by the hour: a day's ET0 is spread over its daylight as half a sine, so used is a sum over hours, each with its own Ks"
	if l.Record != nil && l.Record.Pattern != "" {
		hours += "; the day's rain is spread by the pattern " + l.Record.Pattern
	}
	lines = append(lines, hours)
	for i, c := range l.Catches {
		if c.CurveNumber > 0 {
			lines = append(lines, fmt.Sprintf("other surface %d: %.1f m2 by curve number %.0f on the storm's rain so far", i, c.AreaM2, c.CurveNumber))
			continue
		}
		lines = append(lines, fmt.Sprintf("roof: %.1f m2, %.2f of the rain after the first %.1f mm that wet it; what is wet dries again at the rate of ET0, and inflow is what runs off hour by hour", c.AreaM2, c.Coefficient, c.LossMM))
	}
	if l.Native.Factor != 1 {
		lines = append(lines, fmt.Sprintf("soil below: %.2f mm/h as measured; the safety factor %.1f is for size, drain time and overflow, and not in here", l.Native.TestedMMH, l.Native.Factor))
	}
	return lines
}
