package live_test

import (
	"errors"
	"math"
	"strings"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"example.com/momentarm/cop/com"
	"example.com/momentarm/grf"
	"example.com/momentarm/phase/live"
	"example.com/momentarm/torque"
	"example.com/momentarm/validation/synth"
)

// feeder pushes samples that a test makes up, one after the other.
type feeder struct {
	t    testing.TB
	r    *rig
	c    *live.Chain
	next uint64
	f    live.Frame
	seen live.Health // of all frames since the test last cleared it
}

func newFeeder(t testing.TB) *feeder {
	r := newRig(t)
	return &feeder{t: t, r: r, c: chain(t, r.config())}
}

// run pushes n samples; edit, if not nil, changes the one with this number.
func (d *feeder) run(n int, lead, trail grf.Wrench, edit func(i int, ch []float64)) {
	d.t.Helper()
	for i := range n {
		ch := d.r.channels(lead, trail)
		if edit != nil {
			edit(i, ch)
		}
		d.push(ch)
	}
}

func (d *feeder) push(ch []float64) {
	d.t.Helper()
	var err error
	if d.f, err = d.c.Push(live.Sample{Sequence: d.next, Stamp: 3 + float64(d.next)/rate, Channels: ch}); err != nil {
		d.t.Fatal(err)
	}
	d.next++
	d.seen |= d.f.Health
	// Whatever happens, a frame's torque is that of its force about its mass.
	if m := torque.About(d.f.Net, d.f.COM.Position); !same(m.Vec(), d.f.Moment.Vec()) {
		d.t.Fatalf("sample %d: moment %v, %v about the centre of mass", d.f.Sequence, d.f.Moment, m)
	}
}

func same(a, b r3.Vec) bool {
	eq := func(x, y float64) bool { return x == y || math.IsNaN(x) && math.IsNaN(y) }
	return eq(a.X, b.X) && eq(a.Y, b.Y) && eq(a.Z, b.Z)
}

// standing is half of a golfer of 80 kg on each foot, 0.25 m from the middle.
func standing(side float64) grf.Wrench {
	return grf.At(r3.Vec{Y: -15 * side, Z: 40 * com.StandardGravity}, r3.Vec{Y: 0.25 * side}, r3.Vec{Z: 2 * side})
}

var nobody grf.Wrench

func (d *feeder) state(want live.State) {
	d.t.Helper()
	if d.c.State() != want || d.f.State != want {
		d.t.Fatalf("state %v, of the frame %v, want %v: %v", d.c.State(), d.f.State, want, d.c.Refusal())
	}
}

// ready zeroes the plates and weighs a golfer.
func (d *feeder) ready() {
	d.t.Helper()
	d.c.Zero()
	d.run(1000, nobody, nobody, nil)
	d.state(live.Zeroed)
	d.run(100, standing(1), standing(-1), nil)
	if err := d.c.Weigh(); err != nil {
		d.t.Fatal(err)
	}
	d.run(1000, standing(1), standing(-1), nil)
	d.state(live.Ready)
	d.seen = 0
}

// refused checks that the last sample refused a request, and why.
func (d *feeder) refused(request live.State, input int, why error) {
	d.t.Helper()
	var r *live.Refusal
	if err := d.c.Refusal(); !errors.As(err, &r) || r.Request != request || r.Input != input || !errors.Is(err, why) {
		d.t.Fatalf("refusal %v, want %v of input %d: %v", err, request, input, why)
	}
	if !strings.Contains(r.Error(), "refused") {
		d.t.Errorf("%q", r.Error())
	}
}

func TestFromZeroToReady(t *testing.T) {
	d := newFeeder(t)
	d.run(10, nobody, nobody, nil)
	d.state(live.Idle)
	if err := d.c.Weigh(); !errors.Is(err, live.ErrNotZeroed) {
		t.Errorf("weighing on plates that are not zeroed: %v", err)
	}
	d.c.Zero()
	d.run(999, nobody, nobody, nil)
	d.state(live.Zeroing)
	d.run(1, nobody, nobody, nil)
	d.state(live.Zeroed)
	d.run(1, nobody, nobody, nil)
	if f := r3.Norm(d.f.Net.Force); f > 1e-6 {
		t.Errorf("%g N on zeroed plates", f)
	}
	d.run(100, standing(1), standing(-1), nil)
	if err := d.c.Weigh(); err != nil {
		t.Fatal(err)
	}
	d.run(1000, standing(1), standing(-1), nil)
	d.state(live.Ready)
	q, ok := d.c.Golfer()
	if !ok || math.Abs(q.Mass-80) > 1e-4 {
		t.Errorf("%v, %g kg", ok, q.Mass)
	}
	if d.c.Refusal() != nil {
		t.Error(d.c.Refusal())
	}
	// On tiptoe for half a second is no leaving; a second is.
	d.run(500, nobody, nobody, nil)
	d.state(live.Ready)
	d.run(600, nobody, nobody, nil)
	d.state(live.Zeroed)
	if _, ok := d.c.Golfer(); ok || !math.IsNaN(d.f.Moment.Frontal) {
		t.Error("the golfer is still known")
	}
}

