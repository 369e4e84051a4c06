package main

import (
	"context"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"time"

	"hollowbed/cmd/hollowbed/report"
	"hollowbed/cmd/hollowbed/store"
)

// dotsPerMM is how fine a PNG is: 200 dots an inch, enough for print.
const dotsPerMM = 200 / 25.4

// writePicture writes a drawing to a file: as SVG, or as PNG where the name
// ends in .png. The PNG is made by a Chromium browser of this machine, since
// that draws an SVG as people will see it on the page.
func writePicture(file string, picture report.Drawing) error {
	if !strings.EqualFold(filepath.Ext(file), ".png") {
		return store.Replace(file, picture.SVG())
	}
	browser := ""
	for _, name := range []string{"chromium", "chromium-browser", "google-chrome"} {
		if found, err := exec.LookPath(name); err == nil {
			browser = found
			break
		}
	}
	if browser == "" {
		return usagef("%s: a PNG is made by a Chromium browser, and none is on this machine: want a name that ends in .svg", file)
	}
	png, err := renderPNG(browser, picture)
	if err != nil {
		return fmt.Errorf("%s: %w", file, err)
	}
	return store.Replace(file, png)
}

// renderPNG lets a browser draw an SVG in a folder of its own, without network.
func renderPNG(browser string, picture report.Drawing) ([]byte, error) {
	dir, err := os.MkdirTemp("", "hollowbed-*")
	if err != nil {
		return nil, err
	}
	defer os.RemoveAll(dir)
	page := filepath.Join(dir, "picture.html")
	const cssPerMM = 96 / 25.4
	html := "<!DOCTYPE html><meta charset=utf-8><style>body{margin:0}svg{display:block}</style>" + string(picture.SVG())
	if err := os.WriteFile(page, []byte(html), 0o600); err != nil {
		return nil, err
	}
	out := filepath.Join(dir, "picture.png")
	ctx, cancel := context.WithTimeout(context.Background(), time.Minute)
	defer cancel()
	options := []string{"--headless", "--disable-gpu", "--no-first-run", "--hide-scrollbars",
		"--disable-background-networking", "--disable-component-update", "--disable-sync", "--user-data-dir=" + filepath.Join(dir, "profile"),
		fmt.Sprintf("--force-device-scale-factor=%.4f", dotsPerMM/cssPerMM),
		fmt.Sprintf("--window-size=%.0f,%.0f", picture.WidthMM*cssPerMM+1, picture.HeightMM*cssPerMM+1), "--screenshot=" + out}
	if os.Geteuid() == 0 { // the browser refuses to run as root otherwise
		options = append(options, "--no-sandbox")
	}
	cmd := exec.CommandContext(ctx, browser, append(options, "file://"+page)...)
	if text, err := cmd.CombinedOutput(); err != nil {
		return nil, fmt.Errorf("%s: %w: %.200s", browser, err, text)
	}
	return os.ReadFile(out)
}
