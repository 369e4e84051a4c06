package zones

import (
	"cmp"
	"errors"
	"fmt"
	"math"
	"regexp"
	"strconv"
	"strings"

	"hollowbed/zones/basin"
	"hollowbed/zones/table"
)

// Answers is what a new garden file is written from, as typed; keys as in Questions.
type Answers struct {
	Name         string
	Units        string
	Latitude     string
	Longitude    string // not asked; may stay empty
	Station      string // not asked: the built-in climate that makes the weather; may stay empty
	Plants       string // not asked: PlantsUS where the lot lies in the United States; may stay empty
	TimeZone     string
	RoofArea     string
	RoofShare    string
	Soil         string // a texture class or a measured rate
	Shape        string // "rectangle", "oval", "L" or "kidney"
	Length       string
	Width        string
	CutLength    string // of an L: of the length, what the corner left out takes
	CutWidth     string // and of the width
	Bay          string // of a kidney: how far it reaches in
	PondingDepth string
	Sun          string // may stay empty
	HarmUnknown  string // of real plants: "allow" or "leave out"; "" for "allow"
}

// Question is one thing to ask for a new garden.
type Question struct {
	Key     string // also the name of the flag: "roof-area"
	Prompt  string // one line, without the default
	Default string // taken for an empty answer; "" if there is none
	Example string // a good answer
	Empty   bool   // may stay without an answer
}

// Questions lists what to ask for a new garden, in order, the units first.
func Questions(u Units) []Question {
	in := u.pick
	return []Question{
		{Key: "units", Prompt: "Show figures in us or metric units?", Default: in("us", "metric"), Example: "us"},
		{Key: "name", Prompt: "What do you call the garden?", Default: "My garden", Example: "My garden"},
		{Key: "latitude", Prompt: "Latitude in degrees (south of the equator below zero)?", Example: "41.5"},
		{Key: "time-zone", Prompt: "Time zone, by region and town?", Example: in("America/Chicago", "Europe/Berlin")},
		{Key: "roof-area", Prompt: "Area of the whole roof, seen from above?", Example: in("1200 sq ft", "110 m2")},
		{Key: "roof-share", Prompt: "How much of that roof drains to the downspout you will use?", Default: "50 %", Example: "50 %"},
		{Key: "soil", Prompt: "Soil: a texture such as clay loam, or a measured rate such as " + in("0.5 in/h", "12 mm/h") + "?", Default: "clay loam", Example: "clay loam"},
		{Key: "shape", Prompt: "Shape of the bed: rectangle, oval, L or kidney?", Default: "oval", Example: "oval"},
		{Key: "length", Prompt: "Length of the bed, outer edge to outer edge?", Default: in("20 ft", "6 m"), Example: in("20 ft", "6 m")},
		{Key: "width", Prompt: "Width of the bed, outer edge to outer edge?", Default: in("14 ft", "4.2 m"), Example: in("14 ft", "4.2 m")},
		{Key: "ponding-depth", Prompt: "How deep may water stand before it spills?", Default: in("6 in", "150 mm"), Example: in("6 in", "150 mm")},
		{Key: "sun", Prompt: "Hours of direct sun a day in the growing season (empty if not known yet)?", Example: "6 h", Empty: true},
	}
}

// HarmQuestion is asked where real plants are to be listed.
func HarmQuestion() Question {
	return Question{
		Key: "harm-unknown", Prompt: "Of most real plants nobody has written down whether they harm people or animals: list them, each marked (allow), or leave out?",
		Default: harmSample, Example: "leave out",
	}
}

// field is where the answer to a question is kept; nil for an unknown key.
func (a *Answers) field(key string) *string {
	return map[string]*string{
		"name": &a.Name, "units": &a.Units, "latitude": &a.Latitude, "time-zone": &a.TimeZone,
		"roof-area": &a.RoofArea, "roof-share": &a.RoofShare, "soil": &a.Soil,
		"shape": &a.Shape, "length": &a.Length, "width": &a.Width, "cut-length": &a.CutLength, "cut-width": &a.CutWidth, "bay": &a.Bay,
		"ponding-depth": &a.PondingDepth, "sun": &a.Sun, "harm-unknown": &a.HarmUnknown,
	}[key]
}

