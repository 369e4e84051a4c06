package search

import (
	"encoding/json"
	"fmt"
	"slices"
	"strconv"
	"strings"
	"testing"
	"time"

	"github.com/blevesearch/bleve/v2"
	"github.com/blevesearch/bleve/v2/index/scorch"
	"github.com/blevesearch/bleve/v2/mapping"
	"github.com/blevesearch/bleve/v2/search/query"
	"github.com/stretchr/testify/require"

	"hollowbed/plants/catalogue"
)

// Each benchmark does our work and the bare work it is compared with in turn
// and reports both medians and 99th percentiles and the ratio of the medians.

func sizes() []int { return []int{300, 5000, 100_000} }

type times []time.Duration

func (t times) at(share float64) float64 {
	slices.Sort(t)
	return float64(t[int(share*float64(len(t)-1))]) / float64(time.Microsecond)
}

func compare(b *testing.B, ours, bare func()) {
	var a, c times
	for b.Loop() {
		start := time.Now()
		ours()
		mid := time.Now()
		bare()
		a, c = append(a, mid.Sub(start)), append(c, time.Since(mid))
	}
	b.ReportMetric(a.at(0.5), "us-p50")
	b.ReportMetric(a.at(0.99), "us-p99")
	b.ReportMetric(c.at(0.5), "us-bare-p50")
	b.ReportMetric(c.at(0.99), "us-bare-p99")
	b.ReportMetric(a.at(0.5)/c.at(0.5), "ratio")
	b.ReportMetric(0, "ns/op")
}

// placedMapping is our mapping with the places of the words kept, as bleve needs
// them to tell phrases and marks by itself.
func placedMapping(t testing.TB) *mapping.IndexMappingImpl {
	m, err := newMapping()
	require.NoError(t, err)
	for _, p := range m.DefaultMapping.Properties {
		for _, f := range p.Fields {
			f.IncludeTermVectors = true
		}
	}
	return m
}

// placedDoc is a plant as it is put to bleve by who knows nothing of ours.
type placedDoc struct {
	ID    string   `json:"id"`
	Name  string   `json:"name"`
	Sci   string   `json:"sci"`
	Tags  []string `json:"tags"`
	Notes string   `json:"notes"`
}

func bareBuild(b testing.TB, plants []catalogue.Plant) bleve.Index {
	m := placedMapping(b)
	x, err := bleve.NewUsing("", m, scorch.Name, scorch.Name, nil)
	require.NoError(b, err)
	for from := 0; from < len(plants); from += batchSize {
		batch := x.NewBatch()
		for i := from; i < min(from+batchSize, len(plants)); i++ {
			p := &plants[i]
			require.NoError(b, batch.Index(docID(i), placedDoc{p.ID, unaccent(p.VernacularName), p.ScientificName, tagsOf(p), unaccent(p.Notes)}))
		}
		require.NoError(b, x.Batch(batch))
	}
	return x
}

func BenchmarkBuild(b *testing.B) {
	for _, n := range sizes() {
		b.Run(fmt.Sprint(n), func(b *testing.B) {
			plants := synthetic(n, 1)
			compare(b, func() {
				m, err := newMapping()
				require.NoError(b, err)
				w, err := buildInMemory(plants, m)
				require.NoError(b, err)
				require.NoError(b, w.close())
			}, func() { require.NoError(b, bareBuild(b, plants).Close()) })
		})
	}
}

func BenchmarkBuildOnDisk(b *testing.B) {
	plants := synthetic(100_000, 1)
	m, err := newMapping()
	require.NoError(b, err)
	for b.Loop() {
		o := onDisk(b.TempDir())
		o.Building = func(int, float64) {}
		require.NoError(b, buildOnDisk(plants, readyMapping{m, newLanguage(m).remembering()}, o))
	}
}

// BenchmarkOpen is the time from having the plants to having the index ready,
// checksums of all files included, against bleve.OpenUsing alone.
func BenchmarkOpen(b *testing.B) {
	for _, n := range sizes()[1:] {
		b.Run(fmt.Sprint(n), func(b *testing.B) {
			plants, folder := synthetic(n, 1), b.TempDir()
			x := open(b, plants, onDisk(folder))
			find(b, x, "blue")
			o := onDisk(folder)
			compare(b, func() {
				w, err := openOnDisk(o.folder(), n)
				require.NoError(b, err)
				b.StopTimer()
				require.NoError(b, w.close())
				b.StartTimer()
			}, func() {
				w, err := bleve.OpenUsing(o.folder()+"/index", map[string]any{"read_only": true, "bolt_timeout": boltTimeout})
				require.NoError(b, err)
				require.NoError(b, w.Close())
			})
		})
	}
}

