package main

import (
	"bytes"
	"context"
	"fmt"
	"maps"
	"net/url"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/log"
	"github.com/chromedp/cdproto/network"
	"github.com/chromedp/cdproto/runtime"
	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"hollowbed/cmd/hollowbed/chromium"
	"hollowbed/testdata/testenv"
)

// heard is what a page asked for and complained of.
type heard struct {
	sync.Mutex
	requests, complaints []string
}

func (h *heard) note(ev any) {
	h.Lock()
	defer h.Unlock()
	switch ev := ev.(type) {
	case *network.EventRequestWillBeSent:
		h.requests = append(h.requests, ev.Request.URL)
	case *network.EventLoadingFailed:
		h.complaints = append(h.complaints, "failed: "+ev.ErrorText)
	case *runtime.EventConsoleAPICalled:
		h.complaints = append(h.complaints, "console: "+string(ev.Type))
	case *runtime.EventExceptionThrown:
		h.complaints = append(h.complaints, ev.ExceptionDetails.Text)
	case *log.EventEntryAdded:
		h.complaints = append(h.complaints, ev.Entry.Text)
	}
}

// The pages of the report, made once: their markup, and how they look in one
// Chromium.
func TestReportPages(t *testing.T) {
	t.Parallel()
	testenv.NotRaced(t)
	files := gardens(t)
	t.Run("markup", func(t *testing.T) { validMarkup(t, files) })
	t.Run("browser", func(t *testing.T) {
		testenv.Sweep(t)
		ctx := chromium.Start(t)
		t.Run("layout", func(t *testing.T) { layouts(t, ctx, files) })
		t.Run("print", func(t *testing.T) { papers(t, ctx, files) })
		t.Run("axe", func(t *testing.T) { byEar(t, ctx, files) })
	})
}

// looked is all that a page is looked at by in a heavy run, and for the demo; other
// gardens are not looked at in a light one.
func looked[T any](garden string, all ...T) []T {
	if garden == "demo" || testenv.Heavy() {
		return all
	}
	return nil
}

// gardens are the pages that are looked at: the demo and its hand-over, one whose bed
// is so dry that nothing can be planted, and one without a weather record.
func gardens(t *testing.T) map[string]string {
	t.Helper()
	dir := t.TempDir()
	demo, err := os.ReadFile("../../data/garden.yaml")
	require.NoError(t, err)
	out := map[string]string{}
	write := func(name string, garden, rain string) {
		args := []string{"report", "--out", filepath.Join(dir, name+".html"), "--short=" + strconv.FormatBool(name == "hand-over")}
		if garden != "" {
			folder := filepath.Join(dir, name)
			require.NoError(t, os.MkdirAll(folder, 0o755))
			require.NoError(t, os.WriteFile(filepath.Join(folder, "garden.yaml"), []byte(garden+"\nplants: demo\n"), 0o644))
			if rain != "" {
				require.NoError(t, os.WriteFile(filepath.Join(folder, "rain.csv"), []byte(rain), 0o644))
			}
			args = append(args, "--garden", folder, "--units", "metric")
		}
		status, _, errs := ask(t, "", args...)
		require.Zero(t, status, errs)
		out[name] = filepath.Join(dir, name+".html")
	}
	write("demo", "", "")
	write("hand-over", "", "")
	write("dry", string(demo), desert())
	write("no-record", string(demo), "")
	return out
}

// desert is two years in which it rains on one day.
func desert() string {
	var b strings.Builder
	b.WriteString("date,rain_mm,tmin_c,tmax_c\n")
	day := time.Date(2019, 1, 1, 0, 0, 0, 0, time.UTC)
	for ; day.Year() < 2021; day = day.AddDate(0, 0, 1) {
		rain := 0
		if day.YearDay() == 100 {
			rain = 4
		}
		fmt.Fprintf(&b, "%s,%d,18,34\n", day.Format("2006-01-02"), rain)
	}
	return b.String()
}

// Each page at the widths of a telephone, a tablet and a desk: nothing wider
// than the window, no complaint, no request but for the page itself.
func layouts(t *testing.T, ctx context.Context, files map[string]string) {
	for name, file := range files {
		for _, width := range looked(name, testenv.Of([]int64{320, 1600}, []int64{320, 800, 1600, 3840})...) {
			at := fmt.Sprintf("%s at %d px", name, width)
			tab, done := chromedp.NewContext(ctx)
			var h heard
			require.NoError(t, chromedp.Listen(tab, h.note))
			page := url.URL{Scheme: "file", Path: file}
			require.NoError(t, chromedp.Do(tab, enable, chromedp.EmulateViewport(width, 900), chromedp.Navigate(page.String())), at)
			got, err := chromedp.Run(tab, chromedp.Evaluate[layout](measure))
			require.NoError(t, err, at)
			picture, err := chromedp.Run(tab, chromedp.FullScreenshot(100))
			require.NoError(t, err, at)
			require.NoError(t, os.WriteFile(filepath.Join(t.TempDir(), fmt.Sprintf("%s-%d.png", name, width)), picture, 0o644))
			assert.Greater(t, len(picture), 20_000, "%s: the picture of the page is nearly empty", at)
			assert.LessOrEqual(t, got.Wide, float64(width), "%s: the page is wider than the window", at)
			assert.Empty(t, got.Outside, "%s: stands out of the window", at)
			assert.Empty(t, got.Small, "%s: text too small to read", at)
			assert.Equal(t, "loaded", got.Fonts, at)
			assert.Zero(t, got.FontFaces, "%s: fonts to load", at)
			h.Lock()
			assert.Equal(t, []string{page.String()}, h.requests, at)
			assert.Empty(t, h.complaints, at)
			h.Unlock()
			done()
		}
	}
}

