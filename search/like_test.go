package search

import (
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"hollowbed/plants/catalogue"
)

const likeTable = `id,scientificName,vernacularName,form,zones,sun_min_h,wet_h,dry_d,spread_cm,height_cm,lowest_c,flower_from,flower_to,flower_colour,price
blue-marl,Marla azurea,Blue Marl,forb,slope,5,60,20,40,60,-20,6,8,blue,4
low-marl,Marla humilis,Low Marl,forb,slope,5,58,21,38,45,-20,6,8,blue,6
red-marl,Marla rubra,Red Marl,forb,slope,5,60,20,40,66,-25,7,9,red,5
wide-marl,Marla lata,Wide Marl,forb,slope,5,60,20,80,62,-20,6,8,blue,3
marl-bush,Marla lignosa,Marl Bush,shrub,rim,6,10,40,40,60,-30,4,5,white,
early-marl,Marla verna,Early Marl,grass-like,bottom,3,120,8,30,50,-15,3,4,yellow,2
twin-a,Twina prima,Twin Reed,forb,bottom,3,120,8,30,50,-15,5,6,,2
twin-b,Twina altera,Twin Reed,forb,bottom,3,120,8,30,50,-15,5,6,,2
`

func likeIndex(t *testing.T) *Index {
	c, err := catalogue.Read("t.csv", strings.NewReader(likeTable))
	require.NoError(t, err)
	x, err := New(c.Plants, Options{})
	require.NoError(t, err)
	t.Cleanup(func() { x.Close() })
	return x
}

func findIDs(t *testing.T, x *Index, line, sort string) []string {
	t.Helper()
	q, err := Parse(line)
	require.NoError(t, err, line)
	q.Sort = sort
	r, err := x.Find(q)
	require.NoError(t, err, line)
	return ids(r.Hits)
}

// What a likeness line reads as; what follows "but" is read as any line is.
func TestParseLike(t *testing.T) {
	for line, want := range map[string]string{
		"like Blue Marl but shorter":               `like "Blue Marl" but shorter`,
		"like blue marl, shorter and red":          `like "blue marl" but shorter red`,
		`Like "Blue Marl" shorter`:                 `like "Blue Marl" but shorter`,
		"something like blue marl but not toxic":   `like "blue marl" -toxic`,
		"similar to marla azurea":                  `like "marla azurea"`,
		"plants like blue marl but a bit narrower": `like "blue marl" but narrower`,
		"what can replace BLU1?":                   `replace "BLU1"`,
		"replace BLU1 but later and height<2ft":    `replace "BLU1" but later height<60.96`,
		"replacement for blu1":                     `replace "blu1"`,
		"like blue marl but shorter than 2 ft":     `like "blue marl" height<60.96`,
		"like blue marl but no taller than 2 ft":   `like "blue marl" height<=60.96`,
		"like blue marl, not toxic but shorter":    `like "blue marl" but shorter -toxic`,
	} {
		q, err := Parse(line)
		require.NoError(t, err, line)
		assert.Equal(t, want, q.String(), line)
		again, err := Parse(q.String())
		require.NoError(t, err, line)
		assert.Equal(t, want, again.String(), line)
	}
	q, err := Parse("bees that like blue")
	require.NoError(t, err)
	assert.Nil(t, q.Like)
	_, err = Parse("like blue marl but hieght<3")
	assert.ErrorContains(t, err, "query:1:20: field", "what is wrong is told where it stands in the line")
}

// What turns a comparison round is asked back, not dropped.
func TestLikeTurnedRound(t *testing.T) {
	for _, line := range []string{
		"like blue marl but not shorter", "like blue marl but no taller", "like blue marl but not any taller", "like blue marl but not a bit taller",
		"like blue marl but not toxic or shorter", "like blue marl but neither shorter nor red", "like blue marl but hardier, anything but shorter",
		"replace blue marl but not wider", "like blue marl, taller rather than shorter",
	} {
		_, err := Parse(line)
		assert.ErrorContains(t, err, "a word before it turns it round", line)
	}
	_, err := Parse("like blue marl but no taller")
	assert.ErrorContains(t, err, `query:1:23: query: "taller"`)
}

// Words on both sides of where a name would end are read as one line: of harm
// neither side alone says what is asked.
func TestLikeNeverPartsHarm(t *testing.T) {
	x := likeIndex(t)
	for _, line := range []string{
		"like nothing but poison", "like non, toxic", "like toxic but not", "like hardly, poisonous",
		"like non-, toxic", "like invasive, never",
	} {
		q, err := Parse(line)
		if err == nil {
			_, err = x.Find(q)
		}
		assert.Error(t, err, line)
	}
	for line, want := range map[string]string{
		"like anything but toxic": "-toxic", "like blue marl or anything but toxic": "blue marl or -toxic", "like not toxic": "-toxic", "like nontoxic red": "red toxic:none", "like red without poison": "red -toxic", "like red, safe for dogs": "red toxic:none",
	} {
		q, err := Parse(line)
		require.NoError(t, err, line)
		_, err = x.resolve(&q)
		require.NoError(t, err, line)
		assert.Equal(t, want, q.String(), line)
	}
}

