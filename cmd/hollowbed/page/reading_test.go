package page_test

import (
	"fmt"
	"io/fs"
	"net/http"
	"os"
	"path/filepath"
	"runtime"
	"sync"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// soon fails unless a function returns within seconds.
func soon(t *testing.T, what string, do func()) {
	t.Helper()
	done := make(chan struct{})
	go func() { defer close(done); do() }()
	select {
	case <-done:
	case <-time.After(20 * time.Second):
		t.Fatal(what + ": waits")
	}
}

// slowFiles are files on a disk that answers when it is let.
type slowFiles struct {
	fs.FS
	mu    sync.Mutex
	gate  chan struct{} // closed to let readers on; nil: all may
	asked chan string   // told of each reader that is held up
}

func (f *slowFiles) Open(name string) (fs.File, error) {
	f.mu.Lock()
	gate := f.gate
	f.mu.Unlock()
	if gate != nil {
		select {
		case f.asked <- name:
		default:
		}
		<-gate
	}
	return f.FS.Open(name)
}

// hold holds up readers until the function that it gives is called.
func (f *slowFiles) hold() (let func()) {
	gate := make(chan struct{})
	f.mu.Lock()
	f.gate, f.asked = gate, make(chan string, 1)
	f.mu.Unlock()
	return sync.OnceFunc(func() {
		f.mu.Lock()
		f.gate = nil
		f.mu.Unlock()
		close(gate)
	})
}

// However slow the disk, what does not need it is answered: looking, changing,
// asking for a place.
func TestReadingHoldsNothingUp(t *testing.T) {
	t.Parallel()
	g, _ := grownFolder(t)
	slow := &slowFiles{FS: g.Files}
	g.Files = slow
	w := call(t, g)
	s := w.placed()
	plan := get[plan](w, "/api/moves")
	require.NotEmpty(t, plan.Moves)
	reads := []struct{ path, body string }{
		{"", ""}, // the look of every two seconds
		{"/api/save", fmt.Sprintf(`{"revision":%q}`, s.Revision)},
		{"/api/reload", `{}`},
		{"/api/note", `{"stake":"TAR3","remark":"slow"}`},
		{"/api/moves/apply", fmt.Sprintf(`{"accepted":[%q],"revision":%q}`, plan.Moves[0].Stake, plan.Revision)},
	}
	for _, c := range reads {
		t.Run(c.path, func(t *testing.T) {
			let := slow.hold()
			defer let()
			done := make(chan struct{})
			go func() {
				defer close(done)
				if c.path != "" {
					w.ask("POST", c.path, c.body)
				}
			}()
			select {
			case <-slow.asked:
			case <-time.After(20 * time.Second):
				t.Fatal("nobody reads")
			}
			soon(t, "other requests", func() {
				assert.Equal(t, s.Version, get[shown](w, "/api/state").Version)
				status, text := w.ask("POST", "/api/place", `{"x_m":1,"y_m":1}`)
				assert.Equal(t, http.StatusOK, status, string(text))
			})
			let()
			<-done
		})
	}
}

// A file that has grown beyond all bounds is refused and not read, whatever asks
// for it.
func TestLargeFiles(t *testing.T) {
	g, dir := grownFolder(t)
	w := call(t, g)
	s := w.placed()
	get[noted](w, "/api/season")
	for _, c := range []struct{ name, method, path, want string }{
		{"garden.yaml", "POST", "/api/save", "1 MB"}, {"garden.yaml", "POST", "/api/reload", "1 MB"}, {"planted.csv", "POST", "/api/reload", "16 MB"},
		{"planted.csv", "GET", "/api/season", "16 MB"}, {"season.csv", "GET", "/api/season", "64 MB"}, {"season.csv", "POST", "/api/note", "64 MB"},
	} {
		file := filepath.Join(dir, c.name)
		good, err := os.ReadFile(file)
		require.NoError(t, err)
		require.NoError(t, os.Truncate(file, 300<<20)) // takes no room on the disk
		var before, after runtime.MemStats
		runtime.ReadMemStats(&before)
		body := map[string]string{"/api/save": fmt.Sprintf(`{"revision":%q}`, s.Revision), "/api/reload": "{}", "/api/note": `{"stake":"TAR3","remark":"large"}`}[c.path]
		status, text := w.ask(c.method, c.path, body)
		runtime.ReadMemStats(&after)
		assert.Equal(t, http.StatusUnprocessableEntity, status, "%s: %s", c.path, text)
		assert.Contains(t, string(text), c.name+": too large: want a file of at most "+c.want, c.path)
		assert.Less(t, (after.TotalAlloc-before.TotalAlloc)>>20, uint64(100), "%s, %s: MB set aside", c.name, c.path)
		require.NoError(t, os.WriteFile(file, good, 0o644))
	}
	status, text := w.ask("POST", "/api/reload", "{}")
	assert.Equal(t, http.StatusOK, status, string(text))
}
