package page

import (
	"errors"
	"fmt"
	"io/fs"
	"net/http"
	"strings"
	"sync"
	"time"

	"hollowbed/cmd/hollowbed/plainfile"
	"hollowbed/cmd/hollowbed/report"
	"hollowbed/cmd/hollowbed/store"
	"hollowbed/plants"
	"hollowbed/plants/placement"
	"hollowbed/plants/season"
	"hollowbed/zones"
)

// notes remembers what was made of the notes last.
type notes struct {
	mu    sync.Mutex
	key   string
	known weighed
}

// weighed is what the notes on the plants that stand mean.
type weighed struct {
	in   report.MoveIn
	rows []placement.Planted
	rec  *season.Notes
}

// grown are the files that tell what stands and what was noted of it.
func (s *session) grown() fs.FS {
	if s.garden.Grown != nil {
		return s.garden.Grown
	}
	return s.garden.Files
}

// readGrown reads a file of grown; "" for none.
func readGrown(files fs.FS, name string) (string, error) {
	most := int64(placement.MaxBytes)
	if name == "season.csv" {
		most = season.MaxBytes
	}
	text, err := plainfile.Read(files, name, most)
	if errors.Is(err, fs.ErrNotExist) {
		return "", nil
	}
	return string(text), err
}

// today is the day at the garden.
func (s *session) today(m *model) time.Time {
	if !s.garden.On.IsZero() {
		return s.garden.On
	}
	return season.Midnight(s.garden.Now().In(m.judge.Exposure.Lot.Garden.Site.Location))
}

// weigh replays the seasons of the plants that stand on disk, learns from the
// notes, and plans the moves, or remembers all that.
func (s *session) weigh() (weighed, error) {
	m := s.now()
	files := store.AtOnce(s.grown())
	planted, err := readGrown(files, "planted.csv")
	if err != nil {
		return weighed{}, err
	}
	noted, err := readGrown(files, "season.csv")
	if err != nil {
		return weighed{}, err
	}
	on := s.today(m)
	s.notes.mu.Lock()
	defer s.notes.mu.Unlock()
	key := fmt.Sprintf("%d %s\x00%s\x00%s", m.version, on.Format(time.DateOnly), planted, noted)
	if key == s.notes.key {
		return s.notes.known, nil
	}
	w := weighed{in: report.MoveIn{Exposure: m.judge.Exposure, Plants: s.garden.Table, Signs: s.garden.Signs, On: on}}
	if w.rows, err = (draft{planted: planted}).standing(); err != nil {
		return w, unprocessable(err)
	}
	if w.rec, err = recordOf(noted); err != nil {
		return w, unprocessable(err)
	}
	if err := w.plan(); err != nil {
		return w, err
	}
	for _, f := range placement.Unlikely("planted.csv", w.rows, m.judge.Exposure.Lot.Garden.Outline(), s.garden.Now()) {
		w.in.Notes = append(w.in.Notes, f.String())
	}
	if w.rec.Torn != nil {
		w.in.Notes = append(w.in.Notes, w.rec.Torn.String())
	}
	s.notes.key, s.notes.known = key, w
	return w, nil
}

// recordOf reads the text of season.csv, "" for none.
func recordOf(text string) (*season.Notes, error) {
	if text == "" {
		return &season.Notes{}, nil
	}
	return season.Read("season.csv", strings.NewReader(text))
}

// grownOf tells what grows already, by season.csv. The demo is planted anew each
// time. What is wrong with the file is told where notes are asked for.
func (s *session) grownOf(rows []placement.Planted) plants.Grown {
	rec := s.noted()
	if rec == nil {
		return plants.Grown{Kept: plants.Standing(rows, s.garden.Table)}
	}
	return plants.GrownOf(rows, rec, s.garden.Table)
}

// noted reads season.csv of a garden; nil for the demo, and where it cannot be read.
func (s *session) noted() *season.Notes {
	if s.garden.Grown != nil {
		return nil
	}
	text, err := readGrown(s.grown(), "season.csv")
	if err != nil {
		return nil
	}
	rec, err := recordOf(text)
	if err != nil {
		return nil
	}
	return rec
}

// unprocessable says that a file of the garden cannot be read as it is.
func unprocessable(err error) error {
	return &failure{status: http.StatusUnprocessableEntity, Words: "A file of the garden cannot be read as it is: " + report.Plain(err.Error())}
}

// plan does the work of weigh.
func (w *weighed) plan() error {
	if len(w.rows) == 0 {
		return nil
	}
	input, err := w.in.Weigh("this garden", plants.NewJudge(w.in.Exposure), w.rows, w.rec)
	if err != nil {
		return err
	}
	w.in.Plan, err = plants.Relocate(input)
	return err
}

func (s *session) head() report.Garden {
	return report.NewGarden(s.now().judge.Exposure.Lot.Garden, s.garden.Folder == "")
}

// photo serves a photograph of the garden.
func (s *session) photo(w http.ResponseWriter, r *http.Request) {
	if s.garden.Photo == nil {
		refuse(w, notFound(r))
		return
	}
	picture, kind, err := s.garden.Photo(r.PathValue("name"))
	if err != nil { // whatever stands there instead is nobody's business
		refuse(w, notFound(r))
		return
	}
	w.Header().Set("Content-Type", kind)
	w.Write(picture)
}

func (s *session) season() (out report.Season, err error) {
	w, err := s.weigh()
	if err != nil {
		return out, err
	}
	return report.NewSeason(s.head(), w.in, w.rows, w.rec), nil
}

