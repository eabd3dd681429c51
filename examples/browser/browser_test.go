//go:build !js

package main

import (
	"encoding/json"
	"fmt"
	"math"
	"net/http"
	"net/http/httptest"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"sync"
	"sync/atomic"
	"testing"
	"time"

	"example.com/momentarm/examples/internal/demo"
	"example.com/momentarm/examples/internal/headless"
	"example.com/momentarm/examples/internal/results"
)

// made is the page, made once for all tests.
var made = sync.OnceValues(build)

// open opens the page in a browser.
func open(t *testing.T) *headless.Tab {
	t.Helper()
	tab := headless.Open(t, "about:blank") // skips before anything is made
	page, err := made()
	if err != nil {
		t.Fatal(err)
	}
	if t.Logf("the page has %.1f MB", float64(len(page))/1e6); len(page) > 8e6 {
		t.Error("that is much to hand around")
	}
	tab.Go(headless.File(put(t, "browser.html", page), ""))
	return tab
}

func put(t *testing.T, name string, data []byte) string {
	t.Helper()
	file := filepath.Join(t.TempDir(), name)
	if err := os.WriteFile(file, data, 0o644); err != nil {
		t.Fatal(err)
	}
	return file
}

const state = `document.body.dataset.state`

// settle waits until the page has an answer and returns its state.
func settle(tab *headless.Tab) string {
	tab.Wait(state + ` !== "working"`)
	return tab.Eval(state)
}

// In a browser, from a file and without a server: the same figures as in the report,
// bad files told as text in place, nothing asked for from anywhere.
func TestInBrowser(t *testing.T) {
	tab := open(t)
	saved := t.TempDir()
	tab.SaveTo(saved)

	// A capture without a setup, then with a wrong one, then with its own.
	tab.Choose("#capture", put(t, "swing.c3d", demo.Capture))
	wrong := func(want ...string) {
		t.Helper()
		tab.Eval(`document.getElementById("make").click()`)
		if s := settle(tab); s != "wrong" {
			t.Fatalf("the page is %s", s)
		}
		said := tab.Eval(`document.getElementById("wrong").innerText`)
		for _, w := range want {
			if !strings.Contains(said, w) {
				t.Errorf("%q does not say %q", said, w)
			}
		}
		if strings.Contains(said, "\n") || strings.Contains(said, "goroutine") {
			t.Errorf("not one line: %q", said)
		}
		if shown := tab.Eval(`document.getElementById("shown").hidden`); shown != "true" {
			t.Error("a report is shown all the same")
		}
	}
	wrong("swing.c3d: needs a setup", "lab.target")
	tab.Choose("#setup", put(t, "bad.json", []byte(`{"version": 1, "<img src=x onerror=alert(1)>": 2}`)))
	wrong("bad.json: ", "<img src=x onerror=alert(1)>")
	name := `"Robin Halvik"`
	tab.Choose("#setup", put(t, "setup.json", []byte(strings.Replace(string(demo.Setup), name, `"<i>R.</i> <script>alert(2)</script>"`, 1))))
	tab.Eval(`document.getElementById("make").click()`)
	if s := settle(tab); s != "shown" {
		t.Fatalf("the page is %s: %s", s, tab.Eval(`document.getElementById("wrong").innerText`))
	}

	// The report within works: its script runs, its text is text, keys move it.
	tab.WaitFrame(`document.getElementById("control") && !document.getElementById("control").hidden`)
	if said := tab.EvalFrame(`document.querySelector("h1").textContent`); said != "<i>R.</i> <script>alert(2)</script>" {
		t.Errorf("the golfer is %q", said)
	}
	before := tab.EvalFrame(`document.getElementById("said").textContent`)
	tab.Press("ArrowRight")
	if after := tab.EvalFrame(`document.getElementById("said").textContent`); after == before {
		t.Error("the arrow keys do not move the instant")
	}

	// The figures are those of this machine's own program.
	j := demoFiles()
	native := work(j)
	tab.Eval(`document.querySelector("[data-save=json]").click()`)
	var here, there results.Results
	decode(t, native.json, &here)
	decode(t, waitFor(t, filepath.Join(saved, "swing.json")), &there)
	sameResults(t, here, there)
	tab.Eval(`document.querySelector("[data-save=html]").click()`)
	if page := string(waitFor(t, filepath.Join(saved, "swing.html"))); !strings.HasPrefix(page, "<!DOCTYPE html>") || !strings.HasSuffix(page, "</html>\n") {
		t.Error("what is saved is no whole page")
	}
	tab.Eval(`document.querySelector("[data-save=series]").click()`)
	if table := string(waitFor(t, filepath.Join(saved, "swing.csv"))); strings.Count(table, "\n") != strings.Count(string(native.series), "\n") {
		t.Error("what is saved is no whole table")
	}

	// And once more: a broken file after a good one, then the made-up swing.
	tab.Eval(`document.getElementById("again").click()`)
	tab.Choose("#capture", put(t, "cut.c3d", demo.Capture[:300]))
	wrong("cut.c3d: ", "byte")
	tab.Eval(`document.getElementById("demo").click()`)
	begun := time.Now()
	if s := settle(tab); s != "shown" {
		t.Fatalf("the page is %s", s)
	}
	t.Logf("a report takes %.1f s", time.Since(begun).Seconds())

	if c := tab.Complaints(); len(c) > 0 {
		t.Errorf("the browser complains: %q", c)
	}
	for _, r := range tab.Requests() {
		if !strings.HasPrefix(r, "file:") && !strings.HasPrefix(r, "blob:") && !strings.HasPrefix(r, "about:") && !strings.HasPrefix(r, "data:") {
			t.Errorf("asked for %s", r)
		}
	}
}

