package acceptance

import (
	"fmt"
	"io"
	"math"
	"strings"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"

	"example.com/momentarm/grf"
)

// leastApart is by how much a point has to move under every other arrangement for
// the arrangements to be told apart, m.
const leastApart = 0.05

// judge says where plate i lies and how.
func (e *evidence) judge(i int, plates []*grf.Plate, opt PlacementOptions) (PlateFinding, error) {
	nan := math.NaN()
	f := PlateFinding{Plate: i, Place: e.place, Points: len(e.truth), Pushes: len(e.pushed),
		Declared: Fit{RMS: nan, Worst: nan}, Best: Fit{RMS: nan, Worst: nan}, Next: Fit{RMS: nan, Worst: nan},
		ShiftX: nan, ShiftY: nan,
		DeclaredPush: PushFit{RMS: nan}, BestPush: PushFit{RMS: nan}, PushInBest: PushFit{RMS: nan},
		Corners: declaredCorners(plates[i]), Verdict: NotAssessed}
	if e.place < 0 {
		f.Text = fmt.Sprintf("plate %d was not pressed", i+1)
		return f, nil
	}
	for _, a := range arrangements()[1:] {
		if e.moves(a) < leastApart {
			return f, fmt.Errorf("%w: the points of plate %d look the same when it is %v; press one well off its middle and off its axes of symmetry", ErrPresses, i+1, a)
		}
	}
	for k, a := range arrangements() {
		fit := e.fit(a)
		switch {
		case k == 0:
			f.Declared, f.Best = fit, fit
		case fit.RMS < f.Best.RMS:
			f.Best, f.Next = fit, f.Best
		case !(fit.RMS >= f.Next.RMS):
			f.Next = fit
		}
		if len(e.pushed) == 0 {
			continue
		}
		push := e.pushFit(a)
		// What few pushes do not tell apart is as declared.
		if k == 0 {
			f.DeclaredPush, f.BestPush = push, push
		} else if push.RMS < f.BestPush.RMS-1e-9 {
			f.BestPush = push
		}
	}
	if len(e.pushed) > 0 {
		f.PushInBest = e.pushFit(f.Best.Arrangement)
	}
	shift := e.shift(f.Best.Arrangement)
	f.ShiftX, f.ShiftY = shift.X, shift.Y
	declared := declaredCorners(plates[e.place])
	for k, c := range f.Best.corners() {
		f.Corners[k] = declared[c]
	}
	f.conclude(opt)
	return f, nil
}

// moves returns how far the farthest point moves under an arrangement, m.
func (e *evidence) moves(a Arrangement) float64 {
	var most float64
	for _, p := range e.truth {
		most = math.Max(most, r2.Norm(r2.Sub(a.apply(p), p)))
	}
	return most
}

func (e *evidence) fit(a Arrangement) Fit {
	f := Fit{Arrangement: a}
	var sq float64
	for k, p := range e.truth {
		d := r2.Norm(r2.Sub(a.apply(e.measured[k]), p))
		sq += d * d
		f.Worst = math.Max(f.Worst, d)
	}
	f.RMS = math.Sqrt(sq / float64(len(e.truth)))
	return f
}

func (e *evidence) pushFit(a Arrangement) PushFit {
	var sq float64
	for k, d := range e.pushed {
		h := a.apply(e.horizontal[k])
		angle := math.Atan2(r2.Cross(d, h), r2.Dot(d, h))
		sq += angle * angle
	}
	return PushFit{a, math.Sqrt(sq / float64(len(e.pushed)))}
}

func (e *evidence) shift(a Arrangement) r2.Vec {
	var sum r2.Vec
	for k, p := range e.truth {
		sum = r2.Add(sum, r2.Sub(a.apply(e.measured[k]), p))
	}
	return r2.Scale(1/float64(len(e.truth)), sum)
}

func declaredCorners(p *grf.Plate) (c [4]r3.Vec) {
	x, y := p.Size()
	for k, s := range cornerSigns {
		c[k] = p.Frame().PointOut(r3.Vec{X: s.X * x / 2, Y: s.Y * y / 2})
	}
	return c
}

// conclude gives the verdict and says it in words.
func (f *PlateFinding) conclude(opt PlacementOptions) {
	var says []string
	f.Verdict = Pass
	fail := func(format string, a ...any) {
		f.Verdict = Fail
		says = append(says, fmt.Sprintf(format, a...))
	}
	if f.Place != f.Plate {
		fail("lies at the place of plate %d", f.Place+1)
	}
	unclear := f.Next.RMS < 2*f.Best.RMS
	switch {
	case unclear:
		says = append(says, fmt.Sprintf("the points do not tell how it lies: %v fits best (%.0f mm off), but %v nearly as well (%.0f mm)",
			f.Best.Arrangement, 1000*f.Best.RMS, f.Next.Arrangement, 1000*f.Next.RMS))
		if f.Verdict == Pass {
			f.Verdict = NotAssessed
		}
	case f.Best.Arrangement != Arrangement{}:
		fail("%v (%.0f mm off so, %.0f mm as declared)", f.Best.Arrangement, 1000*f.Best.RMS, 1000*f.Declared.RMS)
	default:
		says = append(says, fmt.Sprintf("not turned or mirrored (%.0f mm off)", 1000*f.Best.RMS))
	}
	if f.Best.RMS > opt.MaxRMS {
		fail("more than %.0f mm off, shifted by (%.0f, %.0f) mm: are corners, origin and unit right?", 1000*opt.MaxRMS, 1000*f.ShiftX, 1000*f.ShiftY)
	}
	switch deg := func(rad float64) float64 { return rad * 180 / math.Pi }; {
	case f.Pushes == 0 || unclear:
	case f.PushInBest.RMS <= opt.MaxAngle:
		says = append(says, fmt.Sprintf("pushes agree (%.0f° off)", deg(f.PushInBest.RMS)))
	case f.BestPush.RMS <= opt.MaxAngle:
		fail("pushes contradict the points: they fit a plate that is %v (%.0f° off); check the order and signs of the horizontal channels, and whose force they tell", f.BestPush.Arrangement, deg(f.BestPush.RMS))
	default:
		fail("pushes fit no arrangement (%.0f° off at best)", deg(f.BestPush.RMS))
	}
	f.Text = fmt.Sprintf("plate %d: %s", f.Plate+1, strings.Join(says, "; "))
}

// WriteText writes the findings for people.
func (p *Placement) WriteText(w io.Writer) error {
	t := newTable()
	t.row("plate", "place", "points", "as declared", "best", "", "pushes", "verdict")
	for _, f := range p.Plates {
		place, best, push := "none", "", "none"
		if f.Place >= 0 {
			place, best = fmt.Sprint(f.Place+1), f.Best.Arrangement.String()
		}
		if f.Pushes > 0 {
			push = fmt.Sprintf("%d, %.0f° off", f.Pushes, f.PushInBest.RMS*180/math.Pi)
		}
		t.row(fmt.Sprint(f.Plate+1), place, fmt.Sprint(f.Points), shown(f.Declared.RMS, "m"), shown(f.Best.RMS, "m"), best, push, f.Verdict.String())
	}
	t.text("\n")
	for _, f := range p.Plates {
		t.text("%s\n", f.Text)
	}
	t.text("verdict: %v\n", p.Verdict)
	return t.write(w)
}

// String returns what WriteText writes.
func (p *Placement) String() string { return text(p.WriteText) }
