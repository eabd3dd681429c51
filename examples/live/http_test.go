package main

import (
	"bufio"
	"context"
	"fmt"
	"io"
	"net"
	"net/http"
	"strings"
	"testing"
	"time"

	"example.com/momentarm/phase/live"
)

// startServer serves the page of a hub that the test feeds.
func startServer(t testing.TB, h *hub) (address string, e *engine) {
	t.Helper()
	config := theDevice(t).Config()
	chain, err := live.New(config)
	if err != nil {
		t.Fatal(err)
	}
	e = newEngine(chain, config)
	l := listen(t)
	ctx, cancel := context.WithCancel(context.Background())
	done := make(chan error, 1)
	s := newServer(l.Addr(), h, e)
	s.ReadTimeout = 300 * time.Millisecond // so that tests need not wait long
	go func() { done <- serveHTTP(ctx, l, s) }()
	t.Cleanup(func() {
		cancel()
		if err := <-done; err != nil {
			t.Error(err)
		}
	})
	return l.Addr().String(), e
}

// ask sends one request word for word and returns the answer.
func ask(t testing.TB, address, request string) *http.Response {
	t.Helper()
	c, err := net.Dial("tcp", address)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { c.Close() })
	if err := c.SetDeadline(time.Now().Add(20 * time.Second)); err != nil {
		t.Fatal(err)
	}
	if _, err := io.WriteString(c, request); err != nil {
		t.Fatal(err)
	}
	r, err := http.ReadResponse(bufio.NewReader(c), nil)
	if err != nil {
		t.Fatalf("%.60q: %v", request, err)
	}
	return r // the connection is closed, which ends the body
}

func TestWhoMayAsk(t *testing.T) {
	address, e := startServer(t, newHub(4))
	_, port, err := net.SplitHostPort(address)
	if err != nil {
		t.Fatal(err)
	}
	own := "Origin: http://" + address + "\r\n"
	for _, c := range []struct {
		name, method, path, host, more string
		want                           int
	}{
		{"the page", "GET", "/", address, "", 200},
		{"its style", "GET", "/page.css", address, "", 200},
		{"its script", "GET", "/page.js", address, "Sec-Fetch-Site: same-origin\r\n", 200},
		{"the events", "GET", "/events", address, own, 200},
		{"the last view", "GET", "/now", address, "", 200},
		{"typed in", "GET", "/", "localhost:" + port, "Sec-Fetch-Site: none\r\n", 200},
		{"capitals", "GET", "/", "LocalHost:" + port, "", 200},
		{"by IPv6", "GET", "/", "[::1]:" + port, "", 200},
		{"head only", "HEAD", "/", address, "", 200},
		{"a request", "POST", "/zero", address, own, 202},
		{"a request by another own name", "POST", "/weigh", "localhost:" + port, "Origin: http://localhost:" + port + "\r\n", 202},

		{"another name", "GET", "/", "example.org:" + port, "", 421},
		{"another name without a port", "GET", "/", "example.org", "", 421},
		{"another port", "GET", "/", "127.0.0.1:1", "", 421},
		{"no name", "GET", "/now", "", "", 421},
		{"a name that begins alike", "GET", "/", "127.0.0.1." + address, "", 421},
		{"from another site", "GET", "/events", address, "Origin: http://example.org\r\n", 403},
		{"from a file", "GET", "/events", address, "Origin: null\r\n", 403},
		{"from another port", "GET", "/now", address, "Origin: http://127.0.0.1:1\r\n", 403},
		{"by another scheme", "POST", "/zero", address, "Origin: https://" + address + "\r\n", 403},
		{"from a link elsewhere", "GET", "/now", address, "Sec-Fetch-Site: cross-site\r\n", 403},
		{"a request from another site", "POST", "/zero", address, "Origin: http://example.org\r\n", 403},
		{"a request from nowhere", "POST", "/zero", address, "", 403},
		{"a request from nowhere that calls itself same-origin", "POST", "/zero", address, "Sec-Fetch-Site: same-origin\r\n", 403},

		{"reading a request", "GET", "/zero", address, "", 405},
		{"writing the page", "PUT", "/", address, own, 405},
		{"something else", "GET", "/etc/passwd", address, "", 404},
		{"upwards", "GET", "/../run.go", address, "", 404},
		{"a long body", "POST", "/zero", address, own + "Content-Length: 2000\r\n", 413},
		{"a long address", "GET", "/" + strings.Repeat("x", 20_000), address, "", 431},
		{"long headers", "GET", "/", address, "X-Long: " + strings.Repeat("x", 20_000) + "\r\n", 431},
		{"nonsense", "GET", "/ HTTP/1.1\r\nbroken", address, "", 400},
	} {
		r := ask(t, address, fmt.Sprintf("%s %s HTTP/1.1\r\nHost: %s\r\n%s\r\n", c.method, c.path, c.host, c.more))
		if got := r.StatusCode; got != c.want && !(c.name == "upwards" && (got == 301 || got == 307 || got == 404)) {
			t.Errorf("%s: status %d, want %d", c.name, got, c.want)
		}
		if c.want == 431 || c.want == 400 {
			continue // answered before anybody looks at the request
		}
		for name, value := range headers {
			if got := r.Header.Get(name); got != value {
				t.Errorf("%s: header %s is %q", c.name, name, got)
			}
		}
	}
	// Two requests were let through; four have room.
	if n := len(e.requests); n != 2 {
		t.Errorf("%d requests came to the engine", n)
	}
	for want := range []int{202, 202, 503} {
		r := ask(t, address, fmt.Sprintf("POST /zero HTTP/1.1\r\nHost: %s\r\n%s\r\n", address, own))
		if want := []int{202, 202, 503}[want]; r.StatusCode != want {
			t.Errorf("status %d, want %d", r.StatusCode, want)
		}
	}
}

