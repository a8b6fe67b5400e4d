package web

import (
	"container/list"
	"sync"
)

// memory keeps the values used last, up to a number of them. Values that are
// asked for by many at the same time are made once. It is safe for concurrent
// use.
type memory[K comparable, V any] struct {
	most int

	mu    sync.Mutex
	order *list.List // of *remembered, the last used first
	byKey map[K]*list.Element
}

type remembered[K comparable, V any] struct {
	key   K
	ready chan struct{} // closed when value and err are there
	value V
	err   error
}

func newMemory[K comparable, V any](most int) *memory[K, V] {
	return &memory[K, V]{most: most, order: list.New(), byKey: map[K]*list.Element{}}
}

// get returns the value of a key, made by work if it isn't there. Failures
// aren't kept: who waited for one tries it again.
func (m *memory[K, V]) get(key K, work func() (V, error)) (V, error) {
	for {
		m.mu.Lock()
		if e, ok := m.byKey[key]; ok {
			m.order.MoveToFront(e)
			m.mu.Unlock()
			r := e.Value.(*remembered[K, V])
			<-r.ready
			if r.err == nil {
				return r.value, nil
			}
			continue // forgotten by now
		}
		r := &remembered[K, V]{key: key, ready: make(chan struct{})}
		m.byKey[key] = m.order.PushFront(r)
		for m.order.Len() > m.most {
			last := m.order.Back()
			delete(m.byKey, last.Value.(*remembered[K, V]).key)
			m.order.Remove(last)
		}
		m.mu.Unlock()
		m.fill(r, work)
		return r.value, r.err
	}
}

// fill makes a value. A failure is forgotten before anyone is told, and so is
// a panic, which goes on.
func (m *memory[K, V]) fill(r *remembered[K, V], work func() (V, error)) {
	r.err = errNotMade
	defer close(r.ready)
	defer func() {
		if r.err == nil {
			return
		}
		m.mu.Lock()
		defer m.mu.Unlock()
		if e, ok := m.byKey[r.key]; ok && e.Value == any(r) {
			delete(m.byKey, r.key)
			m.order.Remove(e)
		}
	}()
	r.value, r.err = work()
}
