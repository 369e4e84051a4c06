package main

import (
	"bufio"
	"errors"
	"fmt"
	"io"
	"slices"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"hollowbed/cmd/hollowbed/report"
	"hollowbed/plants/catalogue"
	"hollowbed/plants/placement"
	"hollowbed/plants/season"
	"hollowbed/zones"
	"hollowbed/zones/table"
)

type noteOptions struct {
	common
	date, remark, photo, water, from, pond, sun string
	corrects, strike                            int
	list                                        bool
	picture                                     []byte // of photo
}

func newNote(w world) *cobra.Command {
	o := &noteOptions{common: common{world: w}}
	var signs []string
	for _, s := range season.Signs() {
		signs = append(signs, string(s))
	}
	cmd := &cobra.Command{
		Use:   "note [STAKE [VIGOUR] [SIGN...]]",
		Short: "Write down how a plant does: vigour 0 to 5, signs, a remark; or how it was watered",
		Long: `Add an entry to season.csv of a garden folder: the stake of the plant, its vigour
(5 excellent, 3 average, 1 poor, 0 dead or nearly), and what is to be seen, such as

  hollowbed note TAR3 2 yellow soil soggy not eaten --garden my-garden

Of a drift it takes how many of its plants: 2 (nothing is said of the others), 3/11
(11 were looked at, and the other 8 do not show it) or all; then vigour and signs:

  hollowbed note C 3/11 wilted --garden my-garden

What the bed itself does teaches more of its ground than any plant:

  hollowbed note --pond '4 in at 8:00, gone by 20:00' --garden my-garden
  hollowbed note --sun 'bottom 10:00-14:00' --garden my-garden

zones, care and move go by that with --by-notes.

On a terminal, without a stake, it asks plant by plant. Entries are only ever
added; --corrects and --strike put a mistake right and lose nothing.

Signs: ` + wrapped(strings.Join(signs, ", "), 78),
		RunE: func(_ *cobra.Command, args []string) error { return o.run(args) },
	}
	o.options(cmd)
	f := cmd.Flags()
	f.StringVar(&o.date, "date", "", "day on which it was seen, as `YYYY-MM-DD` (default: today)")
	f.StringVar(&o.remark, "remark", "", "anything else, in `WORDS`")
	f.StringVar(&o.photo, "photo", "", "a photograph of it, `FILE`: JPEG, PNG, WebP or GIF of at most 20 MB, copied into the folder photos")
	f.StringVar(&o.water, "water", "", "the plant was given so much, as `AMOUNT`: '2 gal', '10 L'; STAKE may be bottom, slope, rim or all")
	f.StringVar(&o.pond, "pond", "", "water that stood over the bottom, as `WORDS`: '4 in at 8:00, gone by 20:00', '2 in left at 18:00'")
	f.StringVar(&o.sun, "sun", "", "when a zone was in the sun on a clear day, as `WORDS`: 'bottom 10:00-14:00'")
	f.IntVar(&o.corrects, "corrects", 0, "this entry stands in place of entry `NUMBER`")
	f.IntVar(&o.strike, "strike", 0, "take entry `NUMBER` back")
	f.StringVar(&o.from, "from", "", "add the entries of a table, `FILE.csv` (- for a pipe); those that stand here already are passed over")
	f.BoolVar(&o.list, "list", false, "print the entries that hold, those of one STAKE or all")
	return cmd
}

// wrapped breaks words into lines of a width.
func wrapped(words string, width int) string {
	line, out := 0, ""
	for word := range strings.FieldsSeq(words) {
		if line > 0 && line+1+len(word) > width {
			out, line = out+"\n", 0
		} else if line > 0 {
			out, line = out+" ", line+1
		}
		out, line = out+word, line+len(word)
	}
	return out
}

func (o *noteOptions) run(args []string) error {
	args = wordsOf(args...)
	if err := o.check(args); err != nil {
		return err
	}
	f, err := o.open()
	if err != nil {
		return err
	}
	n, err := o.notebook(f)
	if err != nil {
		return err
	}
	if args, err = o.stakeFirst(n, args); err != nil {
		return err
	}
	switch {
	case o.list && len(args) > 1:
		return usagef("--list: want one stake or none")
	case o.list:
		listed, err := n.listed(args)
		if err != nil {
			return err
		}
		return o.show(report.NewNote(f.head, n.names, listed, nil, ""))
	case f.dir == "":
		return usagef("the demo stays as it is: want --garden DIR, the folder of a garden of yours (hollowbed note --list shows the demo's notes)")
	case o.from != "":
		return o.merge(n)
	case o.pond+o.sun != "":
		return o.watched(f, n)
	case len(args) == 0 && o.strike == 0:
		return o.ask(n)
	}
	e, err := o.entry(n, args)
	if err != nil {
		return err
	}
	added, err := o.write(n, e)
	if err != nil {
		return err
	}
	n.tellEarly(o.err, e)
	return o.show(report.NewNote(f.head, n.names, added, nil, n.file()))
}

