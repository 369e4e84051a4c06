package page

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"strings"
	"sync"

	"hollowbed/cmd/hollowbed/doc"
	"hollowbed/cmd/hollowbed/plainfile"
	"hollowbed/cmd/hollowbed/report"
	"hollowbed/plants"
	"hollowbed/plants/placement"
	"hollowbed/zones"
	"hollowbed/zones/site"
)

// model is what was worked out of one draft. It does not change once it is the
// session's.
type model struct {
	version int
	units   zones.Units
	draft   draft
	record  *site.Record
	judge   *plants.Judge // of the worker alone
	live    *live         // for those who look
	placed  *plants.Placed
	placedV int  // version that placed is of
	final   bool // placed is compared with chance, as by the command place
	plan    report.ScreenPlan
	words   figures
	verdict func(*plants.Placed) report.ScreenVerdict
}

// live judges plants for handlers, one at a time. Judges of one run share what
// they have worked out, and with it the lock.
type live struct {
	mu    *sync.Mutex
	judge *plants.Judge
}

// with lets a function judge.
func (l *live) with(f func(*plants.Judge)) {
	l.mu.Lock()
	defer l.mu.Unlock()
	f(l.judge)
}

// figures are the documents of a model.
type figures struct {
	Verdict  report.ScreenVerdict    `json:"verdict"`
	Bed      []map[string]doc.Block  `json:"bed"`
	Short    doc.Facts               `json:"short"` // the bed in a few figures
	Record   string                  `json:"record"`
	Year     []map[string]doc.Block  `json:"year"` // the usual one, by month
	Zones    []map[string]doc.Block  `json:"zones"`
	List     listed                  `json:"list"`
	Standing []report.ScreenStanding `json:"plants"`
	Kinds    []report.ScreenKind     `json:"kinds"` // of plants
	Drifts   []report.ScreenDrift    `json:"drifts"`
	Views    []report.ScreenView     `json:"views"` // of the plan, by season and month
	Places   []map[string]doc.Block  `json:"places"`
	Way      doc.Blocks              `json:"way"` // ways to bring the water in, if the garden file has the ground for one
}

// listed is the planting list: its blocks, and what the page asks of it.
type listed struct {
	Advice string                 `json:"advice"`
	Lines  []report.ScreenLine    `json:"lines"`
	Blocks []map[string]doc.Block `json:"blocks"`
	Next   []map[string]doc.Block `json:"next"`
}

func newListed(d report.Choose, p *plants.Planting) listed {
	return listed{report.Plain(strings.Join(d.Advice(), " ")), report.NewScreenLines(d, p), doc.JSON(d.Blocks), doc.JSON(d.Next)}
}

// figures works out all but the places of a draft, keeping what the old model
// has that did not change.
func (w *worker) figures(ctx context.Context, old *model, d draft, units zones.Units, version int) (*model, error) {
	if err := w.begin(ctx, "file"); err != nil {
		return nil, err
	}
	g, err := zones.ReadGarden("garden.yaml", strings.NewReader(d.garden))
	if err != nil {
		return nil, err
	}
	if err := plants.NameWishes(g, w.s.garden.Table); err != nil {
		return nil, err
	}
	if units != "" {
		g.Units = units
	}
	m := &model{version: version, units: units, draft: d}
	if old != nil {
		m.placed, m.placedV = old.placed, old.placedV
	}
	if err := w.begin(ctx, "record"); err != nil {
		return nil, err
	}
	if m.record, err = w.weather(old, g); err != nil {
		return nil, err
	}
	lot, err := zones.Prepare(g, m.record)
	if err != nil {
		return nil, err
	}
	drawn := draws(old, lot)
	if err := w.begin(ctx, "water"); err != nil {
		return nil, err
	}
	if err := w.expose(old, m, lot); err != nil {
		return nil, err
	}
	if err := lot.NeedDrain(); err != nil && d.planted == "" {
		return nil, err
	}
	if err := w.begin(ctx, "list"); err != nil {
		return nil, err
	}
	if err := w.list(ctx, old, m, report.NewGarden(g, w.s.garden.Folder == "")); err != nil {
		return nil, err
	}
	m.plan = <-drawn
	return m, ctx.Err()
}

// weather reads the record, or keeps it where the file asks for the same.
func (w *worker) weather(old *model, g *zones.Garden) (*site.Record, error) {
	if old != nil {
		before := old.judge.Exposure.Lot.Garden
		if fmt.Sprint(before.Site.LatitudeDeg, before.Site.LongitudeDeg) == fmt.Sprint(g.Site.LatitudeDeg, g.Site.LongitudeDeg) && fmt.Sprintf("%+v", before.Weather) == fmt.Sprintf("%+v", g.Weather) {
			return old.record, nil
		}
	}
	rec, err := g.ReadWeather(func(name string, take func(string, io.Reader) error) error {
		file, err := plainfile.Open(w.s.garden.Files, name, name)
		if err != nil {
			return err
		}
		defer file.Close()
		return take(name, file)
	})
	if errors.Is(err, fs.ErrNotExist) && !g.Weather.FromClimate() {
		return nil, &zones.NoRecordError{File: g.Weather.File}
	}
	return rec, err
}

