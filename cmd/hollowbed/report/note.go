package report

import (
	"fmt"
	"io"
	"slices"
	"strconv"
	"strings"

	"hollowbed/cmd/hollowbed/doc"
	"hollowbed/plants/season"
	"hollowbed/zones"
)

// Note is the document of the command note.
type Note struct {
	Garden  Garden      `json:"garden"`
	Entries []noteEntry `json:"entries"`                                                          // added, or listed
	Known   int         `json:"known" about:"entries passed over since they stood there already"` // passed over: they stood there already
	Written string      `json:"written" about:"the file; empty if entries are only listed"`       // file; "" if entries are only listed
}

// noteEntry is one entry of season.csv.
type noteEntry struct {
	Entry          int      `json:"entry" schema:"1.."`
	Date           string   `json:"date" schema:"day"`
	Stake          string   `json:"stake" schema:"some"`
	VernacularName string   `json:"vernacularName"`
	Zone           string   `json:"zone" schema:"one of |bottom|slope|rim"`
	Kind           string   `json:"kind" schema:"one of seen|watered|moved|planted|removed|struck|pond|sun"`
	Vigour         *int     `json:"vigour" schema:"0..5"`
	Signs          []string `json:"signs" schema:"each some"`
	Absent         []string `json:"absent" schema:"each some"`
	WaterL         Number   `json:"water_l" schema:">0"`
	PondMM         Number   `json:"pond_mm" schema:"0.." about:"of pond: water over the bottom at from"`
	LeftMM         Number   `json:"left_mm" schema:"0.." about:"of pond: what was left at to; 0 for gone by then"`
	From           string   `json:"from" about:"of pond and sun: a time of day such as 08:00; empty if not stated"`
	To             string   `json:"to"`
	Remark         string   `json:"remark"`
	Photo          string   `json:"photo" about:"file in the folder photos; empty for none"`
	Corrects       int      `json:"corrects"`
	DriftCount     string   `json:"drift_count" about:"where stake is the letter of a drift: of how many of its plants, as 3, or 3 of 11 where the others do not show it"`
	DriftPlants    []string `json:"drift_plants" about:"the stakes of that drift on the day" schema:"each some"`
}

// Named is what stands at a stake.
type Named struct{ Name, Zone string }

// NewNote makes the document of entries; written is the file they went to.
func NewNote(g Garden, names map[string]Named, entries, known []season.Entry, written string) Note {
	doc := Note{Garden: g, Entries: []noteEntry{}, Known: len(known), Written: written}
	for _, e := range entries {
		n := names[strings.ToUpper(e.Stake)]
		doc.Entries = append(doc.Entries, noteEntry{
			Entry: e.Number, Date: date(e.Date), Stake: e.Stake, VernacularName: n.Name, Zone: n.Zone, Kind: string(e.Kind),
			Vigour: vigour(e.Vigour), Signs: signNames(e.Signs), Absent: signNames(e.Absent),
			PondMM: Number(e.PondMM), LeftMM: Number(e.LeftMM), From: season.Clock(e.From), To: season.Clock(e.To),
			WaterL: Number(e.WaterL), Remark: e.Remark, Photo: e.Photo, Corrects: e.Corrects,
			DriftCount: e.HowMany(), DriftPlants: orEmpty(e.Among),
		})
	}
	return doc
}

func vigour(v int) *int {
	if v == season.Unstated {
		return nil
	}
	return &v
}

func signNames(signs []season.Sign) []string {
	out := []string{}
	for _, s := range signs {
		out = append(out, string(s))
	}
	return out
}

// Text prints what was written down, or the entries that hold.
func (d Note) Text(w io.Writer) {
	if d.Written != "" {
		doc.Terminal(w, d.written())
		return
	}
	out := opening(d.Garden, "Notes", nil)
	if len(d.Entries) == 0 {
		doc.Terminal(w, append(out, doc.Text{Words: "No entries yet. How a plant does: hollowbed note STAKE VIGOUR SIGNS."}))
		return
	}
	t := doc.Table{Narrow: 80, Prose: entryLine,
		Columns: []doc.Column{{Head: "entry", Right: true}, {Head: "date"}, {Head: "stake"}, {Head: "plant"}, {Head: "what"}}}
	for _, e := range d.Entries {
		t.Rows = append(t.Rows, doc.Cells(e.row(d.Garden.Units)...))
	}
	doc.Terminal(w, append(out, doc.Line(""), t))
}

