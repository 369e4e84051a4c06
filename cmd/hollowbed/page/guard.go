package page

import (
	"context"
	"crypto/rand"
	"crypto/subtle"
	"fmt"
	"html"
	"net/http"
	"slices"
	"strings"
	"sync/atomic"
	"time"
)

// guard lets in only a browser of this machine that was given the key, and
// only from the page itself.
type guard struct {
	port  int
	key   string
	root  string // path that all of the page lies below, such as /ABC
	cross *http.CrossOriginProtection
	crowd *crowd
	last  atomic.Int64 // time of the last request, ns
}

// A browser hands a cookie to every port of a host, so that any other server on
// this machine could ask for it. It goes only to a path that each run makes up,
// which no other server can know.
func newGuard(port int) *guard {
	return &guard{port: port, key: rand.Text(), root: "/" + rand.Text(), cross: http.NewCrossOriginProtection(), crowd: newCrowd()}
}

func (g *guard) address() string { return fmt.Sprintf("http://127.0.0.1:%d/?key=%s", g.port, g.key) }

// hosts are the names by which a browser of this machine asks. Any other name
// that leads here was made to do so, to get round the rules of the browser.
func (g *guard) hosts() []string {
	return []string{fmt.Sprintf("127.0.0.1:%d", g.port), fmt.Sprintf("localhost:%d", g.port), fmt.Sprintf("[::1]:%d", g.port)}
}

const cookieName = "hollowbed"

// around puts the guard before a handler.
func (g *guard) around(next http.Handler) http.Handler {
	below := http.StripPrefix(g.root, next)
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		defer mend(w)
		g.headers(w.Header())
		if f := g.check(r); f != nil {
			turnAway(w, r, f)
			return
		}
		if r.Method == http.MethodGet && r.URL.Path == "/" && r.URL.Query().Has("key") {
			g.enter(w, r)
			return
		}
		if !g.known(r) {
			turnAway(w, r, &failure{status: http.StatusForbidden, Words: "Open the whole address that hollowbed open has printed last: it ends in a key that lets only you in."})
			return
		}
		leave, f := g.crowd.enter(g.root, r)
		if f != nil {
			refuse(w, f)
			return
		}
		defer leave()
		g.last.Store(time.Now().UnixNano())
		below.ServeHTTP(w, r)
		g.last.Store(time.Now().UnixNano())
	})
}

// turnAway refuses in words: on a page for who typed an address, else as all else is
// refused.
func turnAway(w http.ResponseWriter, r *http.Request, f *failure) {
	if r.Method != http.MethodGet || !strings.Contains(r.Header.Get("Accept"), "text/html") {
		refuse(w, f)
		return
	}
	w.Header().Set("Content-Type", "text/html; charset=utf-8")
	w.WriteHeader(f.status)
	fmt.Fprintf(w, `<!DOCTYPE html><html lang="en"><meta charset="utf-8"><meta name="viewport" content="width=device-width"><meta name="color-scheme" content="light dark"><title>Hollowbed</title><h1>This page stays shut</h1><p>%s</p></html>`, html.EscapeString(f.Words))
}

// idle waits until nobody has asked for so long, or the context ends.
func (g *guard) idle(ctx context.Context, most time.Duration) {
	g.last.Store(time.Now().UnixNano())
	for {
		left := most - time.Since(time.Unix(0, g.last.Load()))
		if left <= 0 {
			return
		}
		select {
		case <-time.After(left):
		case <-ctx.Done():
			return
		}
	}
}

// check refuses what no browser on this page would ask.
func (g *guard) check(r *http.Request) *failure {
	foreign := &failure{status: http.StatusForbidden, Words: "This page answers only itself, on this machine."}
	if !slices.Contains(g.hosts(), r.Host) {
		return foreign
	}
	if origin := r.Header.Get("Origin"); origin != "" && origin != "http://"+r.Host {
		return foreign
	}
	if len(r.Header.Values("Origin")) > 1 || len(r.Header.Values("Sec-Fetch-Site")) > 1 {
		return foreign
	}
	switch r.Header.Get("Sec-Fetch-Site") {
	case "", "same-origin", "none":
	default: // from elsewhere: let in only to the front door, where the key or the cookie decides
		if r.Method != http.MethodGet || r.URL.Path != "/" && r.URL.Path != g.root+"/" || r.Header.Get("Sec-Fetch-Mode") != "navigate" {
			return foreign
		}
	}
	if err := g.cross.Check(r); err != nil {
		return foreign
	}
	if r.Method == http.MethodPost {
		if kind, _, _ := strings.Cut(r.Header.Get("Content-Type"), ";"); !strings.EqualFold(strings.TrimSpace(kind), "application/json") {
			return &failure{status: http.StatusUnsupportedMediaType, Words: "Want application/json."}
		}
	}
	return nil
}

// enter turns the key of the address into a cookie, so that it leaves the
// address bar.
func (g *guard) enter(w http.ResponseWriter, r *http.Request) {
	if !g.isKey(r.URL.Query().Get("key")) {
		turnAway(w, r, &failure{status: http.StatusForbidden, Words: "This key is not that of this run: open the address that hollowbed open has printed last."})
		return
	}
	http.SetCookie(w, &http.Cookie{Name: cookieName, Value: g.key, Path: g.root + "/", HttpOnly: true, SameSite: http.SameSiteStrictMode})
	// A page that goes on by itself: after a redirect, a browser that came from
	// elsewhere would keep the cookie to itself. It names its icon, or browsers
	// ask for /favicon.ico, outside the path of the cookie.
	w.Header().Set("Content-Type", "text/html; charset=utf-8")
	fmt.Fprintf(w, `<!DOCTYPE html><html lang="en"><meta charset="utf-8"><link rel="icon" href="%[1]s/assets/mark.svg" type="image/svg+xml"><meta http-equiv="refresh" content="0;url=%[1]s/"><title>Opening</title><p><a href="%[1]s/">On to the garden</a></p></html>`, g.root)
}

func (g *guard) known(r *http.Request) bool {
	for _, c := range r.CookiesNamed(cookieName) {
		if g.isKey(c.Value) {
			return strings.HasPrefix(r.URL.Path, g.root+"/")
		}
	}
	return false
}

func (g *guard) isKey(s string) bool {
	return subtle.ConstantTimeCompare([]byte(s), []byte(g.key)) == 1
}

// headers shuts out what the page does not use.
func (g *guard) headers(h http.Header) {
	h.Set("Content-Security-Policy", "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self'; connect-src 'self'; "+
		"base-uri 'none'; form-action 'none'; frame-ancestors 'none'; require-trusted-types-for 'script'; trusted-types 'none'")
	h.Set("X-Content-Type-Options", "nosniff")
	h.Set("X-Frame-Options", "DENY")
	h.Set("Referrer-Policy", "no-referrer")
	h.Set("Cross-Origin-Opener-Policy", "same-origin")
	h.Set("Cross-Origin-Resource-Policy", "same-origin")
	h.Set("Cross-Origin-Embedder-Policy", "require-corp")
	h.Set("Permissions-Policy", "camera=(), microphone=(), geolocation=(), usb=(), serial=()")
	h.Set("Cache-Control", "no-store")
}
