package main

import (
	"bufio"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"net"
	"net/http"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"strings"
	"syscall"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// openCases are the statuses of open. --idle lets it end by itself.
func openCases() []statusCase {
	const brief = " --no-browser --idle 1ms"
	return []statusCase{
		{"open" + brief, 0, "invented demo garden"}, {"open --garden $good" + brief, 0, ``}, {"open --help", 0, `^$`},
		{"open --units metric" + brief, 0, ``}, {"open --units yards" + brief, 2, `--units: "yards": want us or metric`}, {"open --units=", 2, `--units: "": want a value`},
		{"open --nosuch", 2, `unknown flag: --nosuch`}, {"open surplus", 2, `surplus.*want hollowbed open`}, {"open --garden=", 2, `--garden: "": want a value`},
		{"open --garden $taken", 2, `want a folder`}, {"open --garden $empty", 2, `no such file; hollowbed start`}, {"open --garden $folder", 2, `garden.yaml: is a folder: want a plain file`},
		{"open --garden $yaml" + brief, 2, `garden.yaml:\d+:\d+: bed.length: "20": want`}, {"open --garden $rain" + brief, 2, `rain.csv:3:\d+: rain_mm: "wide"`},
		{"open --garden $plants" + brief, 2, `plants.csv:2:\d+: zones: "botom"`}, {"open --garden $planted" + brief, 2, `planted.csv:2:\d+: x_m: "wide"`},
		{"open --garden $dry" + brief, 2, `no weather record`},
		{"open --port 65536", 2, `want 0 to 65535`}, {"open --port many", 2, `--port`}, {"open --idle soon", 2, `--idle`}, {"open --idle=-1s", 2, `want a time`},
	}
}

// running starts hollowbed open as a program of its own and gives its address.
func running(t *testing.T, args ...string) (cmd *exec.Cmd, address string) {
	t.Helper()
	cmd = exec.Command("hollowbed", append([]string{"open", "--no-browser"}, args...)...)
	out, err := cmd.StdoutPipe()
	require.NoError(t, err)
	require.NoError(t, cmd.Start())
	t.Cleanup(func() { cmd.Process.Kill() })
	line, err := bufio.NewReader(out).ReadString('\n')
	require.NoError(t, err)
	return cmd, strings.TrimSpace(line)
}

// Ctrl-C ends it with status 0, also while a window waits for news.
func TestOpenEnds(t *testing.T) {
	t.Parallel()
	if runtime.GOOS == "windows" {
		t.Skip("no signal to send")
	}
	cmd, address := running(t)
	answer, err := http.Get(address)
	require.NoError(t, err)
	answer.Body.Close()
	require.Len(t, answer.Cookies(), 1)
	wait, err := http.NewRequest("GET", address[:strings.Index(address, "/?")]+answer.Cookies()[0].Path+"api/state?after=1000000", nil)
	require.NoError(t, err)
	wait.AddCookie(answer.Cookies()[0])
	waiting := make(chan error, 1)
	go func() {
		answer, err := http.DefaultClient.Do(wait)
		if err == nil && answer.StatusCode != http.StatusOK {
			err = errors.New(answer.Status)
		}
		if err == nil {
			_, err = io.Copy(io.Discard, answer.Body)
			answer.Body.Close()
		}
		waiting <- err
	}()
	time.Sleep(100 * time.Millisecond) // so that the window waits
	require.NoError(t, cmd.Process.Signal(os.Interrupt))
	assert.NoError(t, cmd.Wait())
	assert.NoError(t, <-waiting, "the window that waited was answered")
}

// A port that is taken is told, and nobody else's page is opened.
func TestOpenPortTaken(t *testing.T) {
	t.Parallel()
	taken, err := net.Listen("tcp4", "127.0.0.1:0")
	require.NoError(t, err)
	defer taken.Close()
	var out strings.Builder
	status, errs := runInto(&out, "open", "--no-browser", "--port", fmt.Sprint(taken.Addr().(*net.TCPAddr).Port))
	assert.Equal(t, 2, status)
	assert.Contains(t, errs, "something else listens there")
	assert.Empty(t, out.String())
}

// It listens on the loopback address alone: no other address of this machine
// answers.
func TestOpenLoopbackOnly(t *testing.T) {
	t.Parallel()
	_, address := running(t)
	port := address[strings.LastIndex(address, ":")+1 : strings.Index(address, "/?")]
	all, err := net.InterfaceAddrs()
	require.NoError(t, err)
	tried := 0
	for _, a := range all {
		ip, ok := a.(*net.IPNet)
		if !ok || ip.IP.IsLoopback() || ip.IP.To4() == nil {
			continue
		}
		tried++
		c, err := net.DialTimeout("tcp", net.JoinHostPort(ip.IP.String(), port), time.Second)
		if err == nil {
			c.Close()
		}
		assert.Error(t, err, "%s answers", ip.IP)
	}
	if tried == 0 {
		t.Skip("this machine has no other address")
	}
}

// A record that is a link to a file outside the folder is not read for the page.
func TestOpenStaysInFolder(t *testing.T) {
	t.Parallel()
	dir := gardenWith(t, nil)
	outside := filepath.Join(t.TempDir(), "rain.csv")
	require.NoError(t, os.Rename(filepath.Join(dir, "rain.csv"), outside))
	if err := os.Symlink(outside, filepath.Join(dir, "rain.csv")); err != nil {
		t.Skip("no links here:", err)
	}
	var out strings.Builder
	status, errs := runInto(&out, "open", "--garden", dir, "--no-browser", "--idle", "1ms")
	assert.Equal(t, exitBad, status)
	assert.Contains(t, errs, "rain.csv: is a link that leads out of the folder")
	assert.Empty(t, out.String())
}

// saveCase is a save of the page, which writes two files.
func saveCase(t *testing.T) killCase {
	files := small(t)
	return killCase{"save of open", "$dir", func(t *testing.T, dir string) {
		for name, text := range files {
			require.NoError(t, os.WriteFile(filepath.Join(dir, name), []byte(text), 0o644))
		}
	}, []string{"garden.yaml", "planted.csv"}, "note --list --garden $dir", "hollowbed-save", false}
}

// saveByPage is a program that opens the folder of its argument, changes the bed
// through the page, lets the plants have the places proposed, saves and ends.
func saveByPage() {
	out, in := io.Pipe()
	go func() {
		_, errs := runInto(in, "open", "--no-browser", "--garden", os.Args[1])
		in.CloseWithError(errors.New(errs))
	}()
	fail := func(err error) {
		if err != nil {
			fmt.Fprintln(os.Stderr, err)
			os.Exit(1)
		}
	}
	address, err := bufio.NewReader(out).ReadString('\n')
	fail(err)
	base, _, _ := strings.Cut(address, "/?")
	first, err := http.Get(strings.TrimSpace(address))
	fail(err)
	base += first.Cookies()[0].Path
	var now struct {
		Version, Tick int
		PlacesOf      int `json:"places_of"`
		Busy          bool
		Revision      string
		Error         string
	}
	ask := func(method, path, body string) {
		r, err := http.NewRequest(method, base+"api/"+path, strings.NewReader(body))
		fail(err)
		r.AddCookie(first.Cookies()[0])
		r.Header.Set("Content-Type", "application/json")
		answer, err := http.DefaultClient.Do(r)
		fail(err)
		defer answer.Body.Close()
		fail(json.NewDecoder(answer.Body).Decode(&now))
		if now.Error != "" {
			fail(errors.New(now.Error))
		}
	}
	ask("POST", "try", `{"version":1,"changes":{"bed.length":"21 ft"}}`)
	for now.PlacesOf != now.Version || now.Busy {
		ask("GET", fmt.Sprint("state?after=", now.Tick), "")
	}
	ask("POST", "keep", "{}")
	ask("POST", "save", fmt.Sprintf(`{"revision":%q}`, now.Revision))
	os.Exit(0)
}

// Ctrl-C on a terminal does not drop what is not saved without a word: it names it,
// and ends when it comes again. What has changed since is named anew; any other end
// comes at once.
func TestCtrlCSaysWhatIsNotSaved(t *testing.T) {
	t.Parallel()
	left := []string{"Length: 24 ft, was 20 ft"}
	begin := func(terminal bool) (chan os.Signal, chan string) {
		var out strings.Builder
		o := &openOptions{common: common{world: world{err: &out, terminal: terminal}}}
		signals, told := make(chan os.Signal, 2), make(chan string, 1)
		ctx, end := context.WithCancel(context.Background())
		go func() {
			o.endBy(ctx, signals, end, func() []string { return left })
			told <- out.String()
		}()
		return signals, told
	}
	signals, ended := begin(true)
	signals <- os.Interrupt
	signals <- os.Interrupt
	const words = "\nNot saved yet:\n  - Length: 24 ft, was 20 ft\nSave on the page, or press Ctrl-C once more to end without.\n"
	assert.Equal(t, words, <-ended)
	signals, ended = begin(true)
	signals <- os.Interrupt
	signals <- syscall.SIGTERM
	assert.Equal(t, words, <-ended)
	signals, ended = begin(false)
	signals <- os.Interrupt
	assert.Empty(t, <-ended)
	left = nil
	signals, ended = begin(true)
	signals <- os.Interrupt
	assert.Empty(t, <-ended, "nothing is lost")
}

// Whatever ends it, what was not saved is said.
func TestOpenEndsWithWhatIsNotSaved(t *testing.T) {
	t.Parallel()
	if runtime.GOOS == "windows" {
		t.Skip("no signal to send")
	}
	cmd := exec.Command("hollowbed", "open", "--no-browser", "--garden", gardenWith(t, small(t)))
	var errs strings.Builder
	cmd.Stderr = &errs
	out, err := cmd.StdoutPipe()
	require.NoError(t, err)
	require.NoError(t, cmd.Start())
	t.Cleanup(func() { cmd.Process.Kill() })
	address, err := bufio.NewReader(out).ReadString('\n')
	require.NoError(t, err)
	first, err := http.Get(strings.TrimSpace(address))
	require.NoError(t, err)
	first.Body.Close()
	base, _, _ := strings.Cut(address, "/?")
	change, err := http.NewRequest("POST", base+first.Cookies()[0].Path+"api/try", strings.NewReader(`{"version":1,"changes":{"bed.length":"21 ft"}}`))
	require.NoError(t, err)
	change.AddCookie(first.Cookies()[0])
	change.Header.Set("Content-Type", "application/json")
	answer, err := http.DefaultClient.Do(change)
	require.NoError(t, err)
	answer.Body.Close()
	require.Equal(t, http.StatusOK, answer.StatusCode)
	require.NoError(t, cmd.Process.Signal(os.Interrupt))
	assert.NoError(t, cmd.Wait())
	assert.Contains(t, errs.String(), "Ended. Not saved, and gone:\n  - Length: 21 ft, was 20 ft\n")
}