// Set checks an answer and keeps it; an empty one takes the default. The error says what
// would be right.
func (a *Answers) Set(key, text string) error {
	f := a.field(key)
	if f == nil {
		return fmt.Errorf("no question is called %q", key)
	}
	u := Units(a.Units)
	text = strings.TrimSpace(text)
	for _, q := range allQuestions(u) {
		if q.Key != key || text != "" {
			continue
		}
		if q.Default == "" && !q.Empty {
			return table.Faults{{Name: key, Want: "want an answer, such as " + q.Example}}
		}
		text = q.Default
	}
	if q := HarmQuestion(); key == q.Key {
		if *f = cmp.Or(text, q.Default); *f != q.Default && *f != q.Example {
			return table.Faults{{Name: key, Value: text, Want: "expected " + q.Default + " or " + q.Example}}
		}
		return nil
	}
	if shape, ok := byLengths(text); key == "shape" && ok {
		*f = shape
		return nil
	}
	if key == "cut-length" || key == "cut-width" || key == "bay" {
		if want := a.checkCut(key, text); want != "" {
			return table.Faults{{Name: key, Value: text, Want: want}}
		}
	} else if err := checkAnswer(u, key, text); err != nil {
		return err
	}
	*f = text
	return nil
}

// UsualPonding is the ponding depth for who names none: six inches, or the deepest of
// shallower ones whose sides leave a bottom, so that water a quarter deeper would too.
// Common practice, no source.
func (a Answers) UsualPonding() string {
	depths := []string{"6 in", "5 in", "4 in", "3 in", "2 in"}
	if Units(a.Units) == UnitsMetric {
		depths = []string{"150 mm", "125 mm", "100 mm", "75 mm", "50 mm"}
	}
	for _, a.PondingDepth = range depths {
		g, err := ReadGarden("", strings.NewReader(Template(a)))
		if err != nil {
			return depths[0] // another answer is wrong, and told
		}
		if _, err := basin.New(g.spec(1, 1.25*g.Bed.PondingDepthMM)); err == nil {
			break
		}
	}
	return a.PondingDepth
}

// Fits returns what keeps a bed of these answers from holding its water; nil too where
// another answer is wrong.
func (a Answers) Fits() error {
	g, err := ReadGarden("", strings.NewReader(Template(a)))
	if err != nil {
		return nil
	}
	if _, err = g.bed(); err == nil {
		return nil
	}
	var faults table.Faults
	errors.As(err, &faults)
	return table.Faults{{Name: "ponding-depth", Value: a.PondingDepth, Want: faults[0].Want}}
}

// checkAnswer reads a garden of good answers with this one among them.
func checkAnswer(u Units, key, text string) error {
	var trial Answers
	for _, q := range Questions(u) {
		*trial.field(q.Key) = q.Example
	}
	*trial.field(key) = text
	if text != printable(text) {
		return table.Faults{{Name: key, Value: text, Want: "want plain text on one line"}}
	}
	_, err := ReadGarden("", strings.NewReader(Template(trial)))
	var faults table.Faults
	if !errors.As(err, &faults) && !(key == "shape" && strings.EqualFold(text, "polygon")) {
		return err
	}
	want := "expected rectangle, oval, L or kidney" + shapeAsked(text)
	if key != "shape" {
		want = faults[0].Want
	}
	if key == "soil" && !strings.ContainsAny(text, "0123456789") && !strings.Contains(want, "0.5 in/h") {
		want += "; or a measured rate such as 0.5 in/h"
	}
	return table.Faults{{Name: key, Value: text, Want: want}}
}

// Template writes a garden file from answers, which ReadGarden reads back; keys not asked
// are comments with their defaults.
func Template(a Answers) string {
	soil := "texture: " + yamlText(a.Soil)
	if strings.ContainsAny(a.Soil, "0123456789") {
		soil = "rate: " + yamlText(a.Soil)
	}
	sun := "# sun: 6 h"
	if a.Sun != "" {
		sun = "sun: " + yamlText(a.Sun)
	}
	shape, text := a.Shape, templateText()
	if Units(a.Units) == UnitsMetric {
		text = metricSamples(text)
	}
	if outline := a.outline(); outline != nil {
		shape = "polygon"
		text = regexp.MustCompile(`(?m)^  (length|width): .*\n`).ReplaceAllString(text, "")
		text = regexp.MustCompile(`(?m)^  # points: .*\n`).ReplaceAllLiteralString(text, corners(Units(a.Units), outline))
	}
	return strings.NewReplacer(append(a.place(),
		"{name}", yamlText(a.Name), "{units}", yamlText(a.Units),
		"{latitude}", yamlText(a.Latitude), "{time_zone}", yamlText(a.TimeZone),
		"{area}", yamlText(a.RoofArea), "{share}", yamlText(a.RoofShare),
		"{soil}", soil, "{shape}", yamlText(shape),
		"{length}", yamlText(a.Length), "{width}", yamlText(a.Width),
		"{ponding_depth}", yamlText(a.PondingDepth), "{sun}", sun,
	)...).Replace(text)
}

