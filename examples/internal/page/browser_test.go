package page

import (
	"html"
	"math"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"example.com/momentarm/examples/internal/headless"
)

// In a browser, the script puts in the numbers and drawings of the instant that
// the address names, written as this program writes them, and the policy of the
// page lets it.
func TestScriptInBrowser(t *testing.T) {
	s := demoSubject(t)
	g := newStage(s)
	f := newFrames(g, newInstant(g))
	want := f.Frames[len(f.Frames)/3]
	file := write(t, "page.html", []byte(pageOf(t, s)))

	tab := headless.Open(t, headless.File(file, "t="+exact(want.Time)))
	page := tab.Eval(`document.documentElement.outerHTML`)
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
	if c := tab.Complaints(); len(c) > 0 {
		t.Errorf("the browser complains: %q", c)
	}
	if r := tab.Requests(); len(r) != 1 {
		t.Errorf("the page asked for more than itself: %q", r)
	}
}

// The instant moves by keys from anywhere, by pointing at a curve, and by an event's
// number; what has the focus can be seen.
func TestScrubbingInBrowser(t *testing.T) {
	s := demoSubject(t)
	g := newStage(s)
	f := newFrames(g, newInstant(g))
	tab := headless.Open(t, headless.File(write(t, "page.html", []byte(pageOf(t, s))), ""))
	at := func() int {
		k, err := strconv.Atoi(tab.Eval(`document.getElementById("slider").value`))
		if err != nil {
			t.Fatal(err)
		}
		if said := tab.Eval(`document.getElementById("said").textContent`); said != f.Frames[k].Said {
			t.Errorf("the slider is at %d, and the page says %q instead of %q", k, said, f.Frames[k].Said)
		}
		if torque := tab.Eval(`document.querySelector(".equation [data-v=frontal-torque]").textContent`); torque != si(s.At(f.Frames[k].Time).Moment.Frontal, "N·m") {
			t.Errorf("frame %d: the torque is %q", k, torque)
		}
		return k
	}
	if k := at(); k != f.Open {
		t.Errorf("opens with frame %d, want %d", k, f.Open)
	}
	tab.Press("ArrowLeft") // nothing has the focus
	tab.Press("ArrowLeft")
	if k := at(); k != f.Open-2 {
		t.Errorf("two steps back lead to frame %d, want %d", k, f.Open-2)
	}
	tab.Press("Shift+ArrowRight")
	if k := at(); k != f.Open {
		t.Errorf("to the next event leads to frame %d, want %d", k, f.Open)
	}
	tab.Eval(`document.getElementById("slider").focus()`)
	tab.Press("ArrowRight")
	if k := at(); k != f.Open+1 {
		t.Errorf("a step of the slider leads to frame %d, want %d", k, f.Open+1)
	}
	tab.Press("Home")
	if k := at(); k != 0 {
		t.Errorf("Home leads to frame %d", k)
	}
	if style := tab.Eval(`getComputedStyle(document.activeElement).outlineStyle`); style != "solid" {
		t.Errorf("the focus is drawn as %q", style)
	}

	// Pointing at the middle of each chart's plot, at every size.
	for name, screen := range map[string]headless.Screen{"wide": headless.Laptop, "narrow": headless.Phone} {
		tab.Size(screen)
		for k := range 4 {
			tab.Press("Home")
			x, y := point2(t, tab.Eval(`(function () {
				var e = document.querySelectorAll("svg.chart.`+name+`")[`+strconv.Itoa(k)+`], d = e.dataset;
				e.scrollIntoView({block: "center"});
				var b = e.getBoundingClientRect(), u = b.width / e.viewBox.baseVal.width;
				return (b.left + u * (+d.x0 + +d.x1) / 2) + " " + (b.top + u * (+d.y0 + +d.y1) / 2);
			})()`))
			tab.Point(x, y)
			if got, want := f.Frames[at()].Time, (g.shown.From+g.shown.To)/2; math.Abs(got-want) > 0.02 {
				t.Errorf("%s chart %d: pointing at %.3f s leads to %.3f s", name, k, want, got)
			}
		}
		if wide := tab.Eval(`document.documentElement.scrollWidth - document.documentElement.clientWidth`); wide != "0" {
			t.Errorf("%s: the page is %s px wider than the window", name, wide)
		}
	}

	// An event's number, by key.
	tab.Eval(`document.querySelectorAll("ol.events li")[3].focus()`)
	tab.Press("Enter")
	if !strings.HasSuffix(f.Frames[at()].Said, ": 4 "+eventWords(g.marks[3].Name)) {
		t.Errorf("number 4 leads to %q", f.Frames[at()].Said)
	}

	// All folds at once.
	folded := `Array.from(document.querySelectorAll("details")).filter(function (d) { return !d.open; }).length`
	if n := tab.Eval(folded); n == "0" {
		t.Error("nothing is folded")
	}
	tab.Eval(`document.getElementById("unfold").click()`)
	if n := tab.Eval(folded); n != "0" {
		t.Errorf("%s stay folded", n)
	}
	if c := tab.Complaints(); len(c) > 0 {
		t.Errorf("the browser complains: %q", c)
	}
}

func point2(t *testing.T, text string) (x, y float64) {
	t.Helper()
	v := numbersIn(text)
	if len(v) != 2 {
		t.Fatalf("%q are not two numbers", text)
	}
	return v[0], v[1]
}
