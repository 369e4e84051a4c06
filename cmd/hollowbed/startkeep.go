package main

import (
	"cmp"
	"encoding/json"
	"errors"
	"fmt"
	"io/fs"
	"path/filepath"

	"hollowbed/cmd/hollowbed/doc"
	"hollowbed/cmd/hollowbed/plainfile"
	"hollowbed/cmd/hollowbed/store"
	"hollowbed/zones"
)

// answersFile keeps, in the folder of a garden to be, what was answered before
// start was stopped.
const answersFile = "start-answers.json"

func (o *startOptions) kept() string { return filepath.Join(o.dir, answersFile) }

// stop keeps what was answered at the question that was left open.
func (o *startOptions) stop(at zones.Question) error {
	if len(o.typed) == 0 {
		return usagef("stopped at %q: nothing was written", at.Prompt) // the line that was typed says it all
	}
	for key, text := range o.given {
		if text != nil {
			o.typed[key] = *text
		}
	}
	if o.near != "" {
		o.typed["near"] = o.near
	}
	text, err := json.MarshalIndent(o.typed, "", "  ")
	if err != nil {
		return err
	}
	if err := store.MakeFolder(o.dir); err != nil {
		return err
	}
	if err := store.Replace(o.kept(), append(text, '\n')); err != nil {
		return err
	}
	return usagef("stopped at %q: the answers so far are kept in %s; hollowbed start %s goes on from there", at.Prompt, o.kept(), shellWord(o.dir))
}

// resume takes up what was answered before; an option counts before it.
func (o *startOptions) resume() error {
	text, err := plainfile.Read(plainfile.Dir(o.dir), answersFile, 1<<16)
	if errors.Is(err, fs.ErrNotExist) {
		return nil
	} else if err == nil {
		err = json.Unmarshal(text, &o.typed)
	}
	if err == nil && o.typed == nil { // null
		err = errors.New("there are none in it")
	}
	if err != nil {
		return usagef("%s: expected answers that hollowbed start kept; remove the file to begin anew: %v", o.kept(), err)
	}
	for _, q := range startQuestions() {
		if text, ok := o.typed[q.Key]; ok && o.given[q.Key] == nil {
			o.given[q.Key] = &text
			fmt.Fprintf(o.err, "%s %s (kept)\n", q.Prompt, doc.Plain(text))
		}
	}
	o.near = cmp.Or(o.near, o.typed["near"])
	return nil
}
