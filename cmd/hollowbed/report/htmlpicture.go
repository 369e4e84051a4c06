package report

import (
	"fmt"
	"html/template"

	"hollowbed/cmd/hollowbed/doc"
)

// sized is a drawing as printed; share of its own size.
type sized struct {
	Drawing
	share float64
}

// block is the drawing with what stands below it; draw escapes every text in it.
func (p sized) block(id, name, below, know string) doc.Block {
	return doc.Picture{ID: id, Name: name, Below: below, Know: know, SVG: template.HTML(p.Scaled(p.share))}
}

// tallest is how high a drawing may be on paper, mm, so that it stands whole on
// a Letter page with its heading and its caption.
const tallest = 228.0

// tallestWay is how high the way in may be, mm, so that words stand beside it.
const tallestWay = 135.0

// belowSummary is how high the plan may be, mm, so that it stands on the first page;
// besideYear how wide it and the year beside it, on A4.
const belowSummary, besideYear = 170.0, 180.0

// smallestShare is how far a chart may be made smaller: its text, of 8 pt, is
// then still larger than 6.5 pt.
const smallestShare = 0.82

// pictures draws what there is to draw: plan and section where plants stand, and
// bloom where some are chosen; the last two a little smaller than they were drawn.
func pictures(in PageIn) []doc.Block {
	var out []doc.Block
	add := func(p sized, id, name, below, know string) { out = append(out, p.block(id, name, below, know)) }
	chart := func(d Drawing) sized { return sized{d, min(smallestShare, tallest/d.HeightMM)} }
	stands := in.Placed != nil && len(in.Placed.Result.Plants) > 0
	if stands {
		plan, year := picture(PlanSVG(in.Garden, in.Placed), belowSummary), picture(SeasonsSVG(in.Garden, in.Placed), belowSummary-6)
		if wide := year.WidthMM * year.share; wide < besideYear/2 {
			plan.share = min(plan.share, (besideYear-wide)/plan.WidthMM)
		}
		add(plan, "fig-plan", "Plan", "The bed from above. The letters are those on the stakes."+scaled(plan.share), "shape place")
		add(year, "fig-seasons", "Through the year", "What flowers and what is green, season by season.", "bloom")
	}
	if len(in.Planting.Lines) > 0 {
		add(chart(BloomSVG(in.Garden, in.Planting)), "fig-bloom", "Bloom chart", "Who flowers when.", "bloom")
	}
	if stands {
		section := chart(SectionSVG(in.Garden, in.Placed))
		add(section, "fig-section", "Section", "A cut through the bed with its water levels."+scaled(section.share), "shape wet")
	}
	return out
}

// scaled warns where a drawing to scale had to be made smaller.
func scaled(share float64) string {
	if share == 1 {
		return ""
	}
	return fmt.Sprintf(" To fit the page it is drawn at %.0f %% of the scale it states: go by the figures, do not measure on the paper.", 100*share)
}

// picture takes a drawing, no taller than the page allows.
func picture(d Drawing, most float64) sized { return sized{d, min(1, most/d.HeightMM)} }
