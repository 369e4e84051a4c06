package plants

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"time"

	"hollowbed/plants/care"
	"hollowbed/plants/catalogue"
	"hollowbed/plants/fit"
	"hollowbed/plants/moves"
	"hollowbed/plants/placement"
	"hollowbed/plants/season"
)

// What a plan reckons with beside the losses. Assumptions, no source, all of them.
const (
	// discardShare is what throwing a living plant away costs, as a share of what it
	// is worth.
	discardShare = 0.10
	// newShare is what a new plant of the median price costs, as a share of its
	// ground, and newYoung that
	// it may not take; that it bears less in its first year is in its loss.
	newShare, newYoung = 0.15, 0.05
	// mostNew is how many species are looked at for a place in each zone, those
	// that a zone is least hard on.
	mostNew = 300
)

// relocation is a problem of package moves being made. Costs are money, in the
// currency of the plant table: work at what an hour is worth, and a plant at its price
// times the chance to lose it over the seasons looked at, wherever it stands. So
//
//	cost of plant i at place p = v_i (loss + disturbance + k doubt) + (1 + moveMargin) work
//	... where it stands        = the least of v_i loss, of water and of a new plant there (atHome)
//	... taken out              = v_i (1 + discardShare) + k doubt
//	v_i = price x seasons x struggleLoss
//
// No place over the accepted yearly risk. What a new plant keeps of a place that is
// free is weighed in ground, as its area a (1 - loss - newYoung - newShare price /
// median price).
//
// Only a plant that was seen to struggle is replaced or taken out, and one of
// which nobody wrote down how it does, or why it struggles is not clear yet, is
// moved only to make room: for it, loss at p is at least that where it stands. A
// place that is left costs nothing, and what could be planted there counts for
// nothing: else plants that do well would be moved about to make room for
// purchases. New plants are named for such places all the same.
type relocation struct {
	in        MoveInput
	plants    []standing
	vacant    []placement.Kept
	died      []placement.Kept // vacant, and where plants died before
	rooms     []placement.Room
	spots     []Spot
	problem   moves.Problem
	best      []NewPlant // for each place
	prospects map[prospectKey]*season.Prospect
	outlooks  map[movedKey]prospectAt
	new       map[string][]candidate // by zone
	newAt     map[outlookKey]season.Outlook
	watering  map[[2]string]float64 // minutes a year, by plant and zone
	careBed   *care.Bed
	notes     []string
}

// standing is a plant that stands and that a plan is made for.
type standing struct {
	row      placement.Planted
	plant    catalogue.Plant
	prospect *season.Prospect
	planted  time.Time
	moved    time.Time // last; zero if never
	cause    season.Diagnosis
	when     window
	how      Lifting
	judged   bool
	noted    bool // somebody wrote down how it does
	unknown  []string
	disturb  float64  // chance that the move itself costs it a season
	loss     float64  // where it stands, of the plant itself
	answers  *Answers // but for the move; nil if it does not struggle
	renewed  bool     // if it stays in its place, a new plant is better there
	newDoubt float64  // that counts against the new plant
}

// struggles says whether the plant was seen to, and why is no longer open. No
// other is thrown away, however little is expected of its place.
func (s *standing) struggles() bool {
	return s.cause.Case.Plant != "" && s.cause.Struggles() && !s.cause.Wait && s.cause.Accident == ""
}

// waits says whether it is too early to tell why the plant struggles, or an
// accident did it, which no other place would mend.
func (s *standing) waits() bool {
	return s.cause.Struggles() && (s.cause.Wait || s.cause.Accident != "")
}

// prospectKey names what the prospect of a plant depends on, movedKey what its
// outlook does at some place, and outlookKey that of a new plant.
type (
	prospectKey struct {
		id    string
		bears season.Bearing
	}
	movedKey struct {
		prospect         *season.Prospect
		homeBand, band   int
		homeSunH, placeH float64
	}
	outlookKey struct {
		plant, band int
		sun         float64
	}
)

func newRelocation(in MoveInput) (*relocation, error) {
	if in.Seasons == 0 {
		in.Seasons = usualSeasons
	}
	r := &relocation{in: in, prospects: map[prospectKey]*season.Prospect{}, outlooks: map[movedKey]prospectAt{}, new: map[string][]candidate{}, newAt: map[outlookKey]season.Outlook{}, watering: map[[2]string]float64{}}
	switch {
	case in.Caution == 0:
		r.problem.Caution = 1
	case in.Caution > 0:
		r.problem.Caution = in.Caution
	}
	r.gather()
	if err := r.layRooms(); err != nil {
		return nil, err
	}
	r.weigh()
	for q := range r.rooms {
		r.best = append(r.best, r.bestNew(q))
	}
	for i := range r.plants {
		r.atHome(i)
	}
	return r, nil
}

