package page_test

import (
	"bytes"
	"fmt"
	"net/http"
	"net/http/httptest"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// Two windows change two fields: each sees both, and nothing is lost.
func twoWindows(t *testing.T, s stand) {
	folder := garden(t)
	address := s.serve(t, folder).address
	a := s.look(t, address, looks{wide: 1280, high: 900})
	b := s.look(t, address, looks{wide: 1280, high: 900})
	for _, w := range []*window{a, b} {
		w.do(`document.querySelector('#tab-lot').click()`)
		w.until(`document.querySelector('#f-bed-length')`, "the fields are there")
	}
	a.fill("#f-bed-length", "18 ft")
	b.fill("#f-bed-width", "12 ft")
	for _, w := range []*window{a, b} {
		w.do(`document.activeElement.blur()`)
		w.until(`document.querySelector('#f-bed-length').value === '18 ft' && document.querySelector('#f-bed-width').value === '12 ft'`, "each window has both changes")
	}
	a.click("#save")
	b.until(`document.querySelector('#changed').textContent === 'As on disk'`, "the other window knows that it is saved")
	text, err := os.ReadFile(filepath.Join(folder, "garden.yaml"))
	require.NoError(t, err)
	assert.Contains(t, string(text), "length: 18 ft")
	assert.Contains(t, string(text), "width: 12 ft")
}

// The file is changed by another program while a draft is open: it is shown,
// not overwritten, and either can be kept.
func changedOnDisk(t *testing.T, s stand) {
	folder := garden(t)
	file := filepath.Join(folder, "garden.yaml")
	w := s.look(t, s.serve(t, folder).address, looks{wide: 1280, high: 900, mayComplain: true})
	w.do(`document.querySelector('#tab-lot').click()`)
	w.until(`document.querySelector('#f-bed-length')`, "the fields are there")
	w.fill("#f-bed-length", "18 ft")
	w.until(`document.querySelector('#undo').title !== ''`, "the change is in the draft")
	text, err := os.ReadFile(file)
	require.NoError(t, err)
	theirs := strings.Replace(string(text), "budget: 900", "budget: 700", 1)
	require.NotEqual(t, string(text), theirs)
	require.NoError(t, os.WriteFile(file, []byte(theirs), 0o644))
	w.do(`await new Promise(done => setTimeout(done, 300)); if (!document.querySelector('#save').disabled) document.querySelector('#save').click()`)
	w.until(`!document.querySelector('#bar').hidden && document.querySelector('#bar pre')`, "the difference is shown")
	assert.Contains(t, w.text("#bar pre"), "700")
	w.shot("differs")
	w.sound("the file differs on disk")
	now, err := os.ReadFile(file)
	require.NoError(t, err)
	assert.Equal(t, theirs, string(now), "the file of the other program was overwritten")
	w.click("#bar-do button:first-child")
	w.until(`document.querySelector('#f-wishes-budget').value.includes('700')`, "the file from disk is taken")
	w.until(`document.querySelector('#undo').title !== ''`, "the draft can be had back")
}

// What is typed wrong is told beside the field, and typing goes on.
func besideTheField(t *testing.T, s stand) {
	w := s.look(t, s.serve(t, garden(t)).address, looks{wide: 1280, high: 900})
	w.do(`document.querySelector('#tab-lot').click()`)
	w.until(`document.querySelector('#f-bed-length')`, "the fields are there")
	w.fill("#f-bed-length", "20")
	w.until(`!document.querySelector('#f-bed-length-wrong').hidden`, "the field tells what is wrong")
	assert.Contains(t, w.text("#f-bed-length-wrong"), "ft")
	assert.Equal(t, "true", ask[string](w, `document.querySelector('#f-bed-length').getAttribute('aria-invalid')`))
	assert.Contains(t, ask[string](w, `document.querySelector('#f-bed-length').getAttribute('aria-describedby')`), "f-bed-length-wrong")
	assert.Equal(t, "true", ask[string](w, `String(document.querySelector('#save').disabled)`), "a wrong draft can be saved")
	w.shot("wrong")
	w.sound("a field is wrong")
	w.fill("#f-bed-length", "21 ft")
	w.until(`document.querySelector('#f-bed-length-wrong').hidden`, "a right value is taken")
	w.choose("#units", "metric")
	w.until(`/\d m2?\b/.test(document.querySelector('#lot-follows .lines').innerText)`, "figures are metric")
	w.sound("metric")
}

// The program is ended: the page says so in words.
func programGone(t *testing.T, s stand) {
	p := s.serve(t, garden(t))
	w := s.look(t, p.address, looks{wide: 1280, high: 900, mayComplain: true})
	w.until(`document.querySelector('#bar').hidden`, "the places are worked out")
	assert.Zero(t, p.end(), "Ctrl-C ends the program cleanly")
	w.until(`!document.querySelector('#bar').hidden && document.querySelector('#bar-says').textContent.includes('No answer')`, "the page says that nobody answers")
	w.shot("gone")
	w.sound("nobody answers")
	again := p.address[strings.LastIndex(p.address, ":")+1 : strings.Index(p.address, "/?")]
	s.serveAt(t, garden(t), again)
	w.until(`document.querySelector('#bar-says').textContent.includes('has printed last')`, "started anew, it says which address to open")
	require.NoError(t, chromedp.Do(w.ctx, chromedp.Navigate("http://127.0.0.1:"+again+"/")))
	assert.Contains(t, w.text("body"), "Open the whole address")
	assert.NotContains(t, w.text("body"), "{")
	w.shot("shut")
}

// Another server of this machine, looked at in the same browser, is sent no
// cookie; the page itself can be loaded anew.
func otherServer(t *testing.T, s stand) {
	heard := make(chan string, 10)
	other := httptest.NewServer(http.HandlerFunc(func(_ http.ResponseWriter, r *http.Request) { heard <- r.Header.Get("Cookie") }))
	defer other.Close()
	w := s.look(t, s.serve(t, garden(t)).address, looks{wide: 1280, high: 900, mayComplain: true})
	page := ask[string](w, `location.href`)
	assert.NotContains(t, page, "key=")
	for _, address := range []string{other.URL, other.URL + "/api/state", page} {
		require.NoError(t, chromedp.Do(w.ctx, chromedp.Navigate(address)))
	}
	w.until(`document.querySelectorAll('.plan .plant').length > 90`, "the page is back")
	w.do(`location.reload()`)
	w.until(`document.querySelectorAll('.plan .plant').length > 90`, "the page is loaded anew")
	require.GreaterOrEqual(t, len(heard), 2)
	for range len(heard) {
		assert.Empty(t, <-heard)
	}
}

// Names that would be markup or script anywhere else are text here.
func naughtyNames(t *testing.T, s stand) {
	folder := garden(t)
	const naughty = `<img src=x onerror=alert(1)>"'</script><script>alert(1)</script>`
	file := filepath.Join(folder, "garden.yaml")
	text, err := os.ReadFile(file)
	require.NoError(t, err)
	changed := strings.Replace(string(text), "name: The corner lot, Quillmere", "name: '"+strings.ReplaceAll(naughty, "'", "''")+"'", 1)
	require.NoError(t, os.WriteFile(file, []byte(changed), 0o644))
	plants, err := os.ReadFile(filepath.Join(folder, "plants.csv"))
	require.NoError(t, err)
	cell := `"` + strings.ReplaceAll(naughty, `"`, `""`) + `"`
	named := strings.Replace(string(plants), "Amphibious Otterveil", cell, 1)
	require.NotEqual(t, string(plants), named)
	require.NoError(t, os.WriteFile(filepath.Join(folder, "plants.csv"), []byte(named), 0o644))
	w := s.look(t, s.serve(t, folder).address, looks{wide: 1280, high: 900})
	assert.Contains(t, w.text("#garden-name"), "<img src=x")
	w.do(`document.querySelector('#tab-find').click()`)
	w.until(`document.querySelectorAll('#find-hits .rows li').length > 5`, "plants are found")
	all := w.text("#find-hits .answer")
	w.fill("#find-what", naughty)
	w.until(`document.querySelector('#find-hits .answer').textContent !== '`+all+`' || !document.querySelector('#find-wrong').hidden`, "the search answers")
	assert.Zero(t, ask[int](w, `document.querySelectorAll('img:not(.drawing), body script').length`))
	w.sound("naughty names")
}

// Long work shows how far it is and can be stopped; the bed stays as it was,
// and the work can be taken up again.
func stopLongWork(t *testing.T, s stand) {
	w := s.look(t, s.serve(t, garden(t)).address, looks{wide: 1280, high: 900})
	w.until(`document.querySelector('#bar').hidden`, "the places are worked out")
	w.do(`document.querySelector('#tab-lot').click()`)
	w.until(`document.querySelector('#f-bed-length')`, "the fields are there")
	before := ask[int](w, `document.querySelectorAll('.plan .plant').length`)
	w.do(`for (const [key, text] of [['wishes-budget', ''], ['bed-length', '56 ft'], ['bed-width', '34 ft']]) {
		const e = document.querySelector('#f-' + key); e.value = text; e.dispatchEvent(new Event('change')); }`)
	w.until(`document.querySelector('#f-bed-width').value === '34 ft' && !document.querySelector('#bar').hidden && document.querySelector('#bar progress') && document.querySelector('#bar-says').textContent.includes('place')`, "work shows how far it is")
	w.do(`window.stop = document.querySelector('#bar-do button'); window.stop.focus()`)
	w.choose("#units", "metric")
	w.until(`document.querySelector('#units').value === 'metric' && /\d m2?\b/.test(document.querySelector('#lot-follows .lines').innerText)`, "figures are metric")
	w.do(`await new Promise(done => setTimeout(done, 400))`) // when the bar has been drawn anew
	assert.True(t, ask[bool](w, `window.stop.isConnected`), "a press on Stop that has begun is lost when work goes on")
	w.click("#bar-do button")
	w.until(`document.querySelector('#bar-says').textContent.includes('Stopped')`, "it is stopped")
	w.sound("stopped")
	w.shot("stopped")
	assert.Equal(t, before, ask[int](w, `document.querySelectorAll('.plan .plant').length`))
	w.click("#bar-do button")
	w.until(`!document.querySelector('#bar').hidden && document.querySelector('#bar progress')`, "it is taken up again")
	w.shot("working")
	w.sound("work goes on")
	w.until(fmt.Sprintf(`document.querySelector('#bar').hidden && document.querySelectorAll('.plan .plant').length > %d`, 2*before), "it ends")
	w.do(`document.querySelector('.plan').scrollIntoView({block: 'start'})`)
	assert.Zero(t, ask[int](w, `[...document.querySelectorAll('.plan .plant')].filter(g => g.querySelector('.figure') && g.querySelector('circle').getBoundingClientRect().width < 16).length`), "figures that run together")
	w.shot("large")
	w.sound("many plants")
}

// html-validate finds no fault in the page as it is sent.
func validMarkup(t *testing.T, _ stand) {
	file := filepath.Join("assets", "index.html")
	var out bytes.Buffer
	check := exec.Command("node", filepath.Join(os.Getenv("HOLLOWBED_TOOLS"), "node_modules", "html-validate", "bin", "html-validate.mjs"), "--preset", "recommended", file)
	check.Stdout, check.Stderr = &out, &out
	assert.NoError(t, check.Run(), out.String())
}
