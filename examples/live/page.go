package main

import (
	"embed"
	"encoding/json"
	"net"
	"net/http"
	"time"
)

//go:embed page.html page.css page.js
var files embed.FS

// heartbeat is how often a page hears something when there is nothing new, so that
// a lost connection shows.
const heartbeat = 10 * time.Second

// newServer returns the server of the page.
//
//	GET  /        the page, its style and script
//	GET  /events  views and swings as they come, as server-sent events
//	GET  /now     the last view and swing, and counts, as JSON
//	POST /zero    ask for the plates to be zeroed
//	POST /weigh   ask for the golfer to be weighed
func newServer(addr net.Addr, h *hub, e *engine) *http.Server {
	mux := http.NewServeMux()
	setup := encode(setupOf(e.config))
	for path, file := range map[string]struct{ name, kind string }{
		"GET /{$}":      {"page.html", "text/html; charset=utf-8"},
		"GET /page.css": {"page.css", "text/css; charset=utf-8"},
		"GET /page.js":  {"page.js", "text/javascript; charset=utf-8"},
	} {
		content, err := files.ReadFile(file.name)
		mux.HandleFunc(path, func(w http.ResponseWriter, r *http.Request) {
			if err != nil {
				http.Error(w, "not there", http.StatusInternalServerError)
				return
			}
			w.Header().Set("Content-Type", file.kind)
			_, _ = w.Write(content) // who hung up does not need it
		})
	}
	mux.HandleFunc("GET /events", func(w http.ResponseWriter, r *http.Request) { events(w, r, h, setup) })
	mux.HandleFunc("GET /now", func(w http.ResponseWriter, r *http.Request) {
		now, swing := h.last()
		w.Header().Set("Content-Type", "application/json")
		_, _ = w.Write(encode(struct {
			Now   json.RawMessage `json:"now"`
			Swing json.RawMessage `json:"swing"`
			Hub   hubCounts       `json:"hub"`
		}{now, swing, h.counts()}))
	})
	for path, what := range map[string]request{"POST /zero": zero, "POST /weigh": weigh} {
		mux.HandleFunc(path, func(w http.ResponseWriter, r *http.Request) {
			if !e.ask(what) {
				http.Error(w, "too many requests wait", http.StatusServiceUnavailable)
				return
			}
			w.WriteHeader(http.StatusAccepted)
		})
	}
	return &http.Server{
		Handler:           guard(namesOf(addr), mux),
		ReadHeaderTimeout: readTime,
		ReadTimeout:       readTime,
		WriteTimeout:      writeTime,
		IdleTimeout:       idleTime,
		MaxHeaderBytes:    maxHeader,
	}
}

// events sends views and swings until the page is closed. A page that does not take
// an event within the hub's patience is disconnected; it connects again by itself.
func events(w http.ResponseWriter, r *http.Request, h *hub, setup []byte) {
	v, ok := h.join()
	if !ok {
		w.Header().Set("Retry-After", "5")
		http.Error(w, "too many viewers", http.StatusServiceUnavailable)
		return
	}
	defer h.leave(v)
	w.Header().Set("Content-Type", "text/event-stream")
	out := http.NewResponseController(w)
	var buffer []byte
	send := func() bool {
		if err := out.SetWriteDeadline(time.Now().Add(h.patience)); err != nil {
			return false
		}
		if _, err := w.Write(buffer); err != nil {
			return false
		}
		buffer = buffer[:0]
		return out.Flush() == nil
	}
	buffer = message(append(buffer, "retry: 1000\n\n"...), "setup", setup)
	if !send() {
		return
	}
	var told uint64
	beat := time.NewTicker(heartbeat)
	defer beat.Stop()
	for {
		select {
		case <-r.Context().Done():
			return
		case <-beat.C:
			buffer = append(buffer, ": nothing new\n\n"...)
		case <-v.wake:
			now, swing, dropped := v.take()
			if swing != nil {
				buffer = message(buffer, "swing", swing)
			}
			if now != nil {
				buffer = message(buffer, "now", now)
			}
			if dropped != told {
				told = dropped
				buffer = message(buffer, "dropped", []byte(decimal(dropped)))
			}
		}
		if len(buffer) > 0 && !send() {
			return
		}
	}
}

// message appends a server-sent event whose data has no line break, as JSON has.
func message(dst []byte, name string, data []byte) []byte {
	dst = append(append(dst, "event: "...), name...)
	dst = append(append(dst, "\ndata: "...), data...)
	return append(dst, "\n\n"...)
}