// gather takes up the plants that stand in the bed, and the places of the dead.
func (r *relocation) gather() {
	j := r.in.Judge
	climate := newClimate(j.Exposure.Lot)
	for _, row := range r.in.Standing {
		if _, inside := j.SpotAt(row.X, row.Y); !inside {
			r.notes = append(r.notes, fmt.Sprintf("%s stands outside the bed and is left alone", row.Stake))
			continue
		}
		kept := Standing([]placement.Planted{row}, r.in.Catalogue)[0]
		s := standing{row: row, cause: r.diagnosis(row.Stake)}
		s.noted = s.cause.Case.Plant != "" || season.SameStake(row.Stake, r.in.asked)
		if r.dead(s) {
			r.vacant = append(r.vacant, kept)
			continue
		}
		s.plant, s.judged = r.in.Catalogue.ByID(row.ID)
		if !s.judged {
			s.plant = catalogue.Plant{ID: row.ID, VernacularName: row.ID, SpreadCM: math.NaN(), RootCM: math.NaN()}
		}
		if t, err := time.ParseInLocation(time.DateOnly, row.Planted, r.in.On.Location()); err == nil {
			s.planted = t
		}
		if k := slices.IndexFunc(r.in.Stands, func(o season.Standing) bool { return season.SameStake(o.Stake, row.Stake) }); k >= 0 {
			if stays := r.in.Stands[k].Stays; len(stays) > 1 {
				s.moved = stays[len(stays)-1].From
			}
		}
		key := prospectKey{row.ID, r.bearing(row.Stake, s.plant)}
		if s.prospect = r.prospects[key]; s.prospect == nil {
			s.prospect = r.in.Model.Prospect(key.bears, fit.DefaultPredictor(), max(1, len(j.Exposure.Whole)))
			r.prospects[key] = s.prospect
		}
		s.when = climate.window(s.plant, r.in.On)
		s.how = lifting(j.Exposure.Lot, s.plant, kept.SpreadCM, s.planted, s.when.From)
		r.plants = append(r.plants, s)
	}
	if j.Exposure.Lot.Garden.Site.LatitudeDeg < 0 {
		r.notes = append(r.notes, "flower months are those of the plant table: if it comes from the north, they are half a year out here, and so are the months to move in")
	}
	if climate.seasons.Assumed {
		r.notes = append(r.notes, "the record has no temperatures: the months to move in go by the latitude alone")
	}
}

// diagnosis is the last one of a plant; none has no plant in its case.
func (r *relocation) diagnosis(stake string) season.Diagnosis {
	var last season.Diagnosis
	for _, d := range r.in.Diagnoses {
		if season.SameStake(d.Case.Plant, stake) && !d.Case.To.Before(last.Case.To) {
			last = d
		}
	}
	return last
}

// dead says whether a plant is: it is named so, or was last seen to be.
func (r *relocation) dead(s standing) bool {
	return slices.ContainsFunc(r.in.Dead, func(d string) bool { return season.SameStake(d, s.row.Stake) }) || s.cause.Case.Dead()
}

// bearing is what is believed of what a plant bears: by its own notes if it has
// any, else by its species and garden.
func (r *relocation) bearing(stake string, p catalogue.Plant) season.Bearing {
	if r.in.Learned != nil {
		if b, ok := r.in.Learned.Bearing(r.in.Garden, strings.ToUpper(stake)); ok {
			return b.After
		}
	}
	return r.speciesBearing(p)
}

// speciesBearing is theta + eta - gamma with eta not known.
func (r *relocation) speciesBearing(p catalogue.Plant) season.Bearing {
	var c season.Case
	for l, limit := range season.Limits() {
		c.Assumed[l] = slices.Contains(p.Assumed, limit.Column())
	}
	if r.in.Learned == nil {
		return r.in.Model.Unlearned(c)
	}
	return r.in.Learned.Expect(r.in.Model, r.in.Garden, p.ID, c.Assumed)
}

// layRooms finds the places: those of the plants, of the dead, and ground
// between them.
func (r *relocation) layRooms() error {
	var rows []placement.Planted
	for _, s := range r.plants {
		rows = append(rows, s.row)
	}
	p := r.in.Judge.roomsBeside(Standing(rows, r.in.Catalogue))
	var spreads []float64
	for _, k := range p.Kept {
		spreads = append(spreads, k.SpreadCM)
	}
	slices.Sort(spreads)
	var middle, widest float64
	if len(spreads) > 0 {
		middle, widest = spreads[len(spreads)/2], spreads[len(spreads)-1]
	}
	r.died = slices.Concat(r.vacant, Standing(r.in.Failed, r.in.Catalogue))
	var err error
	r.rooms, err = placement.Rooms(p, r.vacant, middle, widest, mostBetween(len(r.plants)))
	for _, room := range r.rooms {
		spot, _ := r.in.Judge.SpotAt(room.X, room.Y)
		r.spots = append(r.spots, spot)
	}
	return err
}

// mostBetween is how many free places between plants are looked at, so that an
// empty bed does not make a hundred of them. They hold at least the middle one of
// the plants.
func mostBetween(plants int) int {
	if plants == 0 {
		return 0
	}
	return 6 + plants/4
}

