package page

import (
	"cmp"
	"context"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"net/http"
	"slices"
	"strings"
	"time"

	"hollowbed/cmd/hollowbed/report"
	"hollowbed/cmd/hollowbed/store"
	"hollowbed/zones"
)

// conflict says that the files on disk are no longer those that the draft was
// made from.
type conflict struct {
	Words    string     `json:"words"`
	Files    []fileDiff `json:"files"`
	Revision string     `json:"revision"` // of the files on disk
}

// fileDiff shows the lines in which draft and disk differ, with some around.
type fileDiff struct {
	Name  string     `json:"name"`
	Lines []diffLine `json:"lines"`
}

// revision names the texts of the files.
func (d draft) revision() string {
	sum := sha256.Sum256([]byte(d.garden + "\x00" + d.planted))
	return hex.EncodeToString(sum[:])
}

// files are the files that can be written, with their texts.
func (d draft) files() [2]struct{ name, text string } {
	return [2]struct{ name, text string }{{"garden.yaml", d.garden}, {"planted.csv", d.planted}}
}

// newConflict shows how a draft differs from what is on disk.
func newConflict(draft, disk draft) *conflict {
	out := &conflict{Words: "The files changed on disk meanwhile. Nothing was written over them. Lines with - are yours, lines with + stand on disk.", Files: []fileDiff{}, Revision: disk.revision()}
	theirs := disk.files()
	for i, mine := range draft.files() {
		if lines := diff(mine.text, theirs[i].text); len(lines) > 0 {
			out.Files = append(out.Files, fileDiff{mine.name, lines})
		}
	}
	return out
}

// unsaved says what a save would write, a line for each change.
func (s *session) unsaved() []string {
	out := []string{}
	had, err := zones.KeyTexts(s.disk.garden)
	if err != nil {
		return append(out, "the garden file")
	}
	has, err := zones.KeyTexts(s.draft.garden)
	if err != nil {
		return append(out, "the garden file")
	}
	for _, key := range differing(s.disk.garden, s.draft.garden) {
		label := key
		if f, ok := fieldNamed(key); ok {
			label = f.Label
		}
		out = append(out, fmt.Sprintf("%s: %s, was %s", report.Plain(label), quoted(has[key]), quoted(had[key])))
	}
	if s.draft.planted != s.disk.planted {
		out = append(out, "places of the plants (planted.csv)")
	}
	return out
}

type saveIn struct {
	Revision string `json:"revision"`
	Version  int    `json:"version"`
}

// save writes the draft to the garden's files, if they are still those that
// the asker has seen.
func (s *session) save(r *http.Request, in saveIn) (any, error) {
	if s.garden.Change == nil {
		return nil, demoStays()
	}
	s.mu.Lock()
	version := s.version
	s.mu.Unlock()
	s.settled(r.Context(), version)
	unlock, err := s.garden.Lock()
	if err != nil {
		return nil, err
	}
	defer unlock()
	if err := s.write(in); err != nil {
		return nil, err
	}
	return s.encode(), nil
}

// write does the writing. The caller holds the lock of the folder.
func (s *session) write(in saveIn) error {
	s.files.Lock()
	defer s.files.Unlock()
	now, err := s.read()
	if err != nil {
		return err
	}
	written, err := s.mayWrite(in, now)
	if err != nil {
		return err
	}
	before := now.files()
	var changed []store.Change
	for i, f := range written.files() {
		if f.text != before[i].text {
			changed = append(changed, store.Change{Name: f.name, Before: s.held(f.name, before[i].text), After: []byte(f.text)})
		}
	}
	if err := s.change(in.Revision, changed...); err != nil {
		return err
	}
	s.mu.Lock()
	defer s.mu.Unlock()
	s.disk, s.conflict = written, nil
	s.ring()
	return nil
}

// change changes files on disk. One that somebody else changes meanwhile is a
// conflict, too.
func (s *session) change(revision string, files ...store.Change) error {
	err := s.garden.Change(files...)
	var late *store.ChangedError
	if !errors.As(err, &late) {
		return err
	}
	now, unread := s.read()
	if unread != nil {
		return unread
	}
	s.mu.Lock()
	defer s.mu.Unlock()
	return cmp.Or(s.seen(now, revision), err)
}

// mayWrite gives the draft, if the asker has seen it and what is on disk now.
func (s *session) mayWrite(in saveIn, now draft) (draft, error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	if in.Version != 0 && in.Version != s.version {
		return draft{}, &failure{status: http.StatusConflict, Words: "Changed meanwhile in another window: look, then save again."}
	}
	if s.failedAt == s.version && s.failed != "" {
		return draft{}, &failure{status: http.StatusUnprocessableEntity, Words: "Put right what is marked before you save.", Faults: s.faults}
	}
	return s.draft, s.seen(now, in.Revision)
}

// seen refuses what rests on other files than those on disk now. The caller
// holds mu.
func (s *session) seen(now draft, revision string) error {
	if now.revision() == revision {
		return nil
	}
	s.found(now)
	return &failure{status: http.StatusConflict, Words: "The files changed on disk meanwhile. Nothing was written.", Clash: newConflict(s.draft, now)}
}

