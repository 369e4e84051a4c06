package basin

// Zones of a bed, from the bottom up.
const (
	Bottom = "bottom"
	Slope  = "slope"
	Rim    = "rim"
)

// Band is the ground of one zone between two heights.
type Band struct {
	Zone                  string // Bottom, Slope or Rim
	FootMM, TopMM, AreaM2 float64
}

// Zone is all the ground of one zone.
type Zone struct {
	Zone                  string // Bottom, Slope or Rim
	AreaM2, TopMM, FootMM float64
}

// Bands cuts the bed into twelve bands from the bottom up: the bottom, nine
// equal steps of height on the slope, and two equal steps of width on the rim.
// A bed without a rim has eleven on the slope; one without a slope (upright
// sides) has eleven on the rim; one with neither is a single band. Areas come
// from the exact inset and add up to the bed.
func (b *Basin) Bands() []Band {
	s := b.spec
	slope, rim := 9, 2
	switch {
	case s.SideRun == 0 && s.RimWidthM == 0:
		slope, rim = 0, 0
	case s.SideRun == 0:
		slope, rim = 0, 11
	case s.RimWidthM == 0:
		slope, rim = 11, 0
	}
	inner := b.shape.insetAreaM2(b.bottom)
	bands := []Band{{Bottom, -s.PondingMM, -s.PondingMM, inner}}
	foot := -s.PondingMM
	add := func(zone string, top, inward float64) {
		outer := b.shape.insetAreaM2(inward)
		bands = append(bands, Band{zone, foot, top, outer - inner})
		inner, foot = outer, top
	}
	for left := slope - 1; left >= 0; left-- {
		share := float64(left) / float64(slope)
		add(Slope, 0-s.PondingMM*share, s.RimWidthM+share*(b.bottom-s.RimWidthM))
	}
	foot = 0 // upright sides leave a step below the rim
	for left := rim - 1; left >= 0; left-- {
		share := float64(left) / float64(rim)
		add(Rim, s.FreeboardMM*(1-share), s.RimWidthM*share)
	}
	return bands
}

// Zones gathers the bands: up to three zones, from the bottom up.
func (b *Basin) Zones() []Zone {
	var zones []Zone
	for _, d := range b.Bands() {
		if n := len(zones); n > 0 && zones[n-1].Zone == d.Zone {
			zones[n-1].AreaM2 += d.AreaM2
			zones[n-1].TopMM = d.TopMM
			continue
		}
		zones = append(zones, Zone{Zone: d.Zone, AreaM2: d.AreaM2, TopMM: d.TopMM, FootMM: d.FootMM})
	}
	return zones
}

// ZoneAt is the zone at (x, y), or "" outside the bed.
func (b *Basin) ZoneAt(x, y float64) string {
	zone, _, _ := b.GroundAt(x, y)
	return zone
}

func (b *Basin) zoneAt(d float64) string {
	switch {
	case d < b.spec.RimWidthM:
		return Rim
	case d < b.bottom:
		return Slope
	}
	return Bottom
}
