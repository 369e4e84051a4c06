package season

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
	"time"
	"unicode/utf8"

	"hollowbed/plants/placement"
	"hollowbed/zones/basin"
	"hollowbed/zones/table"
)

// EntryKind says what a line of season.csv tells.
type EntryKind string

// The kinds of entries.
const (
	Seen    EntryKind = "seen"    // vigour and signs of a plant
	Watered EntryKind = "watered" // litres for one plant, a zone or all the bed
	Moved   EntryKind = "moved"   // the place is the one it stood at before
	Planted EntryKind = "planted" // the place is the one it was given
	Removed EntryKind = "removed" // the place is the one it stood at
	Struck  EntryKind = "struck"  // takes the entry back that it corrects
	Ponded  EntryKind = "pond"    // water that stood over the bottom
	Sunned  EntryKind = "sun"     // a zone that was in the sun, on a clear day
)

// entryKinds lists every kind.
func entryKinds() []EntryKind {
	return []EntryKind{Seen, Watered, Moved, Planted, Removed, Struck, Ponded, Sunned}
}

// allPlants stands for a stake where the whole bed is watered; the names of the
// zones stand for all that grows in them.
const allPlants = "all"

// Entry is one line of season.csv.
type Entry struct {
	Number   int // from 1; 0 for one that has none yet
	Date     time.Time
	Stake    string // in capitals; for Watered also a zone or allPlants; of a drift its letter
	Kind     EntryKind
	Vigour   int // 0 to 5; Unstated
	Signs    []Sign
	Absent   []Sign  // looked for, and not there
	WaterL   float64 // Watered; else NaN
	ID       string  // of the species: Moved, Planted, Removed; may be ""
	X, Y     float64 // place in metres: Moved, Planted, Removed; NaN if not stated
	PondMM   float64 // Ponded: depth at From; NaN if not stated
	LeftMM   float64 // Ponded: depth at To, 0 for gone by then; NaN if not stated
	From, To int     // Ponded, Sunned: minutes after midnight by the garden's clock; Unstated
	Remark   string  // in one line
	Photo    string  // file in the folder photos; "" for none
	Corrects int     // number of the entry that this one replaces; 0 for none
	Line     int     // of the file it was read from; not written

	Some, Of int      // of a drift: how many plants, of how many looked at (0: not said); 0 for one plant
	Among    []string // of a drift: the stakes of its plants on that day
	guessed  bool     // see Guess
	shared   bool     // put down from an entry on a drift
}

// NewEntry is an entry with nothing in it but when, where and what.
func NewEntry(date time.Time, stake string, kind EntryKind) Entry {
	e := Entry{
		Date: Midnight(date), Stake: stake, Kind: kind,
		Vigour: Unstated, WaterL: math.NaN(), X: math.NaN(), Y: math.NaN(),
		PondMM: math.NaN(), LeftMM: math.NaN(), From: Unstated, To: Unstated,
	}
	if e.Stake = e.zoneStake(); e.Stake == "" {
		e.Stake = strings.ToUpper(stake)
	}
	return e
}

// Midnight is the date of a moment as the record keeps it, in UTC.
func Midnight(t time.Time) time.Time {
	return time.Date(t.Year(), t.Month(), t.Day(), 0, 0, 0, 0, time.UTC)
}

// SameStake says whether two stakes name the same plant.
func SameStake(a, b string) bool { return strings.EqualFold(a, b) }

// entryColumns are the columns of season.csv in the order in which they are written.
func entryColumns() []string {
	return []string{"entry", "date", "stake", "kind", "vigour", "signs", "water_l", "id", "x_m", "y_m", "corrects", "remark", "pond_mm", "left_mm", "from", "to", countColumn, plantsColumn, photoColumn}
}

// photoColumn is the last of them.
const photoColumn = "photo_file"

// usualColumns are those that a new season.csv has whatever is noted.
const usualColumns = 12

// cells writes an entry.
func (e Entry) cells() map[string]string {
	out := map[string]string{
		"date": e.Date.Format(time.DateOnly), "stake": e.Stake, "kind": string(e.Kind),
		"signs": formatSigns(e.Signs, e.Absent), "water_l": figure(e.WaterL), "id": table.Guard(e.ID),
		"x_m": figure(e.X), "y_m": figure(e.Y), "remark": table.Guard(e.Remark),
		"entry": count(e.Number), "corrects": count(e.Corrects), "vigour": "",
		"pond_mm": figure(e.PondMM), "left_mm": figure(e.LeftMM), "from": Clock(e.From), "to": Clock(e.To), photoColumn: e.Photo,
		countColumn: e.HowMany(), plantsColumn: strings.Join(e.Among, " "),
	}
	if e.Vigour != Unstated {
		out["vigour"] = strconv.Itoa(e.Vigour)
	}
	return out
}