func TestZeroingIsRefused(t *testing.T) {
	for name, c := range map[string]struct {
		feed  func(d *feeder)
		input int
		why   error
	}{
		"loaded": {func(d *feeder) { d.run(1000, standing(1), nobody, nil) }, 1, grf.ErrLoaded},
		"somebody steps on": {func(d *feeder) {
			d.run(950, nobody, nobody, nil)
			d.run(50, nobody, standing(-1), nil)
		}, 0, grf.ErrUnquiet},
		"drifting": {func(d *feeder) {
			d.run(1000, nobody, nobody, func(i int, ch []float64) { ch[2] += 0.02 * float64(i) / 1000 })
		}, 0, grf.ErrUnquiet},
		"a lost sample": {func(d *feeder) {
			d.run(500, nobody, nobody, nil)
			d.next++
			d.run(500, nobody, nobody, nil)
		}, -1, live.ErrLost},
		"not a number": {func(d *feeder) {
			d.run(1000, nobody, nobody, func(i int, ch []float64) {
				if i == 700 {
					ch[7] = math.NaN()
				}
			})
		}, -1, live.ErrLost},
		"at the end of the range": {func(d *feeder) {
			d.run(1000, nobody, nobody, func(i int, ch []float64) {
				if i == 700 {
					ch[7] = -5
				}
			})
		}, -1, live.ErrSaturated},
	} {
		t.Run(name, func(t *testing.T) {
			d := newFeeder(t)
			d.c.Zero()
			c.feed(d)
			d.state(live.Idle)
			if !d.seen.Has(live.Refused) || d.c.Zeros() != nil {
				t.Error(d.seen)
			}
			d.refused(live.Zeroing, c.input, c.why)
			// What was accepted before stays.
			d = newFeeder(t)
			d.ready()
			zero := d.c.Zeros()
			d.c.Zero()
			c.feed(d)
			if d.c.State() != live.Ready || &d.c.Zeros()[0] != &zero[0] {
				t.Errorf("%v after a refusal", d.c.State())
			}
		})
	}
}

func TestWeighingIsRefused(t *testing.T) {
	sway := func(size float64) func(i int, ch []float64) {
		return func(i int, ch []float64) { ch[2] += size * math.Sin(float64(i)/80) / gains[2] }
	}
	for name, c := range map[string]struct {
		feed func(d *feeder)
		why  error
	}{
		"nobody":  {func(d *feeder) { d.run(1000, nobody, nobody, nil) }, grf.ErrNoQuiet},
		"swaying": {func(d *feeder) { d.run(1000, standing(1), standing(-1), sway(40)) }, grf.ErrNoQuiet},
		"a packet": {func(d *feeder) {
			d.run(500, standing(1), standing(-1), nil)
			d.next += 5
			d.run(1, nobody, nobody, nil)
		}, live.ErrLost},
		"saturated": {func(d *feeder) {
			d.run(1, standing(1), standing(-1), func(_ int, ch []float64) { ch[0] = 5 })
		}, live.ErrSaturated},
	} {
		d := newFeeder(t)
		d.c.Zero()
		d.run(1000, nobody, nobody, nil)
		d.run(100, standing(1), standing(-1), nil)
		if err := d.c.Weigh(); err != nil {
			t.Fatal(err)
		}
		c.feed(d)
		if d.c.State() != live.Zeroed || !d.seen.Has(live.Refused) {
			t.Errorf("%s: %v", name, d.c.State())
		}
		d.refused(live.Weighing, -1, c.why)
	}
	// A little sway is what people do.
	d := newFeeder(t)
	d.ready()
	if err := d.c.Weigh(); err != nil {
		t.Fatal(err)
	}
	d.run(1000, standing(1), standing(-1), sway(2))
	d.state(live.Ready)
}

// A device that measures at another rate than declared would make a wrong centre of
// mass.
func TestWeighingNeedsTheDeclaredRate(t *testing.T) {
	r := newRig(t)
	c := chain(t, r.config())
	if err := c.SetZero(); err != nil {
		t.Fatal(err)
	}
	if err := c.Weigh(); err != nil {
		t.Fatal(err)
	}
	r.offset = [12]float64{}
	var seen live.Health
	for i := range uint64(2500) {
		f, err := c.Push(live.Sample{Sequence: i, Stamp: 1 + float64(i)/2000, Channels: r.channels(standing(1), standing(-1))})
		if err != nil {
			t.Fatal(err)
		}
		if seen |= f.Health; seen.Has(live.Refused) {
			break
		}
	}
	if err := c.Refusal(); !errors.Is(err, live.ErrClock) || !seen.Has(live.Clock) {
		t.Errorf("%v, %v", err, seen)
	}
	if got := c.DeviceRate(); math.Abs(got-2000) > 0.01 {
		t.Errorf("%g Hz", got)
	}
}

