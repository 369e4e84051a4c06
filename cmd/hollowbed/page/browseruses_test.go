package page_test

import (
	"bytes"
	"image"
	"image/color"
	"image/png"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/chromedp/cdproto/input"
	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// drag presses the mouse at one place, moves it in steps to another, and lets
// go after a look.
func (w *window) drag(x0, y0, x1, y1 float64, look func()) {
	w.t.Helper()
	left := func(p *input.DispatchMouseEventParams) {
		p.Button, p.Buttons, p.ClickCount = input.MouseButtonLeft, 1, 1
	}
	require.NoError(w.t, chromedp.Do(w.ctx, chromedp.MouseEvent(input.DispatchMouseEventTypeMousePressed, x0, y0, left)))
	const steps = 8
	for i := 1; i <= steps; i++ {
		f := float64(i) / steps
		require.NoError(w.t, chromedp.Do(w.ctx, chromedp.MouseEvent(input.DispatchMouseEventTypeMouseMoved, x0+f*(x1-x0), y0+f*(y1-y0), left)))
	}
	look()
	require.NoError(w.t, chromedp.Do(w.ctx, chromedp.MouseEvent(input.DispatchMouseEventTypeMouseReleased, x1, y1, left)))
}

// changedLines are the lines of after that before does not have, trimmed and
// without their comments; both have as many.
func changedLines(before, after string) []string {
	old := strings.Split(before, "\n")
	var out []string
	for i, line := range strings.Split(after, "\n") {
		if i < len(old) && line == old[i] {
			continue
		}
		value, _, _ := strings.Cut(line, "#")
		out = append(out, strings.TrimSpace(value))
	}
	return out
}

// The first use, from start to end: a bed is sized, its list chosen, a plant
// moved, and all of it saved.
func chooseAList(t *testing.T, s stand) {
	folder := garden(t)
	before, err := os.ReadFile(filepath.Join(folder, "garden.yaml"))
	require.NoError(t, err)
	w := s.look(t, s.serve(t, folder).address, looks{wide: 1440, high: 900})
	w.shot("start")
	next := ask[string](w, `(() => { const v = document.querySelector('#verdict').getBoundingClientRect(); return v.top > 0 && v.bottom < innerHeight / 2 ? document.querySelector('#verdict .next').innerText : 'not seen at once'; })()`)
	assert.Contains(t, next, "buried pipes and cables")
	w.click("#verdict button")
	w.until(`!document.querySelector('#out').hidden && document.activeElement.id === 'tab-out' && document.querySelectorAll('#out tbody tr').length > 90`, "the next step opens, with every stake")
	w.sound("setting out")
	w.sound("at the start")
	w.click("#tab-list")
	w.until(`document.querySelectorAll('#list .planted li svg.kind').length > 5`, "each plant of the list has its mark of the plan")
	assert.Regexp(t, `\d+ plants?\n+.* high; .*risk .* a year`, w.text("#list .planted li"))
	w.click("#list .planted summary")
	w.until(`document.querySelector('#list .planted details').open && document.querySelector('#list .planted details').innerText.includes('apart; price each')`, "why on demand")
	w.sound("why a plant is on the list")
	assert.Equal(t, "The corner lot, Quillmere", w.text("#garden-name"))

	w.click("#tab-lot")
	w.until(`document.querySelector('#f-bed-ponding_depth')`, "the fields are there")
	w.sound("the lot")
	drains := w.text("#lot-follows .lines")
	w.fill("#f-bed-ponding_depth", "4 in")
	w.until(`document.querySelector('#changed').textContent !== 'As on disk'`, "the change is in the draft")
	w.until(`document.querySelector('#lot-follows .lines').innerText.includes('was')`, "figures follow, beside what they were")
	assert.NotEqual(t, drains, w.text("#lot-follows .lines"))
	w.shot("shallower")
	w.sound("after a change")

	// A place of the bed.
	w.do(`const b = document.querySelector('.plan .edge').getBoundingClientRect(); window.where = [b.left + b.width * .5, b.top + b.height * .04]`)
	w.until(`document.querySelector('#bar').hidden`, "the places are worked out")
	w.do(`document.querySelector('.plan').scrollIntoView({block: 'center'})`)
	spot := ask[[]float64](w, `(() => { const b = document.querySelector('.plan .edge').getBoundingClientRect(), free = [...document.querySelectorAll('.plan .free')].map(e => e.getBoundingClientRect());
		for (let i = 1; i < 99; i++) for (let j = 1; j < 99; j++) { const x = b.left + b.width * i / 100, y = b.top + b.height * j / 100;
			const e = document.elementFromPoint(x, y); if (e && e.closest('.bed') && e.matches('.slope, .bottom') && !free.some(r => x > r.left && x < r.right && y > r.top && y < r.bottom)) return [x, y]; } return []; })()`)
	require.Len(t, spot, 2, "no bare ground to click")
	require.NoError(t, chromedp.Do(w.ctx, chromedp.MouseClickXY(spot[0], spot[1])))
	w.until(`document.querySelector('#tab-here').getAttribute('aria-selected') === 'true' && document.querySelectorAll('#here-body .rows li').length > 0`, "the place tells what would live there")
	assert.Contains(t, w.text("#here-body"), "Longest dry spell")
	w.shot("place")
	w.sound("a place")

	// A plant, dragged.
	stake := ask[string](w, `[...document.querySelectorAll('.plan .plant')].map(p => p.dataset.stake).find(p => p.startsWith('BRO') || p.startsWith('LAT')) || document.querySelector('.plan .plant').dataset.stake`)
	w.click(`.plan .plant[data-stake="` + stake + `"]`)
	w.until(`document.querySelector('#here-title').textContent.includes('`+stake+`')`, "the plant tells how it fares")
	w.shot("plant")
	w.sound("a plant")
	x, y := w.middle(`.plan .plant[data-stake="` + stake + `"] circle`)
	w.drag(x, y, x+60, y-40, func() {
		w.until(`!document.querySelector('.plan .tip').hidden && document.querySelector('.plan .tip').textContent.length > 20`, "the risk follows the plant")
		w.shot("drag")
	})
	w.until(`document.querySelector('#undo').disabled === false && document.querySelector('#undo').title.includes('`+stake+`')`, "the move can be undone")
	w.click("#undo")
	w.until(`!document.querySelector('#redo').disabled`, "it can be done again")
	w.click("#redo")
	w.until(`document.querySelector('#redo').disabled`, "it is done again")

	// The water.
	w.choose("#water-what", "wettest")
	w.until(`!document.querySelector('#water-at').disabled`, "the record can be played")
	w.do(`const at = document.querySelector('#water-at'); const wet = await (await fetch('api/water?play=wettest')).json();
		at.value = wet.frames.reduce((best, f, i) => f.level_mm > wet.frames[best].level_mm ? i : best, 0); at.dispatchEvent(new Event('input'))`)
	w.until(`document.querySelector('.plan .under') && document.querySelector('.section .pond')`, "water stands in the plan and in the cut")
	w.shot("water")
	w.sound("the water")
	w.choose("#water-what", "driest")
	w.until(`!document.querySelector('#water-at').disabled`, "the summer can be played")
	w.do(`const at = document.querySelector('#water-at'); const dry = await (await fetch('api/water?play=driest')).json();
		at.value = dry.frames.reduce((best, f, i) => f.bands[0] < dry.frames[best].bands[0] ? i : best, 0); at.dispatchEvent(new Event('input'))`)
	w.until(`!document.querySelector('.plan .under') && Number(document.querySelector('.plan .dry').getAttribute('fill-opacity')) > .3`, "dry soil shows on the rim")
	w.shot("dry")

	// Saved: the file has the new depth, and every other line as it was.
	same, err := os.ReadFile(filepath.Join(folder, "garden.yaml"))
	require.NoError(t, err)
	assert.Equal(t, string(before), string(same), "written before it was saved")
	w.click("#save")
	w.until(`document.querySelector('#changed').textContent === 'As on disk'`, "it is saved")
	after, err := os.ReadFile(filepath.Join(folder, "garden.yaml"))
	require.NoError(t, err)
	assert.Equal(t, []string{"ponding_depth: 4 in"}, changedLines(string(before), string(after)))
	assert.FileExists(t, filepath.Join(folder, "planted.csv"))
	w.click("#tab-year")
	w.until(`document.querySelector('#year table')`, "the first year is worked out")
	w.shot("care")
	w.sound("the list, saved")
}

// The second use: plants are found by site condition, narrowed by facets, two
// compared, one wanted.
func findByCondition(t *testing.T, s stand) {
	w := s.look(t, s.serve(t, garden(t)).address, looks{wide: 1440, high: 900, dark: true})
	w.click("#tab-find")
	w.until(`document.querySelectorAll('#find-hits .rows li').length > 5`, "plants are found")
	all := w.text("#find-hits .answer")
	w.fill("#find-what", "wet:48 dry:3wk")
	w.until(`document.querySelector('#find-hits .answer').textContent !== '`+all+`' && document.querySelector('#find-wrong').hidden`, "the search follows")
	w.shot("conditions")
	w.sound("found by condition")
	w.choose("#find-in", "bottom")
	w.until(`document.querySelector('#find-hits .r')`, "each hit tells its risk there")
	w.click("#find-facets details:nth-of-type(2) summary")
	w.until(`document.querySelector('#find-facets details:nth-of-type(2)').open`, "a facet opens")
	w.click("#find-facets details:nth-of-type(2) .chips button")
	w.until(`document.querySelector('#find-what').value.length > 'wet:48 dry:3wk'.length`, "a facet adds its condition")
	w.shot("facet")
	w.fill("#find-what", "blue")
	w.until(`(document.querySelector('#find-hits li') || {textContent: ''}).textContent.includes('blue')`, "words are found")
	w.click("#find-hits li:nth-child(1) .do button:nth-child(2)")
	w.until(`document.querySelector('#find-compare').textContent.includes('one of two')`, "the first is chosen")
	w.click("#find-hits li:nth-child(2) .do button:nth-child(2)")
	w.until(`document.querySelectorAll('#find-compare tbody tr').length > 5`, "two stand side by side")
	w.shot("compare")
	w.sound("two plants side by side")
	w.click("#find-hits li:nth-child(1) .do button:nth-child(1)")
	w.until(`document.querySelector('#find-hits li:nth-child(1) .do button[aria-pressed=true]')`, "it is wanted")
	w.until(`document.querySelector('#undo').disabled === false`, "that can be undone")
	w.choose("#find-in", "")
	w.fill("#find-what", "wet:900 dry:900 height<1cm")
	w.until(`document.querySelectorAll('#find-hits .rows li').length === 0 && document.querySelector('#find-hits').textContent.includes('Nearest')`, "nothing is found, and what comes nearest is named")
	w.sound("nothing found")
	w.fill("#find-what", "wet:soon")
	w.until(`!document.querySelector('#find-wrong').hidden`, "a search that cannot be read is told beside the field")
	w.shot("wrong")
	w.sound("a search that cannot be read")
	require.Equal(t, "true", ask[string](w, `document.querySelector('#find-what').getAttribute('aria-invalid')`))
}

// The third use, from start to end: after its first season a plant is noted to
// do poorly, its causes are weighed, moves are shown, some are refused, and
// what was done is written down.
func relocate(t *testing.T, s stand) {
	folder := garden(t)
	for _, name := range []string{"planted.csv", "season.csv"} { // what stands on the demo lot, and what was noted
		text, err := os.ReadFile(filepath.Join("..", "..", "..", "data", "season", name))
		require.NoError(t, err)
		require.NoError(t, os.WriteFile(filepath.Join(folder, name), text, 0o644))
	}
	read := func(name string) string {
		text, err := os.ReadFile(filepath.Join(folder, name))
		require.NoError(t, err)
		return string(text)
	}
	freely := strings.Replace(read("garden.yaml"), "seed: 1 ", "hour_worth: 3 #", 1) // so that plants trade places, and one that died is worth buying
	require.NoError(t, os.WriteFile(filepath.Join(folder, "garden.yaml"), []byte(freely), 0o644))
	noteWithPhoto(t, s, folder, "LAT1")
	planted, noted := read("planted.csv"), read("season.csv")
	w := s.look(t, s.serve(t, folder).address, looks{wide: 1440, high: 1000, mayComplain: true}) // one note is refused
	w.click("#tab-season")
	w.until(`document.querySelector('#note-stake') && document.querySelectorAll('#season-moves li').length > 3`, "the season can be noted, and the moves are there")
	assert.Positive(t, ask[int](w, `document.querySelectorAll('.plan .flag').length`), "no plant that struggles is flagged")
	assert.Positive(t, ask[int](w, `document.querySelectorAll('.plan .move').length`), "no move is drawn")
	w.shot("season")
	w.sound("the season")

	const stake = "LAT1"
	w.click(`.plan .plant[data-stake="` + stake + `"]`)
	w.until(`document.querySelector('#note-stake').value === '`+stake+`'`, "a click on the plan picks the plant to note")
	w.click("#note-form button[type=submit]")
	w.until(`!document.querySelector('#note-wrong').hidden`, "an empty note is refused in words")
	assert.NotContains(t, w.text("#note-wrong"), "undefined")
	w.sound("a note that lacks something")
	w.do(`document.querySelector('#note-date').value = '2024-09-28'`)
	w.click(`#note-form input[name=vigour][value="1"]`)
	w.click(`#note-form input[name=sign][value="rotten"]`)
	w.click(`#note-form input[name=sign][value="soil soggy"]`)
	w.fill("#note-remark", "beside the stones")
	w.shot("noting")
	w.click("#note-form button[type=submit]")
	w.until(`document.querySelector('#season-says').textContent.includes('2024-09-28')`, "the note stands there")
	assert.Equal(t, noted, read("season.csv")[:len(noted)], "older notes were changed")
	assert.Contains(t, read("season.csv")[len(noted):], "beside the stones")
	w.until(`document.querySelectorAll('#season-says tbody tr').length > 1`, "causes are weighed")
	assert.Contains(t, w.text("#season-says tbody tr:first-child"), "wet", "a soft crown in soggy soil")
	w.until(`document.querySelector('#season-says .photo img') && document.querySelector('#season-says .photo img').naturalWidth === 640`, "the photograph is shown beside its note")
	w.do(`document.querySelector('#season-says .photo').scrollIntoView({block: 'center'})`)
	w.shot("causes")
	w.sound("causes of one plant")
	w.until(`document.querySelector('.plan .flag')`, "it is flagged")

	// All moves but the first are refused; what belongs together goes together.
	w.until(`document.querySelectorAll('#season-moves input[type=checkbox]').length > 3`, "the moves are there again")
	pair := ask[[]string](w, `fetch('api/moves').then(r => r.json()).then(m => { const two = m.moves.find(a => m.moves.some(b => b.group === a.group && b !== a));
		return two ? m.moves.filter(a => a.group === two.group).map(a => a.plant) : []; })`)
	require.Greater(t, len(pair), 1, "no plants that change places in the demo")
	w.do(`for (let guard = 0; guard < 50; guard++) {
		const on = [...document.querySelectorAll('#season-moves input[type=checkbox]')].filter(c => c.checked);
		if (!on.length) break; on[on.length - 1].click(); }
		document.querySelector('#season-moves input[data-stake="` + pair[0] + `"]').click()`)
	chosen := ask[[]string](w, `[...document.querySelectorAll('#season-moves input[type=checkbox]')].filter(c => c.checked).map(c => c.dataset.stake)`)
	assert.ElementsMatch(t, pair, chosen, "those that change places are taken together")
	assert.Equal(t, ask[int](w, `fetch('api/moves').then(r => r.json()).then(m => m.moves.length)`)-len(chosen), ask[int](w, `document.querySelectorAll('.plan .move.off').length`), "refused moves are drawn as refused")
	assert.False(t, ask[bool](w, `document.querySelector('#season-moves input[data-stake="TOW3"]').checked`), "nobody buys a plant unasked")
	w.do(`document.querySelector('#season-moves input[data-stake="TOW3"]').click(); document.querySelector('#season-moves input[data-stake="TOW3"]').scrollIntoView({block: 'center'})`)
	chosen = append(chosen, "TOW3")
	w.shot("chosen")
	w.sound("moves accepted and refused")
	assert.Equal(t, planted, read("planted.csv"), "written before it was done")
	w.click("#season-moves button[type=submit]")
	w.until(`document.querySelector('#say').textContent.includes('Written down')`, "it is written down")
	for line := range strings.Lines(planted) {
		old, _, _ := strings.Cut(line, ",")
		moved := slices.Contains(chosen, old)
		assert.Equal(t, !moved, strings.Contains(read("planted.csv"), line), "%s", line)
	}
	w.shot("moved")
	w.sound("moved")
}

// noteWithPhoto notes a photograph of a plant, as people do.
func noteWithPhoto(t *testing.T, s stand, folder, stake string) {
	drawn := image.NewRGBA(image.Rect(0, 0, 640, 480))
	for y := range 480 {
		for x := range 640 {
			drawn.SetRGBA(x, y, color.RGBA{uint8(x / 3), uint8(120 + y/4), uint8(x * y / 2000), 255})
		}
	}
	file := filepath.Join(t.TempDir(), "drawn.png")
	var picture bytes.Buffer
	require.NoError(t, png.Encode(&picture, drawn))
	require.NoError(t, os.WriteFile(file, picture.Bytes(), 0o644))
	out, err := exec.Command(s.program, "note", "--garden", folder, stake, "--date", "2024-09-20", "--photo", file).CombinedOutput()
	require.NoError(t, err, string(out))
}
