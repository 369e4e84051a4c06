package page_test

import (
	"bufio"
	"context"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"sync"
	"syscall"
	"testing"
	"time"

	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/cdproto/log"
	"github.com/chromedp/cdproto/network"
	"github.com/chromedp/cdproto/runtime"
	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"hollowbed/cmd/hollowbed/chromium"
	"hollowbed/testdata/testenv"
)

// The page as people meet it: the program itself, started as they start it,
// in a Chromium that has no window. One program is built and one browser
// started for all that is looked at: the three uses, and the rest in a heavy run.
func TestBrowser(t *testing.T) {
	t.Parallel()
	testenv.NotRaced(t)
	s := newStand(t)
	type look struct {
		name string
		at   func(*testing.T, stand)
	}
	uses := []look{{"choose", chooseAList}, {"find", findByCondition}, {"relocate", relocate}}
	for _, look := range append(uses, testenv.Of(nil, []look{
		{"keys", byKeysAlone}, {"drifts", driftByKeys}, {"handles", byHandles}, {"year", throughTheYear}, {"widths", atEveryWidth}, {"print", printed}, {"still", withoutMotion},
		{"windows", twoWindows}, {"disk", changedOnDisk}, {"faults", besideTheField}, {"gone", programGone}, {"other", otherServer}, {"touch", byTouch}, {"section", sectionToScale}, {"naughty", naughtyNames}, {"stop", stopLongWork}, {"valid", validMarkup},
	})...) {
		t.Run(look.name, func(t *testing.T) {
			t.Parallel()
			look.at(t, s)
		})
	}
}

// stand is what all looks share.
type stand struct {
	program string
	browser context.Context
	axe     string // source of axe-core
	shots   string // folder for pictures; HOLLOWBED_SHOTS keeps them
}

func newStand(t testing.TB) stand {
	t.Helper()
	axe, err := os.ReadFile(chromium.Tool(t, "axe-core/axe.min.js"))
	require.NoError(t, err)
	s := stand{program: filepath.Join(t.TempDir(), "hollowbed"), axe: string(axe), shots: os.Getenv("HOLLOWBED_SHOTS")}
	if s.shots == "" {
		s.shots = t.TempDir()
	}
	out, err := exec.Command("go", "build", "-ldflags=-s -w", "-o", s.program, "hollowbed/cmd/hollowbed").CombinedOutput()
	require.NoError(t, err, string(out))
	s.browser = chromium.Start(t)
	return s
}

// garden makes a folder with the demo's files in it.
func garden(t testing.TB) string {
	t.Helper()
	dir := t.TempDir()
	for _, name := range []string{"garden.yaml", "rain.csv", "plants.csv"} {
		text, err := os.ReadFile(filepath.Join("..", "..", "..", "data", name))
		require.NoError(t, err)
		require.NoError(t, os.WriteFile(filepath.Join(dir, name), text, 0o644))
	}
	return dir
}

// served is a program that serves a page.
type served struct {
	address string
	end     func() (status int) // by Ctrl-C
}

// serve starts the program on a garden, "" for the demo, at any free port.
func (s stand) serve(t testing.TB, folder string) served {
	t.Helper()
	return s.serveAt(t, folder, "0")
}

func (s stand) serveAt(t testing.TB, folder, port string) served {
	t.Helper()
	args := []string{"open", "--no-browser", "--port", port}
	if folder != "" {
		args = append(args, "--garden", folder)
	}
	cmd := exec.Command(s.program, args...)
	out, err := cmd.StdoutPipe()
	require.NoError(t, err)
	var errs strings.Builder
	cmd.Stderr = &errs
	require.NoError(t, cmd.Start())
	status := sync.OnceValue(func() int {
		cmd.Process.Signal(syscall.SIGINT)
		cmd.Wait()
		return cmd.ProcessState.ExitCode()
	})
	t.Cleanup(func() { status() })
	found := make(chan string, 1)
	go func() {
		defer close(found)
		for lines := bufio.NewScanner(out); lines.Scan(); {
			if at := strings.Index(lines.Text(), "http://"); at >= 0 {
				found <- strings.Fields(lines.Text()[at:])[0]
			}
		}
	}()
	select {
	case address := <-found:
		require.NotEmpty(t, address, "the program ended: %s", errs.String())
		return served{strings.TrimRight(address, ".,"), status}
	case <-time.After(time.Minute):
		require.FailNow(t, "the program prints no address", errs.String())
	}
	return served{}
}

// window is one window of the browser on a page.
type window struct {
	t     testing.TB
	s     stand
	ctx   context.Context
	heard *heard
	heeds int // how often its soundness was asked for
	shots int // and a picture
}

// heard is what a page complained of, and whom it asked.
type heard struct {
	sync.Mutex
	hosts      map[string]bool
	complaints []string
}