func (d Note) written() (out []doc.Block) {
	say := func(s string) { out = append(out, doc.Text{Words: s}) }
	if d.Known > 0 {
		say(plural(d.Known, "entry", "entries") + " stood there already.")
	}
	struggles := false
	for _, e := range d.Entries {
		struggles = struggles || e.struggles()
		if len(d.Entries) <= 12 {
			out = append(out, doc.Text{Words: entryWords(e.row(d.Garden.Units)), Hang: 2})
		}
	}
	if len(d.Entries) == 0 {
		return append(out, doc.Line("Nothing to add."))
	}
	say(fmt.Sprintf("Wrote %s to %s.", plural(len(d.Entries), "entry", "entries"), d.Written))
	if struggles {
		say("Why it struggles, and where it would do better: hollowbed move.")
	}
	return out
}

func (e noteEntry) row(u zones.Units) []string {
	stake := e.Stake
	if e.DriftCount != "" {
		stake = "drift " + stake
	}
	return []string{strconv.Itoa(e.Entry), e.Date, stake, e.VernacularName, e.says(u)}
}

func entryLine(w io.Writer, row []string) { doc.Wrap(w, "", "  ", entryWords(row)) }

// entryWords is one entry in a line.
func entryWords(row []string) string {
	plant := row[2]
	if row[3] != "" {
		plant += " (" + row[3] + ")"
	}
	return fmt.Sprintf("%s, %s: %s. Entry %s.", row[1], plant, row[4], row[0])
}

// struggles says whether an entry tells of trouble: a low vigour or, if none is
// stated, any sign but new growth.
func (e noteEntry) struggles() bool {
	if e.Vigour != nil {
		return *e.Vigour < 3
	}
	return slices.ContainsFunc(e.Signs, func(s string) bool { return s != "new shoots" })
}

// says words an entry.
func (e noteEntry) says(u zones.Units) string {
	var parts []string
	if e.DriftCount != "" {
		switch some, of, all := strings.Cut(e.DriftCount, " of "); {
		case some == of:
			parts = append(parts, "all "+of+" plants")
		case all:
			parts = append(parts, some+" of "+of+" plants")
		default:
			parts = append(parts, some+" of its plants")
		}
	}
	switch season.EntryKind(e.Kind) {
	case season.Watered:
		parts = append(parts, "watered, "+u.Water(float64(e.WaterL)/1000))
		if (season.Entry{Stake: e.Stake, Kind: season.Watered}).ForZone() {
			parts[0] += " shared by all that stand there"
		}
	case season.Ponded:
		if e.From != "" {
			parts = append(parts, u.Depth(float64(e.PondMM))+" of water at "+e.From)
		}
		switch {
		case e.To != "" && e.LeftMM == 0:
			parts = append(parts, "gone by "+e.To)
		case e.To != "":
			parts = append(parts, u.Depth(float64(e.LeftMM))+" left at "+e.To)
		}
	case season.Sunned:
		parts = append(parts, "sun from "+e.From+" to "+e.To)
	case season.Struck:
		parts = append(parts, fmt.Sprintf("entry %d is taken back", e.Corrects))
	case season.Moved:
		parts = append(parts, "moved")
	case season.Planted:
		parts = append(parts, "planted")
	case season.Removed:
		parts = append(parts, "taken out")
	}
	if e.Vigour != nil {
		parts = append(parts, fmt.Sprintf("vigour %d", *e.Vigour))
	}
	parts = append(parts, e.Signs...)
	for _, s := range e.Absent {
		parts = append(parts, "not "+s)
	}
	if e.Remark != "" {
		parts = append(parts, e.Remark)
	}
	if e.Photo != "" {
		parts = append(parts, "photograph "+e.Photo)
	}
	if e.Corrects > 0 && e.Kind != string(season.Struck) {
		parts = append(parts, fmt.Sprintf("in place of entry %d", e.Corrects))
	}
	return strings.Join(parts, ", ")
}