func count(n int) string {
	if n == 0 {
		return ""
	}
	return strconv.Itoa(n)
}

func figure(v float64) string {
	if math.IsNaN(v) {
		return ""
	}
	return strconv.FormatFloat(v+0, 'f', -1, 64)
}

// wrong tells of one cell its column and what would be right.
type wrong func(column, want string)

// decode reads the cells of one entry.
func decode(get func(column string) string, bad wrong, said func() *spoken) Entry {
	e := NewEntry(time.Time{}, get("stake"), EntryKind(strings.ToLower(get("kind"))))
	var err error
	if e.Date, err = time.Parse(time.DateOnly, get("date")); err != nil || e.Date.Year() < 1800 || e.Date.Year() > 2200 {
		bad("date", wantDate(get("date")))
	}
	e.Number, e.Corrects = decodeCount(get, bad, "entry"), decodeCount(get, bad, "corrects")
	if s := get("vigour"); s != "" {
		v, want := ParseVigour(s)
		if e.Vigour = v; want != "" {
			bad("vigour", want)
		}
	}
	var want string
	if e.Signs, e.Absent, want = signsOf([]string{get("signs")}, said); want != "" {
		bad("signs", strings.TrimPrefix(want, quoted(strings.ToLower(get("signs")))+": "))
	}
	e.WaterL = decodeFigure(get, bad, "water_l", "want litres, more than 0 and at most 1,000,000", 0, 1e6)
	e.X = decodeFigure(get, bad, "x_m", "want metres within 1,000,000", -1e6, 1e6)
	e.Y = decodeFigure(get, bad, "y_m", "want metres within 1,000,000", -1e6, 1e6)
	const wantMM = "expected millimetres of water, from 0 to 1000"
	e.PondMM, e.LeftMM = decodeFigure(get, bad, "pond_mm", wantMM, 0, mostPondMM), decodeFigure(get, bad, "left_mm", wantMM, 0, mostPondMM)
	e.From, e.To = decodeClock(get, bad, "from"), decodeClock(get, bad, "to")
	e.ID = table.Unguard(get("id"))
	if table.WrongText(e.ID) != "" || strings.ContainsAny(e.ID, "\r\n\t") {
		bad("id", "want the id of a plant in the plant table")
	}
	e.Remark = oneLine(table.Unguard(get("remark")))
	if table.WrongText(e.Remark) != "" {
		bad("remark", table.WrongText(e.Remark))
	}
	if e.Photo = get(photoColumn); e.Photo != "" && wrongPhoto(e.Photo) != "" {
		bad(photoColumn, wrongPhoto(e.Photo))
	}
	e.complete(get, bad)
	e.decodeDrift(get, bad)
	return e
}

// wantDate says what a date has to look like and which days can be meant.
func wantDate(s string) string {
	const want = "want a date such as 2026-04-30"
	var meant []string
	for _, layout := range []string{"2006-1-2", "2006/1/2", "1/2/2006", "2/1/2006", "2.1.2006", "1-2-2006", "2-1-2006", "2 Jan 2006", "Jan 2, 2006", "2 January 2006", "January 2, 2006"} {
		if day, err := time.Parse(layout, strings.TrimSpace(s)); err == nil && !slices.Contains(meant, day.Format(time.DateOnly)) {
			meant = append(meant, day.Format(time.DateOnly))
		}
	}
	if meant == nil {
		return want
	}
	return want + "; did you mean " + strings.Join(meant, " or ") + "?"
}

// oneLine puts a text in one line, without blanks round it.
func oneLine(s string) string {
	return strings.TrimSpace(strings.NewReplacer("\r\n", " ", "\n", " ", "\r", " ", "\t", " ").Replace(s))
}

