package page

import (
	"net/http"
	"slices"
	"strings"

	"hollowbed/cmd/hollowbed/doc"
	"hollowbed/cmd/hollowbed/report"
	"hollowbed/plants"
	"hollowbed/plants/catalogue"
	"hollowbed/plants/placement"
)

// What can be asked without changing anything.

// spotIn is a place of the bed, m in the coordinates of the outline.
type spotIn struct {
	XM float64 `json:"x_m"`
	YM float64 `json:"y_m"`
}

// farM bounds what is asked of a plan: no bed is so large.
const farM = 1e4

func (p spotIn) check() error {
	if !(p.XM > -farM && p.XM < farM && p.YM > -farM && p.YM < farM) {
		return wrong("x_m", "", "want a place near the bed, in metres")
	}
	return nil
}

type placeOut struct {
	report.ScreenPlace
	Standing []string `json:"standing"`
}

func (s *session) place(_ *http.Request, in spotIn) (out placeOut, err error) {
	if err := in.check(); err != nil {
		return out, err
	}
	m := s.now()
	out.Standing, out.Lives, out.Words = []string{}, []report.ScreenNext{}, report.OutsideBed
	m.live.with(func(j *plants.Judge) {
		if spot, ok := j.SpotAt(in.XM, in.YM); ok {
			out.ScreenPlace = report.NewScreenPlace(j.Exposure, spot, j.AllAt(s.garden.Table, spot))
		}
	})
	if m.placed.Result != nil {
		out.Standing = append(out.Standing, m.placed.Reaching(in.XM, in.YM)...)
	}
	return out, nil
}

type riskIn struct {
	Stake string `json:"stake"`
	ID    string `json:"id"`
	spotIn
}

func (s *session) risk(_ *http.Request, in riskIn) (report.ScreenDrag, error) {
	if err := in.check(); err != nil {
		return report.ScreenDrag{}, err
	}
	m := s.now()
	id := in.ID
	var stands *placement.Standing
	if in.Stake != "" {
		if stands = m.standing(in.Stake); stands == nil {
			return report.ScreenDrag{}, &failure{status: http.StatusUnprocessableEntity, Words: "No plant stands at stake " + report.Plain(in.Stake) + " now."}
		}
		id = stands.ID
	}
	p, err := s.plantNamed(id)
	if err != nil {
		return report.ScreenDrag{}, err
	}
	out := report.ScreenDrag{Stake: in.Stake, ID: p.ID, Name: report.Plain(p.VernacularName), Reason: report.OutsideBed, Clash: []string{}}
	m.live.with(func(j *plants.Judge) {
		spot, ok := j.SpotAt(in.XM, in.YM)
		if !ok {
			out.Risk, out.Level = "no place for a plant", "unknown"
			return
		}
		var before *plants.Verdict
		if stands != nil {
			if here, ok := j.SpotAt(stands.X, stands.Y); ok {
				v := j.At(p, here)
				before = &v
			}
		}
		out = report.NewScreenDrag(j.Exposure.Lot.Garden, spot, j.At(p, spot), before)
		out.Stake = in.Stake
	})
	if out.Inside {
		out.Clash = append(out.Clash, m.clashes(in.Stake, p, in.XM, in.YM)...)
	}
	return out, nil
}

// standing finds a plant by its stake; nil if none stands there.
func (m *model) standing(stake string) *placement.Standing {
	if m.placed.Result == nil {
		return nil
	}
	for i, s := range m.placed.Result.Plants {
		if strings.EqualFold(s.Stake, stake) {
			return &m.placed.Result.Plants[i]
		}
	}
	return nil
}

// clashes words what a plant would be too near to at a place.
func (m *model) clashes(stake string, p catalogue.Plant, x, y float64) []string {
	if m.placed.Result == nil {
		return nil
	}
	stakes, grounds := m.placed.Crowds(m.judge.Exposure.Lot, stake, p.SpreadCM, x, y)
	return report.CrowdWords(stakes, grounds)
}

type idIn struct {
	ID string `json:"id"`
}

// plantOut is a plant's card: its blocks, and what they say in a line.
type plantOut struct {
	ID       string                 `json:"id"`
	Name     string                 `json:"name"`
	Says     string                 `json:"says"`
	Blocks   []map[string]doc.Block `json:"blocks"`
	Wish     string                 `json:"wish"`
	Standing []string               `json:"standing"`
}

func (s *session) plantNamed(id string) (catalogue.Plant, error) {
	p, ok := s.garden.Table.ByID(id)
	if !ok {
		return p, &failure{status: http.StatusUnprocessableEntity, Words: "The plant table has no such plant.", Faults: []fault{{Key: "id", Value: report.Plain(id), Want: "want the id of a plant in the table" + near(s.garden.Table.Near(id))}}}
	}
	return p, nil
}

func (s *session) plant(_ *http.Request, in idIn) (plantOut, error) {
	card, err := s.card(in.ID)
	if err != nil {
		return plantOut{}, err
	}
	m := s.now()
	out := plantOut{ID: card.ID, Name: report.Plain(card.VernacularName), Says: card.Says(), Blocks: doc.JSON(card.Card), Standing: []string{}}
	w := m.judge.Exposure.Lot.Garden.Wishes
	switch {
	case slices.Contains(w.Wanted, in.ID):
		out.Wish = "wanted"
	case slices.Contains(w.Unwanted, in.ID):
		out.Wish = "unwanted"
	}
	for _, p := range m.words.Standing {
		if p.ID == in.ID {
			out.Standing = append(out.Standing, p.Stake)
		}
	}
	return out, nil
}

// card words a plant in every zone.
func (s *session) card(id string) (out report.Why, err error) {
	p, err := s.plantNamed(id)
	if err != nil {
		return out, err
	}
	m := s.now()
	m.live.with(func(j *plants.Judge) {
		out = report.NewWhy(report.NewGarden(j.Exposure.Lot.Garden, s.garden.Folder == ""), j.Exposure, j.Everywhere(p))
	})
	return out, nil
}

type pairIn struct {
	A string `json:"a"`
	B string `json:"b"`
}

type pairOut struct {
	Names  [2]string              `json:"names"`
	Blocks []map[string]doc.Block `json:"blocks"`
}

func (s *session) compare(_ *http.Request, in pairIn) (out pairOut, err error) {
	a, err := s.card(in.A)
	if err != nil {
		return out, err
	}
	b, err := s.card(in.B)
	if err != nil {
		return out, err
	}
	return pairOut{[2]string{report.Plain(a.VernacularName), report.Plain(b.VernacularName)}, doc.JSON(report.Pair(a, b))}, nil
}