// expose runs the water, or takes the run over where nothing in it changed.
func (w *worker) expose(old, m *model, lot *zones.Lot) error {
	if err := lot.NeedSun(); err != nil {
		return err
	}
	var known *zones.Exposure
	if old != nil {
		known = old.judge.Exposure
	}
	e, err := lot.ExposeAgain(known)
	if err != nil {
		return err
	}
	if known != nil && known.Run == e.Run {
		m.judge = old.judge.Over(e)
		m.live = &live{old.live.mu, old.live.judge.Over(e)}
	} else {
		m.judge, m.live = plants.NewJudge(e), &live{new(sync.Mutex), plants.NewJudge(e)}
	}
	return nil
}

// draws draws the ground beside other work, or keeps the drawing where nothing
// in it changed; the result comes by the channel.
func draws(old *model, lot *zones.Lot) <-chan report.ScreenPlan {
	out := make(chan report.ScreenPlan, 1)
	if old != nil && old.judge.Exposure.Lot.Garden.Units == lot.Garden.Units && samePlan(old.judge.Exposure.Lot, lot) {
		out <- old.plan
		return out
	}
	go func() { out <- report.NewScreenPlan(lot) }()
	return out
}

// samePlan says whether the ground is drawn alike.
func samePlan(a, b *zones.Lot) bool {
	printed := func(l *zones.Lot) string {
		return fmt.Sprintf("%+v %+v %+v %+v", l.Bed.Spec(), l.Garden.Layout, l.Garden.Obstacles, l.Garden.Site.NorthDeg)
	}
	return printed(a) == printed(b)
}

// list makes the planting list and words it all.
func (w *worker) list(ctx context.Context, old, m *model, head report.Garden) error {
	table := w.s.garden.Table
	m.judge.Stop = func() bool { return ctx.Err() != nil }
	planting, err := plants.Choose(m.judge, table)
	if err != nil {
		return err
	}
	if err := errors.Join(planting.WeighLayers(), planting.TryChanges(table)); err != nil {
		return err
	}
	e := m.judge.Exposure
	performance, err := e.Perform()
	if err != nil {
		return err
	}
	bed, zonesDoc := report.NewBasin(head, e.Lot, performance, nil, nil), report.NewZones(head, e)
	chosen := report.NewChoose(head, table.Name, planting, e.Lot.Checks(performance))
	m.verdict = func(placed *plants.Placed) report.ScreenVerdict {
		return report.NewScreenVerdict(bed, chosen, planting, placed, m.draft.planted != "")
	}
	m.words = figures{
		Verdict: m.verdict(nil),
		Bed:     doc.JSON(bed.Blocks), Short: bed.Short, Record: report.RecordWords(zonesDoc.Record, head.Units),
		Year:  doc.JSON([]doc.Block{report.Climate(head, e.Record, e.Lot.Garden.Site.LatitudeDeg)}),
		Zones: doc.JSON(zonesDoc.Blocks), List: newListed(chosen, planting),
		Standing: []report.ScreenStanding{}, Places: doc.JSON(nil),
	}
	if in := report.NewInlets(e.Lot); in != nil {
		m.words.Way = in.Blocks
	}
	if old != nil {
		m.words.Standing, m.words.Places, m.words.Kinds, m.words.Drifts, m.words.Views = old.words.Standing, old.words.Places, old.words.Kinds, old.words.Drifts, old.words.Views
	}
	m.placed = &plants.Placed{Planting: planting}
	if old != nil && old.placed != nil {
		keep := *old.placed
		keep.Planting = planting
		m.placed = &keep
	}
	return nil
}

// places gives every plant its place, round those that stand already.
func (w *worker) places(ctx context.Context, m *model) (*model, error) {
	if err := w.begin(ctx, "places"); err != nil {
		return nil, err
	}
	table := w.s.garden.Table
	standing, err := m.draft.standing()
	if err != nil {
		return nil, err
	}
	judge := m.judge.Over(m.judge.Exposure)
	judge.Stop = func() bool { return ctx.Err() != nil }
	early := func(first *plants.Placed) { w.show(ctx, m.version, w.withPlaces(m, first, false), nil) }
	placed, err := plants.PlaceEarly(judge, m.placed.Planting, table, w.s.grownOf(standing), early)
	if err != nil {
		return nil, err
	}
	if err := w.begin(ctx, ""); err != nil {
		return nil, err
	}
	return w.withPlaces(m, placed, true), nil
}

// withPlaces is a model with the places of its plants.
func (w *worker) withPlaces(m *model, placed *plants.Placed, final bool) *model {
	out := *m
	out.placed, out.placedV, out.final = placed, m.version, final
	head := report.NewGarden(m.judge.Exposure.Lot.Garden, w.s.garden.Folder == "")
	set := report.NewPlace(head, placed, "")
	out.words.Verdict, out.words.Standing, out.words.Places = m.verdict(placed), report.NewScreenStanding(set, placed), doc.JSON(nil)
	out.words.Kinds, out.words.Drifts = report.NewScreenKinds(head, placed)
	out.words.Views = report.NewScreenViews(placed)
	if final { // how good it is says a comparison with chance
		out.words.Places = doc.JSON(set.Blocks)
	}
	return &out
}

// standing reads the plants that stand already.
func (d draft) standing() ([]placement.Planted, error) {
	if d.planted == "" {
		return nil, nil
	}
	rows, _, err := placement.ReadPlanted("planted.csv", bytes.NewReader([]byte(d.planted)))
	return rows, err
}
