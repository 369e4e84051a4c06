package page_test

import (
	"bytes"
	"cmp"
	"context"
	"encoding/json"
	"fmt"
	"io"
	"io/fs"
	"net/http"
	"net/http/httptest"
	"os"
	"strings"
	"sync"
	"testing"
	"testing/fstest"
	"time"

	"github.com/stretchr/testify/require"

	"hollowbed/cmd/hollowbed/page"
	"hollowbed/cmd/hollowbed/store"
	"hollowbed/data"
	"hollowbed/plants/catalogue"
	"hollowbed/plants/season"
	"hollowbed/search"
	"hollowbed/zones"
)

// caller is one window of a browser on the page: a client with its cookie.
type caller struct {
	t       testing.TB
	base    string // address of the server, without the slash at the end
	root    string // path that the page lies below, without the slash at the end
	address string // as printed
	client  *http.Client
	cookie  *http.Cookie
}

// shared are the demo's plants, their index and the signs, which nothing changes.
var shared = sync.OnceValue(func() (g page.Garden) {
	table, err := fs.ReadFile(data.Files(), "plants.csv")
	if err == nil {
		g.Table, err = catalogue.Read("plants.csv", bytes.NewReader(table))
	}
	if err == nil {
		g.Index, err = search.New(g.Table.Plants, search.Options{})
	}
	signs, failed := fs.ReadFile(data.Files(), "signs.csv")
	if err = cmp.Or(err, failed); err == nil {
		g.Signs, err = season.ReadTable("signs.csv", bytes.NewReader(signs))
	}
	if err != nil {
		panic(err) // embedded: our mistake
	}
	return g
})

// demoGarden is the demo as a page shows it.
func demoGarden(t testing.TB) page.Garden {
	t.Helper()
	g := shared()
	g.Files, g.Grown, g.On, g.Now = data.Files(), data.Season(), time.Date(2024, 10, 5, 0, 0, 0, 0, time.UTC), time.Now
	return g
}

// smallGarden is the demo with four years of its record and a few plants, which
// takes little to work out: where figures are not what is looked at.
func smallGarden(t testing.TB) page.Garden {
	t.Helper()
	files := fstest.MapFS{}
	for name, cut := range map[string]func(string) string{
		"garden.yaml": func(s string) string { return strings.Replace(s, "budget: 900", "budget: 200", 1) },
		"rain.csv":    func(s string) string { return s[:strings.Index(s, "\n")] + s[strings.Index(s, "\n2021-01-01"):] },
	} {
		text, err := fs.ReadFile(data.Files(), name)
		require.NoError(t, err)
		shorter := cut(string(text))
		require.NotEqual(t, string(text), shorter)
		files[name] = &fstest.MapFile{Data: []byte(shorter)}
	}
	g := demoGarden(t)
	g.Files = files
	return g
}

// folderGarden copies the demo to a folder, in which it can be saved.
func folderGarden(t testing.TB) (page.Garden, string) {
	t.Helper()
	dir := t.TempDir()
	require.NoError(t, os.CopyFS(dir, smallGarden(t).Files))
	kept, err := store.Open(dir, io.Discard)
	require.NoError(t, err)
	g := demoGarden(t)
	g.Folder, g.Files, g.Lock, g.Change, g.Photo = dir, kept.Inside(), kept.Lock, kept.Change, kept.Photo
	g.Grown, g.On = nil, time.Time{}
	return g, dir
}

// call serves a garden and opens a window on it.
func call(t testing.TB, g page.Garden) *caller {
	t.Helper()
	ctx, cancel := context.WithCancel(context.Background())
	var handler http.Handler
	server := httptest.NewUnstartedServer(http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) { handler.ServeHTTP(w, r) }))
	server.Config.BaseContext = nil
	p, err := page.New(ctx, g, portOf(server.Listener.Addr().String()))
	require.NoError(t, err)
	handler = p.Handler()
	server.Start()
	t.Cleanup(func() {
		cancel()
		server.CloseClientConnections()
		server.Close()
	})
	w := &caller{t: t, base: "http://" + server.Listener.Addr().String(), address: p.Address(), client: server.Client()}
	w.enter(w.address)
	return w
}

func portOf(address string) int {
	var port int
	fmt.Sscanf(address[strings.LastIndex(address, ":")+1:], "%d", &port)
	return port
}

// enter turns the key of an address into a cookie.
func (w *caller) enter(address string) {
	w.t.Helper()
	answer, err := w.client.Get(address)
	require.NoError(w.t, err)
	answer.Body.Close()
	require.Equal(w.t, http.StatusOK, answer.StatusCode)
	require.Len(w.t, answer.Cookies(), 1)
	w.cookie = answer.Cookies()[0]
	w.root = strings.TrimSuffix(w.cookie.Path, "/")
}

