package main

import (
	"errors"
	"fmt"
	"slices"
	"time"

	"hollowbed/cmd/hollowbed/report"
	"hollowbed/plants/season"
)

// merge adds the entries of another table.
func (o *noteOptions) merge(n *notebook) error {
	other, err := o.incoming()
	if err != nil {
		return err
	}
	if other.Torn != nil {
		return &season.TornError{Fault: *other.Torn}
	}
	for _, w := range other.Warnings {
		fmt.Fprintln(o.err, w)
	}
	if err := o.foreign(n, other); err != nil {
		return err
	}
	var added, known []season.Entry
	err = n.kept.Edit("season.csv", func(old []byte) (text []byte, err error) {
		text, added, known, err = season.Merge(n.file(), old, other)
		return text, err
	})
	if err != nil {
		return err
	}
	for _, e := range n.rec.Overruled(added, other) {
		k := slices.IndexFunc(added, func(a season.Entry) bool { return a.Corrects == e.Number })
		fmt.Fprintf(o.err, "Two people put one entry on %s right: entry %d now holds, in the place of entry %d. If that is wrong: hollowbed note %s ... --corrects %d\n",
			e.Stake, added[k].Number, e.Number, e.Stake, added[k].Number)
	}
	if slices.ContainsFunc(added, func(e season.Entry) bool { return e.Photo != "" }) {
		fmt.Fprintf(o.err, "Photographs that it names are not copied: put them into %s.\n", n.name("photos"))
	}
	return o.show(report.NewNote(n.head, n.names, added, known, n.file()))
}

// incoming reads the table that --from names; - is what comes in by a pipe.
func (o *noteOptions) incoming() (*season.Notes, error) {
	if o.from == "-" {
		return season.Read(shownTable(o.from), o.in)
	}
	file, err := openTable(o.from, "a table of notes in CSV")
	if err != nil {
		return nil, err
	}
	defer file.Close()
	return season.Read(o.from, file)
}

// foreign names the entries of another table that are of days to come, of plants
// that do not stand here or with too long a remark.
func (o *noteOptions) foreign(n *notebook, other *season.Notes) error {
	var faults []error
	fault := func(e season.Entry, column, value, want string) {
		if len(faults) < 50 {
			faults = append(faults, usageError{fmt.Errorf("%s:%d: %s: %q: %s", shownTable(o.from), e.Line, column, value, want)})
		}
	}
	for _, e := range other.Entries {
		if season.Ahead(e.Date, o.now()) {
			fault(e, "date", e.Date.Format(time.DateOnly), season.LiesAhead)
		}
		if want := season.WantRemark(e.Remark); want != "" {
			fault(e, "remark", e.Remark, want)
		}
		if e.OfDrift() {
			if in := season.InDrift(n.rows, e.Stake); len(in) == 0 && e.Among == nil {
				fault(e, "stake", e.Stake, n.wantDrift(e.Stake))
			} else if most := max(len(in), len(e.Among)); max(e.Some, e.Of) > most {
				fault(e, "drift_count", e.HowMany(), fmt.Sprintf("drift %s has %d plants: expected no more", e.Stake, most))
			}
			continue
		}
		if _, here := season.Grows(n.rows, e.Stake); !here && (e.Kind == season.Seen || e.Kind == season.Watered && !e.ForZone()) {
			fault(e, "stake", e.Stake, n.wantStake(e.Stake))
		}
	}
	return errors.Join(faults...)
}