// A real capture of somebody who walks: no swing in it, which is said in a line.
func TestPublicCaptureInBrowser(t *testing.T) {
	dir := os.Getenv("GRF_DATASETS")
	if dir == "" {
		t.Skip("set GRF_DATASETS to a folder with the public data sets; see validation/doc.go")
	}
	tab := open(t)
	setup := put(t, "lab.json", []byte(`{"version": 1, "lab": {"target": "+x"}}`))
	for file, want := range map[string]string{
		"c3d/bmc/Gait.c3d":         "Gait.c3d: phase: no swing found",
		"c3d/others/MyCube.c3d":    "MyCube.c3d: capture: no usable force plate",
		"c3d/others/Empty.c3d":     "Empty.c3d: grf: no data: the file is empty",
		"c3d/sample15/FP1.C3D":     "FP1.C3D: capture: no usable force plate",
		"jump/GRFZjump.txt":        "GRFZjump.txt: table: line 1",
		"c3d/others/Analysis.c3d":  "Analysis.c3d: ",
		"c3d/sample01/Eb015pi.c3d": "lab.json: plates: ",
	} {
		tab.Choose("#setup", setup)
		tab.Choose("#capture", filepath.Join(dir, filepath.FromSlash(file)))
		tab.Eval(`document.getElementById("make").click()`)
		s := settle(tab)
		if said := tab.Eval(`document.getElementById("wrong").textContent`); s != "wrong" || !strings.HasPrefix(said, want) || strings.Contains(said, "\n") {
			t.Errorf("%s: %s, %q, want %q", file, s, said, want)
		}
	}
	if c := tab.Complaints(); len(c) > 0 {
		t.Errorf("the browser complains: %q", c)
	}
}

