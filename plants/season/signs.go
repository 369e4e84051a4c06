package season

import (
	"cmp"
	"fmt"
	"io"
	"math"
	"slices"
	"strconv"
	"strings"

	"hollowbed/zones/table"
)

// Sign is something that can be seen of a plant, or felt with a trowel beside it.
type Sign string

// Dead says that vigour is 0, whose chances stand for its row.
const Dead Sign = "dead"

// FewFlowers can be seen in the months of bloom alone.
const FewFlowers Sign = "few flowers"

// Signs lists the names of all signs, as in season.csv and in the table of signs.
func Signs() []Sign {
	return []Sign{
		"wilted", "yellow", "scorched", "bleached", "leggy", "leaning to the light", FewFlowers,
		"small but green", "new shoots", "rotten", "roots brown", "soil soggy", "soil dry", "sour smell",
		"algae", "mud on the leaves", "heaved", "eaten", "spotted", "silted", "washed out",
		"trampled", "herbicide", "planted too deep", "pot-bound", "spread too far", Dead,
	}
}

// Row is one sign in the table.
type Row struct {
	Sign   Sign
	Label  string              // shown to people
	Look   string              // how to look for it; "" if there is nothing to do but see it
	Chance [CauseCount]float64 // to be seen, by cause
	Source string
}

// Table holds how likely every sign and every vigour is under each cause.
type Table struct {
	Rows   []Row // in the order of Signs
	Vigour [6][CauseCount]float64
}

// Of finds the row of a sign.
func (t *Table) Of(s Sign) (Row, bool) {
	all := t.Shown()
	i := slices.IndexFunc(all, func(r Row) bool { return r.Sign == s })
	if i < 0 {
		return Row{}, false
	}
	return all[i], true
}

// causeColumn is the column of a cause in the table of signs.
func causeColumn(c Cause) string {
	if c == Slow {
		return "slow"
	}
	return strings.ReplaceAll(string(c), " ", "_")
}

// ReadTable reads the table of signs: columns sign, label, look, each cause, and source;
// a row for each of Signs but dead, and `vigour 0` to `vigour 5`, which add up to 1 by
// cause. The error is table.Faults.
func ReadTable(name string, r io.Reader) (*Table, error) {
	raw, err := table.Read(name, r)
	if err != nil {
		return nil, err
	}
	t, in := &Table{}, reader{raw: raw}
	in.columns(slices.Concat([]string{"sign", "label", "look", "source"}, causeColumns()), nil)
	if len(in.faults) > 0 {
		return nil, in.done()
	}
	seen := map[string]bool{}
	for i := range raw.Rows {
		sign := in.text(i, "sign")
		if seen[sign] {
			in.fault(i, "sign", "want each sign once")
		}
		seen[sign] = true
		row := Row{Sign: Sign(sign), Label: in.text(i, "label"), Look: in.text(i, "look"), Source: in.text(i, "source")}
		for c, column := range causeColumns() {
			row.Chance[c] = in.chance(i, column)
		}
		if row.Source == "" {
			in.fault(i, "source", "want what the chances rest on")
		}
		if v, ok := strings.CutPrefix(sign, "vigour "); ok {
			n, err := strconv.Atoi(v)
			if err != nil || n < 0 || n > 5 {
				in.fault(i, "sign", "want vigour 0 to vigour 5")
				continue
			}
			t.Vigour[n] = row.Chance
			continue
		}
		if !slices.Contains(tableSigns(), row.Sign) {
			in.fault(i, "sign", "want one of: "+strings.Join(names(tableSigns()), ", "))
			continue
		}
		if row.Label == "" {
			in.fault(i, "label", "want what people read")
		}
		t.Rows = append(t.Rows, row)
	}
	t.check(&in, seen)
	if err := in.done(); err != nil {
		return nil, err
	}
	slices.SortFunc(t.Rows, func(a, b Row) int {
		return cmp.Compare(slices.Index(Signs(), a.Sign), slices.Index(Signs(), b.Sign))
	})
	return t, nil
}

// check looks for what is not there, and at the sums of the vigours.
func (t *Table) check(in *reader, seen map[string]bool) {
	for _, s := range tableSigns() {
		if !seen[string(s)] {
			in.lacks(fmt.Sprintf("want a row for the sign %q", s))
		}
	}
	for v := range t.Vigour {
		if !seen["vigour "+strconv.Itoa(v)] {
			in.lacks(fmt.Sprintf("want a row for vigour %d", v))
			return
		}
	}
	for c, column := range causeColumns() {
		sum := 0.0
		for v := range t.Vigour {
			sum += t.Vigour[v][c]
		}
		if math.Abs(sum-1) > 1e-9 {
			in.lacks(fmt.Sprintf("the vigours of %s add up to %.4g: want 1", column, sum))
		}
	}
}

// rowless are the signs of what was done to a plant: each is a cause, and has no chances.
func rowless() []Row {
	const source = "common practice, no source"
	return []Row{
		{Sign: "trampled", Label: "trampled", Source: source},
		{Sign: "herbicide", Label: "leaves twisted by herbicide", Source: source},
		{Sign: "planted too deep", Label: "planted too deep", Source: source},
		{Sign: "pot-bound", Label: "pot-bound, roots circling", Source: source},
		{Sign: "spread too far", Label: "spread too far", Source: source},
	}
}

// Shown lists the rows of all signs that people can pick, those without chances last.
func (t *Table) Shown() []Row { return append(slices.Clone(t.Rows), rowless()...) }

// tableSigns are the signs that have a row.
func tableSigns() []Sign {
	return slices.DeleteFunc(Signs(), func(s Sign) bool {
		return s == Dead || slices.ContainsFunc(rowless(), func(r Row) bool { return r.Sign == s })
	})
}

func causeColumns() []string {
	var out []string
	for _, c := range Causes() {
		out = append(out, causeColumn(c))
	}
	return out
}

func names(signs []Sign) []string {
	var out []string
	for _, s := range signs {
		out = append(out, string(s))
	}
	return out
}