// check refuses options that do not go together.
func (o *noteOptions) check(args []string) error {
	var faults []error
	alone := func(option string, used bool) {
		if used && (len(args) > 0 && option != "--list" || o.water+o.pond+o.sun+o.remark+o.photo != "" || o.corrects != 0) {
			faults = append(faults, usagef("%s stands alone: want no other entry beside it", option))
		}
	}
	alone("--from", o.from != "")
	alone("--strike", o.strike != 0)
	alone("--list", o.list)
	if o.strike < 0 || o.corrects < 0 {
		faults = append(faults, usagef("want the number of an entry, as hollowbed note --list shows it"))
	}
	watched := o.pond+o.sun != ""
	if watched && (len(args) > 0 || o.water != "") || o.pond != "" && o.sun != "" {
		faults = append(faults, usagef("--pond and --sun: expected each alone, without a stake: what was seen of a plant is an entry of its own"))
	}
	if len(args) == 0 && o.strike == 0 && !watched && (o.water+o.remark+o.photo != "" || o.corrects != 0) {
		faults = append(faults, usagef("want the stake of the plant, such as: hollowbed note TAR3 3"))
	}
	return errors.Join(faults...)
}

func (o *noteOptions) show(doc report.Note) error {
	if o.json {
		return report.JSON(o.out, doc)
	}
	doc.Text(o.out)
	return nil
}

// notebook is the season's record of a garden, with who stands there.
type notebook struct {
	*folder
	rows  []placement.Planted
	rec   *season.Notes
	names map[string]report.Named // by stake in capitals
	table *catalogue.Catalogue
	meant []placement.Planted // the drift that was typed; nil for a plant
}

// notebook reads planted.csv and season.csv; neither has to be there.
func (o *noteOptions) notebook(f *folder) (*notebook, error) {
	n := &notebook{folder: f, names: map[string]report.Named{}}
	var err error
	if n.rows, err = f.stands(&o.common); err != nil {
		return nil, err
	}
	if n.table, err = f.catalogue(io.Discard); err != nil {
		return nil, err
	}
	for _, r := range n.rows {
		named := report.Named{Name: r.ID, Zone: r.Zone}
		if p, ok := n.table.ByID(r.ID); ok {
			named.Name = p.VernacularName
		}
		n.names[strings.ToUpper(r.Stake)] = named
		if _, here := n.names[r.Drift]; !here && r.Drift != "" {
			n.names[r.Drift] = report.Named{Name: named.Name}
		}
	}
	n.rec, err = f.season(&o.common)
	return n, err
}

// file is the name of season.csv as shown to people.
func (n *notebook) file() string { return n.name("season.csv") }

// listed are the entries that hold, those of one stake or all. A stake that
// nobody has and of which nothing was noted is a slip.
func (n *notebook) listed(args []string) ([]season.Entry, error) {
	if len(args) == 0 {
		return n.rec.Current(), nil
	}
	of := slices.DeleteFunc(slices.Clone(n.rec.Current()), func(e season.Entry) bool { return !season.SameStake(e.Stake, args[0]) })
	if zone := season.NewEntry(time.Time{}, args[0], season.Watered); len(of) > 0 || zone.ForZone() || n.meant != nil {
		return of, nil
	}
	return of, n.stands(args[0])
}

// add appends an entry to season.csv under the lock of the folder.
func (n *notebook) add(entries ...season.Entry) ([]season.Entry, error) {
	var added []season.Entry
	err := n.kept.Edit("season.csv", func(old []byte) (text []byte, err error) {
		text, added, err = season.Append(n.file(), old, entries)
		return text, err
	})
	return added, err
}

// day is the day of the entries, of the option or today where the garden lies.
func (o *noteOptions) day(g *zones.Garden) (time.Time, error) {
	if o.date == "" {
		return season.Midnight(o.now().In(g.Site.Location)), nil
	}
	day, want := season.ParseDay(o.date)
	if want == "" && season.Ahead(day, o.now()) {
		want = season.LiesAhead
	}
	if want != "" {
		return day, usagef("--date: %q: %s", o.date, want)
	}
	return day, nil
}

