package season

import (
	"path/filepath"
	"strings"
	"time"
)

// photoEndings are those of the kinds of photographs that are kept.
func photoEndings() []string { return []string{".jpg", ".png", ".webp", ".gif"} }

// wrongPhoto says what would be right for the name of a photograph: it leads nowhere
// else, is not hidden and means the same on every system; "" if it is.
func wrongPhoto(name string) string {
	const most = 100
	for _, ending := range photoEndings() {
		base, ok := strings.CutSuffix(name, ending)
		if ok && base != "" && base[0] != '-' && len(name) <= most && !strings.ContainsFunc(base, notPlain) {
			return ""
		}
	}
	return "expected the name of a photograph in the folder photos, such as 2026-04-30-TAR3.jpg"
}

func notPlain(r rune) bool {
	return (r < '0' || r > '9') && (r < 'A' || r > 'Z') && (r < 'a' || r > 'z') && r != '-' && r != '_'
}

// NamePhoto is what to call the copy of a photograph: its day, its stake and what
// is plain in the name of its file; ending is that of its kind, such as ".jpg".
func (e Entry) NamePhoto(file, ending string) string {
	const most = 60
	base := filepath.Base(file)
	words := strings.FieldsFunc(e.Date.Format(time.DateOnly)+" "+e.Stake+" "+strings.TrimSuffix(base, filepath.Ext(base)), notPlain)
	name := strings.Join(words, "-")
	return name[:min(len(name), most)] + ending
}