// enable turns on what heard listens for.
func enable(ctx context.Context, tab *chromedp.Target) (chromedp.Void, error) {
	if _, err := cdp.Call(ctx, tab, network.Enable, network.EnableParams{}); err != nil {
		return chromedp.Void{}, err
	}
	_, err := cdp.Call(ctx, tab, log.Enable, cdp.Empty{})
	return chromedp.Void{}, err
}

// layout is what measure finds.
type layout struct {
	Wide      float64
	Outside   []string
	Small     []string
	Fonts     string
	FontFaces int
}

// measure looks at the page from inside: its width, what stands out of it
// (other than within a box that scrolls), and text below 10 px.
const measure = `(() => {
	const wide = innerWidth, outside = [], small = [];
	for (const e of document.body.querySelectorAll('*')) {
		const box = e.getBoundingClientRect();
		if (box.width < 2 || e.closest('.hear, .skip, svg')) continue;
		if (!e.closest('.scroll') && (box.right > wide + 1 || box.left < -1)) outside.push(e.tagName + '.' + e.className + ' ' + box.left + ' to ' + box.right);
		if (e.childNodes.length && parseFloat(getComputedStyle(e).fontSize) < 10) small.push(e.tagName + ' ' + e.textContent.slice(0, 40));
	}
	return {Wide: Math.max(document.documentElement.scrollWidth, document.body.scrollWidth), Outside: outside, Small: small,
		Fonts: document.fonts.status, FontFaces: document.fonts.size};
})()`

// Each page on both papers has as many sheets as it should, and none nearly
// empty.
func papers(t *testing.T, ctx context.Context, files map[string]string) {
	testenv.Tool(t, "poppler-utils", "pdftotext")
	pages := map[string][2]int{"demo": {7, 8}, "dry": {4, 5}, "no-record": {3, 4}, "hand-over": {2, 2}}
	sizes := map[string]chromedp.PaperSize{"A4": chromedp.PaperA4, "Letter": chromedp.PaperLetter}
	for name, file := range files {
		tab, done := chromedp.NewContext(ctx)
		page := url.URL{Scheme: "file", Path: file}
		require.NoError(t, chromedp.Do(tab, chromedp.Navigate(page.String())))
		for _, paper := range looked(strings.Replace(name, "hand-over", "demo", 1), "Letter", "A4") {
			pdf, err := chromedp.Run(tab, chromedp.PrintToPDF(chromedp.PDFPaper(sizes[paper])))
			require.NoError(t, err)
			sheets := printed(t, pdf)
			assert.GreaterOrEqual(t, len(sheets), pages[name][0], "%s on %s", name, paper)
			assert.LessOrEqual(t, len(sheets), pages[name][1], "%s on %s", name, paper)
			for i, text := range sheets {
				lines := regexp.MustCompile(`(?m)\S.*$`).FindAllString(text, -1)
				assert.Greater(t, len(lines), 8, "%s on %s, sheet %d holds only:\n%s", name, paper, i+1, text)
				assert.Regexp(t, fmt.Sprintf(`\b%d ?/ ?%d\b`, i+1, len(sheets)), text, "%s on %s, sheet %d has no number", name, paper, i+1)
			}
		}
		done()
	}
}

// printed gives the words of each sheet.
func printed(t *testing.T, pdf []byte) []string {
	t.Helper()
	file := filepath.Join(t.TempDir(), "page.pdf")
	require.NoError(t, os.WriteFile(file, pdf, 0o644))
	text, err := exec.Command("pdftotext", "-layout", file, "-").Output()
	require.NoError(t, err)
	sheets := strings.Split(string(text), "\f")
	return sheets[:len(sheets)-1]
}

// axe-core finds nothing wrong with the page for people who read it by ear or
// by keyboard.
func byEar(t *testing.T, ctx context.Context, files map[string]string) {
	source, err := os.ReadFile(chromium.Tool(t, "axe-core/axe.min.js"))
	require.NoError(t, err)
	for name, file := range files {
		for _, width := range looked[int64](name, 320, 1000) { // at the first, tables scroll within their boxes
			at := fmt.Sprintf("%s at %d px", name, width)
			tab, done := chromedp.NewContext(ctx)
			page := url.URL{Scheme: "file", Path: file}
			require.NoError(t, chromedp.Do(tab, chromedp.EmulateViewport(width, 900), chromedp.Navigate(page.String())), at)
			_, err := chromedp.Run(tab, chromedp.Evaluate[*runtime.RemoteObject](string(source)))
			require.NoError(t, err, at)
			type found struct {
				Violations []string
				Passes     int
			}
			got, err := chromedp.Run(tab, chromedp.Evaluate[found](`axe.run(document).then(r => ({Passes: r.passes.length,
				Violations: r.violations.map(v => v.id + ': ' + v.help + ' ' + v.nodes.map(n => n.html.slice(0, 160)).join(' | '))}))`, chromedp.EvalAwaitPromise))
			require.NoError(t, err, at)
			assert.Empty(t, got.Violations, at)
			assert.Greater(t, got.Passes, 20, "%s: axe-core hardly looked", at)
			done()
		}
	}
}

// html-validate finds no fault in the markup.
func validMarkup(t *testing.T, files map[string]string) {
	script := chromium.Tool(t, "html-validate/bin/html-validate.mjs")
	var out bytes.Buffer
	check := exec.Command("node", slices.AppendSeq([]string{script, "--preset", "recommended"}, maps.Values(files))...)
	check.Dir, check.Stdout, check.Stderr = filepath.Dir(files["demo"]), &out, &out
	assert.NoError(t, check.Run(), out.String())
}
