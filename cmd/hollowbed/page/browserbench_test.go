package page_test

import (
	"fmt"
	"slices"
	"testing"
)

// BenchmarkBrowser tells what people wait for: from the address to the first
// paint and to the plan, from a keystroke in a field to the figures that follow
// it, and from a step of a plant that is dragged to its risk; on the demo, and
// with the budget and the bed of about 500 plants.
func BenchmarkBrowser(b *testing.B) {
	s := newStand(b)
	for _, size := range []struct{ name, length, width, budget string }{{"demo", "20 ft", "14 ft", "900"}, {"500", "44 ft", "28 ft", ""}} {
		b.Run(size.name, func(b *testing.B) {
			address := s.serve(b, garden(b)).address
			w := s.look(b, address, looks{wide: 1440, high: 900})
			w.do(`document.querySelector('#tab-lot').click()`)
			w.until(`document.querySelector('#f-bed-length') && document.querySelector('#bar').hidden`, "the fields are there")
			w.do(fmt.Sprintf(`for (const [key, text] of [['wishes-budget', %q], ['bed-length', %q], ['bed-width', %q]]) {
				const e = document.querySelector('#f-' + key); e.value = text; e.dispatchEvent(new Event('change')); }
				await new Promise(done => setTimeout(done, 500))`, size.budget, size.length, size.width))
			settled := `(await (await fetch('api/progress')).json())`
			w.do(`for (;;) { const p = ` + settled + `; if (!p.busy && p.places_of === p.version) break; await new Promise(done => setTimeout(done, 100)); }`)
			plants := ask[int](w, `document.querySelectorAll('.plan .plant').length`)
			var typed, dragged []float64
			depth := 0
			for b.Loop() {
				depth++
				typed = append(typed, ask[float64](w, fmt.Sprintf(`(async () => {
					const e = document.querySelector('#f-bed-ponding_depth'), from = performance.now(), row = () => document.querySelector('#lot-follows .lines').innerText;
					const was = row(); e.value = '%d in'; e.dispatchEvent(new Event('change'));
					while (row() === was) await new Promise(requestAnimationFrame);
					return performance.now() - from; })()`, 6-depth%2)))
				w.do(`for (;;) { const p = ` + settled + `; if (!p.busy && p.places_of === p.version) break; await new Promise(done => setTimeout(done, 50)); }`)
				dragged = append(dragged, ask[float64](w, `(async () => { const stake = document.querySelector('.plan .plant').dataset.stake, from = performance.now();
					await (await fetch('api/risk', {method: 'POST', headers: {'Content-Type': 'application/json'}, body: JSON.stringify({stake, x_m: 2 + Math.random(), y_m: 2 + Math.random()})})).json();
					return performance.now() - from; })()`))
			}
			again := s.look(b, address, looks{wide: 1440, high: 900}) // has the cookie by now
			b.ReportMetric(ask[float64](again, `performance.getEntriesByName('first-contentful-paint')[0].startTime`), "ms-to-paint")
			b.ReportMetric(float64(plants), "plants")
			for name, all := range map[string][]float64{"type": typed, "drag": dragged} {
				slices.Sort(all)
				b.ReportMetric(all[len(all)/2], name+"-p50-ms")
				b.ReportMetric(all[(len(all)*99)/100], name+"-p99-ms")
			}
			b.ReportMetric(0, "ns/op")
		})
	}
}
