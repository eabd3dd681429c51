package live_test

import (
	"errors"
	"math"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"example.com/momentarm/grf"
	"example.com/momentarm/phase/live"
)

func TestHealthText(t *testing.T) {
	for h, want := range map[live.Health]string{
		0: "good", live.Lost | live.Bridged: "lost, bridged", live.Missing: "missing", live.Saturated: "saturated",
		live.Settling | live.Drift: "settling, drift", live.Clock | live.Refused: "clock, refused",
	} {
		if h.String() != want {
			t.Errorf("%q, want %q", h, want)
		}
	}
	for _, s := range []struct{ got, want string }{
		{live.Idle.String(), "idle"}, {live.Zeroing.String(), "zeroing"}, {live.Zeroed.String(), "zeroed"},
		{live.Weighing.String(), "weighing"}, {live.Ready.String(), "ready"}, {live.State(9).String(), "State(9)"},
		{live.Lead.String(), "lead"}, {live.Trail.String(), "trail"}, {live.Both.String(), "both"}, {live.Foot(9).String(), "Foot(9)"},
	} {
		if s.got != s.want {
			t.Errorf("%q, want %q", s.got, s.want)
		}
	}
}

// A saturated channel is flagged for as long as the filter remembers it, five times
// its delay.
func TestSaturation(t *testing.T) {
	d := newFeeder(t)
	d.ready()
	d.run(1, standing(1), standing(-1), func(_ int, ch []float64) { ch[8] = -5.2 })
	n := 0
	for d.f.Health.Has(live.Saturated) {
		d.run(1, standing(1), standing(-1), nil)
		n++
	}
	if want := int(math.Ceil(5 * d.c.Delay() * rate)); n != want || d.f.Health != 0 {
		t.Errorf("flagged for %d samples, want %d: %v", n, want, d.f.Health)
	}
}

// A channel that is no number loses its foot and what needs both, not the other
// foot, and not for longer than it lasts.
func TestMissingChannel(t *testing.T) {
	for _, bad := range []float64{math.NaN(), math.Inf(1), 1e200, 1.1e9} { // 1000 N/V
		d := newFeeder(t)
		d.ready()
		before := d.f
		d.run(30, standing(1), standing(-1), func(_ int, ch []float64) { ch[2] = bad }) // trail
		f := d.f
		if !f.Health.Has(live.Missing) || !f.Trail.IsNaN() || f.Lead.IsNaN() || math.IsNaN(f.LeadCOP.Y) || !math.IsNaN(f.LeadShare) {
			t.Errorf("%g: %v, lead %v, trail %v", bad, f.Health, f.Lead, f.Trail)
		}
		if f.State != live.Ready || math.IsNaN(f.COM.Position.Y) || !(f.COM.VelocitySD.Y > before.COM.VelocitySD.Y) {
			t.Errorf("%g: centre of mass %v", bad, f.COM)
		}
		d.run(40, standing(1), standing(-1), nil)
		if f := d.f; f.Health != 0 || f.Net.IsNaN() || math.IsNaN(f.Moment.Horizontal) {
			t.Errorf("%g: %v, %v", bad, f.Health, f.Net)
		}
	}
}

func TestDriftOfAnUnloadedPlate(t *testing.T) {
	d := newFeeder(t)
	d.ready()
	d.run(2000, nobody, nobody, nil)
	if d.seen.Has(live.Drift) {
		t.Fatal("drift of a plate that was just zeroed")
	}
	push := grf.At(r3.Vec{X: 12}, r3.Vec{}, r3.Vec{})
	d.run(600, nobody, push, nil)
	d.run(600, nobody, push, nil)
	if !d.f.Health.Has(live.Drift) {
		t.Error("12 N on an unloaded plate are not seen")
	}
	d.seen = 0
	d.run(2000, standing(1), standing(-1), nil)
	if !d.f.Health.Has(live.Drift) {
		t.Error("a load makes the drift of the plate forgotten")
	}
	d.c.Zero()
	d.run(1000, nobody, push, nil)
	d.run(2000, nobody, push, nil)
	if d.f.Health != 0 || d.c.State() != live.Zeroed {
		t.Errorf("%v, %v", d.f.Health, d.c.State())
	}
}

func TestDriftUnderTheGolfer(t *testing.T) {
	for name, w := range map[string]grf.Wrench{
		"sideways": standing(1).Add(grf.At(r3.Vec{Y: 12}, r3.Vec{}, r3.Vec{})),
		"heavier":  standing(1).Add(grf.At(r3.Vec{Z: 12}, r3.Vec{}, r3.Vec{})),
		"lighter":  standing(1).Add(grf.At(r3.Vec{Z: -12}, r3.Vec{}, r3.Vec{})),
	} {
		d := newFeeder(t)
		d.ready()
		d.run(2000, standing(1), standing(-1), nil)
		if d.seen.Has(live.Drift) {
			t.Fatalf("%s: drift before anything has drifted", name)
		}
		d.run(1500, w, standing(-1), nil)
		if !d.f.Health.Has(live.Drift) {
			t.Errorf("%s: 12 N are not seen", name)
		}
		d.run(1500, standing(1), standing(-1), nil)
		if d.f.Health.Has(live.Drift) {
			t.Errorf("%s: drift is still flagged after it went away", name)
		}
	}
}