func TestNames(t *testing.T) {
	for addr, want := range map[string]string{
		"127.0.0.1:80":     "localhost",
		"127.0.0.1:8080":   "localhost:8080",
		"[::1]:8080":       "127.0.0.1:8080",
		"[::]:8080":        "localhost:8080",
		"192.168.7.9:8080": "192.168.7.9:8080",
	} {
		tcp, err := net.ResolveTCPAddr("tcp", addr)
		if err != nil {
			t.Fatal(err)
		}
		if names := namesOf(tcp); !names[want] || names["example.org:8080"] {
			t.Errorf("%s: %v", addr, names)
		}
	}
	lan, err := net.ResolveTCPAddr("tcp", "192.168.7.9:8080")
	if err != nil {
		t.Fatal(err)
	}
	if names := namesOf(lan); len(names) != 1 {
		t.Errorf("a network address is called %v", names)
	}
	if names := namesOf(&net.UnixAddr{Name: "/x"}); !names["/x"] {
		t.Error(names)
	}
}

// Viewers for whom there is no room are told so, and there is room again when one
// leaves.
func TestTooManyViewers(t *testing.T) {
	h := newHub(2)
	address, _ := startServer(t, h)
	request := "GET /events HTTP/1.1\r\nHost: " + address + "\r\n\r\n"
	first, err := net.Dial("tcp", address)
	if err != nil {
		t.Fatal(err)
	}
	defer first.Close()
	if _, err := io.WriteString(first, request); err != nil {
		t.Fatal(err)
	}
	ask(t, address, request)
	within(t, 5*time.Second, "two viewers", func() bool { return h.counts().Viewers == 2 })
	if r := ask(t, address, request); r.StatusCode != 503 || r.Header.Get("Retry-After") == "" {
		t.Errorf("status %d", r.StatusCode)
	}
	if c := h.counts(); c.Refused != 1 {
		t.Errorf("%+v", c)
	}
	first.Close()
	within(t, 5*time.Second, "one viewer", func() bool { return h.counts().Viewers == 1 })
	if r := ask(t, address, request); r.StatusCode != 200 {
		t.Errorf("status %d", r.StatusCode)
	}
}

// A connection beyond the bound waits until another ends, and takes nothing but a
// place in the queue.
func TestBoundedConnections(t *testing.T) {
	l := bounded(listen(t), 2)
	accepted := make(chan net.Conn, 10)
	go func() {
		for {
			c, err := l.Accept()
			if err != nil {
				close(accepted)
				return
			}
			accepted <- c
		}
	}()
	for range 3 {
		c, err := net.Dial("tcp", l.Addr().String())
		if err != nil {
			t.Fatal(err)
		}
		defer c.Close()
	}
	a, b := <-accepted, <-accepted
	select {
	case <-accepted:
		t.Fatal("a third connection was accepted")
	case <-time.After(100 * time.Millisecond):
	}
	a.Close()
	a.Close() // twice frees one place
	select {
	case c := <-accepted:
		defer c.Close()
	case <-time.After(5 * time.Second):
		t.Fatal("the third connection was not accepted after the first was closed")
	}
	// Closing ends an Accept that waits for room.
	l.Close()
	select {
	case _, open := <-accepted:
		if open {
			t.Error("accepted after closing")
		}
	case <-time.After(5 * time.Second):
		t.Error("Accept still waits")
	}
	b.Close()
}

