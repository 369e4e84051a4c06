package season

import (
	"bytes"
	"maps"
	"strings"
)

// Merge adds the entries of another record, such as a table filled in on paper, that are
// not there yet, and returns the new bytes, what was added and what stood there: what is
// said twice there stands here twice. A correction follows the entry that it corrects; of
// two, the one added last holds: see Overruled.
func Merge(name string, old []byte, other *Notes) (out []byte, added, known []Entry, err error) {
	rec := &Notes{}
	if len(bytes.TrimSpace(old)) > 0 {
		if rec, err = Read(name, bytes.NewReader(old)); err != nil {
			return nil, nil, nil, err
		}
	}
	have := map[string][]int{} // numbers here, by what an entry says
	for _, e := range rec.Entries {
		have[rec.says(e)] = append(have[rec.says(e)], e.Number)
	}
	here := map[int]int{}   // number here of the first of a chain, by its number there
	isNew := map[int]bool{} // by number there
	holds := maps.Clone(rec.holds)
	if holds == nil {
		holds = map[int]int{}
	}
	next := rec.last
	for _, e := range other.Entries {
		key, first := other.says(e), other.first[e.Number]
		// What corrects an entry that is new here has to be new as well, to hold.
		if same := have[key]; len(same) > 0 && !isNew[e.Corrects] {
			have[key] = same[1:]
			known = append(known, e)
			if first == e.Number {
				here[first] = same[0]
			}
			continue
		}
		next++
		isNew[e.Number] = true
		if first == e.Number {
			here[first] = next
		} else {
			e.Corrects = holds[here[first]]
		}
		holds[here[first]] = next
		added = append(added, e)
	}
	if len(added) == 0 {
		return old, nil, known, nil
	}
	out, added, err = Append(name, old, added)
	return out, added, known, err
}

// Overruled lists the entries that entries added by Merge took the place of unknowingly.
func (r *Notes) Overruled(added []Entry, other *Notes) []Entry {
	known := map[string]bool{}
	for _, e := range other.Entries {
		known[other.says(e)] = true
	}
	var out []Entry
	for _, e := range added {
		if of, here := r.Of(e.Corrects); here && !known[r.says(of)] {
			out = append(out, of)
		}
	}
	return out
}

// says is what an entry says, whatever its number; of a correction also what the
// entry says that was put right first.
func (r *Notes) says(e Entry) string {
	key := e.content()
	if first, ok := r.Of(r.first[e.Number]); ok && first.Number != e.Number {
		key += "\x00" + first.content()
	}
	return key
}

// content is all that an entry says but its numbers.
func (e Entry) content() string {
	cells := e.cells()
	var key []string
	for _, c := range entryColumns() {
		if c != "entry" && c != "corrects" && c != plantsColumn {
			key = append(key, cells[c])
		}
	}
	return strings.Join(key, "\x00")
}
