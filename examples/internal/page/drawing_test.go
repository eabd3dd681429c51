package page

import (
	"fmt"
	"math"
	"math/rand/v2"
	"regexp"
	"strings"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"example.com/momentarm/phase"
	"example.com/momentarm/phase/swing"
	"example.com/momentarm/validation/synth"
)

// Lengths have one scale in both directions, and forces have one scale.
func TestFaceOnIsTrueToScale(t *testing.T) {
	m := newFaceOn(newStage(demoSubject(t)), 440)
	o := m.at(r3.Vec{})
	y, z := m.at(r3.Vec{Y: 0.3}), m.at(r3.Vec{Z: 0.3})
	if dy, dz := y.x-o.x, o.y-z.y; math.Abs(dy-dz) > 1e-9 || dy <= 0 || y.y != o.y || z.x != o.x {
		t.Errorf("0.3 m is %v units across and %v up", dy, dz)
	}
	if x := m.at(r3.Vec{X: 1}); x != o {
		t.Error("the depth shows in the face-on picture")
	}
	fy, fz := m.tip(r3.Vec{}, r3.Vec{Y: 200}), m.tip(r3.Vec{}, r3.Vec{Z: 200})
	if math.Abs((fy.x-o.x)-(o.y-fz.y)) > 1e-9 {
		t.Error("a sideways newton is not as long as one up")
	}
}

// Seen from above with the target to the right the ball is below: the picture may
// be turned, but not mirrored.
func TestPlanIsNotMirrored(t *testing.T) {
	m := newPlan(newStage(demoSubject(t)), 800, 30)
	o, x, y := m.at(r3.Vec{}), m.at(r3.Vec{X: 0.2}), m.at(r3.Vec{Y: 0.2})
	if !(y.x > o.x) || !(x.y > o.y) {
		t.Error("target not to the right or ball not below")
	}
	if math.Abs((y.x-o.x)-(x.y-o.y)) > 1e-9 {
		t.Error("lengths differ along and across")
	}
	// Screen axes: x to the right, y down, so (Y, X) must be a right turn, as seen
	// from above X, Y is a left turn.
	if cross := (y.x-o.x)*(x.y-o.y) - (y.y-o.y)*(x.x-o.x); cross <= 0 {
		t.Error("the view from above is mirrored")
	}
}

// The arm that is drawn is as long as the arm that is reported, it stands square
// on the line of the force, and that line passes the centre of mass on the side
// that turns it as the torque says.
func TestArmIsDrawnAsReported(t *testing.T) {
	s := demoSubject(t)
	g := newStage(s)
	p := newInstant(g)
	n := 0
	for tm := g.shown.From; tm < g.shown.To; tm += 0.013 {
		i := s.At(tm)
		line, arm, arc := p.leverage(i)
		if line == "" {
			continue
		}
		a, l := numbersIn(arm), numbersIn(line)
		dx, dy := a[2]-a[0], a[3]-a[1]
		want := math.Abs(i.Arm.Frontal) * p.faceOn.perMetre
		if d := math.Abs(math.Hypot(dx, dy) - want); d > 0.15 { // a tenth of a unit is the resolution
			t.Fatalf("at %.3f s the arm is drawn %.2f units off", tm, d)
		}
		lx, ly := l[2]-l[0], l[3]-l[1]
		if want > 10 {
			if cos := (dx*lx + dy*ly) / math.Hypot(dx, dy) / math.Hypot(lx, ly); math.Abs(cos) > 0.03 {
				t.Fatalf("at %.3f s the arm is not square on the line: cos %.3f", tm, cos)
			}
			if right := dx > 0; right != (i.Arm.Frontal > 0) {
				t.Fatalf("at %.3f s the line passes on the wrong side", tm)
			}
			n++
		}
		// A positive torque turns counter-clockwise as seen: over the top to the left.
		if arc != "" {
			c := numbersIn(arc)
			if left := c[7] < c[0]; left != (i.Moment.Frontal > 0) {
				t.Fatalf("at %.3f s the turn is drawn the wrong way", tm)
			}
		}
	}
	if n < 20 {
		t.Errorf("only %d instants had an arm to look at", n)
	}
}

