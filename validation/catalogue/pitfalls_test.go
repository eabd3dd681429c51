package catalogue

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"example.com/momentarm/cop"
	"example.com/momentarm/cop/com"
	"example.com/momentarm/grf"
	"example.com/momentarm/grf/filter"
	"example.com/momentarm/phase"
	"example.com/momentarm/phase/swing"
	"example.com/momentarm/torque"
	"example.com/momentarm/validation/acceptance"
	"example.com/momentarm/validation/synth"
)

// pitfall is a way in which the numbers of force plates lead astray. Where the library
// can fall into it there is a test; where only its caller can, the documentation that
// warns of it is named.
type pitfall struct {
	number int
	name   string
	test   func(t *testing.T)
	doc    string
}

func TestPitfalls(t *testing.T) {
	for i, p := range pitfalls {
		if p.number != i+1 {
			t.Fatalf("pitfall %d stands at place %d", p.number, i+1)
		}
		if p.test == nil && p.doc == "" {
			t.Errorf("pitfall %d has neither a test nor a warning", p.number)
		}
		t.Run(fmt.Sprintf("%02d %s", p.number, p.name), func(t *testing.T) {
			if p.doc != "" {
				t.Log("see " + p.doc)
			}
			if p.test != nil {
				p.test(t)
			}
		})
	}
	if len(pitfalls) != 27 {
		t.Errorf("%d pitfalls, want 27", len(pitfalls))
	}
}

// close3 compares points.
func close3(t *testing.T, what string, got, want r3.Vec, tol float64) {
	t.Helper()
	if !(r3.Norm(r3.Sub(got, want)) <= tol) {
		t.Errorf("%s: %v, want %v", what, got, want)
	}
}

// near compares numbers.
func near(t *testing.T, what string, got, want, tol float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tol) {
		t.Errorf("%s: %g, want %g ± %g", what, got, want, tol)
	}
}