// found takes note of what is on disk now. A draft with nothing unsaved
// follows; any other is kept, and the difference shown. The caller holds mu.
func (s *session) found(now draft) {
	switch {
	case now == s.disk && s.conflict == nil:
	case now == s.draft:
		s.disk, s.conflict = now, nil
		s.ring()
	case now == s.disk: // changed, and changed back
		s.conflict = nil
		s.ring()
	case s.draft == s.disk && readable(now) == nil:
		s.disk, s.conflict = now, nil
		s.step(now, "as it was before the files changed on disk")
	case s.conflict == nil || s.conflict.Revision != now.revision():
		s.conflict = newConflict(s.draft, now)
		s.ring()
	}
}

// readable says why a text cannot be a draft.
func readable(d draft) error {
	if _, err := zones.KeyTexts(d.garden); err != nil {
		return err
	}
	_, err := d.standing()
	return err
}

// reload takes the files as they are on disk; the draft can be had back by
// undo.
func (s *session) reload(r *http.Request, _ none) (any, error) {
	if err := s.takeDisk(); err != nil {
		return nil, err
	}
	return s.after(r), nil
}

func (s *session) takeDisk() error {
	s.files.Lock()
	defer s.files.Unlock()
	now, err := s.read()
	if err != nil {
		return err
	}
	if err := readable(now); err != nil {
		return &failure{status: http.StatusUnprocessableEntity, Words: "The files on disk cannot be read as they are: " + report.Plain(err.Error()), Faults: faultsOf(err)}
	}
	s.mu.Lock()
	defer s.mu.Unlock()
	s.disk, s.conflict = now, nil
	s.step(now, "as it was before taking the files from disk")
	s.ring()
	return nil
}

// lookEvery is how often the files on disk are looked at.
const lookEvery = 2 * time.Second

// watch looks at the files on disk until the context ends.
func (s *session) watch(ctx context.Context) {
	tick := time.NewTicker(lookEvery)
	defer tick.Stop()
	for {
		select {
		case <-tick.C:
		case <-ctx.Done():
			return
		}
		s.look()
	}
}

// look looks at the files on disk once. What cannot be read is told when it is
// asked for.
func (s *session) look() {
	s.files.Lock()
	defer s.files.Unlock()
	now, err := s.read()
	if err != nil {
		return
	}
	s.mu.Lock()
	defer s.mu.Unlock()
	s.found(now)
}

// diffLine is a line of both (" "), of the draft ("-") or of the disk ("+").
type diffLine struct {
	Sign string `json:"sign"`
	Text string `json:"text"`
}

const (
	around   = 2    // lines shown round a difference
	mostDiff = 400  // lines shown in all
	mostCmp  = 3000 // lines compared one by one
)

// diff shows where two texts differ, line by line: nothing if nowhere.
func diff(mine, theirs string) []diffLine {
	if mine == theirs {
		return nil
	}
	a, b := strings.Split(mine, "\n"), strings.Split(theirs, "\n")
	head := 0
	for head < len(a) && head < len(b) && a[head] == b[head] {
		head++
	}
	tail := 0
	for tail < len(a)-head && tail < len(b)-head && a[len(a)-1-tail] == b[len(b)-1-tail] {
		tail++
	}
	var all []diffLine
	add := func(sign string, lines ...string) {
		for _, l := range lines {
			all = append(all, diffLine{sign, report.Plain(l)})
		}
	}
	add(" ", a[:head]...)
	x, y := a[head:len(a)-tail], b[head:len(b)-tail]
	if len(x)*len(y) > mostCmp*mostCmp {
		add("-", x...)
		add("+", y...)
	} else {
		all = append(all, lineByLine(x, y)...)
	}
	add(" ", a[len(a)-tail:]...)
	return nearChanges(all)
}

// lineByLine finds the longest lines in common, and what else stands in each.
// Method: longest common subsequence by dynamic programming.
func lineByLine(x, y []string) []diffLine {
	n := len(y) + 1
	common := make([]int32, (len(x)+1)*n)
	for i := len(x) - 1; i >= 0; i-- {
		for j := len(y) - 1; j >= 0; j-- {
			if x[i] == y[j] {
				common[i*n+j] = common[(i+1)*n+j+1] + 1
			} else {
				common[i*n+j] = max(common[(i+1)*n+j], common[i*n+j+1])
			}
		}
	}
	var out []diffLine
	i, j := 0, 0
	for i < len(x) || j < len(y) {
		switch {
		case i < len(x) && j < len(y) && x[i] == y[j]:
			out = append(out, diffLine{" ", report.Plain(x[i])})
			i++
			j++
		case i < len(x) && (j == len(y) || common[(i+1)*n+j] >= common[i*n+j+1]):
			out = append(out, diffLine{"-", report.Plain(x[i])})
			i++
		default:
			out = append(out, diffLine{"+", report.Plain(y[j])})
			j++
		}
	}
	return out
}

// nearChanges keeps the lines that changed and those close to them.
func nearChanges(all []diffLine) []diffLine {
	keep := make([]bool, len(all))
	for i, l := range all {
		if l.Sign != " " {
			for k := max(0, i-around); k <= min(len(all)-1, i+around); k++ {
				keep[k] = true
			}
		}
	}
	var out []diffLine
	for i, l := range all {
		if keep[i] {
			out = append(out, l)
		}
	}
	if len(out) > mostDiff {
		out = append(slices.Clone(out[:mostDiff]), diffLine{" ", fmt.Sprintf("... and %d lines more", len(out)-mostDiff)})
	}
	return out
}