// What the page says about itself is so: whatever tries to connect is refused.
func TestPolicyInBrowser(t *testing.T) {
	var asked atomic.Int64
	server := httptest.NewServer(http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) { asked.Add(1) }))
	defer server.Close()
	tab := open(t)
	tab.Eval(`document.getElementById("demo").click()`)
	if s := settle(tab); s != "shown" {
		t.Fatal(s)
	}
	try := strings.ReplaceAll(`(function () {
		var at = "ADDRESS", put = function (name, key) { var e = document.createElement(name); e[key] = at + name; document.body.appendChild(e); };
		put("img", "src"); put("script", "src"); put("iframe", "src"); put("video", "src"); put("object", "data");
		var l = document.createElement("link"); l.rel = "stylesheet"; l.href = at + "link"; document.head.appendChild(l);
		try { navigator.sendBeacon(at + "beacon", "x"); } catch (e) {}
		try { new WebSocket(at.replace("http", "ws")); } catch (e) {}
		try { new EventSource(at + "events"); } catch (e) {}
		return fetch(at + "fetch", {mode: "no-cors"}).then(function () { return "got through"; }, function () { return "refused"; });
	})()`, "ADDRESS", server.URL+"/")
	for where, eval := range map[string]func(string) string{"page": tab.Eval, "report": tab.EvalFrame} {
		// awaited, so that what is started together has come or gone
		if got := eval(try); got != "refused" {
			t.Errorf("%s: fetch %s", where, got)
		}
	}
	time.Sleep(500 * time.Millisecond)
	if n := asked.Load(); n > 0 {
		t.Errorf("%d requests got through", n)
	}
	if len(tab.Complaints()) < 10 {
		t.Errorf("the browser refused less than was tried: %q", tab.Complaints())
	}
}

// An engine that can not run, or that stops for want of memory, is said as well, and
// the next job has a new one.
func TestBrokenEngineInBrowser(t *testing.T) {
	tab := open(t)
	demo := func() (state, said string) {
		tab.Eval(`document.getElementById("demo").click()`)
		return settle(tab), tab.Eval(`document.getElementById("wrong").textContent`)
	}
	tab.Eval(`self.kept = self.DecompressionStream, self.DecompressionStream = undefined`)
	if s, said := demo(); s != "wrong" || !strings.Contains(said, "too old") {
		t.Errorf("an old browser: %s, %q", s, said)
	}
	tab.Eval(`self.DecompressionStream = self.kept, self.kept = WebAssembly.instantiate,
		WebAssembly.instantiate = function () { return Promise.reject(new RangeError("out of memory")); }`)
	if s, said := demo(); s != "wrong" || !strings.Contains(said, "want of memory") || !strings.Contains(said, "cut the recording") {
		t.Errorf("no memory: %s, %q", s, said)
	}
	tab.Eval(`WebAssembly.instantiate = self.kept`)
	if s, said := demo(); s != "shown" {
		t.Errorf("after that: %s, %q", s, said)
	}
}

