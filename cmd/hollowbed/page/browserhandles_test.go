package page_test

import (
	"context"
	"fmt"
	"os"
	"path/filepath"
	"testing"
	"time"

	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// The shape by handles: with keys the inlet, by mouse the corner, by touch the spill. What is
// held says its measure, warns of a wrong side, and is in the file once it is saved.
func byHandles(t *testing.T, s stand) {
	folder := garden(t)
	address := s.serve(t, folder).address
	w := s.look(t, address, looks{wide: 1280, high: 900})
	w.until(`document.querySelector('#bar').hidden`, "the places are worked out")
	assert.Zero(t, ask[int](w, `document.querySelectorAll('.handle').length`))
	w.click(".shape")
	assert.Equal(t, 6, ask[int](w, `document.querySelectorAll('.handle').length`))
	w.sound("handles")
	said := func(words string) {
		t.Helper()
		w.until(fmt.Sprintf(`document.querySelector('#say').textContent.includes(%q)`, words), "it says "+words)
	}
	w.do(`document.querySelector('.plan > svg').focus()`)
	w.tabTo(`[data-handle="inlet"]`)
	w.press(kb.ArrowLeft, chromedp.KeyModifiers(chromedp.ModifierShift))
	w.press(kb.ArrowLeft, chromedp.KeyModifiers(chromedp.ModifierShift))
	said("Inlet: -2 ft along, 7 ft across. Inlet 2 ft outside the bed")
	w.shot("inlet outside")
	w.press(kb.Escape)
	said("Put back")
	w.press(kb.ArrowUp + kb.ArrowUp + kb.Enter)
	w.until(`document.querySelector('#undo').title === 'inlet back to its place'`, "Enter keeps it")
	w.until(`document.querySelector('#bar').hidden`, "it is worked out")
	assert.Equal(t, "inlet", ask[string](w, `document.activeElement.dataset.handle`), "the focus stays on it")
	x, y := w.middle(`[data-handle="corner"]`)
	w.drag(x, y, x+60, y-20, func() {
		said("Far corner: bed ")
		assert.Equal(t, 1, ask[int](w, `document.querySelectorAll('.would').length`))
		w.shot("corner held")
		w.choose("#units", "metric")
		w.until(`document.querySelector('#list').innerText.includes(' m2')`, "the page is drawn anew")
	})
	w.until(`document.querySelector('#undo').title === 'corner back to its place'`, "the mouse keeps it")
	w.until(`document.querySelector('#bar').hidden`, "it is worked out")
	w.shot("corner")
	w.sound("a longer bed")
	w.click("#save")
	w.until(`document.querySelector('#changed').textContent === 'As on disk'`, "it is saved")
	text, err := os.ReadFile(filepath.Join(folder, "garden.yaml"))
	require.NoError(t, err)
	assert.Contains(t, string(text), "inlet: [0 ft, 7 ft 2 in]")
	assert.NotContains(t, string(text), "length: 20 ft\n")
	w.click(".shape")
	assert.Zero(t, ask[int](w, `document.querySelectorAll('.handle').length`))

	w = s.look(t, address, looks{wide: 360, high: 740})
	require.NoError(t, chromedp.Do(w.ctx, func(ctx context.Context, tab *chromedp.Target) (chromedp.Void, error) {
		_, err := cdp.Call(ctx, tab, emulation.SetTouchEmulationEnabled, emulation.SetTouchEmulationEnabledParams{Enabled: true})
		return chromedp.Void{}, err
	}))
	w.until(`document.querySelector('#bar').hidden`, "the places are worked out")
	w.click(".shape")
	assert.GreaterOrEqual(t, ask[float64](w, `Math.min(...[...document.querySelectorAll('.handle .reach')].map(c => c.getBoundingClientRect().width))`), 24.0, "too small for a finger")
	x, y = w.middle(`[data-handle="spill"]`)
	w.touch(x, y, x-90, y)
	w.until(`document.querySelector('#undo').title === 'spill back to its place'`, "a finger leads it")
	w.until(`document.querySelector('#plan-says').innerText.length > 0 || document.querySelector('#bar').hidden`, "it is worked out")
	time.Sleep(300 * time.Millisecond)
	w.shot("spill")
	w.sound("the spill in the pond")
	w.until(`document.querySelector('#verdict').innerText.includes('inlet and spill') || document.querySelector('#plan-says').innerText.includes('inside the pond')`, "the pond's spill is warned of")
}
