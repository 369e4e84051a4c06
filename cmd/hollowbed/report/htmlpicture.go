package report

import (
	"fmt"
	"html/template"
	"regexp"
	"strconv"

	"hollowbed/cmd/hollowbed/doc"
)

// sized is a drawing as printed; Share of its own size.
type sized struct {
	SVG             template.HTML
	HeightMM, Share float64
}

// tallest is how high a drawing may be on paper, mm, so that it stands whole on
// a Letter page with its heading and its caption.
const tallest = 228.0

// tallestPair is how high two drawings on one Letter page may be together, mm.
const tallestPair = 233.0

// smallestShare is how far a chart may be made smaller: its text, of 8 pt, is
// then still larger than 6.5 pt.
const smallestShare = 0.85

// pictures draws what there is to draw: plan and section where plants stand,
// bloom where some are chosen, and the driest year.
func pictures(in PageIn) ([]doc.Block, error) {
	var out []doc.Block
	add := func(p sized, id, name, below, know string) {
		out = append(out, doc.Picture{ID: id, Name: name, Below: below, Know: know, SVG: p.SVG})
	}
	room := 0.0 // left below the section
	if in.Placed != nil && len(in.Placed.Result.Plants) > 0 {
		plan, section := picture(PlanSVG(in.Garden, in.Placed), tallest), picture(SectionSVG(in.Garden, in.Placed), tallest)
		room = tallestPair - section.HeightMM
		add(plan, "fig-plan", "Plan", "The bed from above. The letters are those on the stakes."+scaled(plan.Share), "shape place")
		add(section, "fig-section", "Section", "A cut through the bed with its water levels."+scaled(section.Share), "shape deepest")
	}
	if len(in.Planting.Lines) > 0 {
		svg := BloomSVG(in.Garden, in.Planting)
		bloom := picture(svg, tallest)
		if bloom.HeightMM > room && bloom.HeightMM*smallestShare <= room { // a little smaller, and both stand on one page
			bloom = picture(svg, room)
		}
		add(bloom, "fig-bloom", "Bloom chart", "Who flowers when.", "bloom")
	}
	if in.Placed != nil {
		svg, err := YearSVG(in.Garden, in.Placed)
		if err != nil {
			return nil, err
		}
		add(picture(svg, tallest), "fig-year", "Year chart", "Rain, pond and soil water through the driest year on record.", "wet dry record")
	}
	return out, nil
}

// scaled warns where a drawing to scale had to be made smaller.
func scaled(share float64) string {
	if share == 1 {
		return ""
	}
	return fmt.Sprintf(" To stand on one page it is drawn at %.0f %% of the scale it states: measure from the table, not from the paper.", 100*share)
}

// picture takes a drawing, no taller than the page allows.
func picture(svg []byte, most float64) sized {
	size := regexp.MustCompile(`^(<svg [^>]*?)width="([0-9.]+)mm" height="([0-9.]+)mm"`)
	m := size.FindSubmatch(svg)
	if m == nil {
		panic("report: a drawing without a size")
	}
	w, _ := strconv.ParseFloat(string(m[2]), 64)
	h, _ := strconv.ParseFloat(string(m[3]), 64)
	share := min(1, most/h)
	head := fmt.Sprintf(`%swidth="%.2fmm" height="%.2fmm"`, m[1], w*share, h*share)
	return sized{Share: share, HeightMM: h * share, SVG: template.HTML(head + string(svg[len(m[0]):]))} // draw escapes every text in it
}
