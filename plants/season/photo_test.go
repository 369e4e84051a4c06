package season

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// A photograph's name leads nowhere but into its folder; a note may hold nothing
// else. Columns that people have for photographs of their own are left as they are.
func TestPhotoColumn(t *testing.T) {
	rec, err := Read("s.csv", strings.NewReader("date,stake,photo,photos,Foto,photo_file\n2024-06-01,TAR3,my IMG 1.JPG,../x,y,2024-06-01-TAR3-2.jpg\n"))
	require.NoError(t, err)
	assert.Equal(t, "2024-06-01-TAR3-2.jpg", rec.Entries[0].Photo)
	assert.Equal(t, Seen, rec.Entries[0].Kind)
	assert.Len(t, rec.Warnings, 3)
	for _, name := range []string{"../a.jpg", "/a.jpg", `..\a.jpg`, ".a.jpg", ".jpg", "a.svg", "a.jpg.exe", "a b.jpg", "a.JPG", "-a.jpg", "c:a.jpg", "é.jpg", "a\x00.jpg", strings.Repeat("a", 97) + ".jpg", "http://a.jpg"} {
		_, err := Read("s.csv", strings.NewReader("date,stake,vigour,photo_file\n2024-06-01,TAR3,3,"+name+"\n"))
		assert.ErrorContains(t, err, "2:", name)
		if !strings.Contains(name, "\x00") {
			assert.ErrorContains(t, err, "s.csv:2:19: photo_file: ", name)
		}
	}
	e := NewEntry(date("2024-06-01"), "TAR3", Seen)
	for file, want := range map[string]string{
		"/home/x/IMG_0001.JPEG": "2024-06-01-TAR3-IMG_0001.png", "../../etc/passwd": "2024-06-01-TAR3-passwd.png", ".png": "2024-06-01-TAR3.png", "": "2024-06-01-TAR3.png",
		"Blüte (2) neu.jpg": "2024-06-01-TAR3-Bl-te-2-neu.png", strings.Repeat("x", 300): "2024-06-01-TAR3-" + strings.Repeat("x", 44) + ".png",
	} {
		assert.Equal(t, want, e.NamePhoto(file, ".png"), file)
	}
	out, added, err := Append("s.csv", []byte("date,stake,vigour,photo\n2024-05-01,TAR3,3,mine.tif\n"), []Entry{{Date: e.Date, Stake: "TAR3", Kind: Seen, Vigour: 4, Photo: "a.jpg", WaterL: e.WaterL, X: e.X, Y: e.Y, PondMM: e.PondMM, LeftMM: e.LeftMM, From: Unstated, To: Unstated}})
	require.NoError(t, err)
	assert.Equal(t, "date,stake,vigour,photo,kind,photo_file\n2024-05-01,TAR3,3,mine.tif,,\n2024-06-01,TAR3,4,,seen,a.jpg\n", string(out))
	assert.Equal(t, "a.jpg", added[0].Photo)
}