// entry makes the entry that a command line asks for.
func (o *noteOptions) entry(n *notebook, args []string) (season.Entry, error) {
	day, err := o.day(n.garden)
	if err != nil {
		return season.Entry{}, err
	}
	if o.strike != 0 {
		e, ok := n.rec.Strike(o.strike, day)
		if !ok {
			return e, usagef("--strike: %d: want the number of an entry, as hollowbed note --list shows it", o.strike)
		}
		return e, n.once("--strike", o.strike)
	}
	e := season.NewEntry(day, args[0], season.Seen)
	e.Remark, e.Corrects = o.remark, o.corrects
	if err := errors.Join(n.once("--corrects", o.corrects), o.namePhoto(&e)); err != nil {
		return e, err
	}
	if o.water != "" {
		if n.meant != nil {
			return e, usagef("--water: expected the stake of one plant, bottom, slope, rim or all, not a drift")
		}
		if len(args) > 1 {
			return e, usagef("--water: want the stake alone with it: how the plant does is an entry of its own")
		}
		e.Kind = season.Watered
		if e.WaterL, err = zones.ParseLitres(o.water); err != nil {
			return e, usageError{fmt.Errorf("--water: %w", err)}
		}
	}
	in, words := bufio.NewReader(o.in), args[1:]
	if n.meant != nil {
		if words, err = o.howMany(n, in, &e, words); err != nil {
			return e, err
		}
		if len(words) == 0 && o.remark+o.photo == "" {
			line, _ := o.answer(in, "Vigour, signs?")
			words = wordsOf(line)
		}
	}
	for {
		err := seen(&e, words)
		if err == nil {
			return e, n.fits(e)
		}
		if !o.terminal {
			return e, err
		}
		fmt.Fprintf(o.err, "  %v\n", err)
		line, more := o.answer(in, "Vigour, signs?")
		if words = wordsOf(line); len(words) == 0 || !more {
			return e, err
		}
	}
}

// watched writes down what was seen of the bed itself.
func (o *noteOptions) watched(f *folder, n *notebook) error {
	day, err := o.day(n.garden)
	if err != nil {
		return err
	}
	if err := n.once("--corrects", o.corrects); err != nil {
		return err
	}
	entries, of, want := season.Watch(day, o.pond, o.sun, o.remark, zones.ParseDepthMM)
	if want != "" {
		return usagef("--%s: %q: %s", of, o.pond+o.sun, want)
	}
	if o.corrects != 0 && len(entries) > 1 {
		return usagef("--corrects: expected one span of sun in its place; note the others by themselves")
	}
	for i := range entries {
		entries[i].Corrects = o.corrects
		if err := o.namePhoto(&entries[i]); err != nil {
			return err
		}
	}
	added, err := o.write(n, entries...)
	if err != nil {
		return err
	}
	return o.show(report.NewNote(f.head, n.names, added, nil, n.file()))
}

// once refuses to correct an entry a second time.
func (n *notebook) once(option string, number int) error {
	switch by, found := n.rec.Replaced(number); {
	case !found:
		return nil
	case by.Kind == season.Struck && option == "--strike":
		return usagef("%s: %d: entry %d is taken back already", option, number, number)
	case by.Kind == season.Struck:
		return usagef("%s: %d: entry %d took it back: --corrects %d puts another in its place", option, number, by.Number, by.Number)
	default:
		return usagef("%s: %d: entry %d stands in its place already: want that number", option, number, by.Number)
	}
}

// tellEarly warns of a note from before its plant was planted, and of plants that a
// note leaves unknown.
func (n *notebook) tellEarly(w io.Writer, e season.Entry) {
	fmt.Fprint(w, n.tellWhich(e))
	if planted, early := e.Early(n.rows); early {
		fmt.Fprintf(w, "%s was planted on %s: a note from before teaches nothing. Is the date right? (--date, --strike)\n", strings.ToUpper(e.Stake), planted)
	}
}

// fits looks whether an entry is about a plant that stands here.
func (n *notebook) fits(e season.Entry) error {
	if err := e.Check(); err != nil {
		return usageError{err}
	}
	if (e.Kind == season.Watered || e.Watched()) && e.ForZone() || e.OfDrift() {
		return nil
	}
	return n.stands(e.Stake)
}

// stands refuses a stake that nobody has.
func (n *notebook) stands(stake string) error {
	if _, here := season.Grows(n.rows, stake); here {
		return nil
	}
	if len(n.rows) == 0 {
		return usagef("%s: nothing is known to stand here: want a planted.csv in the folder; hollowbed place writes one", n.name("planted.csv"))
	}
	return usagef("%q: %s", stake, n.wantStake(stake))
}

// wantStake says what would be right for a stake that nobody has.
func (n *notebook) wantStake(stake string) string {
	var stakes []string
	for _, r := range n.rows {
		stakes = append(stakes, strings.ToUpper(r.Stake))
		if named := n.names[strings.ToUpper(r.Stake)].Name; !slices.Contains(stakes, named) {
			stakes = append(stakes, named)
		}
	}
	return table.OrMeant("want a stake of "+n.name("planted.csv"), strings.ToUpper(stake), stakes)
}
