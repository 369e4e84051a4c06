package season

import (
	"cmp"
	"fmt"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"hollowbed/plants/placement"
)

// An entry on a drift says what was seen of some of its plants, and not of which.
// drift_count is how many: "3 of 11" where 11 were looked at and 8 did not show it,
// "3" where nothing is said of the others. drift_plants are the stakes of the drift
// on that day; without them its plants are those of planted.csv.

const countColumn, plantsColumn = "drift_count", "drift_plants"

// OfDrift says whether an entry is about a drift rather than one plant.
func (e Entry) OfDrift() bool { return e.Some > 0 }

// SomeDied says whether an entry tells that some of a drift died, and not which.
func (e Entry) SomeDied() bool {
	return e.OfDrift() && e.Some < len(e.Among) && slices.Contains(e.Signs, Dead)
}

// HowMany words how many plants of a drift an entry is about; "" for one plant.
func (e Entry) HowMany() string {
	switch {
	case e.Some == 0:
		return ""
	case e.Of == 0:
		return strconv.Itoa(e.Some)
	}
	return fmt.Sprintf("%d of %d", e.Some, e.Of)
}

// wantHowMany is what would be right for how many plants of a drift are meant.
const wantHowMany = "expected how many plants of the drift, such as 3, or 3 of 11 where the other 8 do not show it"

// ParseHowMany reads 3, 3/11 or 3 of 11; want says what would be right, "" if it is.
func ParseHowMany(s string) (some, of int, want string) {
	m := regexp.MustCompile(`^(\d{1,5})(?:(?: of |/)(\d{1,5}))?$`).FindStringSubmatch(s)
	if m == nil {
		return 0, 0, wantHowMany
	}
	some, _ = strconv.Atoi(m[1])
	of, _ = strconv.Atoi(m[2]) // 0 where it is not said
	if some == 0 || m[2] != "" && of < some {
		return 0, 0, wantHowMany
	}
	return some, of, ""
}

// decodeDrift reads what an entry says of a drift.
func (e *Entry) decodeDrift(get func(string) string, bad wrong) {
	count := get(countColumn)
	if stakes := strings.Fields(strings.ToUpper(get(plantsColumn))); len(stakes) > 0 {
		e.Among = stakes
	}
	if count == "" {
		if e.Among != nil {
			bad(countColumn, wantHowMany)
		}
		return
	}
	var want string
	if e.Some, e.Of, want = ParseHowMany(count); want != "" {
		bad(countColumn, want)
	}
	if e.Kind != Seen {
		bad(countColumn, "expected this only where kind is seen")
	}
	if e.Stake == "" || placement.WrongDrift(e.Stake) != "" {
		bad("stake", "expected the letter of a drift, such as C")
	}
	twice := map[string]bool{}
	for _, s := range e.Among {
		if placement.WrongStake(s) != "" || twice[s] {
			bad(plantsColumn, "expected stakes with blanks between, such as TAR1 TAR2, each once")
			return
		}
		twice[s] = true
	}
	if e.Among != nil && max(e.Some, e.Of) > len(e.Among) {
		bad(countColumn, fmt.Sprintf("expected at most %d, the plants of the drift", len(e.Among)))
	}
}

// Drift are the plants of a drift that still grow, as far as notes tell.
func (r *Notes) Drift(rows []placement.Planted, letter string) []placement.Planted {
	return InDrift(r.Guess(rows).Alive(rows), letter)
}

// Drifts are the letters of the drifts of planted.csv, in order.
func Drifts(rows []placement.Planted) (letters []string) {
	for _, r := range rows {
		if r.Drift != "" {
			letters = append(letters, r.Drift)
		}
	}
	slices.Sort(letters)
	return slices.Compact(letters)
}