// metricSamples writes the samples of a template in metric units, what keeps a distance
// rounded up. The first paragraph and lists of units stay.
func metricSamples(text string) string {
	first, rest, _ := strings.Cut(text, "\n\n")
	rest = strings.ReplaceAll(rest, "1 in per 10 ft", "0.83 %")
	sample := regexp.MustCompile(`(-?[0-9]+(?:\.[0-9]+)?)( 1/2)?( ft 6 in| ft| in/h| in| sq ft)\b`)
	lines := strings.Split(rest, "\n")
	for i, line := range lines {
		if strings.Contains(line, "_unit: ") {
			continue
		}
		lines[i] = sample.ReplaceAllStringFunc(line, func(s string) string {
			m := sample.FindStringSubmatch(s)
			v, _ := strconv.ParseFloat(m[1], 64)
			if m[2] != "" {
				v += 0.5
			}
			switch m[3] {
			case " ft 6 in":
				return fmt.Sprintf("%.4g m", math.Ceil((v+0.5)*3.048)/10)
			case " ft":
				return fmt.Sprintf("%.4g m", math.Ceil(v*3.048)/10)
			case " sq ft":
				return fmt.Sprintf("%.0f m2", v*0.09290304)
			case " in/h":
				return fmt.Sprintf("%.0f mm/h", v*25.4)
			}
			return fmt.Sprintf("%.0f mm", 5*math.Round(v*25.4/5))
		})
	}
	return first + "\n\n" + strings.Join(lines, "\n")
}

// longitudeSample stands in a template for a longitude that is not known.
const longitudeSample = "-89.7"

// Samples that take part in a garden in the United States.
const (
	plantsSample = "plants.csv"
	harmSample   = "allow"
)

// place takes the # away from what a place fills in without a question.
func (a Answers) place() []string {
	var pairs []string
	if a.Longitude != "" {
		pairs = append(pairs, "  # longitude: "+longitudeSample, "  longitude: "+a.Longitude)
	}
	if a.Plants == PlantsUS {
		pairs = append(pairs, "# plants: "+plantsSample, "plants: us        ", "# wishes:", "wishes:  ", "#   harm_unknown: "+harmSample+"  ", "  harm_unknown: "+cmp.Or(a.HarmUnknown, harmSample)+"    ")
	}
	if a.Station != "" {
		pairs = append(pairs, "# weather:", "weather:  ", "#   station: nearest ", "  station: "+a.Station+" ")
	}
	return pairs
}

// yamlText puts quotes around a text unless it is plain beyond doubt.
func yamlText(s string) string {
	if regexp.MustCompile(`^[A-Za-z0-9][A-Za-z0-9 ./%_-]*$`).MatchString(s) && !strings.EqualFold(s, "null") || regexp.MustCompile(`^-?[0-9.]+$`).MatchString(s) {
		return s
	}
	return "'" + strings.ReplaceAll(s, "'", "''") + "'"
}

// noteAt is where the notes of a template begin, in characters.
const noteAt = 29

// templateText is the template before its answers: a line for each key of the
// table that has one, behind a # where nothing was asked.
func templateText() string {
	answer := regexp.MustCompile(`^\{[a-z_]+\}$`)
	asked := map[string]bool{} // sections that hold an answer
	for _, k := range Keys() {
		if top, _, below := strings.Cut(k.Path, "."); below && answer.MatchString(k.sample) {
			asked[top] = true
		}
	}
	var b strings.Builder
	b.WriteString("# A garden file. Quantities carry their unit: " + strings.Replace(FigureSamples, " 620", "\n# 620", 1) + ". Take the # away from a line to use it.\n\n")
	for i, k := range Keys() {
		top, name, below := strings.Cut(k.Path, ".")
		before := ""
		switch {
		case below && k.sample == "":
			continue
		case !below:
			name = top
			if i > 2 { // below version, name and units
				b.WriteByte('\n')
			}
			if !asked[top] && !answer.MatchString(k.sample) && i > 0 {
				before = "# "
			}
		case !asked[top]:
			before = "#   "
		case answer.MatchString(k.sample):
			before = "  "
		default:
			before = "  # "
		}
		if k.lead != "" {
			b.WriteString(k.lead + "\n")
		}
		b.WriteString(k.templateLine(before, name))
	}
	return b.String()
}

// templateLine is one key in a template; the answers on soil and sun are whole lines.
func (k Key) templateLine(before, name string) string {
	value, more, _ := strings.Cut(k.sample, "\n")
	line := strings.TrimSuffix(before+name+": "+value, " ")
	if value == "{soil}" || value == "{sun}" {
		line = before + value
	}
	if k.note != "" {
		line += strings.Repeat(" ", max(2, noteAt-len(line))) + "# " + k.note
	}
	line += "\n"
	for l := range strings.SplitSeq(more, "\n") {
		if l != "" {
			line += before + "  " + l + "\n"
		}
	}
	return line
}