// flatPlate is a plate in the laboratory whose channels are force and moment about its
// measuring origin.
func flatPlate(t *testing.T, c grf.PlateConfig) *grf.Plate {
	t.Helper()
	if c.Type == 0 {
		c.Type = grf.TypeMoment
	}
	if c.Corners == ([4]r3.Vec{}) {
		c.Corners = [4]r3.Vec{{X: 0.4, Y: 0.6}, {X: 0.4}, {}, {Y: 0.6}}
	}
	p, err := grf.NewPlate(c)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

// channelsOf are the channels of a plate of moments under a load at a place of its
// surface; plate z points into the floor.
func channelsOf(p *grf.Plate, origin, force, at r3.Vec, twist float64) []float64 {
	f := p.Frame()
	w := f.WrenchIn(grf.At(force, at, r3.Vec{Z: twist})).MovedTo(r3.Scale(-1, origin))
	return []float64{w.Force.X, w.Force.Y, w.Force.Z, w.Moment.X, w.Moment.Y, w.Moment.Z}
}

var pitfalls = []pitfall{
	{1, "action or reaction", func(t *testing.T) {
		p := flatPlate(t, grf.PlateConfig{Origin: r3.Vec{Z: -0.04}})
		at, force := r3.Vec{X: 0.1, Y: 0.4}, r3.Vec{X: 30, Y: -20, Z: 700}
		up := channelsOf(p, r3.Vec{Z: -0.04}, force, at, 4)
		down := make([]float64, 6)
		for i, v := range up {
			down[i] = -v
		}
		a, b := p.WithSense(grf.Reaction).Wrench(up), p.WithSense(grf.Action).Wrench(down)
		if a != b {
			t.Errorf("reaction %v, action turned %v", a, b)
		}
		if s, mean := grf.SenseUnderLoad([]grf.Wrench{p.Wrench(down)}, r3.Vec{Z: 1}, 100); s != grf.Action || mean > 0 {
			t.Errorf("%v by a mean of %g N", s, mean)
		}
		// The centre of pressure is blind to it; force and moment turn together.
		q, _ := cop.Of(p.Wrench(down).Scale(-1), 0, 20)
		close3(t, "centre of pressure", q, at, 1e-12)
	}, "grf, section Signs, and grf.Sense"},
	{2, "centre of pressure and point of the wrench axis", func(t *testing.T) {
		w := grf.At(r3.Vec{X: 100, Z: 500}, r3.Vec{X: 0.1, Y: 0.2}, r3.Vec{Z: 10})
		p, free := cop.Of(w, 0, 20)
		q, couple := cop.WrenchAxisPoint(w, 0, 20)
		close3(t, "centre of pressure", p, r3.Vec{X: 0.1, Y: 0.2}, 1e-12)
		near(t, "free moment", free, 10, 1e-12)
		if r3.Norm(r3.Sub(p, q)) < 1e-3 || r3.Norm(r3.Cross(couple, w.Force)) > 1e-9 {
			t.Errorf("axis at %v with %v", q, couple)
		}
	}, "cop.WrenchAxisPoint"},
	{3, "depth of the sensors and what lies on the plate", func(t *testing.T) {
		// 40 mm under Fx/Fz = 0.25 are 10 mm.
		force := r3.Vec{X: 125, Z: 500}
		deep, flat := flatPlate(t, grf.PlateConfig{Origin: r3.Vec{Z: -0.04}}), flatPlate(t, grf.PlateConfig{})
		ch := channelsOf(deep, r3.Vec{Z: -0.04}, force, r3.Vec{X: 0.2, Y: 0.3}, 0)
		p, _ := cop.Of(deep.Wrench(ch), 0, 20)
		q, _ := cop.Of(flat.Wrench(ch), 0, 20)
		close3(t, "with depth", p, r3.Vec{X: 0.2, Y: 0.3}, 1e-12)
		near(t, "without it", math.Abs(q.X-p.X), 0.010, 1e-12)
		// A cover of 25 mm, whose top is what the corners describe.
		c := grf.PlateConfig{Origin: r3.Vec{Z: -0.04}, TopCover: 0.025}
		for i, v := range [4]r3.Vec{{X: 0.4, Y: 0.6}, {X: 0.4}, {}, {Y: 0.6}} {
			c.Corners[i] = r3.Vec{X: v.X, Y: v.Y, Z: 0.025}
		}
		covered := flatPlate(t, c)
		ch = channelsOf(covered, r3.Vec{Z: -0.065}, force, r3.Vec{X: 0.2, Y: 0.3, Z: 0.025}, 0)
		p, _ = cop.Of(covered.Wrench(ch), 0.025, 20)
		close3(t, "on the cover", p, r3.Vec{X: 0.2, Y: 0.3, Z: 0.025}, 1e-12)
	}, "grf.PlateConfig.TopCover"},
	{4, "a plate that lies another way round", func(t *testing.T) {
		declared := flatPlate(t, grf.PlateConfig{})
		turned := flatPlate(t, grf.PlateConfig{Corners: [4]r3.Vec{{}, {Y: 0.6}, {X: 0.4, Y: 0.6}, {X: 0.4}}})
		var presses []acceptance.Press
		for _, at := range []r3.Vec{{X: 0.1, Y: 0.1}, {X: 0.3, Y: 0.15}, {X: 0.1, Y: 0.5}} {
			ch := channelsOf(turned, r3.Vec{}, r3.Vec{Y: 40, Z: 300}, at, 0)
			p, _ := cop.Of(declared.Wrench(ch), 0, 20)
			if p.X < 0 || p.X > 0.4 || p.Y < 0 || p.Y > 0.6 {
				t.Errorf("the point %v is off the plate: a check of that alone would do", p)
			}
			presses = append(presses, acceptance.Press{At: at, Push: r3.Vec{Y: 1}, Channels: [][]float64{ch}})
		}
		found, err := acceptance.CheckPlacement([]*grf.Plate{declared}, presses, acceptance.PlacementOptions{})
		if err != nil || found.Verdict == acceptance.Pass || !strings.Contains(found.String(), "180°") {
			t.Errorf("%v, %v", found, err)
		}
	}, "validation/acceptance.CheckPlacement; grf, section What a recording can not show"},
	{5, "centre of pressure under little load", func(t *testing.T) {
		// 0.5 N·m of noise are 10 mm at 50 N and 0.6 mm at 800 N.
		cov := grf.Diagonal(grf.Wrench{Moment: r3.Vec{X: 0.5, Y: 0.5}})
		for load, want := range map[float64]float64{50: 0.010, 800: 0.000625} {
			sd, _ := cop.OfSD(grf.At(r3.Vec{Z: load}, r3.Vec{X: 0.1}, r3.Vec{}), &cov, 0, 20)
			near(t, fmt.Sprintf("at %g N", load), sd.X, want, 1e-12)
		}
		p, free := cop.Of(grf.Wrench{Force: r3.Vec{Z: 19.9}}, 0, cop.DefaultMinVertical)
		none(t, p, free)
		near(t, "threshold of a noisy plate", cop.Threshold(8), 40, 0)
		near(t, "threshold of a quiet plate", cop.Threshold(0.5), 20, 0)
	}, "cop.DefaultMinVertical"},
	{6, "free moment", func(t *testing.T) {
		// A push at a depth of 40 mm makes a moment that is none about the surface.
		p := flatPlate(t, grf.PlateConfig{Origin: r3.Vec{Z: -0.04}})
		w := p.Wrench(channelsOf(p, r3.Vec{Z: -0.04}, r3.Vec{X: 80, Y: -60, Z: 600}, r3.Vec{X: 0.35, Y: 0.5}, 7))
		_, free := cop.Of(w, 0, 20)
		near(t, "free moment", free, 7, 1e-12)
		if about := w.About(p.Frame().Origin).Z; math.Abs(about-7) < 1 {
			t.Errorf("the moment about the centre is %g as well: nothing was tested", about)
		}
		// Its sense is the same for golfers of both hands: toward the target.
		for hand, sign := range map[grf.Handedness]float64{grf.RightHanded: 1, grf.LeftHanded: -1} {
			axes, err := grf.NewAxes(r3.Vec{Z: 1}, r3.Vec{Y: 1}, r3.Vec{}, hand)
			if err != nil {
				t.Fatal(err)
			}
			_, got := cop.Of(axes.Wrench(grf.At(r3.Vec{Z: 600}, r3.Vec{}, r3.Vec{Z: 7})), 0, 20)
			near(t, hand.String(), got, sign*7, 1e-12)
		}
	}, "cop.Of"},
	{7, "two plates, one golfer", func(t *testing.T) {
		lead := grf.At(r3.Vec{X: 10, Y: 30, Z: 500}, r3.Vec{X: 0.05, Y: 0.25}, r3.Vec{Z: 0.5})
		trail := grf.At(r3.Vec{X: -20, Y: -10, Z: 300}, r3.Vec{X: -0.02, Y: -0.2}, r3.Vec{Z: 0.5})
		p, free := cop.Net(lead, trail, 0, 20)
		// In one plane the point is the mean weighted by load; free moments do not add:
		// the horizontal forces act at arms about it.
		close3(t, "point", p, r3.Vec{X: (500*0.05 - 300*0.02) / 800, Y: (500*0.25 - 300*0.2) / 800}, 1e-12)
		want := 1 + (0.05-p.X)*30 - (0.25-p.Y)*10 + (-0.02-p.X)*-10 - (-0.2-p.Y)*-20
		near(t, "net free moment", free, want, 1e-12)
		if math.Abs(free-1) < 0.5 {
			t.Error("the sum of the free moments would do")
		}
		// A foot in the air does not take the other with it.
		p, _ = cop.Net(lead, grf.Wrench{Force: r3.Vec{Z: 3}}, 0, 20)
		if math.IsNaN(p.X) {
			t.Error("undefined with one foot in the air")
		}
	}, "cop.Net; what a foot across the gap does is seen in centres of pressure outside of the stance (com.Quality.Outside)"},
	{8, "drift and zero", func(t *testing.T) {
		rng := rand.New(rand.NewPCG(1, 2))
		window := func(offset, drift float64) [][]float64 {
			ch := make([][]float64, 6)
			for k := range ch {
				for i := range 500 {
					ch[k] = append(ch[k], float64(k)+rng.NormFloat64()*0.2)
					if k == 2 {
						ch[k][i] += offset + drift*float64(i)/500
					}
				}
			}
			return ch
		}
		p := flatPlate(t, grf.PlateConfig{})
		b, err := grf.MeasureBaseline(p, window(20, 0), 0, 499, grf.BaselineOptions{})
		if err != nil {
			t.Fatal(err)
		}
		zeroed, err := b.Subtract(nil, window(20, 0))
		if err != nil {
			t.Fatal(err)
		}
		for k, c := range zeroed {
			var sum float64
			for _, v := range c {
				sum += v / 500
			}
			near(t, fmt.Sprintf("channel %d", k+1), sum, 0, 0.05) // 0.2/√500 · 5
		}
		_, err = grf.MeasureBaseline(p, window(300, 0), 0, 499, grf.BaselineOptions{})
		is(err, grf.ErrLoaded, "a loaded window")(t)
		_, err = grf.MeasureBaseline(p, window(0, 12), 0, 499, grf.BaselineOptions{})
		is(err, grf.ErrUnquiet, "a window that drifts")(t)
		// 5 N of drift over 2 s are 44 mm for 75 kg, without a rest at the end.
		net := make([]grf.Wrench, 3001)
		for i := range net {
			net[i].Force.Z = 75 * com.StandardGravity
			if i > 1000 {
				net[i].Force.Y = 5 * float64(i-1000) / 2000
			}
		}
		path, err := com.FromForces(net, 0, 1000, com.ForceOptions{Quiet: com.Window{From: 0, To: 1}, Still: com.Window{From: nan, To: nan}})
		if err != nil {
			t.Fatal(err)
		}
		near(t, "path after drift", path.Position[3000].Y, 0.0444, 0.0005)
		if !slices.ContainsFunc(path.Warnings, func(w grf.Warning) bool { return w.Code == "drift" }) {
			t.Errorf("no warning of it: %v", path.Warnings)
		}
	}, "grf.MeasureBaseline, com.FromForces"},
	{9, "cross-talk", func(t *testing.T) {
		// All of a matrix counts, by rows: 2 % of Fz shows in Fx.
		m := make([][]float64, 6)
		for i := range m {
			m[i] = make([]float64, 6)
			m[i][i] = 1
		}
		m[0][2] = -0.02
		p := flatPlate(t, grf.PlateConfig{Type: grf.TypeMomentCalibrated, Calibration: m})
		near(t, "Fx", p.Surface([]float64{-10, 0, -500, 0, 0, 0}).Force.X, 0, 1e-12)
	}, "grf.FitCalibration, which finds such a matrix from known loads"},
	{10, "resonance", nil, "grf, section What a recording can not show"},
	{11, "the filter before the quotient", func(t *testing.T) {
		// A step onto a plate, with noise: filtering force and moment and dividing is
		// better than filtering the quotient, by far where the foot comes and goes.
		const rate = 1000
		rng := rand.New(rand.NewPCG(3, 4))
		ws, truth := make([]grf.Wrench, 1200), make([]float64, 1200)
		for i := range ws {
			x := float64(i) / rate
			load := 800 * math.Min(1, math.Max(0, math.Min((x-0.3)/0.02, (0.9-x)/0.02)))
			truth[i] = 0.05 + 0.15*(x-0.3)/0.6
			ws[i] = grf.At(r3.Vec{Z: load}, r3.Vec{X: truth[i]}, r3.Vec{})
			ws[i].Force.Z += 1.5 * rng.NormFloat64()
			ws[i].Moment.Y += 0.5 * rng.NormFloat64()
		}
		z := lowPass(t, filter.ZeroPhaseOptions{Cutoff: 20, Rate: rate, NaN: filter.NaNSegments, Short: filter.ShortReduce})
		smooth, err := z.Wrenches(nil, ws)
		if err != nil {
			t.Fatal(err)
		}
		raw, _ := cop.Series(nil, nil, ws, 0, 20)
		zeroes := make([]float64, len(raw))
		for i, p := range raw {
			if !math.IsNaN(p.X) {
				zeroes[i] = p.X
			}
		}
		quotient, err := z.Apply(nil, zeroes)
		if err != nil {
			t.Fatal(err)
		}
		var good, bad, n float64
		for i := range ws {
			if load := ws[i].Force.Z; load > 20 { // gated by the unfiltered load
				p, _ := cop.Of(smooth[i], 0, 20)
				good += (p.X - truth[i]) * (p.X - truth[i])
				bad += (quotient[i] - truth[i]) * (quotient[i] - truth[i])
				n++
			}
		}
		if good, bad := math.Sqrt(good/n), math.Sqrt(bad/n); !(good < 0.001 && bad > 5*good) {
			t.Errorf("errors of %.2f mm in this order and %.2f mm in the other", 1000*good, 1000*bad)
		}
		// The analysis does it in this order.
		a := analysed(t)
		for i := range a.Series.Net {
			p, _ := cop.Of(a.Series.Net[i], 0, a.Settings.MinVertical)
			if q := a.Series.NetCOP[i]; p != q && !math.IsNaN(q.X) {
				t.Fatalf("sample %d: %v, want %v", i, q, p)
			}
		}
	}, "cop, section Undefined is NaN; grf/filter, section What to filter"},
	{12, "the cut-off of two passes", func(t *testing.T) {
		for _, c := range [][2]float64{{1000, 10}, {1000, 50}, {200, 50}, {100, 30}} {
			for _, order := range []int{2, 4} {
				z := lowPass(t, filter.ZeroPhaseOptions{Rate: c[0], Cutoff: c[1], Order: order})
				near(t, fmt.Sprint(c, order), z.Gain(c[1]), math.Sqrt2/2, 1e-12)
			}
		}
		// One pass has its −3 dB higher, by 1/0.8022 of the warped frequency for order 2.
		z := lowPass(t, filter.ZeroPhaseOptions{Rate: 100, Cutoff: 30})
		near(t, "one pass", math.Tan(math.Pi*0.3)/math.Tan(math.Pi*z.PassCutoff()/100), 0.8022, 5e-5)
	}, "grf/filter.ZeroPhaseOptions.Cutoff"},
	{13, "the ends of a series", func(t *testing.T) {
		x := make([]float64, 400)
		for i := range x {
			x[i] = 800 + 0.1*float64(i)
		}
		y, err := lowPass(t, filter.ZeroPhaseOptions{Cutoff: 10, Rate: 1000}).Apply(nil, x)
		if err != nil || len(y) != len(x) {
			t.Fatalf("%d samples, %v", len(y), err)
		}
		for i := range x {
			near(t, fmt.Sprint("sample ", i), y[i], x[i], 1e-6)
		}
		c, err := filter.NewCausal(filter.CausalOptions{Cutoff: 10, Rate: 1000})
		if err != nil {
			t.Fatal(err)
		}
		near(t, "first sample of a stream", c.Push(nil, []float64{800})[0], 800, 1e-9)
	}, "grf/filter.ZeroPhase"},
	{14, "NaN in a recursion", func(t *testing.T) {
		x := spoilt(600, 300, nan)
		for _, policy := range []filter.NaNPolicy{filter.NaNSegments, filter.NaNInterpolate} {
			y, err := lowPass(t, filter.ZeroPhaseOptions{NaN: policy}).Apply(nil, x)
			if err != nil {
				t.Fatal(err)
			}
			for i, v := range y {
				if math.IsNaN(v) != (i == 300) {
					t.Fatalf("%v: sample %d is %g", policy, i, v)
				}
			}
		}
	}, "grf/filter, section Missing samples"},
	{15, "lost rows and uneven clocks", func(t *testing.T) {
		rows := []string{"t[s],lead_fx[N],lead_fy[N],lead_fz[N],lead_copx[m],lead_copy[m],lead_free[Nm],trail_fx[N],trail_fy[N],trail_fz[N],trail_copx[m],trail_copy[m],trail_free[Nm]"}
		for i := range 40 {
			if i == 20 || i == 21 {
				continue
			}
			rows = append(rows, fmt.Sprintf("%.3f,0,0,300,0,0.2,0,0,0,400,0,-0.2,0", float64(i)/100))
		}
		r, err := readTable(t, strings.Join(rows, "\n")+"\n", `{"version": 1}`)
		if err != nil {
			t.Fatal(err)
		}
		if rec := r.Recording; rec.Len() != 40 || !rec.Lead[20].IsNaN() || rec.Lead[22].IsNaN() || rec.Rate != 100 {
			t.Errorf("%d samples at %g Hz, %v", rec.Len(), rec.Rate, rec.Lead[19:23])
		}
		if !slices.ContainsFunc(r.Warnings, func(w grf.Warning) bool { return w.Code == "rows-lost" }) {
			t.Errorf("no warning: %v", r.Warnings)
		}
	}, "grf/table.Even"},
	{16, "different rates", func(t *testing.T) {
		f := decode(t, encode(t, small()))
		if f.AnalogRate() != perFrame*f.Rate || len(f.Channels[0].Values) != perFrame*f.Frames {
			t.Errorf("%g and %g Hz, %d and %d samples", f.AnalogRate(), f.Rate, len(f.Channels[0].Values), f.Frames)
		}
		// 1718 samples at 59.94 Hz on a clock of 1000 Hz: as many as the time holds, none
		// beyond its ends.
		times, x := make([]float64, 1718), make([]float64, 1718)
		for i := range times {
			times[i] = float64(i) / 59.94
			x[i] = 3 * times[i]
		}
		to, err := filter.NewClock(0, times[1717], 1000)
		if err != nil {
			t.Fatal(err)
		}
		y, err := filter.Resample(nil, to, times, x, filter.ResampleOptions{})
		if err != nil || len(y) != int(times[1717]*1000)+1 {
			t.Fatalf("%d samples, %v", len(y), err)
		}
		for i, v := range y {
			near(t, fmt.Sprint("sample ", i), v, 3*to.Time(i), 1e-9)
		}
	}, "grf/filter.Resample"},
	{17, "clocks of other instruments", func(t *testing.T) {
		// Delay and factor, both; 20 ppm over 10 minutes are 12 ms.
		var stamps, instants []float64
		for i := range 7 {
			stamps = append(stamps, 100*float64(i))
			instants = append(instants, 100*float64(i)*(1-20e-6)-0.2)
		}
		c, err := com.FitClock(stamps, instants, 0.001)
		if err != nil {
			t.Fatal(err)
		}
		near(t, "at the end", c.Time(600), 600-0.012-0.2, 1e-9)
		// A filter that runs live is late, and says by how much.
		f, err := filter.NewCausal(filter.CausalOptions{Cutoff: 50, Rate: 1000})
		if err != nil {
			t.Fatal(err)
		}
		near(t, "delay", f.Delay(), math.Sqrt2/(2*math.Pi*50), 1e-4)
	}, "com.Clock, grf/filter.Causal.Delay, phase/live.Chain.Delay"},
	{18, "one cut-off for forces and positions", nil, "grf/filter, section What to filter"},
	{19, "body weight", func(t *testing.T) {
		r := recorded(t)
		q, err := grf.FindQuiet(r, grf.QuietOptions{Gravity: 9.81})
		if err != nil {
			t.Fatal(err)
		}
		near(t, "mass", q.Mass, 78*9.80665/9.81, 0.01)
		if !(q.WeightSE >= 0 && q.To > q.From && q.Last > q.First) {
			t.Errorf("%+v", q)
		}
	}, "grf.QuietOptions, grf.Quiet"},
	{20, "chatter of thresholds", func(t *testing.T) {
		// Losing contact for 50 ms is a hop, for longer the golfer is gone.
		o, err := phase.NewOnline(phase.OnlineOptions{Rate: 1000, Feet: phase.FeetTogether})
		if err != nil {
			t.Fatal(err)
		}
		push := func(load float64, seconds float64) {
			for range int(1000 * seconds) {
				o.Push(phase.Sample{Net: grf.At(r3.Vec{Z: load}, r3.Vec{}, r3.Vec{})})
			}
		}
		push(700, 2)
		if o.State() != phase.Ready {
			t.Fatal(o.State())
		}
		for range 5 { // around the threshold of a fifth of the weight
			push(130, 0.05)
			push(150, 0.05)
		}
		if o.State() == phase.Waiting {
			t.Error("gone after 50 ms")
		}
		push(130, 0.2)
		if o.State() != phase.Waiting {
			t.Errorf("%v after 0.2 s without load", o.State())
		}
	}, "phase, package comment"},
	{21, "flight time against impulse", nil, "not of this library: it tells no height of a jump; torque.LinearImpulse says that the weight is in it, com.FlightError holds a path against free fall"},
	{22, "the end of a range", func(t *testing.T) {
		r := recorded(t)
		for _, ws := range [][]grf.Wrench{r.Lead, r.Trail} {
			for i := range ws {
				ws[i].Force.Z = math.Min(ws[i].Force.Z, 700)
			}
		}
		a, err := swing.Analyse(r, swing.Options{})
		if err != nil {
			t.Fatal(err)
		}
		if !slices.ContainsFunc(a.Warnings, func(w grf.Warning) bool { return w.Code == "saturated" }) {
			t.Errorf("no warning: %v", a.Warnings)
		}
	}, "c3d.CodeSaturated, swing.Analyse, live.Saturated"},
	{23, "more than the golfer on the plates", nil, "grf, section What a recording can not show; the warning mass-mismatch where a mass is stated"},
	{24, "jumps of a centre of pressure are genuine", func(t *testing.T) {
		s, err := synth.New(synth.Config{Rate: 200, Style: synth.LeadLift})
		if err != nil {
			t.Fatal(err)
		}
		rec := s.Recording()
		a, err := swing.Analyse(rec, swing.Options{Cutoff: swing.Unfiltered})
		if err != nil {
			t.Fatal(err)
		}
		lifted := 0
		for i := range rec.Lead {
			p, _ := cop.Net(rec.Lead[i], rec.Trail[i], 0, a.Settings.MinVertical)
			if p != a.Series.NetCOP[i] {
				t.Fatalf("sample %d: %v, want %v", i, a.Series.NetCOP[i], p)
			}
			if rec.Lead[i].Force.Z < 20 {
				lifted++
				if !math.IsNaN(a.Series.LeadCOP[i].X) || math.IsNaN(p.X) {
					t.Fatalf("sample %d with the lead foot in the air", i)
				}
			}
		}
		if lifted == 0 {
			t.Error("the foot never leaves the ground")
		}
	}, "cop, section Undefined is NaN"},
	{25, "which centre of mass", func(t *testing.T) {
		if m := analysed(t).Settings.COM; m == "" {
			t.Error("nobody says how it was found")
		}
		for _, table := range []com.Table{com.DeLevaMen, com.DeLevaWomen, com.Dempster} {
			var sum float64
			for _, r := range table.Rows() {
				if r.Name == "" {
					t.Error("a row without a name")
				}
				sum += r.Mass
			}
			if table.String() == "" || sum < 0.5 {
				t.Errorf("%v", table)
			}
		}
	}, "cop/com, package comment; com.NewModel, com.PelvisProxy"},
	{26, "arithmetic", func(t *testing.T) {
		for _, fz := range []float64{1e-300, -1e-300, -5, 0, 5e-324} {
			p, free := cop.Of(grf.Wrench{Force: r3.Vec{Z: fz}, Moment: r3.Vec{X: 1, Y: 1, Z: 1}}, 0, 0)
			if math.IsInf(p.X, 0) || math.IsInf(free, 0) || fz <= 0 && !math.IsNaN(p.X) {
				t.Errorf("under %g N: %v, %g", fz, p, free)
			}
		}
		// A mean over half an hour keeps its digits.
		rec := &grf.Recording{Rate: 500, Net: make([]grf.Wrench, 500*1800)}
		for i := range rec.Net {
			rec.Net[i].Force.Z = 765.4321 + 0.01*float64(i%2)
		}
		q, err := grf.FindQuiet(rec, grf.QuietOptions{})
		if err != nil {
			t.Fatal(err)
		}
		near(t, "weight", q.Weight, 765.4371, 1e-7) // of 900000 samples added up
		sum, err := torque.LinearImpulse(rec.Net, 0, 500, 0, rec.End())
		if err != nil {
			t.Fatal(err)
		}
		near(t, "impulse over half an hour", sum.Z/rec.End(), 765.4371, 1e-6)
	}, "cop.Of"},
	{27, "the order of operations", func(t *testing.T) {
		f := standing()
		for c := range f.Channels { // not zeroed, and turned round
			for i := range f.Channels[c].Values {
				f.Channels[c].Values[i] = -f.Channels[c].Values[i] + 5
			}
		}
		r, err := readCapture(t, encode(t, f), `{"version": 1, "lab": {"target": "+y"}, "zero": {"from": "0 s", "to": "0.025 s"}}`)
		if err != nil {
			t.Fatal(err)
		}
		at := -1
		for _, step := range []string{"C3D file", "plate 1: ", "zeroed", "action"} {
			next := slices.IndexFunc(r.Steps[at+1:], func(s string) bool { return strings.Contains(s, step) })
			if next < 0 {
				t.Fatalf("%q does not come behind step %d of %q", step, at, r.Steps)
			}
			at += 1 + next
		}
		for _, ws := range [][]grf.Wrench{r.Recording.Lead, r.Recording.Trail} {
			close3(t, "force", ws[40].Force, r3.Vec{X: ws[40].Force.X, Y: ws[40].Force.Y, Z: 350}, 1e-9)
		}
		if steps := analysed(t).Steps; !(indexOf(steps, "quiet stance") < indexOf(steps, "low-passed") && indexOf(steps, "low-passed") < indexOf(steps, "centre of mass")) {
			t.Errorf("%q", steps)
		}
	}, "grf/capture and phase/swing, package comments; Steps of both results"},
}

func indexOf(steps []string, text string) int {
	return slices.IndexFunc(steps, func(s string) bool { return strings.Contains(s, text) })
}
