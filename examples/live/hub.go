package main

import (
	"context"
	"sync"
	"time"
)

// hub hands views and swings to the viewers. It waits for none of them: each has
// one place for the view and one for the swing that it has not taken yet, and the
// newer takes the place of the older.
type hub struct {
	most     int
	patience time.Duration // with a page that does not take what it is sent

	mu      sync.Mutex
	viewers map[*viewer]bool
	now     []byte // the last view, for those who come later
	swing   []byte // the last swing
	refused uint64 // viewers for whom there was no room
	dropped uint64 // views that were replaced before they were taken
	relayed uint64 // views that came
}

// viewer is one open page. wake holds at most one signal that there is news.
type viewer struct {
	wake chan struct{}

	mu         sync.Mutex
	now, swing []byte
	dropped    uint64
}

func newHub(most int) *hub {
	return &hub{most: most, patience: writeTime, viewers: make(map[*viewer]bool)}
}

// relay publishes views as they come, until ctx is done.
func (h *hub) relay(ctx context.Context, views <-chan view) {
	for {
		select {
		case <-ctx.Done():
			return
		case v := <-views:
			h.publish(encode(v))
		}
	}
}

// join returns a new viewer, who gets the last view and swing at once, and false
// when there is no room.
func (h *hub) join() (*viewer, bool) {
	h.mu.Lock()
	defer h.mu.Unlock()
	if len(h.viewers) >= h.most {
		h.refused++
		return nil, false
	}
	v := &viewer{wake: make(chan struct{}, 1)}
	h.viewers[v] = true
	v.put(h.now, h.swing)
	return v, true
}

func (h *hub) leave(v *viewer) {
	h.mu.Lock()
	defer h.mu.Unlock()
	delete(h.viewers, v)
}

func (h *hub) publish(now []byte) {
	h.mu.Lock()
	defer h.mu.Unlock()
	h.now = now
	h.relayed++
	for v := range h.viewers {
		if v.put(now, nil) {
			h.dropped++
		}
	}
}

func (h *hub) publishSwing(swing []byte) {
	h.mu.Lock()
	defer h.mu.Unlock()
	h.swing = swing
	for v := range h.viewers {
		v.put(nil, swing)
	}
}

// put leaves what is not nil for the viewer, and reports whether a view took the
// place of one that was not taken.
func (v *viewer) put(now, swing []byte) (replaced bool) {
	v.mu.Lock()
	if now != nil {
		replaced = v.now != nil
		v.now = now
	}
	if replaced {
		v.dropped++
	}
	if swing != nil {
		v.swing = swing
	}
	v.mu.Unlock()
	select {
	case v.wake <- struct{}{}:
	default:
	}
	return replaced
}

// take returns what there is for the viewer, nil for nothing, and how many views
// it has missed.
func (v *viewer) take() (now, swing []byte, dropped uint64) {
	v.mu.Lock()
	defer v.mu.Unlock()
	now, swing, dropped = v.now, v.swing, v.dropped
	v.now, v.swing = nil, nil
	return now, swing, dropped
}

// hubCounts say how the hub is doing.
type hubCounts struct {
	Viewers int    `json:"viewers"`
	Refused uint64 `json:"refused"`
	Dropped uint64 `json:"dropped"`
	Relayed uint64 `json:"relayed"`
}

func (h *hub) counts() hubCounts {
	h.mu.Lock()
	defer h.mu.Unlock()
	return hubCounts{len(h.viewers), h.refused, h.dropped, h.relayed}
}

// last returns the last view and swing.
func (h *hub) last() (now, swing []byte) {
	h.mu.Lock()
	defer h.mu.Unlock()
	return h.now, h.swing
}
