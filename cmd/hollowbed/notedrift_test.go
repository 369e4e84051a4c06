package main

import (
	"bytes"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// driftGarden has a drift C of five plants, a drift D whose letter is a stake too, and a
// drift E of two kinds.
func driftGarden(t *testing.T) string {
	rows := "stake,id,x_m,y_m,planted,zone,drift\n"
	for i := range 5 {
		rows += fmt.Sprintf("LOW%d,low-brindlewisp,%.1f,2.1,2024-05-01,bottom,C\n", i+1, 2.4+0.3*float64(i))
	}
	return gardenWith(t, map[string]string{"planted.csv": rows +
		"D,low-brindlewisp,2.4,1.8,2024-05-01,bottom,\nLOW6,low-brindlewisp,2.7,1.8,2024-05-01,bottom,D\nLOW7,low-brindlewisp,3,1.8,2024-05-01,bottom,D\n" +
		"LOW8,low-brindlewisp,3.3,1.8,2024-05-01,bottom,E\nODD1,nobody-knows,3.6,1.8,2024-05-01,bottom,E\n"})
}

// A note on some of a drift says of how many, and the line that is written keeps just
// that; what could be meant otherwise is refused with both readings.
func TestNoteByDrift(t *testing.T) {
	t.Parallel()
	dir := driftGarden(t)
	season := func() string {
		text, err := os.ReadFile(filepath.Join(dir, "season.csv"))
		require.NoError(t, err)
		return string(text)
	}
	for _, c := range []struct{ args, out, line string }{
		{"C 2 wilted", `drift C \(Low Brindlewisp\): 2 of its plants, wilted. Entry 1`, ",C,seen,,wilted,,,,,,,2,LOW1 LOW2 LOW3 LOW4 LOW5\n"},
		{"c 3/5 2 yellow", `3 of 5 plants, vigour 2, yellow`, ",C,seen,2,yellow,,,,,,,3 of 5,LOW1 LOW2 LOW3 LOW4 LOW5\n"},
		{"c, 3 of 4 not eaten", `3 of 4 plants, not eaten`, ",C,seen,,not eaten,,,,,,,3 of 4,"},
		{"drift C all 4", `all 5 plants, vigour 4`, ",C,seen,4,,,,,,,,5 of 5,"},
		{"C 1 --remark odd", `1 of its plants, odd`, ",C,seen,,,,,,,,odd,1,"},
		{"drift d 1 wilted", `drift D \(Low Brindlewisp\): 1 of its plants`, ",D,seen,,wilted,,,,,,,1,LOW6 LOW7\n"},
		{"stake D 3", `, D \(Low Brindlewisp\): vigour 3`, ",D,seen,3,,,,,,,,,\n"},
		{"E all wilted", `all 2 plants`, ",E,seen,,wilted,,,,,,,2 of 2,LOW8 ODD1\n"},
		{"LOW2 dead", `LOW2 \(Low Brindlewisp\): vigour 0`, ",LOW2,seen,,dead,,,,,,,,\n"},
		{"C 1/4 dead", `1 of 4 plants`, ",C,seen,,dead,,,,,,,1 of 4,LOW1 LOW3 LOW4 LOW5\n"},
	} {
		status, out, errs := ask(t, "", strings.Fields("note "+c.args+" --date 2024-09-01 --garden "+dir)...)
		require.Zero(t, status, "%s: %s", c.args, errs)
		assert.Regexp(t, c.out, strings.Join(strings.Fields(out), " "), c.args)
		assert.Contains(t, season(), c.line, c.args)
		assert.Equal(t, strings.Contains(c.args, "C 1/4 dead"), strings.Contains(errs, "Which of drift C died is not known"), errs)
	}
	before := season()
	for args, want := range map[string]string{
		"C wilted":         `drift C has 3 Low Brindlewisp: expected how many of them, such as: hollowbed note C 2 wilted, or 2/3 where the others are not`,
		"C":                `expected how many of them`,
		"C 2":              `drift C: 2 of its plants: expected how they do as well, such as: hollowbed note C 2 wilted`,
		"C 4 wilted":       `"4": drift C has 3 plants: expected no more`,
		"C 1/4 wilted":     `"1/4": drift C has 3`,
		"C 0/3 wilted":     `"0/3": expected how many plants of the drift`,
		"C 3/2 wilted":     `"3/2": expected how many plants of the drift`,
		"D 1 wilted":       `"D": may be drift D (2 Low Brindlewisp) or the plant D: expected "drift D" or "stake D"`,
		"drift F 1 wilted": `"drift F": expected a drift of `,
		"F 1 wilted":       `"F": want a stake of `,
		"E 1 wilted":       `drift E holds plants of 2 kinds: expected their stakes, or all`,
		"C --water 2L":     `--water: expected the stake of one plant, bottom, slope, rim or all, not a drift`,
		"C 2 wiltd":        `did you mean wilted`,
	} {
		status, _, errs := ask(t, "", strings.Fields("note "+args+" --date 2024-09-01 --garden "+dir)...)
		assert.Equal(t, 2, status, args)
		assert.Contains(t, errs, want, args)
	}
	assert.Equal(t, before, season(), "what is refused writes nothing")

	status, out, errs := ask(t, "", "note", "--list", "C", "--garden", dir)
	require.Zero(t, status, errs)
	assert.Contains(t, out, "drift C")
	assert.NotContains(t, out, "drift D")
	table := filepath.Join(t.TempDir(), "paper.csv")
	for text, want := range map[string]string{"C,2 of 3": "Wrote 1 entry", "C,9": "drift C has 5 plants: expected no more", "F,1": "expected a drift of", "C,many": "expected how many plants of the drift", "LOW1,1": "expected the letter of a drift"} {
		require.NoError(t, os.WriteFile(table, []byte("date,stake,signs,drift_count\n2024-09-02,"+strings.Replace(text, ",", ",eaten,", 1)+"\n"), 0o644))
		_, out, errs := ask(t, "", "note", "--from", table, "--garden", dir)
		assert.Contains(t, out+errs, want, text)
	}
	_, out, _ = ask(t, "", "note", "--list", "--json", "--garden", dir)
	assert.Contains(t, out, `"drift_count": "2 of 3"`)

	status, _, errs = ask(t, "", "note", "C", "all", "dead", "--date", "2024-09-03", "--garden", dir)
	require.Zero(t, status, errs)
	for _, gone := range []string{"C", "drift C"} {
		status, _, errs = ask(t, "", strings.Fields("note "+gone+" 1 wilted --date 2024-09-04 --garden "+dir)...)
		assert.Equal(t, 2, status)
		assert.Contains(t, errs, "by the notes no plant of this drift is left: expected the stake of a plant, or another drift")
	}
}

// On a terminal it asks how many, and how they do.
func TestNoteByDriftAsks(t *testing.T) {
	t.Parallel()
	for _, c := range []struct{ args, typed, line string }{
		{"note C wilted", "2/5\n", ",C,seen,,wilted,,,,,,,2 of 5,"},
		{"note C", "3\nwilted\n", ",C,seen,,wilted,,,,,,,3,"},
		{"note", "C\n2 of 5\n1 yellow\n\nD\nLOW1\n4\n\n\n", ",C,seen,1,yellow,,,,,,,2 of 5,"},
	} {
		dir := driftGarden(t)
		var errs bytes.Buffer
		status := run(append(strings.Fields(c.args), "--date", "2024-09-01", "--garden", dir), world{
			in: strings.NewReader(c.typed), out: io.Discard, err: &errs, getenv: func(string) string { return "" }, now: func() time.Time { return time.Date(2024, 10, 5, 8, 0, 0, 0, time.UTC) }, terminal: true,
		})
		require.Zero(t, status, errs.String())
		assert.Contains(t, errs.String(), "How many of the 5 plants of drift C")
		text, err := os.ReadFile(filepath.Join(dir, "season.csv"))
		require.NoError(t, err)
		assert.Contains(t, string(text), c.line)
		assert.Equal(t, c.args == "note", strings.Contains(errs.String(), `not written: "D": may be drift D`), errs.String())
	}
}
