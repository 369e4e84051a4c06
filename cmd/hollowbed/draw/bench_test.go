package draw

import (
	"fmt"
	"math"
	"testing"

	"hollowbed/zones/basin"
)

// benchPlan is a bed that holds n plants of half a metre.
func benchPlan(b *testing.B, n int) PlanIn {
	side := math.Sqrt(float64(n)*0.25*1.5) + 1.4
	return scene(b, basin.Outline{Kind: "rectangle", LengthM: 1.5 * side, WidthM: side}, metric(), 8+n/100, n, 0.5)
}

func BenchmarkPlan(b *testing.B) {
	for _, n := range []int{20, 200, 2000} {
		b.Run(fmt.Sprintf("plants=%d", n), func(b *testing.B) {
			in := benchPlan(b, n)
			b.ReportMetric(float64(len(in.Plants)), "plants")
			b.ReportMetric(float64(len(Plan(in).SVG())), "bytes")
			for b.Loop() {
				Plan(in)
			}
		})
	}
}

func BenchmarkSection(b *testing.B) {
	for _, n := range []int{20, 200, 2000} {
		b.Run(fmt.Sprintf("plants=%d", n), func(b *testing.B) {
			in := section(benchPlan(b, n))
			for b.Loop() {
				Section(in)
			}
		})
	}
}

func BenchmarkBloom(b *testing.B) {
	in := blooms()["bloom-porch"]
	for b.Loop() {
		BloomChart(in)
	}
}