// AboutSome makes an entry one on some plants of a drift, those in it: count is 3, 3/11,
// 3 of 11 or all. want says what would be right, "" if it is.
func (e *Entry) AboutSome(in []placement.Planted, count string) (want string) {
	all, kinds := len(in), map[string]bool{}
	for _, p := range in {
		kinds[p.ID] = true
	}
	if strings.EqualFold(count, "all") {
		count = fmt.Sprintf("%d/%d", all, all)
	}
	some, of, want := ParseHowMany(count)
	switch {
	case want != "":
		return want
	case max(some, of) > all:
		return fmt.Sprintf("drift %s has %d plants: expected no more", in[0].Drift, all)
	case some < all && len(kinds) > 1:
		return fmt.Sprintf("drift %s holds plants of %d kinds: expected their stakes, or all", in[0].Drift, len(kinds))
	}
	e.Stake, e.Some, e.Of = in[0].Drift, some, of
	for _, p := range in {
		e.Among = append(e.Among, strings.ToUpper(p.Stake))
	}
	return ""
}

// InDrift are the plants of planted.csv that stand in a drift.
func InDrift(rows []placement.Planted, letter string) (in []placement.Planted) {
	for _, r := range rows {
		if r.Drift != "" && strings.EqualFold(r.Drift, letter) {
			in = append(in, r)
		}
	}
	return in
}

// guess follows the stake of a plant of a drift that notes do not name.
const guess = "?"

// Guess puts entries on drifts down to single plants, for what asks how many and not
// which: those that own notes point to first, then the first by stake. Others of
// those looked at are noted without the signs. Which plant it was is a guess, so that
// such notes are no case of the plant that bears the stake. r may be nil.
func (r *Notes) Guess(rows []placement.Planted) *Notes {
	if r == nil || !slices.ContainsFunc(r.current, Entry.OfDrift) {
		return r
	}
	out := *r
	out.index(func(e Entry) []Entry {
		if !e.OfDrift() {
			return []Entry{e}
		}
		if e.Among == nil {
			for _, p := range InDrift(rows, e.Stake) {
				e.Among = append(e.Among, strings.ToUpper(p.Stake))
			}
		}
		return r.spread(e)
	})
	return &out
}

// spread gives the entries of single plants that an entry on a drift stands for. A
// plant whose own note tells as much gets none.
func (r *Notes) spread(e Entry) (out []Entry) {
	order := map[string]int{}
	for _, stake := range e.Among {
		order[stake] = r.own(stake, e)
	}
	among := slices.Clone(e.Among)
	slices.SortStableFunc(among, func(a, b string) int { return cmp.Compare(order[a], order[b]) })
	for i, stake := range among[:min(max(e.Some, e.Of), len(among))] {
		one := e
		one.Stake, one.Some, one.Of, one.Among = stake, 0, 0, nil
		one.guessed, one.shared = e.Some < len(among), true
		if i >= e.Some {
			one.Vigour, one.Signs = Unstated, nil
			one.Absent = slices.DeleteFunc(slices.Clone(e.Signs), func(s Sign) bool { return s == Dead })
		}
		if !one.guessed || order[stake] > 0 {
			out = append(out, one)
		}
	}
	return out
}

// own ranks a plant of a drift by its own notes of the year of an entry: 0 where it
// shows what the entry says, 1 for other trouble, 2 without notes, 3 where it does
// well or was noted on that day without it.
func (r *Notes) own(stake string, e Entry) int {
	rank := 2
	for _, o := range r.About(stake) {
		switch {
		case slices.Contains(e.Signs, Dead) && (o.Vigour > 0 && o.Date.After(e.Date) || o.shared && o.Number > e.Number):
			rank = 3 // it lived
		case o.Kind != Seen || o.Number == e.Number || o.Date.Year() != e.Date.Year():
		case slices.ContainsFunc(o.Signs, func(s Sign) bool { return slices.Contains(e.Signs, s) }):
			return 0
		case o.Date.Equal(e.Date):
			rank = 3
		case o.Vigour != Unstated && o.Vigour < 3 || slices.ContainsFunc(o.Signs, func(s Sign) bool { return s != "new shoots" }):
			rank = 1
		case rank == 2:
			rank = 3
		}
	}
	return rank
}