// Files that are dropped go where their kind belongs, and a setup can be written.
func TestDroppingInBrowser(t *testing.T) {
	tab := open(t)
	drop := func(names ...string) string {
		list, _ := json.Marshal(names)
		tab.Eval(`(function () {
			var d = new DataTransfer();
			` + string(list) + `.forEach(function (n) { d.items.add(new File(["x"], n)); });
			document.body.dispatchEvent(new DragEvent("drop", {dataTransfer: d, bubbles: true, cancelable: true}));
		})()`)
		return tab.Eval(`["capture", "setup", "others"].map(function (n) {
			return Array.from(document.getElementById(n).files, function (f) { return f.name; }).join("+");
		}).join(" ")`)
	}
	for _, c := range []struct{ drop, want string }{
		{"a.c3d", "a.c3d  "},
		{"s.json", "a.c3d s.json "},
		{"b.csv t.json", "b.csv t.json "},
		{"c.C3D com.csv u.JSON", "c.C3D u.JSON com.csv"},
		{"d.c3d e.c3d", "c.C3D u.JSON com.csv"}, // which is which?
	} {
		if got := drop(strings.Fields(c.drop)...); got != c.want {
			t.Errorf("after %s there are %q, want %q", c.drop, got, c.want)
		}
	}
	if said := tab.Eval(`document.getElementById("wrong").textContent`); !strings.Contains(said, "choose above which") {
		t.Errorf("two captures: %q", said)
	}

	tab.Eval(`document.getElementById("form").reset()`)
	tab.Choose("#capture", put(t, "swing.c3d", demo.Capture))
	tab.Eval(`document.getElementById("write").open = true`)
	tab.Eval(`document.getElementById("written").value = ` + strconv.Quote(strings.ReplaceAll(string(demo.Setup), "\n", " ")))
	tab.Eval(`document.getElementById("form").requestSubmit()`)
	if s := settle(tab); s != "shown" {
		t.Errorf("with a setup written on the page: %s", tab.Eval(`document.getElementById("wrong").textContent`))
	}
	tab.Eval(`document.getElementById("again").click()`)
	for name, size := range map[string]headless.Screen{"laptop": headless.Laptop, "phone": headless.Phone} {
		tab.Size(size)
		if wide := tab.Eval(`document.documentElement.scrollWidth - document.documentElement.clientWidth`); wide != "0" {
			t.Errorf("%s: the page is %s px wider than the window", name, wide)
		}
		if dir := os.Getenv("REPORT_PICTURES"); dir != "" {
			tab.Picture(filepath.Join(dir, "browser-"+name+".png"), headless.Whole)
			tab.Eval(`document.getElementById("demo").click()`)
			settle(tab)
			time.Sleep(500 * time.Millisecond)
			tab.Picture(filepath.Join(dir, "browser-"+name+"-shown.png"), headless.Window)
			tab.Eval(`document.getElementById("again").click()`)
		}
	}
}

func decode(t *testing.T, text []byte, to any) {
	t.Helper()
	if err := json.Unmarshal(text, to); err != nil {
		t.Fatal(err)
	}
}

// waitFor returns the content of a file once it is there.
func waitFor(t *testing.T, file string) []byte {
	t.Helper()
	for range 200 {
		if data, err := os.ReadFile(file); err == nil && len(data) > 0 {
			return data
		}
		time.Sleep(50 * time.Millisecond)
	}
	t.Fatalf("%s was not saved", filepath.Base(file))
	return nil
}

// sameResults compares what two machines computed. Products and sums round
// differently where a processor fuses them, and the filter has another kernel
// there, which is good to 1e-12; a quotient of differences loses a few digits more.
func sameResults(t *testing.T, a, b results.Results) {
	t.Helper()
	near := func(what string, x, y results.Value) {
		t.Helper()
		p, q := float64(x), float64(y)
		if math.IsNaN(p) != math.IsNaN(q) || math.Abs(p-q) > 1e-7*math.Max(1e-2, math.Abs(p)) {
			t.Errorf("%s is %v in the browser and %v here", what, q, p)
		}
	}
	near("body weight", a.BodyWeight, b.BodyWeight)
	if len(a.Measures) != len(b.Measures) || len(a.Events) != len(b.Events) || len(a.Measures) < 40 {
		t.Fatalf("%d measures and %d events, here %d and %d", len(b.Measures), len(b.Events), len(a.Measures), len(a.Events))
	}
	for i, m := range a.Measures {
		n := b.Measures[i]
		if m.Name != n.Name || m.Unit != n.Unit || m.Note != n.Note {
			t.Errorf("%+v and %+v", m, n)
		}
		near(m.Name, m.Value, n.Value)
		near("the deviation of "+m.Name, m.SD, n.SD)
	}
	for i, e := range a.Events {
		if e.Name != b.Events[i].Name || e.Source != b.Events[i].Source {
			t.Errorf("%+v and %+v", e, b.Events[i])
		}
		near(e.Name, e.Time, b.Events[i].Time)
	}
	if x, y := fmt.Sprint(a.Warnings), fmt.Sprint(b.Warnings); x != y {
		t.Errorf("%s and %s", x, y)
	}
}
