package report

import (
	"fmt"
	"html/template"
	"regexp"
	"strconv"
)

// Picture is one drawing with what stands below it.
type Picture struct {
	ID, Name, Below string
	Refs            []string // keys of the lines of "how we know"
	SVG             template.HTML
	HeightMM, Share float64 // as printed; Share of its own size
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
func pictures(in PageIn) ([]Picture, error) {
	var out []Picture
	room := 0.0 // left below the section
	if in.Placed != nil && len(in.Placed.Result.Plants) > 0 {
		plan := picture(PlanSVG(in.Garden, in.Placed), tallest)
		plan.ID, plan.Name, plan.Refs = "fig-plan", "Plan", []string{"shape", "place"}
		plan.Below = "The bed from above. The letters are those on the stakes." + scaled(plan.Share)
		section := picture(SectionSVG(in.Garden, in.Placed), tallest)
		section.ID, section.Name, section.Refs = "fig-section", "Section", []string{"shape", "deepest"}
		section.Below = "A cut through the bed with its water levels." + scaled(section.Share)
		room = tallestPair - section.HeightMM
		out = append(out, plan, section)
	}
	if len(in.Planting.Lines) > 0 {
		svg := BloomSVG(in.Garden, in.Planting)
		bloom := picture(svg, tallest)
		if bloom.HeightMM > room && bloom.HeightMM*smallestShare <= room { // a little smaller, and both stand on one page
			bloom = picture(svg, room)
		}
		bloom.ID, bloom.Name, bloom.Refs, bloom.Below = "fig-bloom", "Bloom chart", []string{"bloom"}, "Who flowers when."
		out = append(out, bloom)
	}
	if in.Placed != nil {
		svg, err := YearSVG(in.Garden, in.Placed)
		if err != nil {
			return nil, err
		}
		year := picture(svg, tallest)
		year.ID, year.Name, year.Refs = "fig-year", "Year chart", []string{"wet", "dry", "record"}
		year.Below = "Rain, pond and soil water through the driest year on record."
		out = append(out, year)
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
func picture(svg []byte, most float64) Picture {
	size := regexp.MustCompile(`^(<svg [^>]*?)width="([0-9.]+)mm" height="([0-9.]+)mm"`)
	m := size.FindSubmatch(svg)
	if m == nil {
		panic("report: a drawing without a size")
	}
	w, _ := strconv.ParseFloat(string(m[2]), 64)
	h, _ := strconv.ParseFloat(string(m[3]), 64)
	share := min(1, most/h)
	head := fmt.Sprintf(`%swidth="%.2fmm" height="%.2fmm"`, m[1], w*share, h*share)
	return Picture{Share: share, HeightMM: h * share, SVG: template.HTML(head + string(svg[len(m[0]):]))} // draw escapes every text in it
}