// complete finds the kind where none is stated, and looks whether what it needs is there.
func (e *Entry) complete(get func(column string) string, bad wrong) {
	if e.Kind == "" {
		switch e.Kind = Seen; {
		case get("water_l") != "":
			e.Kind = Watered
		case get("pond_mm")+get("left_mm") != "":
			e.Kind = Ponded
		case get("from")+get("to") != "":
			e.Kind = Sunned
		}
	}
	zone := e.zoneStake()
	switch {
	case !slices.Contains(entryKinds(), e.Kind):
		bad("kind", "want seen, watered, moved, planted, removed, struck, pond or sun")
		return
	case zone != "" && (e.Kind == Watered || e.Watched()):
		e.Stake = zone
	case placement.WrongStake(e.Stake) != "":
		bad("stake", placement.WrongStake(e.Stake))
	case zone != "" && e.Kind != Struck:
		bad("stake", "want the stake of one plant, such as TAR3")
	case zone == "":
		e.Stake = strings.ToUpper(e.Stake)
	default:
		e.Stake = zone
	}
	if slices.Contains(e.Signs, Dead) {
		if e.Vigour > 0 {
			bad("vigour", "want 0 or nothing for a dead plant")
		}
		e.Vigour = 0
	}
	if e.Kind != Seen && (e.Vigour != Unstated || len(e.Signs)+len(e.Absent) > 0) {
		bad("kind", "want seen where vigour or signs are stated")
	}
	if e.Kind == Seen && get("vigour") == "" && get("signs") == "" && e.Remark+e.Photo == "" {
		bad("vigour", "want a vigour from 0 to 5, signs or a remark")
	}
	if (e.Kind == Watered) == (get("water_l") == "") {
		bad("water_l", "want litres where kind is watered, and only there")
	}
	if (get("x_m") == "") != (get("y_m") == "") {
		bad("x_m", "want both x_m and y_m, or neither")
	}
	e.checkWatched(get, bad)
	if e.Kind == Struck && e.Corrects == 0 {
		bad("corrects", "want the number of the entry to take back")
	}
}

// zoneStake is the name of the zone, or allPlants, that stands for a stake; else "".
func (e Entry) zoneStake() string {
	switch s := strings.ToLower(e.Stake); s {
	case basin.Bottom, basin.Slope, basin.Rim, allPlants:
		return s
	}
	return ""
}

// ForZone says whether an entry is about a zone, or all of the bed.
func (e Entry) ForZone() bool { return e.zoneStake() != "" }

// ParseVigour reads a condition score; want says what would be right.
func ParseVigour(s string) (v int, want string) {
	s = strings.TrimSpace(s)
	if len(s) != 1 || s[0] < '0' || s[0] > '5' {
		return Unstated, "want a whole number from 0 (dead or nearly) over 1 (poor) and 3 (average) to 5 (excellent)"
	}
	return int(s[0] - '0'), ""
}

// formatSigns writes what SignsOf reads, with bars between.
func formatSigns(seen, absent []Sign) string {
	out := names(seen)
	for _, s := range absent {
		out = append(out, "not "+string(s))
	}
	return strings.Join(out, "|")
}

func decodeCount(get func(string) string, bad wrong, column string) int {
	s := get(column)
	if s == "" {
		return 0
	}
	n, err := strconv.Atoi(s)
	if err != nil || n < 1 || n > 1e9 || strconv.Itoa(n) != s {
		bad(column, "want the number of an entry, from 1")
		return 0
	}
	return n
}

func decodeFigure(get func(string) string, bad wrong, column, want string, least, most float64) float64 {
	v, ok := parseFigure(get(column), least, most)
	if !ok || column == "water_l" && v == 0 {
		bad(column, want)
		return math.NaN()
	}
	return v
}

// MostRemark is how many characters the remark of a new entry may have: some two
// printed pages. Longer ones that stand in a season.csv are read all the same.
const MostRemark = 4000

// WantRemark says what is wrong with the length of a new remark; "" for nothing.
func WantRemark(remark string) string {
	if n := utf8.RuneCountInString(remark); n > MostRemark {
		return fmt.Sprintf("expected a remark of at most %d characters, not %d", MostRemark, n)
	}
	return ""
}

// Check tells what is wrong with an entry that was not read from a file.
func (e Entry) Check() error {
	cells := e.cells()
	var faults table.Faults
	bad := func(column, want string) {
		faults = append(faults, table.Fault{Name: column, Value: cells[column], Want: want})
	}
	decode(func(c string) string { return cells[c] }, bad, howSaid)
	if want := WantRemark(e.Remark); want != "" {
		bad("remark", want)
	}
	if len(faults) > 0 {
		return faults
	}
	return nil
}