// gives answers a GET with a document.
func gives[Out any](work func() (Out, error)) http.HandlerFunc {
	return func(w http.ResponseWriter, _ *http.Request) {
		out, err := work()
		if err != nil {
			refuse(w, err)
			return
		}
		answer(w, http.StatusOK, out)
	}
}

type noteIn struct {
	Stake    string   `json:"stake"`
	Drift    string   `json:"drift"` // in place of a stake, with
	Count    string   `json:"count"` // how many of its plants
	Date     string   `json:"date"`
	Vigour   *int     `json:"vigour"`
	Signs    []string `json:"signs"`
	Remark   string   `json:"remark"`
	Pond     string   `json:"pond"`
	Sun      string   `json:"sun"`
	Corrects int      `json:"corrects"`
	Strike   int      `json:"strike"`
}

// note adds an entry to season.csv. Notes are written at once: they are a
// diary, in which nothing is ever written over.
func (s *session) note(_ *http.Request, in noteIn) (out report.Season, err error) {
	if s.garden.Change == nil {
		return out, demoStays()
	}
	w, err := s.weigh()
	if err != nil {
		return out, err
	}
	entries, err := s.entries(in, w)
	if err != nil {
		return out, err
	}
	unlock, err := s.garden.Lock()
	if err != nil {
		return out, err
	}
	defer unlock()
	old, err := readGrown(s.grown(), "season.csv")
	if err != nil {
		return out, err
	}
	text, _, err := season.Append("season.csv", []byte(old), entries)
	if err != nil {
		return out, unprocessable(err)
	}
	if err := s.garden.Change(store.Change{Name: "season.csv", Before: s.held("season.csv", old), After: text}); err != nil {
		return out, err
	}
	s.mu.Lock()
	s.ring()
	s.mu.Unlock()
	return s.season()
}

// held is the text of a file as Change takes it: nil for no file, which a file
// without anything in it is not.
func (s *session) held(name, text string) []byte {
	if text == "" {
		if _, err := fs.Stat(s.garden.Files, name); errors.Is(err, fs.ErrNotExist) {
			return nil
		}
	}
	return []byte(text)
}

// entries makes the entries that are asked for, each fault beside its field: one
// of a plant, or what was seen of the bed itself.
func (s *session) entries(in noteIn, w weighed) ([]season.Entry, error) {
	day, want := w.in.On, ""
	if in.Date != "" {
		if day, want = season.ParseDay(in.Date); want == "" && season.Ahead(day, w.in.On) {
			want = season.LiesAhead
		}
		if want != "" {
			return nil, wrong("date", report.Plain(in.Date), want)
		}
	}
	if in.Pond+in.Sun == "" {
		e, err := s.entry(in, w, day)
		return []season.Entry{e}, err
	}
	if in.Stake+in.Drift != "" || in.Corrects+in.Strike != 0 {
		return nil, wrong("stake", report.Plain(in.Stake+in.Drift), "expected what was seen of the bed by itself, without a plant or another note")
	}
	entries, of, want := season.Watch(day, in.Pond, in.Sun, strings.TrimSpace(in.Remark), zones.ParseDepthMM)
	if want != "" {
		return nil, wrong(of, report.Plain(map[string]string{"pond": in.Pond, "sun": in.Sun}[of]), report.Plain(want))
	}
	return entries, nil
}

func (s *session) entry(in noteIn, w weighed, day time.Time) (season.Entry, error) {
	if in.Strike != 0 {
		e, ok := w.rec.Strike(in.Strike, day)
		if !ok {
			return e, wrong("strike", fmt.Sprint(in.Strike), "want the number of a note")
		}
		return e, once(w.rec, "strike", in.Strike)
	}
	if err := once(w.rec, "corrects", in.Corrects); err != nil {
		return season.Entry{}, err
	}
	e := season.NewEntry(day, "", season.Seen)
	e.Remark, e.Corrects = strings.TrimSpace(in.Remark), in.Corrects
	if grow := w.rec.Drift(w.rows, in.Drift); in.Drift != "" && in.Stake == "" {
		if len(grow) == 0 {
			return e, wrong("drift", report.Plain(in.Drift), "expected a drift of which plants grow")
		}
		if want := e.AboutSome(grow, strings.TrimSpace(in.Count)); want != "" {
			return e, wrong("count", report.Plain(in.Count), want)
		}
	} else if row, grows := season.Grows(w.rows, in.Stake); grows {
		e.Stake = row.Stake
	} else {
		return e, wrong("stake", report.Plain(in.Stake), "want a stake of a plant that stands")
	}
	if in.Vigour != nil {
		if *in.Vigour < 0 || *in.Vigour > 5 {
			return e, wrong("vigour", fmt.Sprint(*in.Vigour), "want 0 to 5")
		}
		e.Vigour = *in.Vigour
	}
	var want string
	if e.Signs, e.Absent, want = season.SignsOf(in.Signs); want != "" {
		return e, wrong("signs", report.Plain(strings.Join(in.Signs, ", ")), want)
	}
	if err := e.Check(); err != nil {
		return e, wrong("remark", "", report.Plain(err.Error()))
	}
	return e, nil
}

// once refuses to correct a note a second time.
func once(rec *season.Notes, field string, number int) error {
	if by, found := rec.Replaced(number); found {
		return wrong(field, fmt.Sprint(number), fmt.Sprintf("note %d was corrected or taken back already, by note %d", number, by.Number))
	}
	return nil
}

func demoStays() error {
	return &failure{status: http.StatusUnprocessableEntity, Words: "This is the demo, which stays as it is. hollowbed start my-garden makes a garden of yours; hollowbed open --garden my-garden shows it."}
}