// BenchmarkConditions holds a whole Find to what no Find can do without, written
// out by hand: it filters the plants, grades them by how well they meet what is
// asked, and words the four reasons of the ten best, in the units of the table. The
// scan alone,
// which also counts unknowns, is held to a filter that lists the same ids.
func BenchmarkConditions(b *testing.B) {
	for _, n := range sizes() {
		b.Run(fmt.Sprint(n), func(b *testing.B) {
			plants := synthetic(n, 1)
			x := open(b, plants, Options{})
			q, err := Parse("sun:6 wet>=48 height<100 colour:blue")
			require.NoError(b, err)
			meets := func(p *catalogue.Plant) bool {
				return p.SunMinH <= 6 && p.SunMaxH >= 6 && p.WetH >= 48 && p.HeightCM < 100 && slices.Contains(p.FlowerColour, "blue")
			}
			var byHand []string
			listed := func() {
				byHand = nil
				for i := range plants {
					if p := &plants[i]; meets(p) {
						byHand = append(byHand, p.ID)
					}
				}
			}
			var told *Result
			worded := func() {
				told = &Result{}
				type graded struct {
					row   int
					grade float64
				}
				var best []graded
				for i := range plants {
					p := &plants[i]
					if !meets(p) {
						continue
					}
					told.Total++
					g := graded{i, gradedByHand(p)}
					if len(best) == 10 && g.grade <= best[9].grade {
						continue
					}
					at := len(best)
					for at > 0 && best[at-1].grade < g.grade {
						at--
					}
					if best = slices.Insert(best, at, g); len(best) > 10 {
						best = best[:10]
					}
				}
				for _, g := range best {
					hit := wordedByHand(g.row, &plants[g.row])
					hit.Score = g.grade
					told.Hits = append(told.Hits, hit)
				}
			}
			listed()
			all := q
			all.Limit = n
			r, err := x.Find(all)
			require.NoError(b, err)
			require.ElementsMatch(b, byHand, ids(r.Hits))
			b.Run("find", func(b *testing.B) {
				compare(b, func() {
					r, err = x.Find(q)
					require.NoError(b, err)
				}, worded)
				r.Unknown = nil
				ours, err := json.Marshal(r)
				require.NoError(b, err)
				bare, err := json.Marshal(told)
				require.NoError(b, err)
				require.JSONEq(b, string(bare), string(ours))
			})
			ready := prepare(q.Conditions)
			total := 0
			scan := func() {
				rows, _ := x.scan(ready)
				total = len(rows)
			}
			b.Run("scan", func(b *testing.B) { compare(b, scan, listed) })
			require.Len(b, byHand, total)
		})
	}
}

func gradedByHand(p *catalogue.Plant) float64 {
	part := func(x float64) float64 { return min(max(x, 0), 1) }
	return part(min(6-p.SunMinH, p.SunMaxH-6)/2) + part(p.WetH/48-1) + 1/float64(len(p.FlowerColour))
}

func wordedByHand(row int, p *catalogue.Plant) Hit {
	n := func(x float64) string { return strconv.FormatFloat(x, 'f', -1, 64) }
	assumed := func(column string) bool { return slices.Contains(p.Assumed, column) }
	height := p.HeightCM
	return Hit{Row: row, ID: p.ID, VernacularName: p.VernacularName, HeightCM: &height, FlowerColour: p.FlowerColour, FlowerFrom: p.FlowerFrom, FlowerTo: p.FlowerTo, Zones: p.Zones, Toxic: append([]string{}, p.Toxic...), Why: []Reason{
		{Kind: "limit", Field: "sun", Asked: "sun:6", Text: "takes " + n(p.SunMinH) + " to " + n(p.SunMaxH) + " h of sun, you asked 6 h", Assumed: assumed("sun_min_h") || assumed("sun_max_h")},
		{Kind: "limit", Field: "wet", Asked: "wet>=48", Text: "tolerates " + n(p.WetH) + " h wet, you asked 48 h", Assumed: assumed("wet_h"), Found: &p.WetH, Unit: "h"},
		{Kind: "limit", Field: "height", Asked: "height<100", Text: n(p.HeightCM) + " cm high, you asked under 100 cm", Assumed: assumed("height_cm"), Found: &p.HeightCM, Unit: "cm"},
		{Kind: "limit", Field: "colour", Asked: "colour:blue", Text: "flowers " + strings.Join(p.FlowerColour, ", "), Assumed: assumed("flower_colour")},
	}}
}

// BenchmarkWords is a whole Find with its ten hits and their reasons against
// bleve's own search for the same words in the same fields with the same
// weights, in the same order, with the places of the words, which is what our
// reasons show.
func BenchmarkWords(b *testing.B) {
	for _, n := range sizes() {
		plants := synthetic(n, 1)
		x := open(b, plants, Options{})
		find(b, x, "blue")
		bare := bareBuild(b, plants)
		for _, words := range [][]string{{"fragrant"}, {"blue", "meadow"}, {"tall", "shade", "july", "shrub"}} {
			b.Run(fmt.Sprintf("%d/%d", n, len(words)), func(b *testing.B) {
				var q Query
				var all []query.Query
				for _, w := range words {
					q.Words = append(q.Words, Word{Text: w})
					var any []query.Query
					for _, f := range wordFields() {
						m := bleve.NewMatchQuery(w)
						m.SetField(f.name)
						m.SetBoost(f.weight)
						any = append(any, m)
					}
					all = append(all, bleve.NewDisjunctionQuery(any...))
				}
				total := 0
				compare(b, func() {
					r, err := x.Find(q)
					require.NoError(b, err)
					require.Equal(b, AllWords, r.Words)
					total = r.Total
				}, func() {
					request := bleve.NewSearchRequest(bleve.NewConjunctionQuery(all...))
					request.IncludeLocations = true
					request.SortBy([]string{"-_score", "_id"})
					r, err := bare.Search(request)
					require.NoError(b, err)
					require.Equal(b, total, int(r.Total))
				})
			})
		}
	}
}