func TestFindLike(t *testing.T) {
	x := likeIndex(t)
	for line, want := range map[string][]string{
		"like blue marl but shorter":    {"low-marl", "early-marl", "twin-a", "twin-b"},
		"like BLUE-MARL but wider":      {"wide-marl"},
		"like Marla azurea but hardier": {"red-marl", "marl-bush"},
		"like blue marl but earlier":    {"marl-bush", "twin-a", "twin-b", "early-marl"},
		"like blue marl but cheaper":    {"wide-marl", "early-marl", "twin-a", "twin-b"},
		"replace blue marl":             {"low-marl", "red-marl", "early-marl", "twin-a", "twin-b"}, // not the shrub, not what is twice as wide
		"replace blue marl but red":     {"red-marl"},
	} {
		got := findIDs(t, x, line, "")
		slices.Sort(want)
		assert.ElementsMatch(t, want, got, line)
		assert.NotContains(t, got, "blue-marl")
	}
	assert.Equal(t, []string{"low-marl", "wide-marl"}, slices.Sorted(slices.Values(findIDs(t, x, "like blue marl", "")[:2])))
}

// Gower's mean by hand: of low-marl beside blue-marl form 1, height 45/60, spread
// 38/40, months 1, colour 1, sun 1, wet 58/60, dry 20/21; evergreen is known of
// neither. Of marl-bush form 0, height 1, spread 1, months 0, colour 0, sun 5/6,
// wet 10/60, dry 20/40.
func TestAlikeByHand(t *testing.T) {
	x := likeIndex(t)
	blue, low, bush := &x.plants[0], &x.plants[1], &x.plants[4]
	got, in := alike(low, blue)
	assert.InDelta(t, (1+45.0/60+38.0/40+1+1+1+58.0/60+20.0/21)/8, got, 1e-12)
	assert.Equal(t, strings.Fields("form height spread bloom colour sun wet dry"), in)
	got, in = alike(bush, blue)
	assert.InDelta(t, (0+1+1+0+0+5.0/6+10.0/60+20.0/40)/8, got, 1e-12)
	assert.Equal(t, strings.Fields("height spread sun"), in)
	itself, _ := alike(blue, blue)
	assert.Equal(t, 1.0, itself)
}

// A name that several plants bear is asked back; a slip is answered with the name
// that is near and not taken; a line that names no plant is read as words.
func TestLikeNames(t *testing.T) {
	x := likeIndex(t)
	for line, want := range map[string]string{
		"like twin reed":             "expected one of twin-a (Twina prima), twin-b (Twina altera)",
		"replace blu marl":           `did you mean "Blue Marl"?`,
		"like blue mral but shorter": `did you mean "Blue Marl"?`,
		"like marl bush but cheaper": "does not say this of Marl Bush",
	} {
		q, err := Parse(line)
		require.NoError(t, err)
		_, err = x.Find(q)
		assert.ErrorContains(t, err, want, line)
	}
	assert.Equal(t, []string{"red-marl"}, findIDs(t, x, "like red", "")[:1])
}

// Hits of conditions alone come by how well they meet them; sorted, what is not
// known comes last, up or down.
func TestOrder(t *testing.T) {
	x := likeIndex(t)
	assert.Equal(t, []string{"early-marl", "twin-a", "twin-b", "low-marl", "blue-marl", "red-marl", "wide-marl"}[:3], findIDs(t, x, "wet>=50", "")[:3])
	assert.Equal(t, "marl-bush", findIDs(t, x, "dry>=20", "")[0])
	assert.Equal(t, "blue-marl", findIDs(t, x, "bloom:june..august", "")[0])
	assert.Equal(t, "early-marl", findIDs(t, x, "bloom:march..april", "")[0])
	assert.Equal(t, []string{"low-marl", "early-marl", "twin-a", "twin-b", "blue-marl", "marl-bush", "wide-marl", "red-marl"}, findIDs(t, x, "", "height"))
	assert.Equal(t, []string{"low-marl", "red-marl", "blue-marl"}, findIDs(t, x, "", "-price")[:3])
	for _, sort := range []string{"price", "-price"} {
		all := findIDs(t, x, "", sort)
		assert.Equal(t, "marl-bush", all[len(all)-1], sort)
	}
	assert.Equal(t, []string{"blue-marl", "early-marl", "low-marl"}, findIDs(t, x, "", "name")[:3])
	assert.Equal(t, "early-marl", findIDs(t, x, "", "bloom")[0])
	_, err := x.Find(Query{Sort: "hieght"})
	assert.ErrorContains(t, err, "did you mean height?")
}
