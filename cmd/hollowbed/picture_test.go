package main

import (
	"image/png"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"hollowbed/testdata/testenv"
)

// A PNG has the size of the drawing at 200 dots an inch (180 mm wide, within a
// few dots) and is not blank.
func TestPicturePNG(t *testing.T) {
	t.Parallel()
	testenv.Tool(t, "chromium", "chromium")
	file := filepath.Join(t.TempDir(), "plan.png")
	status, _, errs := ask(t, "", "place", "--plan", file)
	require.Zero(t, status, errs)
	f, err := os.Open(file)
	require.NoError(t, err)
	defer f.Close()
	picture, err := png.Decode(f)
	require.NoError(t, err)
	assert.InDelta(t, 180*200/25.4, picture.Bounds().Dx(), 6)
	shades := map[uint32]bool{}
	for y := range picture.Bounds().Dy() {
		r, _, _, _ := picture.At(700, y).RGBA()
		shades[r] = true
	}
	assert.Greater(t, len(shades), 10, "many shades down the middle of the plan")
}

func TestPictureWithoutBrowser(t *testing.T) {
	t.Setenv("PATH", t.TempDir())
	status, _, errs := ask(t, "", "place", "--plan", filepath.Join(t.TempDir(), "plan.png"))
	assert.Equal(t, 2, status)
	assert.Contains(t, errs, "want a name that ends in .svg")
}
