package page_test

import (
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"hollowbed/testdata/testenv"
)

// press types keys where the focus is.
func (w *window) press(keys string, options ...chromedp.KeyOption) {
	w.t.Helper()
	require.NoError(w.t, chromedp.Do(w.ctx, chromedp.KeyEvent(keys, options...)))
}

// tabTo presses the tabulator until the focus is on an element.
func (w *window) tabTo(selector string) {
	w.t.Helper()
	var way []string
	for range 120 {
		way = append(way, ask[string](w, `document.activeElement.id || document.activeElement.tagName + document.activeElement.className`))
		if ask[bool](w, fmt.Sprintf(`document.activeElement.matches(%q)`, selector)) {
			ring := ask[string](w, `getComputedStyle(document.activeElement).outlineStyle`)
			assert.NotEqual(w.t, "none", ring, "%s: the focus does not show", selector)
			return
		}
		w.press(kb.Tab)
	}
	require.FailNow(w.t, "the tabulator does not lead to "+selector, strings.Join(way, " "))
}

// All of it by the keys alone: no mouse is touched.
func byKeysAlone(t *testing.T, s stand) {
	folder := garden(t)
	w := s.look(t, s.serve(t, folder).address, looks{wide: 1280, high: 900})
	w.until(`document.querySelector('#bar').hidden`, "the places are worked out")
	w.press(kb.Tab)
	assert.Equal(t, "To the plan", ask[string](w, `document.activeElement.textContent`), "the first stop leads past the head of the page")
	w.press(kb.Enter)
	w.tabTo(".plan > svg")
	w.press("n")
	w.until(`document.querySelector('.plan .on')`, "N picks a plant")
	first := ask[string](w, `document.querySelector('.plan .on').dataset.stake`)
	w.press("n")
	w.until(`document.querySelector('.plan .on') && document.querySelector('.plan .on').dataset.stake !== '`+first+`'`, "N goes on to the next")
	w.press("p")
	w.until(`document.querySelector('.plan .on') && document.querySelector('.plan .on').dataset.stake === '`+first+`'`, "P goes back")
	w.press("m")
	w.until(`document.querySelector('.plan .held')`, "M lifts it")
	w.press(kb.ArrowRight + kb.ArrowRight + kb.ArrowUp)
	w.until(`document.querySelector('#say').textContent.length > 20`, "its risk is said")
	w.shot("lifted")
	w.sound("a plant is held")
	w.press(kb.Escape)
	w.until(`!document.querySelector('.plan .held') && document.querySelector('#undo').disabled`, "Escape puts it back")
	w.press("m" + kb.ArrowRight + "m")
	w.until(`!document.querySelector('#undo').disabled`, "M sets it down")
	w.press("z", chromedp.KeyModifiers(chromedp.ModifierCtrl))
	w.until(`!document.querySelector('#redo').disabled`, "it is undone by keys")
	w.press(kb.ArrowLeft + kb.ArrowDown + kb.Enter)
	w.until(`document.querySelector('#here-body .facts')`, "Enter looks at the place under the cross")
	w.tabTo("#tab-here")
	w.press(kb.ArrowRight)
	w.until(`!document.querySelector('#lot').hidden`, "arrows go from sheet to sheet")
	w.tabTo("#f-bed-length")
	w.press(kb.End + strings.Repeat(kb.Backspace, 8) + "18 ft")
	w.until(`document.querySelector('#lot-follows .lines').innerText.includes('was')`, "what is typed is followed")
	w.press("s", chromedp.KeyModifiers(chromedp.ModifierCtrl))
	w.until(`document.querySelector('#changed').textContent === 'As on disk'`, "it is saved by keys")
	text, err := os.ReadFile(filepath.Join(folder, "garden.yaml"))
	require.NoError(t, err)
	assert.Contains(t, string(text), "length: 18 ft")
}

// Some of a drift are noted by keys alone.
func driftByKeys(t *testing.T, s stand) {
	folder := garden(t)
	for _, name := range []string{"planted.csv", "season.csv"} {
		text, err := os.ReadFile(filepath.Join("..", "..", "..", "data", "season", name))
		require.NoError(t, err)
		require.NoError(t, os.WriteFile(filepath.Join(folder, name), text, 0o644))
	}
	inDrift(t, folder, "tough-soddarel", 11)
	w := s.look(t, s.serve(t, folder).address, looks{wide: 1280, high: 900})
	w.until(`document.querySelector('#bar').hidden`, "the places are worked out")
	w.tabTo("#tab-list")
	for range 6 {
		if !ask[bool](w, `document.querySelector('#season').hidden`) {
			break
		}
		w.press(kb.ArrowRight)
	}
	w.until(`document.querySelector('#note-stake')`, "arrows come to the season")
	w.tabTo("#note-stake")
	w.press("drift")
	w.until(`document.querySelector('#note-stake').value === 'drift C' && !document.querySelector('#note-some').hidden`, "typing picks the drift, and how many is asked")
	w.sound("a drift is to be noted")
	w.press(kb.Tab)
	assert.Equal(t, "note-count", ask[string](w, `document.activeElement.id`))
	w.press(kb.Enter)
	w.until(`!document.querySelector('#note-wrong').hidden`, "how many is wanted")
	assert.Contains(t, w.text("#note-wrong"), "how many of the 11 plants")
	w.press("3 of 11")
	w.tabTo(`#note-form input[name=sign][value=wilted]`)
	w.press(" ")
	w.shot("drift")
	w.tabTo("#note-form button[type=submit]")
	w.press(kb.Enter)
	w.until(`document.querySelector('#season-bed').textContent.includes('drift C, 3 of 11 plants, wilted')`, "the note stands there")
	w.sound("a drift was noted")
	text, err := os.ReadFile(filepath.Join(folder, "season.csv"))
	require.NoError(t, err)
	assert.Contains(t, string(text), ",C,seen,,wilted,,,,,,,3 of 11,")
}

