package page_test

import (
	"context"
	"fmt"
	"testing"
	"time"

	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/cdproto/input"
	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// touch puts a finger down, leads it in steps and lifts it.
func (w *window) touch(x0, y0, x1, y1 float64) {
	w.t.Helper()
	send := func(kind input.DispatchTouchEventType, points ...*input.TouchPoint) {
		require.NoError(w.t, chromedp.Do(w.ctx, func(ctx context.Context, tab *chromedp.Target) (chromedp.Void, error) {
			_, err := cdp.Call(ctx, tab, input.DispatchTouchEvent, input.DispatchTouchEventParams{Type: kind, TouchPoints: append([]*input.TouchPoint{}, points...)})
			return chromedp.Void{}, err
		}))
	}
	send("touchStart", &input.TouchPoint{X: x0, Y: y0})
	for i := 1; i <= 10 && (x0 != x1 || y0 != y1); i++ {
		f := float64(i) / 10
		send("touchMove", &input.TouchPoint{X: x0 + f*(x1-x0), Y: y0 + f*(y1-y0)})
		time.Sleep(20 * time.Millisecond)
	}
	send("touchEnd")
}

// By touch a finger on the plan moves the page and no plant, whichever way it goes; a
// plant that was picked follows it both ways, and the page stays.
func byTouch(t *testing.T, s stand) {
	w := s.look(t, s.serve(t, garden(t)).address, looks{wide: 360, high: 740})
	require.NoError(t, chromedp.Do(w.ctx, func(ctx context.Context, tab *chromedp.Target) (chromedp.Void, error) {
		_, err := cdp.Call(ctx, tab, emulation.SetTouchEmulationEnabled, emulation.SetTouchEmulationEnabledParams{Enabled: true})
		return chromedp.Void{}, err
	}))
	w.until(`document.querySelector('#bar').hidden`, "the places are worked out")
	// The plant nearest to the middle of the bed, so that there is room all round.
	stake := ask[string](w, `(() => { const b = document.querySelector('.plan .edge').getBoundingClientRect(), x = b.left + b.width / 2, y = b.top + b.height / 2;
		const far = (e) => { const r = e.querySelector('circle').getBoundingClientRect(); return Math.hypot(r.left + r.width / 2 - x, r.top + r.height / 2 - y); };
		return [...document.querySelectorAll('.plan .plant')].sort((a, b) => far(a) - far(b))[0].dataset.stake; })()`)
	plant := fmt.Sprintf(`.plan [data-stake=%q] circle`, stake)
	at := func() []float64 {
		return ask[[]float64](w, fmt.Sprintf(`(() => { const r = document.querySelector(%q).getBoundingClientRect(), b = document.querySelector('.plan .edge').getBoundingClientRect(), x = r.left + r.width / 2, y = r.top + r.height / 2; return [x, y, scrollY, x - b.left, y - b.top]; })()`, plant))
	}
	w.do(fmt.Sprintf(`document.querySelector(%q).scrollIntoView({block: 'center'})`, plant))
	unmoved := `document.querySelector('#undo').disabled && !document.querySelector('.plan .lifting, .plan .held, .plan .on')`
	for _, way := range [][2]float64{{60, 0}, {0, -60}} {
		before := at()
		w.touch(before[0], before[1], before[0]+way[0], before[1]+way[1])
		time.Sleep(300 * time.Millisecond)
		assert.True(t, ask[bool](w, unmoved), "a finger that goes by %v moves or picks a plant", way)
		if way[1] != 0 {
			assert.Greater(t, at()[2], before[2]+20, "the page follows the finger")
		}
	}
	p := at()
	w.touch(p[0], p[1], p[0], p[1])
	w.until(fmt.Sprintf(`document.querySelector('.plan .on') && document.querySelector('.plan .on').dataset.stake === %q`, stake), "a touch picks it")
	for _, way := range [][2]float64{{0, 24}, {24, 0}} {
		w.until(`document.querySelector('#bar').hidden`, "nothing is worked out")
		p := at()
		w.touch(p[0], p[1], p[0]+way[0], p[1]+way[1])
		w.until(fmt.Sprintf(`(() => { const r = document.querySelector(%q).getBoundingClientRect(), b = document.querySelector('.plan .edge').getBoundingClientRect();
			return !document.querySelector('.plan .held') && Math.hypot(r.left + r.width / 2 - b.left - %g, r.top + r.height / 2 - b.top - %g) < 4; })()`, plant, p[3]+way[0], p[4]+way[1]), "it stands where the finger left it")
		now := at() // what stands above may have grown
		assert.InDelta(t, p[1]-p[4], now[1]-now[4], 1, "the page stays")
	}
	assert.Contains(t, ask[string](w, `document.querySelector('#undo').title`), stake)
	w.shot("moved")
	w.sound("moved by touch")
	w.zoomed()
}

// zoomed looks at the plan larger: every plant is wide enough for a finger, which then
// moves the plan.
func (w *window) zoomed() {
	w.t.Helper()
	const least = `Math.min(...[...document.querySelectorAll('.plan .plant > circle:nth-of-type(1)')].map(c => c.getBoundingClientRect().width))`
	assert.GreaterOrEqual(w.t, ask[float64](w, `document.querySelector('.plan > svg').getBoundingClientRect().width / innerWidth`), 0.9)
	assert.Less(w.t, ask[float64](w, least), 24.0)
	w.do(`for (let i = 0; i < 12; i++) document.querySelector('.zoom [aria-label=Larger]').click()`)
	assert.GreaterOrEqual(w.t, ask[float64](w, least), 24.0, "too small for a finger")
	w.do(`document.querySelector('.plan').scrollIntoView({block: 'center'})`)
	const at = `(() => { const e = document.querySelector('.plan .edge').getBoundingClientRect(); return [e.left, e.top, scrollY]; })()`
	before := ask[[]float64](w, at)
	from := ask[[]float64](w, `(() => { const b = document.querySelector('.plan').getBoundingClientRect(); for (let x = b.left + 70; x < b.right - 10; x += 5) for (let y = b.top + 10; y < b.bottom - 90; y += 5) {
		const e = document.elementFromPoint(x, y); if (e && e.closest('.plan > svg') && !e.closest('.on')) return [x, y]; } return []; })()`)
	require.Len(w.t, from, 2)
	w.touch(from[0], from[1], from[0]-50, from[1]+30)
	after := ask[[]float64](w, at)
	assert.InDelta(w.t, before[0]-50, after[0], 8)
	assert.InDelta(w.t, before[1]+30, after[1], 8)
	assert.InDelta(w.t, before[2], after[2], 1, "the page stays")
	w.shot("zoomed")
	w.sound("zoomed")
	w.click(`.zoom [aria-label="The whole plan"]`)
	assert.Less(w.t, ask[float64](w, least), 24.0)
}