// A page that does not read is waited for by nobody: views are replaced and
// counted, and after a while it is disconnected.
func TestSlowPage(t *testing.T) {
	h := newHub(10)
	h.patience = 500 * time.Millisecond
	address, _ := startServer(t, h)
	slow, err := net.Dial("tcp", address)
	if err != nil {
		t.Fatal(err)
	}
	defer slow.Close()
	if err := slow.(*net.TCPConn).SetReadBuffer(4096); err != nil {
		t.Fatal(err)
	}
	if _, err := io.WriteString(slow, "GET /events HTTP/1.1\r\nHost: "+address+"\r\n\r\n"); err != nil {
		t.Fatal(err)
	}
	fast := ask(t, address, "GET /events HTTP/1.1\r\nHost: "+address+"\r\n\r\n")
	within(t, 5*time.Second, "two viewers", func() bool { return h.counts().Viewers == 2 })

	seen := make(chan string, 10_000)
	go func() {
		_ = stream(bufio.NewReader(fast.Body), func(name, data string) {
			if name == "now" {
				seen <- data[:5]
			}
		})
	}()
	long := strings.Repeat("x", 4000)
	var slowest time.Duration
	for i := range 2000 {
		begun := time.Now()
		h.publish([]byte(fmt.Sprintf("%05d%s", i, long)))
		slowest = max(slowest, time.Since(begun))
		if i%10 == 9 {
			time.Sleep(time.Millisecond)
		}
	}
	if slowest > time.Second {
		t.Errorf("publishing took up to %v", slowest)
	}
	// The fast page has the last view, whatever it missed.
	for last := ""; last != "01999"; {
		select {
		case last = <-seen:
		case <-time.After(10 * time.Second):
			t.Fatal("the last view did not come")
		}
	}
	if c := h.counts(); c.Dropped < 1000 || c.Relayed != 2000 {
		t.Errorf("%+v", c)
	}
	within(t, 20*time.Second, "the slow page is disconnected", func() bool { return h.counts().Viewers == 1 })
}

// The time that a request may take does not end a page that stays.
func TestPageStays(t *testing.T) {
	h := newHub(10)
	address, _ := startServer(t, h)
	r := ask(t, address, "GET /events HTTP/1.1\r\nHost: "+address+"\r\n\r\n")
	within(t, 5*time.Second, "a viewer", func() bool { return h.counts().Viewers == 1 })
	time.Sleep(time.Second) // several times what a request may take
	h.publish([]byte(`{"t":9}`))
	got := make(chan string, 4)
	go func() {
		_ = stream(bufio.NewReader(r.Body), func(name, data string) {
			if name == "now" {
				got <- data
			}
		})
	}()
	select {
	case data := <-got:
		if data != `{"t":9}` {
			t.Error(data)
		}
	case <-time.After(5 * time.Second):
		t.Error("the page hears nothing any more")
	}
}

// A page that comes late gets the last view and swing at once, and hears how many
// views it missed.
func TestLateAndForgetfulPage(t *testing.T) {
	h := newHub(10)
	h.publish([]byte(`{"t":1}`))
	h.publishSwing([]byte(`{"number":7}`))
	v, ok := h.join()
	if !ok {
		t.Fatal("no room")
	}
	<-v.wake
	now, swing, dropped := v.take()
	if string(now) != `{"t":1}` || string(swing) != `{"number":7}` || dropped != 0 {
		t.Errorf("%s, %s, %d", now, swing, dropped)
	}
	for range 5 {
		h.publish([]byte(`{"t":2}`))
	}
	h.publishSwing([]byte(`{"number":8}`))
	<-v.wake
	if now, swing, dropped := v.take(); string(now) != `{"t":2}` || string(swing) != `{"number":8}` || dropped != 4 {
		t.Errorf("%s, %s, %d", now, swing, dropped)
	}
	select {
	case <-v.wake:
		t.Error("woken for nothing")
	default:
	}
	h.leave(v)
	h.publish([]byte(`{"t":3}`))
	if now, _, _ := v.take(); now != nil || h.counts().Viewers != 0 {
		t.Error("a viewer who left gets views")
	}
}

// The bytes of the stream, as the standard has them (WHATWG HTML, section 9.2,
// server-sent events).
func TestMessages(t *testing.T) {
	got := string(message([]byte("retry: 1000\n\n"), "now", []byte(`{"a":null}`)))
	if want := "retry: 1000\n\nevent: now\ndata: {\"a\":null}\n\n"; got != want {
		t.Errorf("%q", got)
	}
}
