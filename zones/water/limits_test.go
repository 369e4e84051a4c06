package water

import (
	"fmt"
	"math"
	"os"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"hollowbed/zones/site"
)

// The bounds of what the balance leaves out, for the table in data/METHOD.md.
// Each makes the thing left out as large as it can sensibly be, and runs the
// record again.

// sheltered takes rain from each shower before it reaches the bed, as leaves
// and mulch do: mm at most, drying at ET0.
func sheltered(rec *site.Record, lat, mm float64) *site.Record {
	out := *rec
	out.RainMM = make([]float64, len(rec.RainMM))
	_, et0 := weather(rec, lat)
	room := mm
	for h, rain := range rec.RainMM {
		kept := min(room, rain)
		out.RainMM[h] = rain - kept
		room = min(mm, room-kept+et0[h])
	}
	return &out
}

// runFrozen runs the balance with ground that takes and loses no water on days
// whose mean temperature is below 0 deg C: concrete frost, at once and all day.
func runFrozen(s Setup, rec *site.Record) (r *Result, frozenDays int) {
	t := newTracker(s, rec, rec.Years(s.LatitudeDeg))
	st := newState(s)
	open, mixMMH, sun := st.mix, st.mixMMH, sunTable(s.LatitudeDeg)
	frozen := newStore(s.MixFC, s.MixWP, s.MixSat, s.MixDepthMM, 1e-9, 0)
	day := func(d int, each bool) {
		et0, p := st.day(rec.Days[d])
		st.mix, st.mixMMH = open, mixMMH
		if (rec.Days[d].TMinC+rec.Days[d].TMaxC)/2 < 0 {
			st.mix, st.mixMMH = frozen, 1e-9
			if each {
				frozenDays++
			}
		}
		for k := range st.paces {
			st.paces[k] = st.mix.law.pace(s.StepsPerH << k)
		}
		st.calm = st.paces[0]
		for h := range 24 {
			st.hour(rec.RainMM[24*d+h], et0*sun[rec.Start.AddDate(0, 0, d).YearDay()-1][h], p)
			if each {
				t.hours(24*d+h, 24*d+h+1, st)
			}
		}
	}
	for d := range min(365, len(rec.Days)) {
		day(d, false)
	}
	st.begin()
	for d := range rec.Days {
		day(d, true)
	}
	return t.result(st), frozenDays
}

// moundMM is the height of the mound of groundwater under the middle of a
// rectangle that water seeps from at a steady rate, for some time:
//
//	hm^2 - hi^2 = (2 w / K) nu t S*(a / sqrt(4 nu t), l / sqrt(4 nu t)),
//	nu = K b / Sy,  b = (hi + hm) / 2,
//	S*(x, y) = integral from 0 to 1 of erf(x / sqrt(u)) erf(y / sqrt(u)) du,
//
// w seepage and K conductivity, m/d; hi saturated thickness before, m; Sy
// specific yield; a and l half the width and length, m; t days. Flat, wide,
// even ground; seepage reaches the water table at once. Source: Hantush 1967,
// Water Resources Research 3(1):227, from memory; checked below by its limits.
func moundMM(w, k, hi, yield, lengthM, widthM, days float64) float64 {
	hm := hi
	for range 200 { // b holds hm
		nu := k * (hi + hm) / 2 / yield
		scale := math.Sqrt(4 * nu * days)
		hm = math.Sqrt(hi*hi + 2*w/k*nu*days*sStar(widthM/2/scale, lengthM/2/scale))
	}
	return 1000 * (hm - hi)
}

func sStar(x, y float64) float64 {
	const n = 20_000
	sum := 0.0
	for i := range n {
		u := (float64(i) + 0.5) / n
		sum += math.Erf(x/math.Sqrt(u)) * math.Erf(y/math.Sqrt(u))
	}
	return sum / n
}

// A bed without end raises the water table by all that seeps, over the yield; a
// narrow strip and a short time by next to nothing more than itself.
func TestMoundLimits(t *testing.T) {
	assert.InDelta(t, 1000*0.01*5/0.2, moundMM(0.01, 2, 10, 0.2, 1e5, 1e5, 5), 0.5)
	assert.InDelta(t, 1, sStar(50, 50), 1e-9)
	// S* of x alone has a closed form: integral of erf(x / sqrt(u)) =
	// erf(x) + 2 x exp(-x^2) / sqrt(pi) - 2 x^2 erfc(x), by parts.
	for _, x := range []float64{0.05, 0.3, 1, 2} {
		want := math.Erf(x) + 2*x*math.Exp(-x*x)/math.Sqrt(math.Pi) - 2*x*x*math.Erfc(x)
		assert.InDelta(t, want, sStar(x, 1e3), 1e-6, "%g", x)
	}
	assert.Greater(t, moundMM(0.1, 1, 3, 0.2, 8, 6, 8), moundMM(0.1, 1, 3, 0.2, 4, 3, 8), "a larger bed")
	assert.Greater(t, moundMM(0.1, 1, 3, 0.2, 4, 3, 16), moundMM(0.1, 1, 3, 0.2, 4, 3, 8), "a longer time")
	assert.Greater(t, moundMM(0.1, 0.2, 3, 0.2, 4, 3, 8), moundMM(0.1, 1, 3, 0.2, 4, 3, 8), "tighter ground")
}

