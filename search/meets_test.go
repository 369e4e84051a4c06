package search

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"hollowbed/plants/catalogue"
)

// unknownPlant has nothing stated.
func unknownPlant() catalogue.Plant {
	n := math.NaN()
	return catalogue.Plant{ID: "blank", SunMinH: n, SunMaxH: n, WetH: n, PondMM: n, DryD: n, LowestC: n, RootCM: n, HeightCM: n, SpreadCM: n, Price: n}
}

func samplePlant() catalogue.Plant {
	p := unknownPlant()
	p.ID, p.VernacularName, p.ScientificName, p.Form = "amber-fenwort", "Amber fenwort", "Fenwortia succinea", "forb"
	p.Zones = []string{"bottom", "slope"}
	p.SunMinH, p.SunMaxH, p.WetH, p.PondMM, p.DryD, p.LowestC = 4, 8, 72, 150, 14, -20
	p.HeightCM, p.SpreadCM, p.Price = 90, 60, 6.5
	p.FlowerFrom, p.FlowerTo, p.FlowerColour = 11, 2, []string{"Yellow", "orange"}
	p.Evergreen, p.NativeTo, p.Spreads, p.Toxic = "semi", []string{"Élan valley"}, "slowly", []string{"pets", "skin"}
	p.Notes = "Bears wet feet."
	return p
}

func ask(t *testing.T, line string, p catalogue.Plant) answer {
	q, err := Parse(line)
	require.NoError(t, err, line)
	require.Len(t, q.Conditions, 1, line)
	return q.Conditions[0].ready(q.Conditions[0].field())(&p)
}

func TestConditionsOnAKnownPlant(t *testing.T) {
	p := samplePlant()
	for line, want := range map[string]answer{
		"wet>=72": yes, "wet>72": no, "wet:3d": yes, "wet:4d": no, "wet<=72": yes, "wet<72": no, "wet=72": yes, "wet:10..72": yes,
		"pond>=6in": no, "pond>=5in": yes, "dry:2wk": yes, "dry:15": no,
		"cold:-20": yes, "cold:-21": no, "cold:-10": yes, "cold>=-20": yes, "cold>=-19": no,
		"height<3ft": yes, "height<90": no, "spread:50..70": yes, "price<=6": no,
		"sun:4": yes, "sun:8": yes, "sun:3": no, "sun:9": no, "sun>=8": yes, "sun>8": no, "sun<=4": yes, "sun<4": no, "sun:1..4": yes, "sun:9..12": no,
		"bloom:jan": yes, "bloom:nov": yes, "bloom:mar": no, "bloom:feb..apr": yes, "bloom:3..10": no,
		"colour:yellow": yes, "colour:blue,orange": yes, "colour:blue": no,
		"zone:bottom": yes, "zone:rim": no, "-zone:rim": yes, "-zone:slope": no,
		`native:"elan valley"`: yes, "native:coast": no, "form:forb": yes,
		"evergreen": no, "-evergreen": yes, "evergreen:semi": yes,
		"toxic": yes, "-toxic": no, "toxic:pets": yes, "toxic:people": no, "-toxic:people": yes, "toxic:none": no,
		"spreads": yes, "-spreads": no, "spreads:slowly,no": yes, "spreads:runs": no,
	} {
		assert.Equal(t, want, ask(t, line, p), line)
	}
	p.Toxic, p.Spreads = []string{"none"}, "no"
	for line, want := range map[string]answer{"toxic": no, "-toxic": yes, "toxic:none": yes, "toxic:no": yes, "toxic:pets": no, "-toxic:pets": yes, "spreads": no, "-spreads": yes, "spreads:no": yes} {
		assert.Equal(t, want, ask(t, line, p), line)
	}
}

func TestUnknownMeetsNothing(t *testing.T) {
	p := unknownPlant()
	for _, line := range []string{"wet>=0", "wet<=9999", "pond:1", "dry<5", "cold:-5", "height>0", "spread<9", "price<5", "sun:5", "sun>=1", "sun<=9",
		"bloom:1..12", "colour:blue", "zone:rim", "native:x", "form:forb", "evergreen", "toxic", "spreads"} {
		assert.Equal(t, unknown, ask(t, line, p), line)
		assert.Equal(t, unknown, ask(t, "-"+line, p), "-"+line)
	}
}

// With one end of the hours unstated, an answer is given only if it does not
// hang on that end.
func TestSunWithOneEndUnknown(t *testing.T) {
	p := unknownPlant()
	p.SunMinH = 4
	for line, want := range map[string]answer{"sun:3": no, "sun:4": unknown, "sun<=5": yes, "sun<4": no, "sun>=6": unknown, "sun>=2": unknown, "sun:1..3": no} {
		assert.Equal(t, want, ask(t, line, p), line)
	}
	p = unknownPlant()
	p.SunMaxH = 6
	for line, want := range map[string]answer{"sun:7": no, "sun:5": unknown, "sun>=5": yes, "sun>6": no, "sun<=3": unknown} {
		assert.Equal(t, want, ask(t, line, p), line)
	}
}

func TestLastMonthMissingIsTheFirst(t *testing.T) {
	p := unknownPlant()
	p.FlowerFrom = 6
	assert.Equal(t, yes, ask(t, "bloom:june", p))
	assert.Equal(t, no, ask(t, "bloom:july", p))
}
