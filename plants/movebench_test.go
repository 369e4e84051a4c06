package plants

import (
	"strconv"
	"testing"

	"hollowbed/plants/season"
)

// BenchmarkRelocate plans for beds of so many plants scattered at random, all of
// them seen to struggle.
func BenchmarkRelocate(b *testing.B) {
	for _, x := range []struct {
		plants int
		bed    string
	}{
		{50, "{shape: oval, length: 7 m, width: 5 m, ponding_depth: 150 mm, side_slope: 3:1, rim_width: 0.3 m}"},
		{200, "{shape: oval, length: 13 m, width: 10 m, ponding_depth: 150 mm, side_slope: 3:1, rim_width: 0.3 m}"},
		{1000, "{shape: oval, length: 28 m, width: 22 m, ponding_depth: 150 mm, side_slope: 3:1, rim_width: 0.3 m}"},
	} {
		b.Run(strconv.Itoa(x.plants), func(b *testing.B) {
			j := NewJudge(expose(b, map[string]string{"bed": x.bed, "roof": "{area: 400 m2}"}, someYears(10)))
			c := somePlants(60)
			in := MoveInput{Judge: j, Catalogue: c, Standing: scatter(j, c, x.plants, 1), Model: season.Default(), On: autumn()}
			in.Diagnoses = struggling(in.Standing...)
			b.ReportMetric(float64(len(in.Standing)), "plants")
			b.ReportAllocs()
			for b.Loop() {
				if _, err := Relocate(in); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}