// stamped pushes n samples whose stamps say rate Hz from start on.
func stamped(t *testing.T, c *live.Chain, r *rig, next *uint64, n int, start, hz float64) (last live.Frame, flagged int) {
	t.Helper()
	for i := range n {
		f, err := c.Push(live.Sample{Sequence: *next, Stamp: start + float64(i)/hz, Channels: r.channels(nobody, nobody)})
		if err != nil {
			t.Fatal(err)
		}
		*next++
		if f.Health.Has(live.Clock) {
			flagged++
		}
		last = f
	}
	return last, flagged
}

func TestDeviceClock(t *testing.T) {
	r := newRig(t)
	c := chain(t, r.config())
	var next uint64
	step := func(what string, n int, start, hz float64, from, to int) {
		t.Helper()
		f, flagged := stamped(t, c, r, &next, n, start, hz)
		if flagged < from || flagged > to {
			t.Errorf("%s: %d of %d samples flagged, want %d to %d", what, flagged, n, from, to)
		}
		if f.Time != float64(next-1)/rate {
			t.Errorf("%s: time %g s after %d samples", what, f.Time, next)
		}
	}
	step("right", 3000, 10, 1000, 0, 0)
	step("a crystal that is 100 ppm off", 3000, 13, 1000.1, 0, 0)
	step("jump ahead", 3000, 100, 1000, 1, 1)
	step("jump back", 3000, 20, 1000, 1, 1)
	step("twice the rate", 3000, 23, 2000, 1999, 2000)
	step("stands still", 5, 24.4995, math.Inf(1), 5, 5)
	step("right again", 3000, 30, 1000, 1000, 1002) // until a second was measured
	step("none", 3000, math.NaN(), 1000, 0, 0)
	step("none", 3000, math.Inf(1), 1000, 0, 0)

	// Half a minute without samples, which the clock saw too, is no jump.
	c = chain(t, r.config())
	next = 0
	step("before the gap", 1000, 10, 1000, 0, 0)
	if f, err := c.Push(live.Sample{Sequence: 31_000, Stamp: 41, Channels: r.channels(nobody, nobody)}); err != nil || f.Health.Has(live.Clock) {
		t.Errorf("%v, %v", f.Health, err)
	}
}

func TestConfigErrors(t *testing.T) {
	r := newRig(t)
	for name, edit := range map[string]func(c *live.Config){
		"rate":          func(c *live.Config) { c.Rate = 0 },
		"NaN rate":      func(c *live.Config) { c.Rate = math.NaN() },
		"axes":          func(c *live.Config) { c.Axes = grf.Axes{} },
		"no plates":     func(c *live.Config) { c.Inputs = nil },
		"one foot":      func(c *live.Config) { c.Inputs = c.Inputs[:1] },
		"all on lead":   func(c *live.Config) { c.Inputs[0].Foot = live.Lead },
		"both and lead": func(c *live.Config) { c.Inputs[0].Foot = live.Both },
		"no foot":       func(c *live.Config) { c.Inputs[0].Foot = 7 },
		"nil plate":     func(c *live.Config) { c.Inputs[0].Plate = nil },
		"no sense":      func(c *live.Config) { c.Inputs[0].Plate = c.Inputs[0].Plate.WithSense(grf.AsMeasured) },
		"ranges":        func(c *live.Config) { c.Inputs[0].Ranges = make([]live.Range, 5) },
		"empty range":   func(c *live.Config) { c.Inputs[0].Ranges = []live.Range{{Low: 1, High: 1}} },
		"cut-off":       func(c *live.Config) { c.Cutoff = 500 },
		"order":         func(c *live.Config) { c.Order = 3 },
		"zero time":     func(c *live.Config) { c.ZeroTime = 1e-3 },
		"weigh time":    func(c *live.Config) { c.WeighTime = 100 },
		"height":        func(c *live.Config) { c.Height = -1 },
		"lag":           func(c *live.Config) { c.Lag = -1 },
		"bridge":        func(c *live.Config) { c.Bridge = 3 },
		"hold":          func(c *live.Config) { c.Hold = 0.01 },
		"drift":         func(c *live.Config) { c.DriftLimit = math.Inf(1) },
		"noise":         func(c *live.Config) { c.Noise.BiasSD = -1 },
		"quiet":         func(c *live.Config) { c.Quiet.Limit = 2 },
	} {
		config := r.config()
		edit(&config)
		if c, err := live.New(config); !errors.Is(err, live.ErrConfig) || c != nil {
			t.Errorf("%s: %v", name, err)
		}
	}
	config := r.config()
	config.Inputs[0].Ranges = make([]live.Range, 6)
	for i := range config.Inputs[0].Ranges {
		config.Inputs[0].Ranges[i] = live.Range{Low: -10, High: 10}
	}
	if _, err := live.New(config); err != nil {
		t.Error(err)
	}
}
