package page_test

import (
	"fmt"
	"slices"
	"testing"
	"time"
)

// median and worst of some times, ms.
func tell(b *testing.B, name string, times []time.Duration) {
	slices.Sort(times)
	ms := func(q float64) float64 {
		return float64(times[min(len(times)-1, int(q*float64(len(times))))].Microseconds()) / 1000
	}
	b.ReportMetric(ms(0.5), name+"-p50-ms")
	b.ReportMetric(ms(0.99), name+"-p99-ms")
}

// How long a window waits from a change of the garden until all figures have
// followed, and until every plant has its place.
func BenchmarkChange(b *testing.B) {
	for _, c := range []struct{ name, key, one, two string }{
		{"bed", "bed.length", "20 ft", "21 ft"}, {"soil", "soil.safety_factor", "2", "2.1"},
		{"wish", "wishes.budget", "900", "800"}, {"sun", "sun.rim", "7 h", "6 h"},
	} {
		b.Run(c.name, func(b *testing.B) {
			w := call(b, demoGarden(b))
			s := w.placed()
			var figures, seen, places, cpu []time.Duration
			for i := 0; b.Loop(); i++ {
				value := c.two
				if i%2 == 1 {
					value = c.one
				}
				began, had := time.Now(), processor()
				s = w.try(s.Version, map[string]string{c.key: value})
				figures, cpu = append(figures, time.Since(began)), append(cpu, processor()-had)
				if s.FiguresOf != s.Version {
					b.Fatal("figures did not follow", s.Failed)
				}
				w.seen(s)
				seen = append(seen, time.Since(began))
				w.placed()
				places = append(places, time.Since(began))
			}
			tell(b, "figures", figures)
			tell(b, "figures-cpu", cpu)
			tell(b, "places-seen", seen)
			tell(b, "places-settled", places)
		})
	}
}

// seen waits until the plants of a state's version are in their places, though
// these may not be settled yet.
func (w *caller) seen(s shown) {
	for s.PlacesOf != s.Version {
		s = get[shown](w, fmt.Sprintf("/api/state?after=%d", s.Tick))
	}
}

// How long a plant that is dragged waits for its risk.
func BenchmarkDrag(b *testing.B) {
	w := call(b, demoGarden(b))
	s := w.placed()
	var times []time.Duration
	for i := 0; b.Loop(); i++ {
		body := fmt.Sprintf(`{"stake":%q,"x_m":%g,"y_m":2.1}`, s.Plants[i%len(s.Plants)].Stake, 1+float64(i%400)/100)
		began := time.Now()
		if status, text := w.ask("POST", "/api/risk", body); status != 200 {
			b.Fatal(string(text))
		}
		times = append(times, time.Since(began))
	}
	tell(b, "drag", times)
}

// A bed with about five hundred plants: what its state weighs, how long a
// change, its places and a drag take.
func BenchmarkFiveHundred(b *testing.B) {
	w := call(b, demoGarden(b))
	s := w.placed()
	s = w.try(s.Version, map[string]string{"bed.length": "38 ft", "bed.width": "27 ft", "wishes.budget": "", "wishes.most_species": "30"})
	s = w.placed()
	_, text := w.ask("GET", "/api/state", "")
	var figures, places, drags []time.Duration
	for i := 0; b.Loop(); i++ {
		began := time.Now()
		s = w.try(s.Version, map[string]string{"sun.rim": fmt.Sprintf("%d h", 6+i%2)})
		figures = append(figures, time.Since(began))
		s = w.placed()
		places = append(places, time.Since(began))
		for k := range 20 {
			body := fmt.Sprintf(`{"stake":%q,"x_m":%g,"y_m":4}`, s.Plants[k].Stake, 2+float64(k)/4)
			began = time.Now()
			if status, text := w.ask("POST", "/api/risk", body); status != 200 {
				b.Fatal(string(text))
			}
			drags = append(drags, time.Since(began))
		}
	}
	b.ReportMetric(float64(len(s.Plants)), "plants")
	b.ReportMetric(float64(len(text))/1000, "kB-state")
	tell(b, "figures", figures)
	tell(b, "places", places)
	tell(b, "drag", drags)
}
