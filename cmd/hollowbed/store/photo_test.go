package store

import (
	"bytes"
	"errors"
	"os"
	"path/filepath"
	"runtime"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func gif(text string) []byte { return []byte("GIF89a" + text) }

// A photograph is copied and then named; none is written over, the same is kept
// once, and where it cannot be named there is none.
func TestEditWithPhoto(t *testing.T) {
	d, dir := opened(t, nil)
	note := func(picture []byte) (kept string) {
		require.NoError(t, d.EditWithPhoto("season.csv", picture, "a.gif", func(old []byte, photo string) ([]byte, error) {
			kept = photo
			holds(t, filepath.Join(dir, "photos", photo), string(picture))
			return append(old, photo+" "...), nil
		}))
		return kept
	}
	assert.Equal(t, "a.gif", note(gif("1")))
	assert.Equal(t, "a-2.gif", note(gif("2")))
	assert.Equal(t, "a-2.gif", note(gif("2")), "the same again")
	require.NoError(t, os.Mkdir(filepath.Join(dir, "photos", "a-3.gif"), 0o755))
	assert.Equal(t, "a-4.gif", note(gif("3")))
	holds(t, filepath.Join(dir, "season.csv"), "a.gif a-2.gif a-2.gif a-4.gif ")

	failed := errors.New("cannot be named")
	for _, picture := range [][]byte{gif("new"), gif("1")} {
		require.ErrorIs(t, d.EditWithPhoto("season.csv", picture, "a.gif", func([]byte, string) ([]byte, error) { return nil, failed }), failed)
	}
	onlyHas(t, filepath.Join(dir, "photos"), "a.gif", "a-2.gif", "a-3.gif", "a-4.gif")
	picture, kind, err := d.Photo("a-2.gif")
	require.NoError(t, err)
	assert.Equal(t, "image/gif", kind)
	assert.Equal(t, gif("2"), picture)
}

// What a photograph may be, and what is served as one: plain files of pictures by
// their first bytes (as https://mimesniff.spec.whatwg.org lists them), no link, no
// folder, and nothing outside.
func TestPhotoKinds(t *testing.T) {
	d, dir := opened(t, map[string]string{"garden.yaml": "GIF89a"})
	inside := filepath.Join(dir, "photos")
	require.NoError(t, os.Mkdir(inside, 0o755))
	put := func(name string, text []byte) {
		require.NoError(t, os.WriteFile(filepath.Join(inside, name), text, 0o644))
	}
	put("j.jpg", []byte("\xff\xd8\xff\xe0 JFIF"))
	put("p.png", []byte("\x89PNG\r\n\x1a\n"))
	put("w.webp", []byte("RIFF\x00\x00\x00\x00WEBPVP8 "))
	put("g.gif", gif(""))
	put("x.jpg", []byte("<svg xmlns='http://www.w3.org/2000/svg'/>"))
	put("h.jpg", []byte("<!DOCTYPE html><script>"))
	put("b.jpg", []byte("BM bitmap"))
	put("e.jpg", nil)
	put("big.gif", bytes.Repeat(gif("."), mostPhoto/7+1))
	put("most.gif", append(gif(""), make([]byte, mostPhoto-6)...))
	require.NoError(t, os.Mkdir(filepath.Join(inside, "f.jpg"), 0o755))
	put("f.jpg/g.gif", gif(""))
	sound := map[string][2]string{"j.jpg": {"image/jpeg", ".jpg"}, "p.png": {"image/png", ".png"}, "w.webp": {"image/webp", ".webp"}, "g.gif": {"image/gif", ".gif"}, "most.gif": {"image/gif", ".gif"}}
	for name, want := range sound {
		_, ending, err := ReadPhoto(filepath.Join(inside, name))
		require.NoError(t, err, name)
		_, kind, err := d.Photo(name)
		require.NoError(t, err, name)
		assert.Equal(t, want, [2]string{kind, ending}, name)
	}
	names := map[string]string{"x.jpg": "is no photograph", "h.jpg": "is no photograph", "b.jpg": "is no photograph", "e.jpg": "is no photograph", "big.gif": "at most 20 MB", "f.jpg": "is a folder", "no.jpg": "no such file", "g.gif/x": "expected a photograph"}
	if runtime.GOOS != "windows" { // making symbolic links takes rights that tests do not have there
		require.NoError(t, os.Symlink("g.gif", filepath.Join(inside, "l.gif")))
		require.NoError(t, os.Symlink("../garden.yaml", filepath.Join(inside, "o.gif")))
		names["l.gif"], names["o.gif"] = "is a link", "is a link"
	}
	for name, want := range names {
		_, _, err := ReadPhoto(filepath.Join(inside, filepath.FromSlash(name)))
		assert.ErrorContains(t, err, want, name)
		var mendable interface{ BadInput() bool }
		assert.ErrorAs(t, err, &mendable, name)
		_, _, err = d.Photo(name)
		assert.Error(t, err, name)
	}
	for _, name := range []string{"../garden.yaml", "", ".", "..", "/etc/passwd", `..\garden.yaml`, "photos/../g.gif", "./g.gif", "f.jpg/g.gif"} {
		_, _, err := d.Photo(name)
		assert.Error(t, err, name)
	}
}

// A folder of photographs that is a link or a file is left alone.
func TestPhotosElsewhere(t *testing.T) {
	d, dir := opened(t, map[string]string{"photos": "mine"})
	edit := func() error {
		return d.EditWithPhoto("season.csv", gif(""), "a.gif", func([]byte, string) ([]byte, error) { return []byte("x"), nil })
	}
	assert.ErrorContains(t, edit(), "photos: is no folder")
	onlyHas(t, dir, "photos", ".hollowbed.lock")
	if runtime.GOOS == "windows" {
		return
	}
	away := t.TempDir()
	for _, to := range []string{away, "within"} {
		require.NoError(t, os.Remove(filepath.Join(dir, "photos")))
		require.NoError(t, os.MkdirAll(filepath.Join(dir, "within"), 0o755))
		require.NoError(t, os.Symlink(to, filepath.Join(dir, "photos")))
		require.NoError(t, os.WriteFile(filepath.Join(away, "g.gif"), gif(""), 0o644))
		assert.ErrorContains(t, edit(), "photos: is no folder")
		_, _, err := d.Photo("g.gif")
		assert.Error(t, err)
	}
	onlyHas(t, away, "g.gif")
	onlyHas(t, filepath.Join(dir, "within"))
}
