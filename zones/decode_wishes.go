package zones

import (
	"fmt"
	"io/fs"
	"maps"
	"math"
	"slices"
	"strconv"
	"strings"
	"time"

	"github.com/goccy/go-yaml/ast"

	"hollowbed/zones/climate"
	"hollowbed/zones/site"
)

func readWeather(s *section, place Site) Weather {
	defer s.done()
	zone := place.Location
	w := Weather{File: s.text("file"), Station: s.text("station"), Monthly: s.text("monthly"), WetDayMM: s.quantity("wet_day")}
	s.checkClimate(w, place)
	if w.File == "" && !s.has("file") && !w.FromClimate() {
		w.File = s.key("file").Default
		s.d.assumed = append(s.d.assumed, s.name("file")+": "+w.File)
	}
	if w.File != "" && (!fs.ValidPath(w.File) || strings.Contains(w.File, `\`)) {
		s.bad("file", w.File, "want the name of a file in the folder of the garden, such as rain.csv")
	}
	w.Format = site.Format{
		Columns:   s.table("columns"),
		RainUnit:  s.text("rain_unit"),
		TempUnit:  s.text("temp_unit"),
		Missing:   s.words("missing"),
		Trace:     s.words("trace"),
		AbsentRow: s.text("absent_row"),
		Zeros:     s.text("zeros"),
		Clock:     s.text("clock"),
		Zone:      zone,
		Step:      s.text("step"),
		Pattern:   s.text("pattern"),
		DateOrder: s.text("date_order"),
		Where:     s.table("where"),
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
	w.Snow = s.choice("snow")
	w.ET0ByMonthMM = s.byMonth("et0_by_month")
	return w
}

// checkClimate looks at the keys of a climate that is to make the weather.
func (s *section) checkClimate(w Weather, place Site) {
	if w.Monthly != "" && (!fs.ValidPath(w.Monthly) || strings.Contains(w.Monthly, `\`)) {
		s.bad("monthly", w.Monthly, "expected the name of a file in the folder of the garden, such as months.csv")
	}
	if w.Station != "" && w.Monthly != "" {
		s.bad("monthly", w.Monthly, "expected either this or station")
	}
	switch nearest := strings.EqualFold(w.Station, nearestStation); {
	case nearest && math.IsNaN(place.LongitudeDeg):
		s.bad("station", w.Station, "the longitude is missing: expected site.longitude as well, or the id of a station; hollowbed weather --near lists them")
	case w.Station != "" && !nearest:
		if _, ok := climate.StationByID(w.Station); !ok {
			s.bad("station", w.Station, "no such station is built in: expected nearest, or an id such as IL116711; hollowbed weather --near lists them")
		}
	}
}

// table reads a mapping of free text to free text.
func (s *section) table(key string) map[string]string {
	want := s.key(key).want
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
	k := s.key(key)
	nodes, ok := s.items(key, k.want)
	if !ok {
		return nil
	}
	if len(nodes) != 12 {
		s.bad(key, strconv.Itoa(len(nodes))+" values", k.want)
		return nil
	}
	out := make([]float64, 12)
	for i, n := range nodes {
		name := s.name(key) + "[" + strconv.Itoa(i+1) + "]"
		out[i] = s.d.figure(name, n, k.of, k.of.wanted(), k.lo, k.hi)
	}
	return out
}

func readWishes(s *section) Wishes {
	defer s.done()
	w := Wishes{
		ShareCap:      s.quantity("share_cap"),
		SmallestGroup: s.count("smallest_group"),
		MostSpecies:   s.count("most_species"),
		Budget:        s.number("budget"),
		HourWorth:     s.number("hour_worth"),
		Size:          s.choice("size"),
		HeightMaxCM:   s.heights("height_max"),
		NoToxicTo:     s.words("no_toxic_to"),
		NoRunners:     s.yes("no_runners"),
		HarmUnknown:   s.choice("harm_unknown"),
		Watering:      s.choice("watering"),
		Sold:          s.choice("sold"),
		Trees:         s.yes("trees"),
		FurtherNames:  s.yes("further_names"),
		Wanted:        s.words("wanted"),
		Unwanted:      s.words("unwanted"),
		NativeTo:      s.words("native_to"),
		YearlyRiskMax: s.quantity("yearly_risk_max"),
		Seed:          int64(s.count("seed")),
	}
	for _, id := range w.Unwanted {
		if slices.Contains(w.Wanted, id) {
			s.bad("unwanted", id, "this plant is also wanted: remove it from one of the two lists")
		}
	}
	w.BloomFrom, w.BloomTo = readBloom(s.sub("bloom"))
	w.Layers = readLayers(s.sub("layers"))
	prices := s.sub("prices")
	for _, size := range Sizes() {
		w.Prices = append(w.Prices, prices.number(strings.ReplaceAll(size, " ", "_")))
	}
	prices.done()
	given := s.sub("weights")
	defer given.done()
	w.Weights = weights{Bloom: given.number("bloom"), Variety: given.number("variety"), Native: given.number("native")}
	return w
}

// heights reads one height for the whole bed, or one for each zone.
func (s *section) heights(key string) byZone {
	n, ok := s.node(key)
	if _, zones := n.(*ast.MappingNode); ok && !zones {
		h := s.quantity(key)
		return byZone{Bottom: h, Slope: h, Rim: h}
	}
	z := s.sub(key)
	defer z.done()
	return byZone{Bottom: z.quantity("bottom"), Slope: z.quantity("slope"), Rim: z.quantity("rim")}
}

// readLayers reads the least shares of the layers, which have to leave room for each
// other.
func readLayers(s *section) Layers {
	defer s.done()
	l := Layers{Matrix: s.quantity("matrix"), Structure: s.quantity("structure"), Seasonal: s.quantity("seasonal")}
	sum := 0.0
	for _, share := range []float64{l.Matrix, l.Structure, l.Seasonal} {
		if !math.IsNaN(share) {
			sum += share
		}
	}
	if sum > 1+1e-9 {
		s.d.fault(s.line, s.col, s.path, fmt.Sprintf("%.0f %% in all", 100*sum), "expected shares that come to at most 100 %, such as {matrix: 50 %, structure: 10 %, seasonal: 25 %}")
	}
	return l
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
	want := s.key(key).want
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
