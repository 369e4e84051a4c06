package page_test

import (
	"fmt"
	"net/http"
	"runtime"
	"slices"
	"sync"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"hollowbed/testdata/testenv"
)

// mixed are requests as a busy window sends them; the n-th of them.
func mixed(s shown, n int) (method, path, body string) {
	p := s.Plants[n%len(s.Plants)]
	x := 0.5 + float64(n%500)/100
	switch n % 10 {
	case 0:
		return "GET", "/api/state", ""
	case 1, 2, 3, 4:
		return "POST", "/api/risk", fmt.Sprintf(`{"stake":%q,"x_m":%g,"y_m":2.1}`, p.Stake, x)
	case 5:
		return "POST", "/api/place", fmt.Sprintf(`{"x_m":%g,"y_m":2.1}`, x)
	case 6:
		return "POST", "/api/find", fmt.Sprintf(`{"query":"blue height<%dft","in":"slope","limit":10}`, 1+n%5)
	case 7:
		return "POST", "/api/plant", fmt.Sprintf(`{"id":%q}`, p.ID)
	case 8:
		return "GET", "/api/water?play=wettest", ""
	}
	return "GET", "/assets/page.css", ""
}

// heap is the memory in use after all that can be given back has been.
func heap() uint64 {
	runtime.GC()
	runtime.GC()
	var m runtime.MemStats
	runtime.ReadMemStats(&m)
	return m.HeapAlloc
}

// flood sends requests from several windows at once and counts those that were
// not answered as they should.
func flood(w *caller, s shown, from, to int) (failed int) {
	var all sync.WaitGroup
	var mu sync.Mutex
	for k := range 8 {
		all.Go(func() {
			for n := from + k; n < to; n += 8 {
				method, path, body := mixed(s, n)
				if status, _ := w.ask(method, path, body); status != http.StatusOK {
					mu.Lock()
					failed++
					mu.Unlock()
				}
			}
		})
	}
	all.Wait()
	return failed
}

// Many requests: none fails, and they leave no memory behind.
func TestManyRequests(t *testing.T) {
	w := call(t, smallGarden(t))
	s := w.placed()
	assert.Zero(t, flood(w, s, 0, testenv.Of(150, 500)))
	before := heap()
	assert.Zero(t, flood(w, s, 500, testenv.Of(300, 2000)))
	after := heap()
	assert.Less(t, after, before+8<<20, "memory grew from %d to %d MB", before>>20, after>>20)
}

// Many changes and undos leave no memory behind either: a step keeps two texts.
func TestManyChanges(t *testing.T) {
	testenv.Sweep(t)
	w := call(t, smallGarden(t))
	s := w.placed()
	change := func(times int) {
		for i := range times {
			s = w.try(s.Version, map[string]string{"sun.rim": fmt.Sprintf("%d h", 6+i%2)})
			if i%3 == 2 {
				s = post[shown](w, "/api/undo", changes{})
			}
		}
		s = w.placed()
	}
	change(9)
	before := heap()
	change(24)
	after := heap()
	assert.Less(t, after, before+8<<20, "memory grew from %d to %d MB", before>>20, after>>20)
}

// Ten thousand requests in one run, with the memory before and after, and how
// many were answered a second.
func BenchmarkTenThousand(b *testing.B) {
	w := call(b, demoGarden(b))
	s := w.placed()
	flood(w, s, 0, 1000)
	for b.Loop() {
		before, began, cpu := heap(), time.Now(), processor()
		if failed := flood(w, s, 0, 10_000); failed > 0 {
			b.Fatalf("%d of 10,000 failed", failed)
		}
		b.ReportMetric(10_000/time.Since(began).Seconds(), "requests/s")
		b.ReportMetric(float64((processor()-cpu).Microseconds())/10_000, "cpu-us/request")
		b.ReportMetric(float64(before>>20), "MB-before")
		b.ReportMetric(float64(heap()>>20), "MB-after")
	}
}

// How long from asking for the page until its state is there: what a browser
// waits for before it can draw.
func BenchmarkFirstState(b *testing.B) {
	w := call(b, demoGarden(b))
	w.placed()
	var times []time.Duration
	for b.Loop() {
		began := time.Now()
		for _, path := range []string{"/", "/assets/page.css", "/assets/main.js", "/api/state"} {
			if status, _ := w.ask("GET", path, ""); status != http.StatusOK {
				b.Fatal(path)
			}
		}
		times = append(times, time.Since(began))
	}
	slices.Sort(times)
	tell(b, "first", times)
}

// Long work can be stopped, before the plants have places and after they were
// first seen in some: what is shown stays, nothing half-done is kept in
// planted.csv, and the work can be taken up again.
func TestStop(t *testing.T) {
	testenv.Sweep(t)
	t.Parallel()
	w := call(t, smallGarden(t))
	s := w.placed()
	large := map[string]string{"bed.length": "48 ft", "bed.width": "30 ft", "wishes.budget": ""} // its places take seconds
	w.try(s.Version, large)
	require.True(t, post[shown](w, "/api/stop", changes{}).Stopped)
	stopped := w.idle()
	assert.Less(t, stopped.PlacesOf, stopped.Version)
	last := stopped.Stages[len(stopped.Stages)-1]
	assert.Equal(t, "places", last.Name)
	assert.Equal(t, "stopped", last.State)

	w.try(stopped.Version, nil)
	first := get[shown](w, "/api/state")
	for first.PlacesOf < first.Version {
		first = get[shown](w, fmt.Sprintf("/api/state?after=%d", first.Tick))
	}
	require.True(t, post[shown](w, "/api/stop", changes{}).Stopped, "first places are looked at, and are not the end")
	assert.Equal(t, first.Plants, w.idle().Plants)
	w.refused(http.StatusUnprocessableEntity, "/api/keep", changes{})
	w.try(first.Version, nil)
	whole := w.placed()
	assert.False(t, whole.Stopped)
	assert.Equal(t, "done", whole.Stages[len(whole.Stages)-1].State)
	assert.Len(t, whole.Plants, len(first.Plants))

	w.try(whole.Version, map[string]string{"bed.length": "20 ft", "bed.width": "14 ft", "wishes.budget": "200"})
	again := w.placed()
	assert.False(t, again.Stopped)
	assert.Equal(t, s.Plants, again.Plants)
}
