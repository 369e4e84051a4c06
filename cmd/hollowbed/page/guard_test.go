package page_test

import (
	"encoding/json"
	"fmt"
	"io"
	"net"
	"net/http"
	"net/http/cookiejar"
	"net/http/httptest"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// header sets one header of a request, or takes it away.
func header(name, value string) func(*http.Request) {
	return func(r *http.Request) {
		switch {
		case name == "Host":
			r.Host = value
		case value == "":
			r.Header.Del(name)
		default:
			r.Header.Set(name, value)
		}
	}
}

// Without the cookie nothing is told: not the page, no file, no figure.
func TestGuardKey(t *testing.T) {
	t.Parallel()
	w := call(t, smallGarden(t))
	ask := func(path, cookie string) (int, string) {
		r, err := http.NewRequest("GET", w.base+path, nil)
		require.NoError(t, err)
		r.Header.Set("Cookie", cookie)
		answer, err := w.client.Do(r)
		require.NoError(t, err)
		defer answer.Body.Close()
		text, err := io.ReadAll(answer.Body)
		require.NoError(t, err)
		return answer.StatusCode, string(text)
	}
	paths := []string{"/", "/assets/page.css", "/api/state", "/api/plan.svg", "/nosuch", "/?key=", "/?key=" + strings.Repeat("A", 26)}
	for _, path := range paths {
		paths = append(paths, w.root+path)
	}
	for _, path := range paths {
		for name, cookie := range map[string]string{"none": "", "another": w.cookie.Name + "=" + strings.Repeat("A", 26), "empty": w.cookie.Name + "=", "its start": w.cookie.Name + "=" + w.cookie.Value[:25]} {
			status, text := ask(path, cookie)
			assert.Equal(t, http.StatusForbidden, status, "%s, cookie: %s", path, name)
			assert.NotContains(t, text, "corner")
			assert.NotContains(t, text, w.cookie.Value)
			assert.NotContains(t, text, w.root, "the path is as secret")
		}
		if !strings.HasPrefix(path, w.root) {
			status, text := ask(path, w.cookie.Name+"="+w.cookie.Value)
			assert.Equal(t, http.StatusForbidden, status, "%s, the cookie without the path", path)
			assert.NotContains(t, text, w.root)
		}
	}
	status, text := w.ask("POST", "/api/save", `{"revision":""}`, header("Cookie", ""))
	assert.Equal(t, http.StatusForbidden, status, string(text))
	assert.True(t, w.cookie.HttpOnly, "no script can read it")
	assert.Equal(t, http.SameSiteStrictMode, w.cookie.SameSite, "no other site can use it")
	status, _ = w.ask("GET", "/", "")
	assert.Equal(t, http.StatusOK, status)

	front, err := w.client.Get(w.address)
	require.NoError(t, err)
	defer front.Body.Close()
	page, err := io.ReadAll(front.Body)
	require.NoError(t, err)
	icon := regexp.MustCompile(`rel="icon" href="([^"]+)"`).FindSubmatch(page)
	require.Len(t, icon, 2, "without an icon of its own, browsers ask for /favicon.ico, and are refused")
	status, _ = ask(string(icon[1]), w.cookie.Name+"="+w.cookie.Value)
	assert.Equal(t, http.StatusOK, status)
}

// A name that was made to lead to this machine (DNS rebinding) is not ours.
func TestGuardHost(t *testing.T) {
	t.Parallel()
	w := call(t, smallGarden(t))
	port := portOf(w.base)
	for _, host := range []string{"", "evil.example", fmt.Sprintf("evil.example:%d", port), "127.0.0.1", "127.0.0.1:1", fmt.Sprintf("127.0.0.2:%d", port), fmt.Sprintf("127.0.0.1:%d.evil.example", port), fmt.Sprintf("localhost.:%d", port), fmt.Sprintf("user@127.0.0.1:%d", port), fmt.Sprintf("0.0.0.0:%d", port)} {
		if host == "" { // the client fills in an empty one, so that it goes by hand
			assert.NotContains(t, raw(t, w, "GET "+w.root+"/api/state HTTP/1.0\r\nCookie: "+w.cookie.String()+"\r\n\r\n"), "200 OK")
			continue
		}
		status, _ := w.ask("GET", "/api/state", "", header("Host", host))
		assert.Contains(t, []int{http.StatusForbidden, http.StatusBadRequest}, status, host)
	}
	for _, host := range []string{fmt.Sprintf("127.0.0.1:%d", port), fmt.Sprintf("localhost:%d", port), fmt.Sprintf("[::1]:%d", port)} {
		status, _ := w.ask("GET", "/api/state", "", header("Host", host))
		assert.Equal(t, http.StatusOK, status, host)
	}
}

// Another site in the same browser can neither read nor change anything, though
// the browser sent the cookie along.
func TestGuardOtherSites(t *testing.T) {
	t.Parallel()
	w := call(t, smallGarden(t))
	change := `{"version":1,"changes":{"bed.length":"30 ft"}}`
	for _, c := range []struct{ name, header, value string }{
		{"another site", "Origin", "https://evil.example"}, {"no site", "Origin", "null"}, {"another port", "Origin", "http://127.0.0.1:1"},
		{"https", "Origin", strings.Replace(w.base, "http:", "https:", 1)}, {"another name of ours", "Origin", strings.Replace(w.base, "127.0.0.1", "localhost", 1)},
		{"its start", "Origin", w.base + ".evil.example"}, {"by fetch", "Sec-Fetch-Site", "cross-site"}, {"from another port", "Sec-Fetch-Site", "same-site"}, {"odd", "Sec-Fetch-Site", "x"},
	} {
		status, text := w.ask("POST", "/api/try", change, header(c.header, c.value))
		assert.Equal(t, http.StatusForbidden, status, "%s: %s", c.name, text)
		if c.header == "Sec-Fetch-Site" {
			for _, path := range []string{"/api/state", "/assets/page.css", "/api/plan.svg"} { // by script or img of the other site
				status, _ = w.ask("GET", path, "", header(c.header, c.value))
				assert.Equal(t, http.StatusForbidden, status, "%s: %s", c.name, path)
			}
		}
	}
	for _, kind := range []string{"", "text/plain", "application/x-www-form-urlencoded", "multipart/form-data", "application/jsonx", "text/plain; application/json"} { // what a form can send
		status, _ := w.ask("POST", "/api/try", change, header("Content-Type", kind))
		assert.Equal(t, http.StatusUnsupportedMediaType, status, kind)
	}
	for _, method := range []string{"GET", "PUT", "DELETE", "PATCH", "HEAD", "OPTIONS"} {
		status, _ := w.ask(method, "/api/try", change)
		assert.Contains(t, []int{http.StatusMethodNotAllowed, http.StatusNotFound}, status, method)
	}
	s := get[shown](w, "/api/state")
	assert.Equal(t, 1, s.Version, "nothing was changed by any of them")
	answer := answerOf(t, w, "OPTIONS", "/api/try", header("Origin", "https://evil.example"), header("Access-Control-Request-Method", "POST"))
	for name := range answer.Header {
		assert.False(t, strings.HasPrefix(name, "Access-Control"), "no other site is let in: %s", name)
	}
}

func answerOf(t testing.TB, w *caller, method, path string, change ...func(*http.Request)) *http.Response {
	t.Helper()
	r, err := http.NewRequest(method, w.base+w.root+path, nil)
	require.NoError(t, err)
	r.AddCookie(w.cookie)
	for _, c := range change {
		c(r)
	}
	answer, err := w.client.Do(r)
	require.NoError(t, err)
	answer.Body.Close()
	return answer
}

// raw sends bytes that no client would and reads what comes back.
func raw(t testing.TB, w *caller, request string) string {
	t.Helper()
	c, err := net.Dial("tcp", strings.TrimPrefix(w.base, "http://"))
	require.NoError(t, err)
	defer c.Close()
	require.NoError(t, c.SetDeadline(time.Now().Add(10*time.Second)))
	_, err = io.WriteString(c, request)
	require.NoError(t, err)
	text, _ := io.ReadAll(c)
	return string(text)
}

// Every answer, refusals too, shuts out scripts from elsewhere, frames and
// guessing of types.
func TestGuardHeaders(t *testing.T) {
	t.Parallel()
	w := call(t, smallGarden(t))
	for _, path := range []string{"/", "/api/state", "/assets/page.css", "/api/plan.svg", "/nosuch", "/api/water?play=x"} {
		h := answerOf(t, w, "GET", path).Header
		policy := h.Get("Content-Security-Policy")
		assert.Contains(t, policy, "default-src 'none'", path)
		for _, open := range []string{"unsafe-inline", "unsafe-eval", "*", "data:", "http:", "https:"} {
			assert.NotContains(t, policy, open, path)
		}
		assert.Contains(t, policy, "frame-ancestors 'none'", path)
		assert.Equal(t, "nosniff", h.Get("X-Content-Type-Options"), path)
		assert.Equal(t, "no-referrer", h.Get("Referrer-Policy"), path)
		assert.Equal(t, "same-origin", h.Get("Cross-Origin-Resource-Policy"), path)
		assert.Equal(t, "no-store", h.Get("Cache-Control"), path)
	}
	page, err := os.ReadFile("assets/index.html")
	require.NoError(t, err)
	for _, inline := range []string{"<script>", "onclick=", "onload=", "style=", "javascript:", "<style"} {
		assert.NotContains(t, string(page), inline, "what the policy would block anyway")
	}
}

// No path leads out of the page's own files or the garden's folder.
func TestGuardPaths(t *testing.T) {
	t.Parallel()
	g, dir := folderGarden(t)
	secret := filepath.Join(filepath.Dir(dir), "secret.txt")
	require.NoError(t, os.WriteFile(secret, []byte("the secret"), 0o600))
	w := call(t, g)
	paths := []string{
		"/assets/../doc.go", "/assets/..%2fdoc.go", "/assets/%2e%2e/doc.go", "/assets/..%5cdoc.go", "/assets//etc/passwd", "/assets/%2fetc%2fpasswd", "/assets/", "/assets/.", "/assets/..",
		"/assets/index.html%00.css", "/../../etc/passwd", "//etc/passwd", "/garden.yaml", "/rain.csv", "/.hollowbed.lock", "/assets/..%2f..%2fsecret.txt", "/api/../secret.txt", "/api/plan.svg/../../secret.txt",
	}
	for _, path := range paths {
		paths = append(paths, w.root+path)
	}
	for _, path := range paths {
		text := raw(t, w, fmt.Sprintf("GET %s HTTP/1.1\r\nHost: %s\r\nCookie: %s=%s\r\nConnection: close\r\n\r\n", path, strings.TrimPrefix(w.base, "http://"), w.cookie.Name, w.cookie.Value))
		first, _, _ := strings.Cut(text, "\r\n")
		assert.NotContains(t, first, "200", path)
		for _, leak := range []string{"the secret", "package page", "root:", "hollowbed: 1", "rain_mm"} {
			assert.NotContains(t, text, leak, path)
		}
	}
}

// A garden file whose weather record lies outside the folder, by its name or by
// a link, is not followed.
func TestGuardLinks(t *testing.T) {
	t.Parallel()
	g, dir := folderGarden(t)
	require.NoError(t, os.Rename(filepath.Join(dir, "rain.csv"), filepath.Join(filepath.Dir(dir), "outside.csv")))
	require.NoError(t, os.Symlink("../outside.csv", filepath.Join(dir, "rain.csv")))
	_, err := newPage(t, g)
	assert.ErrorContains(t, err, "leads out of the folder")
	w := call(t, smallGarden(t))
	for _, key := range []string{"weather", "inlet.way", "hollowbed", "", "bed", "../bed.length", "bed.length\nweather.file"} {
		f := w.refused(http.StatusBadRequest, "/api/try", changes{"version": 1, "changes": map[string]string{key: "../outside.csv"}})
		assert.Equal(t, "want a field of this page", f.Faults[0].Want, key)
	}

	in, dir := folderGarden(t)
	text, err := os.ReadFile(filepath.Join(dir, "rain.csv"))
	require.NoError(t, err)
	require.NoError(t, os.WriteFile(filepath.Join(filepath.Dir(dir), "outside.csv"), text, 0o644))
	require.NoError(t, os.Symlink("../outside.csv", filepath.Join(dir, "link.csv")))
	w = call(t, in)
	for _, file := range []string{"../outside.csv", "link.csv", filepath.Join(filepath.Dir(dir), "outside.csv")} {
		asked, err := json.Marshal(changes{"version": get[shown](w, "/api/state").Version, "changes": map[string]string{"weather.file": file}})
		require.NoError(t, err)
		status, body := w.ask("POST", "/api/try", string(asked))
		require.Equal(t, http.StatusOK, status)
		var s shown
		require.NoError(t, json.Unmarshal(body, &s))
		assert.Regexp(t, "see what is marked|leads out of the folder", s.Failed, file)
		assert.Contains(t, s.Record, "Record: rain.csv,", file)
	}
}

// What is no request of this page is refused in words, and harms nothing.
func TestGuardBodies(t *testing.T) {
	t.Parallel()
	w := call(t, smallGarden(t))
	for _, c := range []struct {
		body   string
		status int
	}{
		{"", 400}, {"{", 400}, {"[]", 400}, {"null x", 400}, {`"x"`, 400}, {"\xff\xfe", 400}, {`{} {}`, 400}, {`{"x_m":1,"y_m":1,"z_m":1}`, 400},
		{`{"x_m":"1","y_m":1}`, 400}, {`{"x_m":1e999,"y_m":1}`, 400}, {`{"x_m":1e300,"y_m":1}`, 400}, {`{"x_m":-1e5,"y_m":1}`, 400}, {`{"x_m":NaN,"y_m":1}`, 400},
		{strings.Repeat(`{"x_m":`, 20000), 400}, {strings.Repeat("[", 1<<20), 400}, {`{"x_m":1,"y_m":` + strings.Repeat("1", 2<<20) + `}`, 413}, {strings.Repeat(" ", 2<<20), 413},
	} {
		status, text := w.ask("POST", "/api/place", c.body)
		assert.Equal(t, c.status, status, "%.40s: %.200s", c.body, text)
		var f refusal
		require.NoError(t, json.Unmarshal(text, &f), "%.40s", c.body)
		assert.NotEmpty(t, f.Error)
	}
	status, _ := w.ask("GET", "/api/state?after=x", "")
	assert.Equal(t, http.StatusBadRequest, status)
	status, _ = w.ask("GET", "/api/state", "", header("X-Long", strings.Repeat("x", 2<<20)))
	assert.NotEqual(t, http.StatusOK, status)
	assert.Equal(t, http.StatusOK, func() int { s, _ := w.ask("GET", "/api/state", ""); return s }(), "and goes on")
}

// Another server on this machine, at another port, is sent neither the key nor
// the path, whatever of it a browser that knows the page asks for. The jar
// follows RFC 6265, in which a cookie goes to every port of its host.
func TestGuardOtherPort(t *testing.T) {
	t.Parallel()
	w := call(t, smallGarden(t))
	w.client.Jar, _ = cookiejar.New(nil)
	var heard []string
	other := httptest.NewServer(http.HandlerFunc(func(_ http.ResponseWriter, r *http.Request) {
		heard = append(heard, fmt.Sprint(r.Header, r.URL))
	}))
	defer other.Close()
	w.enter(w.address)
	for _, path := range []string{"/", "/api/state", "/api/save", "/assets/main.js", "/?key=x"} {
		answer, err := w.client.Get(other.URL + path)
		require.NoError(t, err)
		answer.Body.Close()
	}
	require.Len(t, heard, 5)
	for _, request := range heard {
		assert.NotContains(t, request, w.cookie.Value)
		assert.NotContains(t, request, w.cookie.Path[1:])
	}
	answer, err := w.client.Get(w.base + w.root + "/api/state")
	require.NoError(t, err)
	answer.Body.Close()
	assert.Equal(t, http.StatusOK, answer.StatusCode, "the page itself is")
}

// Two programs side by side, and one after another at the same port, do not take
// each other's cookies.
func TestGuardTwoPages(t *testing.T) {
	t.Parallel()
	a, b := call(t, smallGarden(t)), call(t, smallGarden(t))
	jar, err := cookiejar.New(nil)
	require.NoError(t, err)
	for _, w := range []*caller{a, b} {
		w.client.Jar = jar
		w.enter(w.address)
	}
	assert.NotEqual(t, a.root, b.root)
	for _, w := range []*caller{a, b} {
		answer, err := w.client.Get(w.base + w.root + "/api/state")
		require.NoError(t, err)
		answer.Body.Close()
		assert.Equal(t, http.StatusOK, answer.StatusCode)
	}
	a.client.Jar = nil
	status, _ := a.ask("GET", "/api/state", "", header("Cookie", b.cookie.Name+"="+b.cookie.Value))
	assert.Equal(t, http.StatusForbidden, status)
}