// numbersIn returns the numbers of a path.
func numbersIn(d string) []float64 {
	var out []float64
	for _, m := range regexp.MustCompile(`-?[0-9.]+`).FindAllString(d, -1) {
		var v float64
		fmt.Sscan(m, &v)
		out = append(out, v)
	}
	return out
}

func TestFanHasEqualSteps(t *testing.T) {
	s := demoSubject(t)
	g := newStage(s)
	w := g.fanFrom()
	ins := g.instants(w.From, w.To, fanStep)
	for k := 1; k < len(ins); k++ {
		if d := ins[k].Time - ins[k-1].Time; math.Abs(d-fanStep) > 1e-9 {
			t.Fatalf("step %d is %v s", k, d)
		}
	}
	drawn := strings.Count(string(fan(g)), `class="vector fan`)
	if drawn != len(ins) {
		t.Errorf("%d arrows, want %d", drawn, len(ins))
	}
	if w.From < s.Events.Time(phase.Onset)-1e-9 || w.To > s.Events.Time(phase.Impact)+0.1+1e-9 {
		t.Errorf("the fan covers %v", w)
	}
}

// Known outlines are drawn as they are, unknown ones as boxes around the pressure
// at address.
func TestFootprints(t *testing.T) {
	cfg := synth.Config{}
	known := newStage(made(t, cfg, swing.Options{Feet: soles(t, cfg)}, nil))
	if !known.known() || len(known.feet[0].outline) < 8 {
		t.Error("the outlines of the feet were not used")
	}
	s := made(t, cfg, swing.Options{}, nil)
	boxed := newStage(s)
	if boxed.known() || footNote(boxed) == "" {
		t.Error("no word about unknown outlines")
	}
	x, y := boxed.feet[0].extents()
	p := s.At(s.Quiet.To).LeadCOP
	if math.Abs((x.lo+x.hi)/2-p.X) > 1e-12 || math.Abs((y.lo+y.hi)/2-p.Y) > 1e-12 || math.Abs(x.hi-x.lo-boxLength) > 1e-12 {
		t.Error("the box does not stand around the pressure at address")
	}
	if one := newStage(made(t, cfg, swing.Options{}, onePlate)); len(one.feet) != 0 {
		t.Error("feet, although they were not measured apart")
	}
}

// No two numbers of events cover each other, at both sizes of the charts.
func TestNumbersOfEventsDoNotOverlap(t *testing.T) {
	g := newStage(demoSubject(t))
	for _, c := range chartsOf(g) {
		for _, z := range []size{wideSize, narrowSize} {
			svg := string(c.Wide)
			if z.name == "narrow" {
				svg = string(c.Narrow)
			}
			var xs []float64
			for _, m := range regexp.MustCompile(`<circle class="disc[^"]*" cx="([0-9.]+)"`).FindAllStringSubmatch(svg, -1) {
				xs = append(xs, numbersIn(m[1])[0])
			}
			if len(xs) < 8 {
				t.Fatalf("%s, %s: %d numbers", c.ID, z.name, len(xs))
			}
			for k := 1; k < len(xs); k++ {
				if xs[k]-xs[k-1] < 2*z.disc {
					t.Errorf("%s, %s: numbers %d and %d overlap", c.ID, z.name, k, k+1)
				}
			}
		}
	}
}

