package main

import (
	"net"
	"net/http"
	"net/url"
	"strings"
	"sync"
	"time"
)

// Bounds on what a client may do.
const (
	maxConnections = 512
	maxHeader      = 8 << 10
	maxBody        = 1 << 10
	readTime       = 5 * time.Second
	writeTime      = 10 * time.Second
	idleTime       = 60 * time.Second
	sendBuffer     = 32 << 10 // of the connection: views of a second or so
)

// policy lets the page load its own script and style and talk to its own server,
// and nothing else.
const policy = "default-src 'none'; script-src 'self'; style-src 'self'; img-src data:; connect-src 'self'; base-uri 'none'; form-action 'none'; frame-ancestors 'none'"

// headers go with every answer.
var headers = map[string]string{
	"Content-Security-Policy":      policy,
	"X-Content-Type-Options":       "nosniff",
	"X-Frame-Options":              "DENY",
	"Referrer-Policy":              "no-referrer",
	"Cross-Origin-Opener-Policy":   "same-origin",
	"Cross-Origin-Resource-Policy": "same-origin",
	"Permissions-Policy":           "camera=(), microphone=(), geolocation=()",
	"Cache-Control":                "no-store",
}

// guard lets only those requests through that were meant for this server and come
// from its own page, and puts the headers on every answer. The name check keeps
// other sites from reaching a loopback address under a name of theirs (DNS
// rebinding), the origin check keeps their pages from asking for anything.
func guard(names map[string]bool, next http.Handler) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		for name, value := range headers {
			w.Header().Set(name, value)
		}
		switch {
		case !names[strings.ToLower(r.Host)]:
			http.Error(w, "this server has another name", http.StatusMisdirectedRequest)
		case !ownOrigin(r):
			http.Error(w, "only this server's own page may ask", http.StatusForbidden)
		case r.ContentLength > maxBody:
			w.Header().Set("Connection", "close") // do not wait for the rest
			http.Error(w, "too long", http.StatusRequestEntityTooLarge)
		default:
			r.Body = http.MaxBytesReader(w, r.Body, maxBody)
			next.ServeHTTP(w, r)
		}
	})
}

// ownOrigin reports whether a request comes from this server's page, or from the
// user (an address typed in). A request that changes something has to say where it
// comes from.
func ownOrigin(r *http.Request) bool {
	if origin := r.Header.Get("Origin"); origin != "" {
		u, err := url.Parse(origin)
		return err == nil && u.Scheme == "http" && strings.EqualFold(u.Host, r.Host)
	}
	switch r.Header.Get("Sec-Fetch-Site") {
	case "", "same-origin", "none":
		return r.Method == http.MethodGet || r.Method == http.MethodHead
	}
	return false
}

// namesOf returns the values of Host that mean this server: the address that it
// listens on and, of a loopback address or none in particular, the local names.
func namesOf(addr net.Addr) map[string]bool {
	host, port, err := net.SplitHostPort(addr.String())
	if err != nil {
		return map[string]bool{addr.String(): true}
	}
	names := map[string]bool{net.JoinHostPort(host, port): true}
	if ip := net.ParseIP(host); ip == nil || ip.IsLoopback() || ip.IsUnspecified() {
		for _, name := range []string{"localhost", "127.0.0.1", "::1"} {
			names[net.JoinHostPort(name, port)] = true
			if port == "80" {
				names[name] = true
			}
		}
	}
	return names
}

// bounded returns a listener that has at most n connections open at once; more wait
// to be accepted. Each has a small send buffer, so that a slow page falls behind by
// a second and not by a minute.
func bounded(l net.Listener, n int) net.Listener {
	return &boundedListener{Listener: l, room: make(chan struct{}, n), done: make(chan struct{})}
}

type boundedListener struct {
	net.Listener
	room chan struct{}
	done chan struct{}
	once sync.Once
}

// Accept waits for a connection that there is room for.
func (l *boundedListener) Accept() (net.Conn, error) {
	select {
	case l.room <- struct{}{}:
	case <-l.done:
		return nil, net.ErrClosed
	}
	c, err := l.Listener.Accept()
	if err != nil {
		<-l.room
		return nil, err
	}
	if tcp, ok := c.(*net.TCPConn); ok {
		_ = tcp.SetWriteBuffer(sendBuffer) // a larger one does no harm
	}
	return &boundedConn{Conn: c, free: func() { <-l.room }}, nil
}

// Close also ends the waiting for room.
func (l *boundedListener) Close() error {
	l.once.Do(func() { close(l.done) })
	return l.Listener.Close()
}

type boundedConn struct {
	net.Conn
	once sync.Once
	free func()
}

// Close also gives the room back, once.
func (c *boundedConn) Close() error {
	c.once.Do(c.free)
	return c.Conn.Close()
}
