package main

import (
	"bytes"
	"context"
	"io"
	"log"
	"net/http"
	"net/http/httptest"
	"net/http/httputil"
	"net/url"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"
	"time"
)

// In a browser, the page draws what comes: the golfer, the running curves and the
// last swing, within its own policy and without a complaint. LIVE_PICTURE names a
// file for a picture of it.
func TestPageInBrowser(t *testing.T) {
	if testing.Short() {
		t.Skip("starts a browser")
	}
	browser, err := exec.LookPath("chromium")
	if err != nil {
		t.Skip("no chromium on this machine")
	}
	page := startProgram(t, settings{device: startDevice(t, 4), stature: 1.78})
	// The golfer after a swing: standing, weighed.
	within(t, 60*time.Second, "a swing", func() bool { return now(t, page).Swing != nil })
	within(t, 60*time.Second, "a golfer", func() bool { return now(t, page).Now.State == "ready" })

	page = lingering(t, page)
	dom, complaints := browse(t, browser, page, "--dump-dom")
	if m := regexp.MustCompile(`<body data-views="(\d+)"`).FindStringSubmatch(dom); m == nil {
		t.Fatalf("the script drew nothing: %s", complaints)
	} else if n, err := strconv.Atoi(m[1]); err != nil || n < 2 {
		t.Errorf("the script drew %s views", m[1])
	}
	for _, want := range []string{
		`id="swing" data-number="`, "peak frontal torque", "lead foot's share of the load at impact", "lowest vertical force",
		`class="at impact"`, `id="plates"><path class="plate" d="M`, ` samples came, 0 were lost`,
	} {
		if !strings.Contains(dom, want) {
			t.Errorf("the page lacks %q", want)
		}
	}
	if n := strings.Count(dom, `class="plate"`); n != 2 {
		t.Errorf("%d plates are drawn", n)
	}
	for id, n := range map[string]int{"strip": 2, "curves": 4} { // curves in the chart
		part := dom[strings.Index(dom, `id="`+id+`"`):]
		part = part[:strings.Index(part, "</svg>")]
		if got := len(regexp.MustCompile(`<path class="(lead|trail|frontal|axial)" d="M[^"]*L`).FindAllString(part, -1)); got < n {
			t.Errorf("%d curves in %s", got, id)
		}
		if strings.Contains(part, "NaN") {
			t.Errorf("NaN in %s", id)
		}
	}
	for _, bad := range []string{"undefined", ">NaN", "NaN ", "null"} {
		if strings.Contains(dom, bad) {
			t.Errorf("the page says %q", bad)
		}
	}
	if strings.Contains(complaints, "CONSOLE") {
		t.Errorf("the browser complains: %s", complaints)
	}
	if file := os.Getenv("LIVE_PICTURE"); file != "" {
		if file, err = filepath.Abs(file); err != nil {
			t.Fatal(err)
		}
		browse(t, browser, page, "--window-size=1180,1560", "--screenshot="+file)
		browse(t, browser, page, "--window-size=500,2400", "--screenshot="+file+".narrow.png")
	}
}

// lingering returns the address of the same page with one more script, which takes
// two seconds to load: a browser that is told to write down a page does so once it
// is loaded, and a live page has to live first.
func lingering(t *testing.T, page string) string {
	t.Helper()
	target, err := url.Parse(page)
	if err != nil {
		t.Fatal(err)
	}
	proxy := &httputil.ReverseProxy{
		Rewrite: func(r *httputil.ProxyRequest) { r.SetURL(target) },
		ModifyResponse: func(r *http.Response) error {
			if r.Request.URL.Path != "/" {
				return nil
			}
			b, err := io.ReadAll(r.Body)
			if err != nil {
				return err
			}
			b = bytes.Replace(b, []byte("</head>"), []byte(`<script async src="linger.js"></script></head>`), 1)
			r.Body, r.ContentLength = io.NopCloser(bytes.NewReader(b)), int64(len(b))
			r.Header.Del("Content-Length")
			return nil
		},
		ErrorLog: log.New(io.Discard, "", 0), // a browser that leaves is no error
	}
	mux := http.NewServeMux()
	mux.Handle("/", proxy)
	mux.HandleFunc("/linger.js", func(w http.ResponseWriter, r *http.Request) {
		time.Sleep(2 * time.Second)
		w.Header().Set("Content-Type", "text/javascript")
	})
	s := httptest.NewServer(mux)
	t.Cleanup(s.CloseClientConnections)
	t.Cleanup(s.Close)
	return s.URL + "/"
}

// browse opens a page and returns what the browser
// writes. A browser that does not run here skips the test.
func browse(t *testing.T, browser, page string, args ...string) (out, errs string) {
	t.Helper()
	ctx, cancel := context.WithTimeout(context.Background(), 90*time.Second)
	defer cancel()
	cmd := exec.CommandContext(ctx, browser, append([]string{"--headless", "--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run",
		"--disable-background-networking", "--disable-component-update", "--disable-sync", "--enable-logging=stderr",
		"--user-data-dir=" + t.TempDir()}, append(args, page)...)...)
	var said, complained strings.Builder
	cmd.Stdout, cmd.Stderr = &said, &complained
	if err := cmd.Run(); err != nil {
		t.Skipf("%s does not run here: %v: %.300s", browser, err, complained.String())
	}
	return said.String(), complained.String()
}
