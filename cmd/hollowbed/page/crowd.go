package page

import (
	"net/http"
	"sync"
)

// crowd bounds the requests at work and, apart from them, those that wait for
// news, so that windows that wait never keep others from asking.
type crowd struct {
	mu      sync.Mutex
	atWork  int
	waiting map[string]int // by window
	waits   int            // sum of waiting
}

const (
	mostAtWork      = 64
	mostWaiting     = 64 // of all windows
	mostOfOneWindow = 4  // that wait: one, and those it has left behind
)

func newCrowd() *crowd { return &crowd{waiting: map[string]int{}} }

// enter takes a place for a request until leave, or refuses it.
func (c *crowd) enter(root string, r *http.Request) (leave func(), refused *failure) {
	c.mu.Lock()
	defer c.mu.Unlock()
	asked := r.URL.Query()
	if r.URL.Path != root+"/api/state" || asked.Get("after") == "" {
		if c.atWork == mostAtWork {
			return nil, crowded("Too many requests at once: close some windows of this page.")
		}
		c.atWork++
		return func() { c.with(func() { c.atWork-- }) }, nil
	}
	window := asked.Get("window")
	switch {
	case c.waiting[window] == mostOfOneWindow:
		return nil, crowded("This window waits for news already.")
	case c.waits == mostWaiting:
		return nil, crowded("Too many windows wait for news: close some of this page.")
	}
	c.waits++
	c.waiting[window]++
	return func() {
		c.with(func() {
			c.waits--
			if c.waiting[window]--; c.waiting[window] == 0 {
				delete(c.waiting, window)
			}
		})
	}, nil
}

func (c *crowd) with(do func()) {
	c.mu.Lock()
	defer c.mu.Unlock()
	do()
}

func crowded(words string) *failure {
	return &failure{status: http.StatusServiceUnavailable, Words: words}
}
