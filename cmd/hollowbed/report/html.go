package report

import (
	"bytes"
	"embed"
	"html/template"
	"io"
	"math"
	"slices"
	"strings"

	"hollowbed/cmd/hollowbed/doc"
	"hollowbed/plants"
	"hollowbed/zones"
)

//go:embed page
var pageFiles embed.FS

// PageIn is what a page is made from. Exposure, Planting and Placed are nil
// where there is no weather record.
type PageIn struct {
	Garden      Garden
	Lot         *zones.Lot
	Performance zones.Performance
	Exposure    *zones.Exposure
	Catalogue   string // the plant table's name
	Planting    *plants.Planting
	Placed      *plants.Placed
	FirstYear   *CareIn // nil where nothing stands
	Season      *MoveIn // nil without notes of what is planted
	Planted     int     // how many plants that are
	Sure        *Spread // nil where that was not asked
	Version     string
}

// Page is the printable report on a garden: one HTML file that needs nothing
// else, made of the documents of the other commands and their pictures.
type Page struct {
	Garden   Garden
	Where    string // latitude in words
	DugMM    Number // from the spill level
	SunHow   string // how the sun is known
	Basin    Basin
	Way      *Inlets // nil without an inlet section
	Record   *Record
	Weather  []doc.Block
	Zones    *Zones     // nil without a record
	Choose   *Choose    // nil without a record
	Care     doc.Blocks // none where nothing stands
	Handed   doc.Blocks // the same for an owner
	Kind     string     // of paper
	Season   doc.Blocks // none without notes
	Sure     doc.Blocks // none where it was not worked out
	Place    *Place     // nil where nothing stands
	Pictures []doc.Block
	Version  string
}

// NewPage gathers the documents and draws the pictures.
func NewPage(in PageIn) (Page, error) {
	p := Page{
		Garden: in.Garden, Where: where(in.Lot.Garden.Site.LatitudeDeg), DugMM: Number(in.Lot.Bed.Spec().PondingMM + in.Lot.Garden.Mix.DepthMM),
		SunHow: sunKnown(in.Lot), Kind: "rain garden report",
		Basin: NewBasin(in.Garden, in.Lot, in.Performance, nil, nil), Version: in.Version,
	}
	p.Record = p.Basin.Record
	if p.Way = NewInlets(in.Lot); p.Way != nil {
		if way := in.Lot.WayIn.Chosen; way != nil && way.Sound {
			p.Way.Blocks = p.Way.word(in.Lot, way.Kind)
		}
		if svg, ok := RouteSVG(in.Garden, in.Lot); ok {
			route := picture(svg, tallestWay)
			p.Way.Blocks = append(p.Way.Blocks, route.block("fig-route", "The way in", "The way from the downspout to the bed, seen from the side."+scaled(route.share), "inlet"))
		}
	}
	if in.Exposure == nil {
		return p, nil
	}
	z := NewZones(in.Garden, in.Exposure)
	c := NewChoose(in.Garden, in.Catalogue, in.Planting, p.Basin.Checks)
	p.Zones, p.Choose = &z, &c
	if len(in.Planting.Lines) > 0 { // else the reasons why not come first, and fill its sheet
		p.Weather = []doc.Block{doc.Heading("The weather"), Climate(in.Garden, in.Exposure.Record, in.Lot.Garden.Site.LatitudeDeg)}
	}
	p.Pictures = pictures(in)
	if in.Placed != nil && len(in.Placed.Result.Plants) > 0 {
		place := NewPlace(in.Garden, in.Placed, "")
		p.Place = &place
	}
	if in.Season != nil {
		p.Season = seasonBlocks(in.Garden, *in.Season, in.Planted)
	}
	if in.Sure != nil {
		p.Sure = in.Sure.Blocks
	}
	if in.FirstYear != nil {
		first := NewCare(in.Garden, *in.FirstYear)
		p.Care, p.Handed = first.Whole(), first.Handed()
	}
	return p, nil
}

// where words a latitude.
func where(deg float64) string {
	switch {
	case math.IsNaN(deg):
		return ""
	case deg < 0:
		return figure(-deg) + "° south"
	}
	return figure(deg) + "° north"
}

func sunKnown(l *zones.Lot) string {
	if l.SunMap != nil {
		return "worked out from latitude, dates and what stands around the bed; what the garden file states wins"
	}
	return "as stated in the garden file"
}

// HTML writes the page.
func (p Page) HTML(w io.Writer) error { return p.write(w, "page.html", &footnotes{know: p.know()}) }

// write writes the page by one of the templates; without notes no figure leads to
// how it is known.
func (p Page) write(w io.Writer, name string, notes *footnotes) error {
	t, err := template.New("page").Funcs(p.functions(notes)).ParseFS(pageFiles, "page/*.html")
	if err != nil {
		return err
	}
	var page bytes.Buffer
	if err := t.ExecuteTemplate(&page, name, p); err != nil {
		return err
	}
	_, err = w.Write(page.Bytes())
	return err
}

// pictures are those of some names, in the order in which they were drawn.
func (p Page) pictures(ids ...string) []doc.Block {
	return slices.DeleteFunc(slices.Clone(p.Pictures), func(b doc.Block) bool {
		drawn, ok := b.(doc.Picture)
		return !ok || !slices.Contains(ids, drawn.ID)
	})
}

// Advice says what to plant.
func (p Page) Advice() string { return strings.Join(p.Choose.Advice(), " ") }

// Asides are what stands among the notes.
func (p Page) Asides() []doc.Block {
	all := p.Basin.Blocks
	if p.Zones != nil {
		all = append(slices.Clone(p.Zones.Blocks), all...)
	}
	return doc.Asides(all)
}