// weigh fills in the plants, their losses and their doubts.
func (r *relocation) weigh() {
	n := len(r.rooms)
	p := &r.problem
	for _, room := range r.rooms {
		p.Places = append(p.Places, moves.Place{RoomCM: room.SpreadCM + 1e-6})
	}
	p.Loss, p.Doubt = make([]float64, len(r.plants)*n), make([]float64, len(r.plants)*n)
	like, most := r.spotsAlike(), r.in.Judge.Exposure.Lot.Garden.Wishes.YearlyRiskMax
	for i := range r.plants {
		s := &r.plants[i]
		kept := Standing([]placement.Planted{s.row}, r.in.Catalogue)[0]
		worth := float64(r.in.Seasons) * atRisk(s.plant)
		own := r.outlook(i, i)
		s.judged = s.judged && !math.IsNaN(own.YearlyRisk)
		s.unknown = r.in.Judge.unknown(&s.plant, r.spots[i].Zone)
		s.disturb = r.disturb(s)
		work := (1 + moveMargin) * r.pay(s.how.minutes())
		w := moves.Plant{Stake: s.row.Stake, At: i, SpreadCM: kept.SpreadCM, Weight: worth, GiveUp: math.Inf(1), Disturb: steady(s.disturb/float64(r.in.Seasons) + work/worth)}
		if s.judged && s.struggles() {
			w.GiveUp = worth * (1 + discardShare)
			w.GiveUpDoubt = steady(worth * own.Doubt())
		}
		p.Plants = append(p.Plants, w)
		roomOnly := (!s.noted || s.waits() && !season.SameStake(s.row.Stake, r.in.asked)) && !r.in.Unnoted
		for q := range r.rooms {
			k, first := i*n+q, i*n+like[q]
			switch {
			case first < k:
				p.Loss[k], p.Doubt[k] = p.Loss[first], p.Doubt[first]
			case !s.judged || len(r.in.Judge.unknown(&s.plant, r.spots[q].Zone)) > 0:
				p.Loss[k] = math.Inf(1)
			default:
				there := r.outlook(i, q)
				if p.Loss[k], p.Doubt[k] = steady(there.moved), steady(there.doubt); roomOnly {
					p.Loss[k] = max(p.Loss[k], steady(own.stay)) // no gain of its own
				}
				if !(there.YearlyRisk <= most) {
					p.Loss[k] = math.Inf(1)
				}
			}
		}
		for q := range r.rooms { // not where its kind died
			if q != i && r.failed(s.plant, q) {
				p.Loss[i*n+q] = math.Inf(1)
			}
		}
		p.Loss[i*n+i], p.Doubt[i*n+i] = 0, 0
		if s.judged {
			p.Loss[i*n+i], p.Doubt[i*n+i] = steady(own.stay), steady(own.doubt)
		}
	}
}

// spotsAlike names for each place the first at which every plant fares as there.
func (r *relocation) spotsAlike() []int {
	type kind struct {
		zone string
		band int
		sun  uint64
	}
	first, like := map[kind]int{}, make([]int, len(r.spots))
	for q, s := range r.spots {
		k := kind{s.Zone, s.Band, math.Float64bits(s.SunH)}
		if _, ok := first[k]; !ok {
			first[k] = q
		}
		like[q] = first[k]
	}
	return like
}

// prospectAt is what is to be expected of a plant at a place.
type prospectAt struct {
	season.Outlook
	stay, moved float64 // share of the seasons looked at in which it struggles, if it stands there or is moved there
	doubt       float64 // by how much it may turn out for the worse to move it there
}

// outlook is that of a plant at a place; plants and places alike share one.
func (r *relocation) outlook(i, place int) prospectAt {
	s, spot, home := &r.plants[i], r.spots[place], r.spots[i]
	key := movedKey{s.prospect, home.Band, spot.Band, home.SunH, spot.SunH}
	o, ok := r.outlooks[key]
	if !ok {
		o.Outlook = r.in.Judge.outlook(s.prospect, s.plant, spot)
		o.stay, o.moved = o.YearlyRisk, o.LossMoved(r.in.Seasons)
		if spot.Band != home.Band || spot.SunH != home.SunH {
			o.doubt = r.outlook(i, i).Harm(o.Outlook, r.in.Seasons)
		} else {
			o.doubt = o.Harm(o.Outlook, r.in.Seasons)
		}
		r.outlooks[key] = o
	}
	return o
}

// outlook looks ahead for a plant at a place.
func (j *Judge) outlook(p *season.Prospect, plant catalogue.Plant, s Spot) season.Outlook {
	return outlookIn(j.bed, p, plant, s)
}

func outlookIn(bed *fit.Bed, p *season.Prospect, plant catalogue.Plant, s Spot) season.Outlook {
	f := bed.InBand(plant, s.Band, s.SunH)
	return p.At(f.ByYear, plant.SunMinH-s.SunH, s.SunH-plant.SunMaxH)
}