// Every sheet from a telephone to a wall, dark and light.
func atEveryWidth(t *testing.T, s stand) {
	address := s.serve(t, "").address
	for _, wide := range testenv.Of([]int64{320, 1440}, []int64{320, 480, 768, 1024, 1440, 1920, 3840}) {
		w := s.look(t, address, looks{wide: wide, high: max(700, wide*9/16), dark: wide%3 == 0})
		w.until(`document.querySelector('#bar').hidden`, "the places are worked out")
		for sheet, filled := range map[string]string{"lot": ".checks li", "list": ".rows li", "out": "tbody tr", "year": "table", "find": ".hits li", "season": "#note-stake"} {
			w.do(`document.querySelector('#tab-` + sheet + `').click()`)
			w.until(fmt.Sprintf(`document.querySelectorAll('#%s %s').length > 0`, sheet, filled), sheet+" is filled")
			at := fmt.Sprintf("%s-%d", sheet, wide)
			w.sound(at)
			w.shot(at)
		}
		w.do(`document.querySelector('.plan').scrollIntoView({block: 'start'})`)
		w.shot(fmt.Sprintf("plan-%d", wide))
	}
}

// The sheet that is open prints with the plan: nothing to press on it, and the
// cautions at the end.
func printed(t *testing.T, s stand) {
	testenv.Tool(t, "poppler-utils", "pdftotext")
	w := s.look(t, s.serve(t, "").address, looks{wide: 1280, high: 900, dark: true})
	w.until(`document.querySelector('#bar').hidden`, "the places are worked out")
	for paper, size := range map[string]chromedp.PaperSize{"a4": chromedp.PaperA4, "letter": chromedp.PaperLetter} {
		pdf, err := chromedp.Run(w.ctx, chromedp.PrintToPDF(chromedp.PDFPaper(size)))
		require.NoError(t, err)
		file := filepath.Join(s.shots, "print-"+paper+".pdf")
		require.NoError(t, os.WriteFile(file, pdf, 0o644))
		text, err := exec.Command("pdftotext", "-layout", file, "-").Output()
		require.NoError(t, err)
		sheets := strings.Split(strings.TrimSuffix(string(text), "\f"), "\f")
		assert.Less(t, len(sheets), 8, paper)
		assert.Contains(t, string(text), "Planting list", paper)
		assert.Contains(t, string(text), "The corner lot, Quillmere", paper)
		assert.Contains(t, string(text), "Before you dig", paper)
		for _, pressed := range []string{"Undo", "Save", "Find plants", "Pause"} {
			assert.NotContains(t, string(text), pressed, paper)
		}
		for i, sheet := range sheets {
			assert.Greater(t, len(strings.Fields(sheet)), 10, "%s, sheet %d is nearly empty", paper, i+1)
		}
	}
	ground := ask[string](w, `getComputedStyle(document.documentElement).backgroundColor`)
	assert.NotEmpty(t, ground)
}

// Who wants no motion gets none but the water that is asked for, slowly.
func withoutMotion(t *testing.T, s stand) {
	address := s.serve(t, "").address
	const moving = `[...document.querySelectorAll('*')].filter(e => { const c = getComputedStyle(e); return parseFloat(c.transitionDuration) > 0 || c.animationName !== 'none' }).length`
	played := func(w *window) int {
		w.until(`document.querySelector('#bar').hidden`, "the places are worked out")
		assert.Zero(t, ask[int](w, moving))
		w.click("#water-play")
		w.until(`document.querySelector('#water-play').textContent === 'Pause'`, "the water is played")
		from := ask[int](w, `Number(document.querySelector('#water-at').value)`)
		w.do(`await new Promise(done => setTimeout(done, 2000))`)
		return ask[int](w, `Number(document.querySelector('#water-at').value)`) - from
	}
	slow := played(s.look(t, address, looks{wide: 1280, high: 900, still: true}))
	fast := played(s.look(t, address, looks{wide: 1280, high: 900}))
	assert.Less(t, slow, fast, "the water moves no slower for those who want no motion")
	assert.Positive(t, fast)
}