func TestApart(t *testing.T) {
	for _, c := range []struct {
		xs       []float64
		gap      float64
		lo, hi   float64
		want     []float64
		whyThose string
	}{
		{[]float64{10, 50}, 20, 0, 100, []float64{10, 50}, "far enough already"},
		{[]float64{50, 50}, 20, 0, 100, []float64{40, 60}, "both give way by the same"},
		{[]float64{48, 50, 52}, 20, 0, 100, []float64{30, 50, 70}, "symmetric"},
		{[]float64{1, 2}, 20, 0, 100, []float64{0, 20}, "held at the left edge"},
		{[]float64{98, 99}, 20, 0, 100, []float64{80, 100}, "held at the right edge"},
		{nil, 20, 0, 100, nil, "nothing"},
	} {
		got := apart(c.xs, c.gap, c.lo, c.hi)
		if len(got) != len(c.want) {
			t.Fatalf("%s: %v", c.whyThose, got)
		}
		for i := range got {
			if math.Abs(got[i]-c.want[i]) > 1e-9 {
				t.Errorf("%s: %v, want %v", c.whyThose, got, c.want)
				break
			}
		}
	}
	// Whatever crowd: apart, in order, inside.
	rng := rand.New(rand.NewPCG(1, 2))
	for range 200 {
		var xs []float64
		x := 0.0
		for range rng.IntN(20) {
			x += rng.ExpFloat64() * 10
			xs = append(xs, math.Min(x, 400))
		}
		got := apart(xs, 20, 0, 400)
		for i, x := range got {
			if x < -1e-9 || x > 400+1e-9 || i > 0 && x-got[i-1] < 20-1e-9 {
				t.Fatalf("%v became %v", xs, got)
			}
		}
	}
}

func TestTicks(t *testing.T) {
	for _, c := range []struct {
		lo, hi float64
		n      int
		want   string
	}{
		{0, 1000, 5, "[0 200 400 600 800 1000]"},
		{-35, 120, 5, "[0 50 100]"},
		{0.1, 0.31, 4, "[0.1 0.2 0.30000000000000004]"},
		{5, 5, 4, "[]"},
	} {
		if got := fmt.Sprint(scale{c.lo, c.hi, 0, 1}.ticks(c.n)); got != c.want {
			t.Errorf("%v to %v: %s, want %s", c.lo, c.hi, got, c.want)
		}
	}
	for v, want := range map[float64]float64{0.3: 0.5, 1: 1, 1.1: 2, 4.9: 5, 7: 10, 0: 0, -3: 0} {
		if got := round125(v); math.Abs(got-want) > 1e-12 {
			t.Errorf("round125(%v) is %v, want %v", v, got, want)
		}
	}
}

// A thinned line stays within the tolerance of every point that was left out.
func TestThin(t *testing.T) {
	rng := rand.New(rand.NewPCG(3, 4))
	var ps []point
	for i := range 500 {
		ps = append(ps, point{float64(i), 40*math.Sin(float64(i)/30) + rng.NormFloat64()})
	}
	const tolerance = 1.5
	kept := thin(ps, tolerance)
	if len(kept) >= len(ps)/2 || kept[0] != ps[0] || kept[len(kept)-1] != ps[len(ps)-1] {
		t.Fatalf("kept %d of %d", len(kept), len(ps))
	}
	k := 0
	for _, p := range ps {
		for p.x > kept[k+1].x {
			k++
		}
		if d := distance(p, kept[k], kept[k+1]); d > tolerance+1e-9 {
			t.Fatalf("%v is %v away", p, d)
		}
	}
}

func TestSVGEscapes(t *testing.T) {
	s := newSVG("a", `"><b>`, 10, 10)
	s.text(1, 2, "</text><script>", "class", `x" onload="y`)
	got := string(s.html())
	for _, bad := range []string{"<b>", "<script", `onload="`} {
		if strings.Contains(got, bad) {
			t.Errorf("%q in %s", bad, got)
		}
	}
}

func TestTraceBreaksWhereUndefined(t *testing.T) {
	nan := math.NaN()
	d := trace([]point{{nan, 0}, {0, 0}, {1, 5}, {nan, nan}, {2, 2}, {3, 9}})
	if d != "M0 0L1 5M2 2L3 9" {
		t.Errorf("path %q", d)
	}
}