func (h *heard) note(ev any) {
	h.Lock()
	defer h.Unlock()
	switch ev := ev.(type) {
	case *network.EventRequestWillBeSent:
		host, _, _ := strings.Cut(strings.TrimPrefix(ev.Request.URL, "http://"), "/")
		if !strings.HasPrefix(ev.Request.URL, "data:") { // which the browser draws its own lists with, and asks nobody
			h.hosts[host] = true
		}
	case *runtime.EventConsoleAPICalled:
		h.complaints = append(h.complaints, "console: "+string(ev.Type))
	case *runtime.EventExceptionThrown:
		text := ev.ExceptionDetails.Text
		if e := ev.ExceptionDetails.Exception; e != nil {
			text += " " + e.Description
		}
		h.complaints = append(h.complaints, text)
	case *log.EventEntryAdded:
		if strings.HasSuffix(ev.Entry.URL, "/api/find") && strings.Contains(ev.Entry.Text, "status of 400") {
			return // what is half typed cannot be read yet, and the browser notes every refusal
		}
		h.complaints = append(h.complaints, ev.Entry.Text+" "+ev.Entry.URL)
	}
}

// looks is how a window is set up.
type looks struct {
	wide, high  int64
	dark, still bool
	mayComplain bool // a refusal is part of what is tried
	media       string
}

// look opens a page in a new window and waits until its figures stand.
func (s stand) look(t testing.TB, address string, at looks) *window {
	t.Helper()
	ctx, cancel := chromedp.NewContext(s.browser)
	t.Cleanup(cancel)
	w := &window{t: t, s: s, ctx: ctx, heard: &heard{hosts: map[string]bool{}}}
	require.NoError(t, chromedp.Listen(ctx, w.heard.note))
	scheme, motion := "light", "no-preference"
	if at.dark {
		scheme = "dark"
	}
	if at.still {
		motion = "reduce"
	}
	require.NoError(t, chromedp.Do(ctx, func(ctx context.Context, tab *chromedp.Target) (chromedp.Void, error) {
		if _, err := cdp.Call(ctx, tab, network.Enable, network.EnableParams{}); err != nil {
			return chromedp.Void{}, err
		}
		if _, err := cdp.Call(ctx, tab, log.Enable, cdp.Empty{}); err != nil {
			return chromedp.Void{}, err
		}
		_, err := cdp.Call(ctx, tab, emulation.SetEmulatedMedia, emulation.SetEmulatedMediaParams{Media: at.media, Features: []*emulation.MediaFeature{
			{Name: "prefers-color-scheme", Value: scheme}, {Name: "prefers-reduced-motion", Value: motion}}})
		return chromedp.Void{}, err
	}, chromedp.EmulateViewport(at.wide, at.high), chromedp.Navigate(address)))
	if !at.mayComplain {
		t.Cleanup(func() {
			w.heard.Lock()
			defer w.heard.Unlock()
			assert.Empty(t, w.heard.complaints, "the page complains")
			assert.Len(t, w.heard.hosts, 1, "the page asks others: %v", w.heard.hosts)
		})
	}
	w.until(`document.querySelectorAll('.plan .plant').length > 90`, "the plants stand on the plan")
	return w
}

// ask evaluates a script in the page.
func ask[T any](w *window, script string) T {
	w.t.Helper()
	got, err := chromedp.Run(w.ctx, chromedp.Evaluate[T](script, chromedp.EvalAwaitPromise))
	require.NoError(w.t, err, script)
	return got
}

// do runs a script for what it does.
func (w *window) do(script string) {
	w.t.Helper()
	ask[bool](w, "("+"async () => {"+script+"; return true}"+")()")
}

// until waits for a condition of the page.
func (w *window) until(condition, what string) {
	w.t.Helper()
	for end := time.Now().Add(3 * time.Minute); time.Now().Before(end); time.Sleep(50 * time.Millisecond) {
		met, err := chromedp.Run(w.ctx, chromedp.Evaluate[bool]("Boolean("+condition+")", chromedp.EvalAwaitPromise))
		if err == nil && met {
			return
		}
		if err != nil && !strings.Contains(err.Error(), "navigated") { // between two pages nobody answers
			require.NoError(w.t, err, condition)
		}
	}
	w.shot("failed")
	require.FailNow(w.t, "in vain waited until "+what, condition+"\n"+ask[string](w, `document.querySelector('#bar-says').textContent + ' | ' + document.querySelector('#say').textContent`))
}

// click presses the mouse on the middle of an element, where people would, once it lies
// still.
func (w *window) click(selector string) {
	w.t.Helper()
	x, y := w.middle(selector)
	for range 40 {
		time.Sleep(50 * time.Millisecond)
		nextX, nextY := w.middle(selector)
		if still := nextX == x && nextY == y; still {
			break
		}
		x, y = nextX, nextY
	}
	require.NoError(w.t, chromedp.Do(w.ctx, chromedp.MouseClickXY(x, y)), selector)
}

