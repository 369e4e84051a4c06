package report

import (
	"bytes"
	"html"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"hollowbed/cmd/hollowbed/doc"
	"hollowbed/plants"
	"hollowbed/plants/catalogue"
	"hollowbed/plants/placement"
	"hollowbed/plants/season"
)

// withSeason adds the demo's first season, and how sure the zones are by four cases.
func withSeason(t *testing.T, in PageIn) PageIn {
	t.Helper()
	read := func(name string) *bytes.Reader {
		text, err := os.ReadFile(filepath.Join("../../../data", name))
		require.NoError(t, err)
		return bytes.NewReader(text)
	}
	rows, _, err := placement.ReadPlanted("planted.csv", read("season/planted.csv"))
	require.NoError(t, err)
	rec, err := season.Read("season.csv", read("season/season.csv"))
	require.NoError(t, err)
	m := MoveIn{Exposure: in.Exposure, On: rec.Current()[0].Date}
	m.Signs, err = season.ReadTable("signs.csv", read("signs.csv"))
	require.NoError(t, err)
	m.Plants, err = catalogue.Read("plants.csv", read("plants.csv"))
	require.NoError(t, err)
	judge := plants.NewJudge(in.Exposure)
	_, err = m.Weigh("here", judge, rows, rec)
	require.NoError(t, err)
	in.Season, in.Planted = &m, len(rows)
	doubt := in.Lot.UsualDoubt()
	list, spread, err := plants.ChooseInDoubt(judge, m.Plants, doubt, doubt.Samples(4, len(in.Exposure.Whole), 1))
	require.NoError(t, err)
	sure := NewSpread(in.Garden, in.Exposure, spread, list, "")
	in.Sure = &sure
	return in
}

// With notes the page says how the plants did, why and what that teaches, in the
// words of move, and how sure the zones are, in those of zones --spread; without
// notes it has neither part.
func TestPageSeason(t *testing.T) {
	bare := demoIn(t)
	in := withSeason(t, bare)
	page := html.UnescapeString(written(t, in))
	d := Move{Garden: in.Garden, in: *in.Season}
	struggling := 0
	for _, c := range in.Season.Diagnoses {
		if c.Struggles() {
			struggling++
			assert.Contains(t, page, doc.Shown(d.why(c)), c.Case.Plant)
			assert.Contains(t, page, c.Case.Plant)
		}
	}
	assert.Greater(t, struggling, 5)
	assert.NotEmpty(t, d.lessons())
	for _, s := range append(d.lessons(), in.Sure.advice()...) {
		assert.Contains(t, page, s)
	}
	plain := written(t, bare)
	for _, id := range []string{`id="season"`, `id="sure"`, `href="#season"`, `href="#sure"`} {
		assert.Equal(t, 1, strings.Count(page, id), id)
		assert.NotContains(t, plain, id)
	}
}
