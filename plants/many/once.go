package many

import (
	"container/list"
	"errors"
	"sync"
)

// once makes things by key, each one time for all who ask for it, and keeps
// the last few that were asked for. It may be used by several goroutines.
type once[V any] struct {
	keep int

	mu    sync.Mutex
	byKey map[string]*list.Element // of *made[V]
	order *list.List               // asked for last at the front
	count int                      // things made, for tests
}

type made[V any] struct {
	key   string
	ready chan struct{}
	value V
	err   error
}

// get returns what make gives for the key. An error is kept as well.
func (o *once[V]) get(key string, make func() (V, error)) (V, error) {
	o.mu.Lock()
	if o.byKey == nil {
		o.byKey, o.order = map[string]*list.Element{}, list.New()
	}
	if at, ok := o.byKey[key]; ok {
		o.order.MoveToFront(at)
		o.mu.Unlock()
		m := at.Value.(*made[V])
		<-m.ready
		return m.value, m.err
	}
	m := &made[V]{key: key, ready: signal()}
	o.byKey[key] = o.order.PushFront(m)
	if o.order.Len() > o.keep {
		delete(o.byKey, o.order.Remove(o.order.Back()).(*made[V]).key)
	}
	o.count++
	o.mu.Unlock()
	defer close(m.ready)
	m.err = errBroken // should make panic, nobody takes nothing for a value
	m.value, m.err = make()
	return m.value, m.err
}

func signal() chan struct{} { return make(chan struct{}) }

var errBroken = errors.New("it could not be made; the mistake is the program's")