// TestLimits computes the bounds and holds the table in data/METHOD.md to them.
// UPDATE_GOLDEN=1 writes it anew.
func TestLimits(t *testing.T) {
	var b strings.Builder
	b.WriteString("| left out | made as large as | Seattle: bottom wet, rim dry, kept | JFK: bottom wet, rim dry, kept |\n| --- | --- | --- | --- |\n")
	type found struct {
		wetH, dryD, kept float64
		dryDays          int // of the rim, in all
	}
	lots := []realRecord{realRecords(t)[0], realRecords(t)[2]}
	of := func(r *Result) found {
		wet, dry := tenYearSpells(r)
		days := 0
		for _, y := range r.Exposure[len(r.Bands)-1] {
			days += y.DryDays
		}
		return found{wet[0], dry[len(dry)-1], r.Balance.CapturedFraction(), days}
	}
	row := func(what, how string, run func(s Setup, rec *site.Record, lat float64) *Result) [2]found {
		var out [2]found
		fmt.Fprintf(&b, "| %s | %s |", what, how)
		for i, lot := range lots {
			out[i] = of(run(roughLot(t, 6, lot.lat), lot.rec, lot.lat))
			fmt.Fprintf(&b, " %.0f h, %.0f d, %.0f %% |", out[i].wetH, out[i].dryD, 100*out[i].kept)
		}
		b.WriteString("\n")
		return out
	}
	plain := func(s Setup, rec *site.Record) *Result {
		r, err := Run(s, rec)
		require.NoError(t, err)
		return r
	}
	base := row("nothing: the model as it is", "", func(s Setup, rec *site.Record, _ float64) *Result { return plain(s, rec) })
	leaves := row("leaves and mulch", "1 mm of each shower kept off the bed, drying at ET0", func(s Setup, rec *site.Record, lat float64) *Result {
		s.Catches[0].LossMM = 0 // the roof's 1 mm is taken off the rain already
		return plain(s, sheltered(rec, lat, 1))
	})
	clogged := row("clogging", "the soil below takes half", func(s Setup, rec *site.Record, _ float64) *Result {
		s.NativeKMMH /= 2
		return plain(s, rec)
	})
	var frozen [2]int
	frost := row("frost", "the ground takes nothing on days with a mean below 0 deg C", func(s Setup, rec *site.Record, lat float64) *Result {
		r, days := runFrozen(s, rec)
		if lat == lots[0].lat {
			frozen[0] = days
		} else {
			frozen[1] = days
		}
		return r
	})
	roots := row("roots that are still growing", "they reach half the depth of the mix", func(s Setup, rec *site.Record, _ float64) *Result {
		s.MixDepthMM /= 2
		return plain(s, rec)
	})
	const sides = 1 + 2*(4+3)*0.45/(4*3) // the sides of the mix beside its footprint
	sideways := row("flow out through the sides", "they take as much for each m2 as the ground below", func(s Setup, rec *site.Record, _ float64) *Result {
		s.NativeKMMH *= sides
		return plain(s, rec)
	})
	for i := range lots {
		assert.GreaterOrEqual(t, leaves[i].dryD, base[i].dryD, "leaves: the model is too wet")
		assert.LessOrEqual(t, leaves[i].wetH, base[i].wetH)
		assert.Greater(t, clogged[i].wetH, base[i].wetH, "clogging: the model is too dry at the bottom")
		assert.Less(t, clogged[i].kept, base[i].kept)
		assert.Positive(t, frozen[i])
		assert.Less(t, frost[i].kept, base[i].kept, "frost: the model keeps too much")
		assert.Greater(t, roots[i].dryDays, base[i].dryDays, "roots: the model is too wet in the first year, though a shower wets them sooner")
		assert.Less(t, sideways[i].wetH, base[i].wetH, "sides: the model is too wet")
		assert.Greater(t, sideways[i].kept, base[i].kept)
	}
	b.WriteString("\nThe mound of groundwater under that bed after its longest wet spell, seeping 6 mm/h all the while into ground of the same rate with a yield of 0.15 and 3 m of water in it:")
	for i, lot := range lots {
		mound := moundMM(0.144, 0.144, 3, 0.15, 4, 3, base[i].wetH/24)
		fmt.Fprintf(&b, " %.2f m at %s;", mound/1000, strings.Fields(lot.name)[0])
	}
	text := strings.TrimSuffix(b.String(), ";") + ".\n"

	const file, begin, end = "../../data/METHOD.md", "<!-- limits: begin -->\n", "<!-- limits: end -->"
	page, err := os.ReadFile(file)
	require.NoError(t, err)
	before, rest, ok := strings.Cut(string(page), begin)
	require.True(t, ok)
	now, after, ok := strings.Cut(rest, end)
	require.True(t, ok)
	if os.Getenv("UPDATE_GOLDEN") != "" {
		require.NoError(t, os.WriteFile(file, []byte(before+begin+text+end+after), 0o644))
		return
	}
	assert.Equal(t, now, text)
}
