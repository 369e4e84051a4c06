package zones

import (
	"io/fs"
	"maps"
	"math"
	"slices"
	"strconv"
	"strings"
	"time"

	"github.com/goccy/go-yaml/ast"

	"hollowbed/zones/site"
)

func readWeather(s *section, zone *time.Location) Weather {
	defer s.done()
	w := Weather{File: s.text("file", optional, "want the name of a file beside this one", 200)}
	if w.File == "" && !s.has("file") {
		w.File = "rain.csv"
		s.d.assumed = append(s.d.assumed, "weather.file: rain.csv")
	}
	if w.File != "" && (!fs.ValidPath(w.File) || strings.Contains(w.File, `\`)) {
		s.bad("file", w.File, "want the name of a file in the folder of the garden, such as rain.csv")
	}
	marks := "want a list of the cells that mean this, such as [NA, M]"
	word := func(key string) string { return s.text(key, optional, "want one word", 40) }
	w.Format = site.Format{
		Columns:   s.table("columns", "want our names and the headers in the file, such as rain: precip_in"),
		RainUnit:  word("rain_unit"),
		TempUnit:  word("temp_unit"),
		Missing:   s.words("missing", marks, nil),
		Trace:     s.words("trace", marks, nil),
		AbsentRow: word("absent_row"),
		Clock:     word("clock"),
		Zone:      zone,
		Step:      word("step"),
		Pattern:   word("pattern"),
		DateOrder: word("date_order"),
		Where:     s.table("where", "want columns and the cell to keep, such as station: Q1"),
	}
	for _, f := range w.Check() {
		if f.Name == "clock" && zone == nil {
			continue // the time zone has its own fault
		}
		key := f.Name
		if key == "columns" {
			key += "." + f.Value
		}
		s.bad(key, f.Value, f.Want)
	}
	w.ET0ByMonthMM = s.byMonth("et0_by_month")
	return w
}

// table reads a mapping of free text to free text.
func (s *section) table(key, want string) map[string]string {
	n, ok := s.node(key)
	if !ok {
		return nil
	}
	if _, mapping := n.(*ast.MappingNode); !mapping {
		s.bad(key, raw(n), want)
		return nil
	}
	t := s.sub(key)
	out := make(map[string]string, len(t.entries))
	for _, k := range slices.Sorted(maps.Keys(t.entries)) {
		if text, ok := t.scalar(k, want); ok {
			out[k] = text
		}
	}
	return out
}

// byMonth reads twelve depths a day, January first.
func (s *section) byMonth(key string) []float64 {
	const want = "want twelve values, January first, such as [0.4 mm/d, 0.7 mm/d, ...]"
	nodes, ok := s.items(key, want)
	if !ok {
		return nil
	}
	if len(nodes) != 12 {
		s.bad(key, strconv.Itoa(len(nodes))+" values", want)
		return nil
	}
	out := make([]float64, 12)
	for i, n := range nodes {
		name := s.name(key) + "[" + strconv.Itoa(i+1) + "]"
		out[i] = math.NaN()
		if text, ok := s.d.scalar(name, n, dailyMM().wanted()); ok {
			v, want := dailyMM().within(s.d.units, text, 0, 20)
			if want != "" {
				line, col := position(n)
				s.d.fault(line, col, name, text, want)
			}
			out[i] = v
		}
	}
	return out
}

func readWishes(s *section) Wishes {
	defer s.done()
	ids := "want a list of plant ids from the plant table"
	w := Wishes{
		ShareCap:      s.quantity("share_cap", fraction(), "25 %", 0.01, 1),
		SmallestGroup: s.count("smallest_group", "a number of plants", "3", 1, 1000),
		MostSpecies:   s.count("most_species", "a number of species", optional, 1, 1000),
		Budget:        s.number("budget", "a sum of money in the currency of the plant table, without its sign,", optional, 0, 10_000_000),
		HeightMaxCM:   s.heights("height_max"),
		NoToxicTo:     s.words("no_toxic_to", "want a list of whom to keep safe, such as [people, pets]", []string{"people", "pets", "livestock", "skin"}),
		NoRunners:     s.yes("no_runners"),
		Wanted:        s.words("wanted", ids, nil),
		Unwanted:      s.words("unwanted", ids, nil),
		NativeTo:      s.words("native_to", "want a list of regions as the plant table writes them", nil),
		YearlyRiskMax: s.quantity("yearly_risk_max", fraction(), "15 %", 0.001, 1),
		Seed:          int64(s.count("seed", "a number", "1", 0, 1<<30)),
	}
	for i, id := range w.Unwanted {
		if place(w.Wanted, id) >= 0 {
			s.bad("unwanted", w.Unwanted[i], "this plant is also wanted: remove it from one of the two lists")
		}
	}
	w.BloomFrom, w.BloomTo = readBloom(s.sub("bloom"))
	weights := s.sub("weights")
	defer weights.done()
	weight := func(key string) float64 {
		return weights.number(key, "a weight beside survival, which counts 1,", optional, 0, 10)
	}
	w.Weights = Weights{Bloom: weight("bloom"), Variety: weight("variety"), Native: weight("native")}
	return w
}

// heights reads one height for the whole bed, or one for each zone.
func (s *section) heights(key string) ByZone {
	one := func(s *section, key string) float64 { return s.quantity(key, heightCM(), optional, 1, 5000) }
	n, ok := s.node(key)
	if _, zones := n.(*ast.MappingNode); ok && !zones {
		h := one(s, key)
		return ByZone{Bottom: h, Slope: h, Rim: h}
	}
	z := s.sub(key)
	defer z.done()
	return ByZone{Bottom: one(z, "bottom"), Slope: one(z, "slope"), Rim: one(z, "rim")}
}

// readBloom reads from which month to which month flowers are wished for.
func readBloom(s *section) (from, to int) {
	defer s.done()
	from, to = s.month("from"), s.month("to")
	if s.has("from") != s.has("to") {
		s.d.fault(s.line, s.col, s.path, "", "want both from and to, such as {from: April, to: October}")
	}
	return from, to
}

// month reads a month by number or by name; 0 if left out.
func (s *section) month(key string) int {
	const want = "want a month, such as April or 4"
	text, ok := s.scalar(key, want)
	if !ok {
		return 0
	}
	text = strings.TrimSpace(text)
	if n, ok := plainNumber(text); ok && n == math.Trunc(n) && n >= 1 && n <= 12 {
		return int(n)
	}
	for m := time.January; m <= time.December; m++ {
		if len(text) >= 3 && strings.HasPrefix(strings.ToLower(m.String()), strings.ToLower(text)) {
			return int(m)
		}
	}
	s.bad(key, text, want)
	return 0
}
