package search

import (
	"testing"

	"github.com/stretchr/testify/assert"
)

// Quantities as people write them. Readings of English: common practice, no
// source.
func TestQuantities(t *testing.T) {
	for line, want := range map[string]string{
		"under 3 ft":                    "height<91.44",
		"four weeks without rain":       "dry>=28",
		"blooms in april":               "bloom:april",
		"blue flowers":                  "colour:blue",
		"not flowering in june":         "-bloom:june",
		"survives minus 25 C":           "cold<=-25",
		"one blue plant":                "one blue plant",
		"under 3ft":                     "height<91.44",
		"under 3'":                      "height<91.44",
		"below 36 inches":               "height<91.44",
		"3 ft or less":                  "height<=91.44",
		"2 feet tall or so":             "height:45.72..76.2",
		"about 60 cm":                   "height:45..75",
		"around 2 ft wide":              "spread:45.72..76.2",
		"spread under 2 ft":             "spread<60.96",
		"no spread over 3 ft":           "-spread>91.44",
		"blooms in fall":                "bloom:september,october,november",
		"late summer bloomer":           "bloom:july,august",
		"flowers in early spring":       "bloom:march,april",
		"blooms all summer":             "bloom:june,july,august",
		"summer shade":                  "summer shade",
		"3 feet tall or less":           "height<=91.44",
		"3 feet or less in height":      "height<=91.44",
		"shrub no taller than 1 m":      "shrub height<=100",
		"not over 3 ft":                 "height<=91.44",
		"at least 1 m tall":             "height>=100",
		"4 ft or more":                  "height>=121.92",
		"1-2 ft":                        "height:30.48..60.96",
		"1 to 2 ft tall":                "height:30.48..60.96",
		"between 20 and 60 cm":          "height:20..60",
		"under 2 ft wide":               "spread<60.96",
		"spread at most 50 cm across":   "spread<=50",
		"8 inches of water":             "pond>=203.2",
		"up to 6 in of standing water":  "pond>=152.4",
		"48 hours under water":          "wet>=48",
		"3 days wet":                    "wet>=72",
		"3 weeks without rain":          "dry>=21",
		"6 hours of sun":                "sun=6",
		"2 to 3 hrs of sun":             "sun:2..3",
		"toxic to dogs":                 "toxic:pets",
		"which plants are poisonous":    "poisonous",
		"hardy to -10 F":                "cold<=-23.3333333333",
		"may bloomers":                  "bloom:may",
		"blooms white":                  "colour:white",
		"less than a foot high":         "height<30.48",
		"$2 to 3":                       "price:2..3",
		"lilac flowers":                 "colour:lilac,purple",
		"not more than 2 feet high":     "height<=60.96",
		"under $3":                      "price<3",
		"$3 or less":                    "price<=3",
		"under 5 dollars each":          "price<5",
		"june-august":                   "bloom:june,july,august",
		"jun to aug":                    "bloom:june,july,august",
		"blooms from june to august":    "blooms bloom:june,july,august",
		"blue/white":                    "colour:blue,white",
		"blue or white shrub":           "shrub colour:blue,white",
		"blue or white under 3 ft":      "colour:blue,white height<91.44",
		"not blue or white":             "not blue or white",
		"blue july":                     "blue july",
		"red and tall":                  "red and tall",
		"3 plants":                      "3 plants",
		`"under 3 ft"`:                  `"under 3 ft"`,
		"evergreen shrub for shade":     "shrub for shade evergreen",
		"native plants under 3 ft tall": "native height<91.44",
		"height under 3 ft":             "height<91.44",
		"bloom:july under 3 ft":         "bloom:july height<91.44",
	} {
		q, err := Parse(line)
		if assert.NoError(t, err, line) {
			assert.Equal(t, want, q.String(), line)
		}
	}
}
