package page

import (
	"context"
	"embed"
	"io/fs"
	"net/http"
	"path"
	"time"

	"hollowbed/cmd/hollowbed/report"
	"hollowbed/cmd/hollowbed/store"
	"hollowbed/plants/catalogue"
	"hollowbed/plants/season"
	"hollowbed/search"
	"hollowbed/zones"
)

//go:embed assets
var assets embed.FS

// Garden is what a page shows: a folder of files, with what was read of it
// once. Files must not lead out of the folder.
type Garden struct {
	Folder string // as shown to people; "" for the demo, which is never written
	Files  fs.FS
	Table  *catalogue.Catalogue
	Index  *search.Index
	Signs  *season.Table
	Grown  fs.FS       // planted.csv and season.csv, where they are not in Files
	Units  zones.Units // "": as the garden file says
	Now    func() time.Time
	On     time.Time // the day that moves are planned for; zero for today
	// Lock keeps other runs from writing in the folder; Change changes files of
	// it, all or none, and none if one no longer holds what it held. Both are nil
	// for the demo.
	Lock   func() (unlock func(), err error)
	Change func(files ...store.Change) error
	Photo  func(name string) (picture []byte, kind string, err error) // nil for the demo
}

// Page is the local page of one garden.
type Page struct {
	session *session
	guard   *guard
	mux     *http.ServeMux
}

// New opens a page at a port of this machine. Work goes on until the context
// ends. The error is that of the garden file, if it cannot be worked out at
// all.
func New(ctx context.Context, g Garden, port int) (*Page, error) {
	s, err := newSession(ctx, g)
	if err != nil {
		return nil, err
	}
	p := &Page{session: s, guard: newGuard(port), mux: http.NewServeMux()}
	p.routes()
	return p, nil
}

// Address is where the page is, with the key that lets a browser in.
func (p *Page) Address() string { return p.guard.address() }

// Idle waits until no window has asked for so long, or the context ends. A
// window that is open asks every few seconds.
func (p *Page) Idle(ctx context.Context, most time.Duration) { p.guard.idle(ctx, most) }

// Unsaved says in words what the garden's files do not hold yet; nothing for the demo,
// which is never written.
func (p *Page) Unsaved() []string {
	s := p.session
	s.mu.Lock()
	defer s.mu.Unlock()
	if s.garden.Change == nil {
		return nil
	}
	return s.unsaved()
}

// Handler serves the page.
func (p *Page) Handler() http.Handler { return p.guard.around(p.mux) }

func (p *Page) routes() {
	s := p.session
	p.mux.HandleFunc("GET /{$}", p.asset("index.html"))
	p.mux.HandleFunc("GET /assets/{name}", func(w http.ResponseWriter, r *http.Request) { p.asset(r.PathValue("name"))(w, r) })
	p.mux.HandleFunc("GET /api/state", s.handleState)
	p.mux.HandleFunc("GET /api/progress", s.handleProgress)
	p.mux.HandleFunc("GET /api/water", s.handleWater)
	p.mux.HandleFunc("GET /api/plan.svg", s.drawing(report.PlanSVG))
	p.mux.HandleFunc("GET /api/section.svg", s.drawing(report.SectionSVG))
	p.mux.HandleFunc("GET /api/bloom.svg", s.drawing(bloom))
	p.mux.HandleFunc("GET /api/climate.svg", s.climate)
	p.mux.HandleFunc("GET /api/find.csv", s.hitsCSV)
	p.mux.HandleFunc("GET /api/care", gives(s.care))
	p.mux.HandleFunc("GET /api/season", gives(s.season))
	p.mux.HandleFunc("GET /api/photo/{name}", s.photo)
	p.mux.HandleFunc("GET /api/moves", gives(s.moves))
	post(p.mux, "note", s.note)
	post(p.mux, "moves/apply", s.apply)
	post(p.mux, "keep", s.keep)
	post(p.mux, "try", s.try)
	post(p.mux, "wish", s.wish)
	post(p.mux, "move", s.move)
	post(p.mux, "shape", s.shape)
	post(p.mux, "scatter", s.scatter)
	post(p.mux, "undo", s.back)
	post(p.mux, "redo", s.again)
	post(p.mux, "units", s.inUnits)
	post(p.mux, "save", s.save)
	post(p.mux, "reload", s.reload)
	post(p.mux, "stop", s.stop)
	post(p.mux, "place", s.place)
	post(p.mux, "risk", s.risk)
	post(p.mux, "plant", s.plant)
	post(p.mux, "compare", s.compare)
	post(p.mux, "find", s.find)
	p.mux.HandleFunc("/", func(w http.ResponseWriter, r *http.Request) { refuse(w, notFound(r)) })
}

// asset serves one of the embedded files.
func (p *Page) asset(name string) http.HandlerFunc {
	return func(w http.ResponseWriter, r *http.Request) {
		text, err := assets.ReadFile(path.Join("assets", path.Base("/"+name)))
		if err != nil {
			refuse(w, notFound(r))
			return
		}
		w.Header().Set("Content-Type", contentType(name))
		w.Write(text)
	}
}

// contentType is the type of an asset, by its ending, whatever tables of types
// the machine has.
func contentType(name string) string {
	switch path.Ext(name) {
	case ".html":
		return "text/html; charset=utf-8"
	case ".css":
		return "text/css; charset=utf-8"
	case ".js":
		return "text/javascript; charset=utf-8"
	case ".svg":
		return "image/svg+xml"
	}
	return "application/octet-stream"
}
