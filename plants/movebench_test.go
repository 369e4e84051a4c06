package plants

import (
	"fmt"
	"testing"

	"hollowbed/plants/season"
)

// BenchmarkRelocate plans for beds of so many plants scattered at random, all of
// them seen to struggle, and for one in which all are alike and on one spot.
func BenchmarkRelocate(b *testing.B) {
	for _, x := range []struct {
		plants int
		spots  int
		bed    string
	}{
		{50, 50, "{shape: oval, length: 7 m, width: 5 m, ponding_depth: 150 mm, side_slope: 3:1, rim_width: 0.3 m}"},
		{200, 200, "{shape: oval, length: 13 m, width: 10 m, ponding_depth: 150 mm, side_slope: 3:1, rim_width: 0.3 m}"},
		{1000, 1000, "{shape: oval, length: 28 m, width: 22 m, ponding_depth: 150 mm, side_slope: 3:1, rim_width: 0.3 m}"},
		{1000, 1, "{shape: oval, length: 28 m, width: 22 m, ponding_depth: 150 mm, side_slope: 3:1, rim_width: 0.3 m}"},
	} {
		b.Run(fmt.Sprint(x.plants, "-on-", x.spots), func(b *testing.B) {
			j := NewJudge(expose(b, map[string]string{"bed": x.bed, "roof": "{area: 400 m2}"}, someYears(10)))
			c := somePlants(60)
			in := MoveInput{Judge: j, Catalogue: c, Standing: scatter(j, c, x.plants, 1), Model: season.Default(), On: autumn()}
			for i := range in.Standing {
				if like := in.Standing[i%x.spots]; x.spots == 1 {
					in.Standing[i].ID, in.Standing[i].X, in.Standing[i].Y = like.ID, like.X, like.Y
				}
			}
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
