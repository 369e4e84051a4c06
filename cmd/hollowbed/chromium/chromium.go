// Package chromium starts the browser in which tests look at pages, and finds
// the tools that they are checked with. Nothing but tests uses it.
package chromium

import (
	"context"
	"os"
	"path/filepath"
	"testing"

	"github.com/chromedp/chromedp"

	"hollowbed/testdata/testenv"
)

// Tool is a file of the folder that HOLLOWBED_TOOLS names, where npm installed
// what pages are checked with.
func Tool(t testing.TB, name string) string {
	t.Helper()
	folder := os.Getenv("HOLLOWBED_TOOLS")
	file := filepath.Join(folder, "node_modules", name)
	if folder == "" {
		testenv.Absent(t, "HOLLOWBED_TOOLS names no folder with "+name+"; in an empty folder, npm install axe-core html-validate, and name it")
	} else if _, err := os.Stat(file); err != nil {
		testenv.Absent(t, "HOLLOWBED_TOOLS has no "+name+": "+err.Error())
	}
	return file
}

// Start starts a headless browser with a profile of its own, for chromedp. It
// ends with the test.
func Start(t testing.TB) context.Context {
	t.Helper()
	path := testenv.Tool(t, "chromium", "chromium", "chromium-browser", "google-chrome")
	alloc, stop := chromedp.NewExecAllocator(context.Background(),
		chromedp.ExecPath(path), chromedp.Headless, chromedp.NoSandbox, chromedp.DisableGPU, chromedp.NoFirstRun, chromedp.UserDataDir(t.TempDir()),
		chromedp.Flag("disable-features", "PreloadTopChromeWebUI,InitialWebUI,WebUIReloadButton"), // buttons that nobody sees, drawn as pages: a quarter of its work
		chromedp.Flag("disable-quic", true), chromedp.Flag("disable-background-networking", true),
		chromedp.Flag("disable-component-update", true), chromedp.Flag("disable-sync", true), chromedp.Flag("disable-dev-shm-usage", true))
	t.Cleanup(stop)
	ctx, cancel := chromedp.NewContext(alloc)
	t.Cleanup(cancel)
	if err := chromedp.Do(ctx); err != nil {
		t.Fatal("Chromium does not start: ", err)
	}
	return ctx
}
