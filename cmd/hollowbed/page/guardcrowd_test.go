package page_test

import (
	"bufio"
	"context"
	"fmt"
	"net"
	"net/http"
	"strings"
	"sync"
	"sync/atomic"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// crowd sends many requests at once, until stop, and counts those turned away.
func crowd(t *testing.T, w *caller, n int, request func(ctx context.Context, i int) *http.Request) (turned func() int, stop func()) {
	t.Helper()
	ctx, cancel := context.WithCancel(t.Context())
	var all sync.WaitGroup
	var count atomic.Int32
	for i := range n {
		r := request(ctx, i)
		r.AddCookie(w.cookie)
		all.Go(func() {
			answer, err := w.client.Do(r)
			if err != nil {
				return
			}
			if answer.StatusCode == http.StatusServiceUnavailable {
				count.Add(1)
			}
			answer.Body.Close()
		})
	}
	return func() int { return int(count.Load()) }, func() { cancel(); all.Wait() }
}

// waits is a request that waits for news.
func (w *caller) waits(ctx context.Context, window string) *http.Request {
	r, err := http.NewRequestWithContext(ctx, "GET", w.base+w.root+"/api/state?after=1000000&window="+window, nil)
	require.NoError(w.t, err)
	return r
}

// More windows than there is room for are told so, those that wait keep nobody
// from asking, and room comes back.
func TestGuardCrowd(t *testing.T) {
	t.Parallel()
	w := call(t, smallGarden(t))
	w.placed()
	turned, stop := crowd(t, w, 80, func(ctx context.Context, i int) *http.Request { return w.waits(ctx, fmt.Sprint(i)) })
	defer stop()
	assert.Eventually(t, func() bool { return turned() >= 16 }, 20*time.Second, 20*time.Millisecond)
	status, text := w.ask("GET", "/api/progress", "")
	assert.Equal(t, http.StatusOK, status, string(text))
	stop()
	assert.Equal(t, 16, turned())
	assert.Eventually(t, func() bool { return w.letWait("another") }, 20*time.Second, 50*time.Millisecond)
}

// letWait says whether a window may wait for news: for old news, which are there.
func (w *caller) letWait(window string) bool {
	w.t.Helper()
	status, _ := w.ask("GET", "/api/state?after=0&window="+window, "")
	return status == http.StatusOK
}

// One window that waits over and over takes no other's place.
func TestGuardCrowdOfOneWindow(t *testing.T) {
	t.Parallel()
	w := call(t, smallGarden(t))
	w.placed()
	turned, stop := crowd(t, w, 80, func(ctx context.Context, _ int) *http.Request { return w.waits(ctx, "a") })
	defer stop()
	assert.Eventually(t, func() bool { return turned() == 76 }, 20*time.Second, 20*time.Millisecond)
	assert.False(t, w.letWait("a"))
	assert.True(t, w.letWait("b"))
	stop()
	assert.Eventually(t, func() bool { return w.letWait("a") }, 20*time.Second, 50*time.Millisecond)
}

// More at work than there is room for are told so, and room comes back.
func TestGuardCrowdAtWork(t *testing.T) {
	t.Parallel()
	w := call(t, smallGarden(t))
	w.placed()
	host := strings.TrimPrefix(w.base, "http://")
	var turned atomic.Int32
	var lines []net.Conn
	for range 80 {
		c, err := net.Dial("tcp", host)
		require.NoError(t, err)
		defer c.Close()
		lines = append(lines, c)
		_, err = fmt.Fprintf(c, "POST %s/api/place HTTP/1.1\r\nHost: %s\r\nCookie: %s=%s\r\nContent-Type: application/json\r\nContent-Length: 900000\r\n\r\n", w.root, host, w.cookie.Name, w.cookie.Value) // and the body never comes
		require.NoError(t, err)
		go func() {
			if line, _ := bufio.NewReader(c).ReadString('\n'); strings.Contains(line, "503") {
				turned.Add(1)
			}
		}()
	}
	assert.Eventually(t, func() bool { return turned.Load() == 16 }, 20*time.Second, 20*time.Millisecond)
	assert.True(t, w.letWait("a"), "those that wait have places of their own")
	for _, c := range lines {
		c.Close()
	}
	assert.Eventually(t, func() bool { s, _ := w.ask("GET", "/api/progress", ""); return s == http.StatusOK }, 20*time.Second, 50*time.Millisecond)
}
