package page

import (
	"context"
	"html"
	"math"
	"net/url"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
	"time"
)

// In a browser, the script puts in the numbers and drawings of the instant that
// the address names, written as this program writes them, and the policy of the
// page lets it.
func TestScriptInBrowser(t *testing.T) {
	if testing.Short() {
		t.Skip("starts a browser")
	}
	browser, err := exec.LookPath("chromium")
	if err != nil {
		t.Skip("no chromium on this machine")
	}
	s := demoSubject(t)
	g := newStage(s)
	f := newFrames(g, newInstant(g))
	want := f.Frames[len(f.Frames)/3]
	file := write(t, "page.html", []byte(pageOf(t, s)))

	ctx, cancel := context.WithTimeout(context.Background(), time.Minute)
	defer cancel()
	address := url.URL{Scheme: "file", Path: filepath.ToSlash(file), Fragment: "t=" + exact(want.Time)}
	dom, err := exec.CommandContext(ctx, browser, "--headless", "--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run",
		"--disable-background-networking", "--disable-component-update", "--disable-sync",
		"--user-data-dir="+t.TempDir(), "--dump-dom", address.String()).Output()
	if err != nil {
		t.Skipf("%s does not run here: %v", browser, err)
	}
	page := string(dom)
	if strings.Contains(page, `id="control" hidden`) {
		t.Fatal("the script did not run")
	}
	if !strings.Contains(text(page), want.Said) && !strings.Contains(text(page), strings.ReplaceAll(want.Said, nbsp, " ")) {
		t.Errorf("the page does not say %q", want.Said)
	}
	at := s.At(want.Time)
	shown := 0
	for _, m := range regexp.MustCompile(`data-(v|us|sd)="([^"]+)">([^<]*)<`).FindAllStringSubmatch(page, -1) {
		got := html.UnescapeString(m[3])
		for _, q := range quantities {
			if q.key != m[2] {
				continue
			}
			v := q.of(at)
			text := map[string]string{"v": si(v, q.unit), "us": us(v, q.unit), "sd": q.spread(at)}[m[1]]
			if got != text {
				t.Errorf("%s of %s is %q, want %q (%v)", m[1], q.key, got, text, v)
			}
			shown++
		}
	}
	if shown < 2*len(quantities) {
		t.Errorf("only %d values were looked at", shown)
	}
	for i, d := range want.Parts {
		if part := regexp.MustCompile(`d="([^"]*)" data-part="` + exact(float64(i)) + `"`).FindStringSubmatch(page); part == nil || part[1] != d {
			t.Errorf("part %d is not that of the instant", i)
		}
	}
	if c := regexp.MustCompile(`class="cursor"[^>]*translate\(([0-9.]+) 0\)`).FindStringSubmatch(page); c == nil {
		t.Error("no line at the instant in the charts")
	} else {
		x := scale{g.shown.From, g.shown.To, wideSize.left, wideSize.width - wideSize.right}
		if d := math.Abs(numbersIn(c[1])[0] - x.at(want.Time)); d > 0.06 {
			t.Errorf("the line in the chart is %v units off", d)
		}
	}
}