func TestSetZero(t *testing.T) {
	d := newFeeder(t)
	d.ready()
	bases := d.c.Zeros()
	other := newFeeder(t)
	if err := other.c.SetZero(bases[0]); !errors.Is(err, grf.ErrChannels) {
		t.Errorf("one baseline for two plates: %v", err)
	}
	if err := other.c.SetZero(bases[0], grf.Baseline{Mean: []float64{1}}); !errors.Is(err, grf.ErrChannels) {
		t.Errorf("a baseline of one channel: %v", err)
	}
	other.run(1, nobody, nobody, nil)
	other.state(live.Idle)
	if err := other.c.SetZero(bases...); err != nil {
		t.Fatal(err)
	}
	other.run(100, nobody, nobody, nil)
	other.state(live.Zeroed)
	if f := r3.Norm(other.f.Net.Force); f > 1e-6 {
		t.Errorf("%g N", f)
	}
	// Plates that zero themselves.
	if err := other.c.SetZero(); err != nil || other.c.Zeros() != nil {
		t.Fatal(err)
	}
	other.run(100, nobody, nobody, nil)
	if f := r3.Norm(other.f.MeasuredNet.Force); f < 1 {
		t.Errorf("%g N of offset", f)
	}
}

// Requests that replace each other, and Restart, which keeps the zero alone.
func TestRequestsAndRestart(t *testing.T) {
	d := newFeeder(t)
	d.ready()
	d.c.Zero()
	if err := d.c.Weigh(); err != nil {
		t.Fatal(err)
	}
	d.c.Zero()
	d.run(1000, standing(1), standing(-1), nil)
	d.state(live.Ready)
	d.refused(live.Zeroing, 0, grf.ErrLoaded)
	// The golfer leaves while being weighed again: what a refusal leads back to is
	// gone, too.
	if err := d.c.Weigh(); err != nil {
		t.Fatal(err)
	}
	d.run(1200, nobody, nobody, nil)
	d.state(live.Zeroed)
	d.ready()
	d.run(500, nobody, nobody, nil)
	if err := d.c.Weigh(); err != nil {
		t.Fatal(err)
	}
	d.run(600, nobody, nobody, nil)
	d.state(live.Weighing)
	d.run(400, nobody, nobody, nil)
	d.state(live.Zeroed)
	d.refused(live.Weighing, -1, grf.ErrNoQuiet)

	d.run(10, standing(1), standing(-1), nil)
	d.c.Restart()
	d.next = 0
	d.run(1, nobody, nobody, nil)
	d.state(live.Zeroed)
	if d.f.Time != 0 || d.f.Lost != 0 || r3.Norm(d.f.Net.Force) > 1e-6 || d.c.Refusal() != nil {
		t.Errorf("%g s, %v", d.f.Time, d.f.Net)
	}
	fresh := newFeeder(t)
	fresh.c.Zero()
	fresh.c.Restart()
	fresh.run(2000, nobody, nobody, nil)
	fresh.state(live.Idle)
}

func TestOnePlateForBothFeet(t *testing.T) {
	r := newRig(t)
	config := r.config()
	for i := range config.Inputs {
		config.Inputs[i].Foot = live.Both
	}
	_, _, samples := r.take(t, synth.Config{}, 1)
	apart := chain(t, r.config())
	both := chain(t, config)
	for _, c := range []*live.Chain{apart, both} {
		c.Zero()
	}
	found := map[bool]int{}
	for i, ch := range samples {
		if i == 4100 {
			if apart.Weigh() != nil || both.Weigh() != nil {
				t.Fatal("not zeroed")
			}
		}
		a, err := apart.Push(live.Sample{Sequence: uint64(i), Channels: ch})
		if err != nil {
			t.Fatal(err)
		}
		b, err := both.Push(live.Sample{Sequence: uint64(i), Channels: ch})
		if err != nil {
			t.Fatal(err)
		}
		found[true] += len(a.Events)
		found[false] += len(b.Events)
		if a.State != b.State {
			t.Fatalf("%v and %v", a.State, b.State)
		}
		if i == 1000-1 {
			continue // zeroed with this sample
		}
		if d := distance(a.Net, b.Net); d > 1e-9 {
			t.Fatalf("net at sample %d: %v and %v", i, a.Net, b.Net)
		}
		if !b.Lead.IsNaN() || !math.IsNaN(b.LeadShare) || !math.IsNaN(b.TrailCOP.X) || !math.IsNaN(b.LeadFree) || !b.MeasuredTrail.IsNaN() {
			t.Fatal("feet on one plate are told apart")
		}
		if a.State == live.Ready && math.Abs(a.Moment.Frontal-b.Moment.Frontal) > 1e-6 {
			t.Fatalf("torque %v and %v", a.Moment, b.Moment)
		}
	}
	// Three events need the feet apart: peaks of each, and even load.
	if found[true]-found[false] != 3 || found[false] < 8 {
		t.Errorf("events: %v", found)
	}
}
