package main

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"example.com/momentarm/examples/internal/headless"
)

// picture keeps what a page looks like when LIVE_PICTURES names a folder.
func picture(p *headless.Tab, name string) {
	dir := os.Getenv("LIVE_PICTURES")
	if dir == "" {
		return
	}
	p.Size(headless.Laptop)
	p.Picture(filepath.Join(dir, name+"-laptop.png"), headless.Whole)
	p.Size(headless.Phone)
	time.Sleep(300 * time.Millisecond) // the page draws itself anew
	p.Picture(filepath.Join(dir, name+"-phone.png"), headless.Whole)
	p.Size(headless.Laptop)
}

const (
	// seen lists what the page writes where numbers go.
	seen = `["frontal", "armlong", "axial", "vertical", "share-lead", "share-trail"].map((id) => document.getElementById(id).textContent).join(" ")`
	// drawn lists which forces and marks are visible.
	drawn = `[...document.querySelectorAll("#stage [id]")].filter((e) => e.getAttribute("visibility") === "visible").map((e) => e.id).join(" ")`
	bar   = `[...document.querySelectorAll("#bar .part")].filter((e) => e.getAttribute("visibility") !== "hidden").length`
)

// Without a device the page says so, and shows no number for what is not known.
func TestPageWithoutDevice(t *testing.T) {
	if testing.Short() {
		t.Skip("starts a browser")
	}
	l := listen(t)
	address := l.Addr().String()
	l.Close()
	p := headless.Open(t, startProgram(t, settings{device: address}))
	p.Wait(`document.getElementById("trouble").textContent.includes("no device")`)
	p.Wait(`!document.getElementById("trouble").hidden`)
	if got := p.Eval(seen); strings.Trim(got, "– ") != "" {
		t.Errorf("without a device the page shows %q", got)
	}
	if got := p.Eval(drawn); got != "empty" {
		t.Errorf("without a device the page draws %q", got)
	}
	if got := p.Eval(bar); got != "0" {
		t.Errorf("%s parts of the bar of load shares are drawn", got)
	}
	picture(p, "no-device")
	if c := p.Complaints(); len(c) > 0 {
		t.Errorf("the browser complains: %q", c)
	}
}

// A person who has only a keyboard can zero and weigh, and is told what comes of it.
func TestPageByKeyboard(t *testing.T) {
	if testing.Short() {
		t.Skip("starts a browser")
	}
	url := startProgram(t, settings{device: startDevice(t, 2), stature: 1.78})
	within(t, 60*time.Second, "a golfer", func() bool { return now(t, url).Now.State == "ready" })
	p := headless.Open(t, url)
	p.Wait(`document.getElementById("frontal").textContent !== "–"`)
	if p.Eval(drawn+`.includes("front-net")`) != "true" || p.Eval(bar) != "3" || p.Eval(drawn+`.includes("empty")`) != "false" {
		t.Errorf("with a golfer the page draws %q", p.Eval(drawn))
	}
	if got := p.Eval(seen); strings.Contains(got, "–") {
		t.Errorf("with a golfer the page shows %q", got)
	}
	picture(p, "golfer")
	for _, button := range []string{"zero", "weigh"} {
		p.Press("Tab")
		if got := p.Eval(`document.activeElement.id`); got != button {
			t.Fatalf("the focus is on %q, want %s", got, button)
		}
		if got := p.Eval(`getComputedStyle(document.activeElement).outlineStyle`); got == "none" {
			t.Errorf("the focus on %s does not show", button)
		}
	}
	p.Press("Shift+Tab")
	within(t, 60*time.Second, "a golfer", func() bool { return now(t, url).Now.State == "ready" })
	p.Press("Enter") // zeroing, with the golfer on the plates
	p.Wait(`document.getElementById("trouble").textContent.includes("was refused")`)
	picture(p, "refused")
	for _, s := range []headless.Screen{headless.Laptop, headless.Phone} {
		p.Size(s)
		if p.Eval(`document.documentElement.scrollWidth <= innerWidth`) != "true" {
			t.Errorf("the page is wider than a window of %d", s.Width)
		}
	}
	within(t, 60*time.Second, "a swing", func() bool { return now(t, url).Swing != nil })
	p.Wait(`!document.getElementById("swing").hidden`)
	picture(p, "swing")
	if got := p.Eval(`document.body.textContent`); !strings.Contains(got, "not medical or training advice") || !strings.Contains(got, "version") || strings.Contains(got, "NaN") || strings.Contains(got, "undefined") {
		t.Errorf("the page says %.3000q", got)
	}
	if c := p.Complaints(); len(c) > 0 {
		t.Errorf("the browser complains: %q", c)
	}
}