// middle scrolls an element into view and gives its middle; it must be what
// lies on top there.
func (w *window) middle(selector string) (x, y float64) {
	w.t.Helper()
	at := ask[[]float64](w, fmt.Sprintf(`(() => { const e = document.querySelector(%q); if (!e) return [];
		e.scrollIntoView({block: 'center'}); const b = e.getBoundingClientRect(); const x = b.left + b.width / 2, y = b.top + b.height / 2;
		const top = document.elementFromPoint(x, y); return top && (e.contains(top) || top.contains(e)) ? [x, y] : [x]; })()`, selector))
	require.Len(w.t, at, 2, "%s: not there, or covered", selector)
	return at[0], at[1]
}

// fill types into a field in place of what stood there.
func (w *window) fill(selector, text string) {
	w.t.Helper()
	w.do(fmt.Sprintf(`const e = document.querySelector(%q); e.scrollIntoView({block: 'center'}); e.focus(); e.select()`, selector))
	require.NoError(w.t, chromedp.Do(w.ctx, chromedp.KeyEvent(text)))
}

// choose takes a choice of a list, as a click on it does.
func (w *window) choose(selector, value string) {
	w.t.Helper()
	w.do(fmt.Sprintf(`const e = document.querySelector(%q); e.value = %q; if (e.value !== %q) throw new Error('no such choice'); e.dispatchEvent(new Event('input', {bubbles: true})); e.dispatchEvent(new Event('change', {bubbles: true}))`, selector, value, value))
}

func (w *window) text(selector string) string {
	w.t.Helper()
	return ask[string](w, fmt.Sprintf(`(e => e ? e.innerText || e.textContent : '')(document.querySelector(%q))`, selector))
}

// shot keeps a picture of the window: in an ordinary run, of the first state that
// it is asked for in each window.
func (w *window) shot(name string) {
	w.t.Helper()
	if w.shots++; w.shots > 1 && !testenv.Heavy() && os.Getenv("HOLLOWBED_SHOTS") == "" {
		return
	}
	picture, err := chromedp.Run(w.ctx, chromedp.CaptureScreenshot())
	require.NoError(w.t, err)
	assert.Greater(w.t, len(picture), 15_000, "the picture of the page is nearly empty")
	file := strings.ReplaceAll(w.t.Name(), "/", "-") + "-" + name + ".png"
	require.NoError(w.t, os.WriteFile(filepath.Join(w.s.shots, file), picture, 0o644))
}

// sound lets axe-core look at the page as it stands, and looks itself whether
// anything sticks out. what names the state. In an ordinary run axe-core, which
// takes a second or more, looks at every third state.
func (w *window) sound(what string) {
	w.t.Helper()
	w.within(what)
	if w.heeds++; w.heeds%testenv.Of(3, 1) == testenv.Of(1, 0) {
		w.accessible(what)
	}
}

func (w *window) accessible(what string) {
	w.t.Helper()
	if !ask[bool](w, "Boolean(window.axe)") {
		_, err := chromedp.Run(w.ctx, chromedp.Evaluate[*runtime.RemoteObject](w.s.axe))
		require.NoError(w.t, err)
	}
	type found struct {
		Violations []string
		Passes     int
	}
	got := ask[found](w, `axe.run(document).then(r => ({Passes: r.passes.length,
		Violations: r.violations.map(v => v.id + ': ' + v.help + ' ' + v.nodes.map(n => n.html.slice(0, 160) + ' ' + n.failureSummary).join(' | '))}))`)
	assert.Empty(w.t, got.Violations, what)
	assert.Greater(w.t, got.Passes, 25, "%s: axe-core hardly looked", what)
}

// within looks whether anything sticks out of the window, or is too small to read.
func (w *window) within(what string) {
	w.t.Helper()
	outside := ask[[]string](w, `(() => { const out = [];
		if (document.documentElement.scrollWidth > innerWidth) out.push('the page is ' + document.documentElement.scrollWidth + ' wide in a window of ' + innerWidth);
		for (const e of document.body.querySelectorAll('*')) {
			const b = e.getBoundingClientRect();
			if (b.width < 2 || e.closest('.hear, .skip, svg, .scroll')) continue;
			if (b.right > innerWidth + 1 || b.left < -1) out.push(e.tagName + '.' + e.className + ' ' + b.left + ' to ' + b.right);
			if (e.childNodes.length && parseFloat(getComputedStyle(e).fontSize) < 10) out.push('small: ' + e.textContent.slice(0, 40));
		}
		return out; })()`)
	assert.Empty(w.t, outside, what)
}
