package web

import (
	"container/list"
	"net"
	"net/http"
	"sync"
)

// waiting bounds the connections of a server. Those without a request stand in
// a row; when there are too many in all, the first of the row is closed. So
// somebody who opens thousands and asks for nothing keeps nobody out.
type waiting struct {
	most int

	mu   sync.Mutex
	open map[net.Conn]*list.Element // nil while a request is answered
	row  *list.List                 // of net.Conn, the longest waiting first
}

func newWaiting(most int) *waiting {
	return &waiting{most: most, open: map[net.Conn]*list.Element{}, row: list.New()}
}

// note is told by the server what a connection does.
func (w *waiting) note(c net.Conn, state http.ConnState) {
	if first := w.change(c, state); first != nil {
		go func() { _ = first.Close() }() // TLS may take its time
	}
}

// change books the state, and returns the connection that has to go.
func (w *waiting) change(c net.Conn, state http.ConnState) net.Conn {
	w.mu.Lock()
	defer w.mu.Unlock()
	if place := w.open[c]; place != nil {
		w.row.Remove(place)
		w.open[c] = nil
	}
	switch state {
	case http.StateClosed, http.StateHijacked:
		delete(w.open, c)
	case http.StateActive:
		w.open[c] = nil
	case http.StateNew, http.StateIdle:
		w.open[c] = w.row.PushBack(c)
	}
	if len(w.open) <= w.most || w.row.Len() == 0 {
		return nil
	}
	first := w.row.Remove(w.row.Front()).(net.Conn)
	delete(w.open, first)
	return first
}
