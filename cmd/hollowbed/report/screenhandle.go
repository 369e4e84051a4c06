package report

import (
	"fmt"
	"strings"

	"hollowbed/cmd/hollowbed/doc"
	"hollowbed/zones"
)

// ScreenHandle is a handle of the plan.
type ScreenHandle struct {
	Name  string `json:"name"`
	Words string `json:"words"` // what it is, and where
	XM    Number `json:"x_m"`
	YM    Number `json:"y_m"`
}

// NewScreenHandles words the handles of a lot.
func NewScreenHandles(l *zones.Lot) []ScreenHandle {
	var out []ScreenHandle
	for _, h := range l.Handles() {
		out = append(out, ScreenHandle{h.Name, handleWords(l, h), Number(h.At[0]), Number(h.At[1])})
	}
	return out
}

// handleWords say what a handle is and its measure: of the bed, or where it lies.
func handleWords(l *zones.Lot, h zones.Handle) string {
	u, o := l.Garden.Units, l.Bed.Spec().Outline
	area := u.Area(l.Bed.Spec().Outline.AreaM2())
	at := fmt.Sprintf("%s along, %s across", u.Length(h.At[0]), u.Length(h.At[1]))
	kind, _, numbered := strings.Cut(h.Name, " ")
	switch {
	case kind == "length":
		return fmt.Sprintf("Right end: bed %s long, %s", u.Length(o.LengthM), area)
	case kind == "width":
		return fmt.Sprintf("Far side: bed %s wide, %s", u.Length(o.WidthM), area)
	case kind == "corner" && !numbered:
		return fmt.Sprintf("Far corner: bed %s by %s, %s", u.Length(o.LengthM), u.Length(o.WidthM), area)
	case kind == "corner", kind == "edge":
		return fmt.Sprintf("%s: %s; bed %s", doc.Capital(h.Name), at, area)
	case kind == "kept":
		var n int
		fmt.Sscan(strings.TrimPrefix(h.Name, "kept "), &n)
		return fmt.Sprintf("%s: %s", doc.Capital(l.Garden.Layout.KeepFree[n-1].Kind), at)
	}
	return fmt.Sprintf("%s: %s", doc.Capital(h.Name), at)
}

// ScreenShape is a bed as it would be while a handle is dragged.
type ScreenShape struct {
	Words   string      `json:"words"`
	Doubts  []string    `json:"doubts"`
	Outline [][2]Number `json:"outline"`
}

// NewScreenShape words the bed of a lot by one of its handles.
func NewScreenShape(l *zones.Lot, handle string) ScreenShape {
	out := ScreenShape{Doubts: orEmpty(l.Misplaced()), Outline: ring(drawBed(l).Outline)}
	for _, h := range l.Handles() {
		if h.Name == handle {
			out.Words = handleWords(l, h)
		}
	}
	return out
}