// ask sends a request as the page would, and gives status and body.
func (w *caller) ask(method, path, body string, change ...func(*http.Request)) (int, []byte) {
	w.t.Helper()
	r, err := http.NewRequest(method, w.base+w.root+path, strings.NewReader(body))
	require.NoError(w.t, err)
	r.AddCookie(w.cookie)
	if method == http.MethodPost {
		r.Header.Set("Content-Type", "application/json")
		r.Header.Set("Origin", w.base)
		r.Header.Set("Sec-Fetch-Site", "same-origin")
	}
	for _, c := range change {
		c(r)
	}
	answer, err := w.client.Do(r)
	require.NoError(w.t, err)
	defer answer.Body.Close()
	text, err := io.ReadAll(answer.Body)
	require.NoError(w.t, err)
	return answer.StatusCode, text
}

// shown is what the tests look at of a State.
type shown struct {
	Version   int    `json:"version"`
	Tick      int    `json:"tick"`
	FiguresOf int    `json:"figures_of"`
	PlacesOf  int    `json:"places_of"`
	Busy      bool   `json:"busy"`
	Stopped   bool   `json:"stopped"`
	Failed    string `json:"failed"`
	Record    string `json:"record"`
	Units     zones.Units
	Saved     bool     `json:"saved"`
	Unsaved   []string `json:"unsaved"`
	Revision  string   `json:"revision"`
	Way       json.RawMessage
	Undo      string `json:"undo"`
	Redo      string `json:"redo"`
	Disk      *struct {
		Words    string
		Revision string
		Files    []struct {
			Name  string
			Lines []struct{ Sign, Text string }
		}
	} `json:"disk"`
	Stages []struct{ Name, State string } `json:"stages"`
	Faults []struct{ Key, Value, Want string }
	Fields []struct {
		Key, Text, Hint string
		Set             bool
	} `json:"fields"`
	Short []struct{ Label, Value string } `json:"short"`
	List  struct {
		Advice string
		Lines  []struct {
			ID    string
			Count int
		}
	} `json:"list"`
	Plan struct {
		Bands []struct {
			Zone  string
			Rings [][][2]float64
		}
	} `json:"plan"`
	Plants []struct {
		Stake, ID, Zone string
		X               float64 `json:"x_m"`
		Y               float64 `json:"y_m"`
		Stayed          bool
		Risk            string
		Share           float64 `json:"risk_share"`
	} `json:"plants"`
}

// field is the text of a field.
func (s shown) field(key string) string {
	for _, f := range s.Fields {
		if f.Key == key {
			return f.Text
		}
	}
	return "no field " + key
}

// get and post read an answer that must be good.
func get[T any](w *caller, path string) (out T) {
	w.t.Helper()
	status, text := w.ask(http.MethodGet, path, "")
	require.Equal(w.t, http.StatusOK, status, "%s: %s", path, text)
	require.NoError(w.t, json.Unmarshal(text, &out), path)
	return out
}

func post[T any](w *caller, path string, in any) (out T) {
	w.t.Helper()
	body, err := json.Marshal(in)
	require.NoError(w.t, err)
	status, text := w.ask(http.MethodPost, path, string(body))
	require.Equal(w.t, http.StatusOK, status, "%s: %s", path, text)
	require.NoError(w.t, json.Unmarshal(text, &out), path)
	return out
}

// refusal is an answer that refuses.
type refusal struct {
	Error    string
	Faults   []struct{ Key, Value, Want string }
	Conflict *struct {
		Files []struct {
			Lines []struct{ Sign, Text string }
		}
	}
}

// refused posts what must be refused, in words.
func (w *caller) refused(status int, path string, in any) (out refusal) {
	w.t.Helper()
	body, err := json.Marshal(in)
	require.NoError(w.t, err)
	got, text := w.ask(http.MethodPost, path, string(body))
	require.Equal(w.t, status, got, "%s: %s", path, text)
	require.NoError(w.t, json.Unmarshal(text, &out), path)
	require.NotEmpty(w.t, out.Error)
	return out
}

// placed waits until every plant of the newest draft has its place.
func (w *caller) placed() shown {
	w.t.Helper()
	for range 200 {
		s := get[shown](w, "/api/state")
		if s.PlacesOf == s.Version && !s.Busy {
			return s
		}
		get[shown](w, fmt.Sprintf("/api/state?after=%d", s.Tick))
	}
	w.t.Fatal("the plants never got their places")
	return shown{}
}

type changes = map[string]any

// try changes keys of the newest draft.
func (w *caller) try(version int, keys map[string]string) shown {
	w.t.Helper()
	return post[shown](w, "/api/try", changes{"version": version, "changes": keys})
}
