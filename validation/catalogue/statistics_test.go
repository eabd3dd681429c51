package catalogue

import (
	"errors"
	"io"
	"math"
	"slices"
	"strings"
	"sync"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"example.com/momentarm/cop"
	"example.com/momentarm/cop/com"
	"example.com/momentarm/grf"
	"example.com/momentarm/grf/c3d"
	"example.com/momentarm/grf/capture"
	"example.com/momentarm/grf/filter"
	"example.com/momentarm/phase"
	"example.com/momentarm/phase/swing"
	"example.com/momentarm/validation/agreement"
)

// Rows 161 to 178: ensembles, agreement, segment models, axes, clocks and streams.

func curve(t *testing.T, points int) swing.Curve {
	t.Helper()
	b := swing.Between(phase.Onset, phase.Impact)
	b.Points = points
	c, err := analysed(t).Curve(swing.Signals()[0], b)
	if err != nil {
		t.Fatal(err)
	}
	return c
}

// landmarks of a whole body, by the names of the tables, but for those that are left
// out.
func landmarks(without ...string) map[string]com.Landmark {
	all := map[string]com.Landmark{}
	for _, name := range []string{"vertex", "mid_gonion", "cervicale", "suprasternale", "xiphion", "omphalion"} {
		all[name] = com.Landmark{name}
	}
	for _, name := range []string{"shoulder", "elbow", "wrist", "hip", "knee", "ankle", "knuckle3", "heel", "toe_tip"} {
		for _, side := range []string{"_left", "_right"} {
			all[name+side] = com.Landmark{name + side}
		}
	}
	for _, name := range without {
		delete(all, name)
	}
	return all
}

var ratings = [][]float64{{9, 2, 5, 8}, {6, 1, 3, 2}, {8, 4, 6, 8}, {7, 1, 2, 6}, {10, 5, 6, 9}, {6, 2, 4, 7}} // Shrout and Fleiss 1979, table 2

var statisticsRows = []row{
	{161, "an ensemble of curves of different lengths", fails(swing.ErrBase), func(t *testing.T) ([]grf.Warning, error) {
		_, err := swing.Average([]swing.Curve{curve(t, 101), curve(t, 51)})
		return nil, err
	}, ""},
	{162, "an ensemble of one curve", defined(), func(t *testing.T) ([]grf.Warning, error) {
		c := curve(t, 11)
		e, err := swing.Average([]swing.Curve{c})
		if err != nil {
			return nil, err
		}
		if e.Mean[5] != c.Value[5] || !math.IsNaN(e.SD[5]) || e.N[5] != 1 {
			t.Errorf("mean %g, SD %g of %d", e.Mean[5], e.SD[5], e.N[5])
		}
		return nil, nil
	}, ""},
	{163, "a correlation of one subject or one rater", fails(agreement.ErrTooFew), both(agreement.ErrTooFew,
		only(errOf(agreement.ICC(ratings[:1], agreement.OneWaySingle, 0))),
		only(errOf(agreement.ICC([][]float64{{1}, {2}, {3}}, agreement.OneWaySingle, 0))),
	), ""},
	{164, "a correlation with a missing rating", fails(agreement.ErrNotFinite), func(t *testing.T) ([]grf.Warning, error) {
		is(errOf(agreement.ICC([][]float64{{1, 2}, {3}}, agreement.OneWaySingle, 0)), agreement.ErrLength, "a short row")(t)
		return nil, errOf(agreement.ICC([][]float64{{1, 2}, {3, nan}, {5, 6}}, agreement.OneWaySingle, 0))
	}, "which rows to leave out is not for a formula to decide"},
	{165, "a correlation of equal numbers", fails(agreement.ErrNoVariation), func(t *testing.T) ([]grf.Warning, error) {
		return nil, errOf(agreement.ICC([][]float64{{4, 4}, {4, 4}, {4, 4}}, agreement.TwoWayMixedSingle, 0))
	}, ""},
	{166, "a correlation below 0", defined(), func(t *testing.T) ([]grf.Warning, error) {
		c, err := agreement.ICC([][]float64{{1, 9}, {9, 1}, {5, 5.5}}, agreement.OneWaySingle, 0)
		if err == nil && !(c.Value < 0) {
			t.Errorf("%g", c.Value)
		}
		return nil, err
	}, ""},
	{167, "a coefficient of variation over a change of sign", fails(agreement.ErrNotPositive), func(t *testing.T) ([]grf.Warning, error) {
		a := analysed(t)
		s, err := swing.NewSession([]*swing.Analysis{a, a})
		if err != nil {
			return nil, err
		}
		if p, ok := s.Spread("com_shift_at_impact"); !ok || !math.IsNaN(p.CV) {
			t.Errorf("a shift has the coefficient %g", p.CV)
		}
		return nil, errOf(agreement.Variation([][]float64{{1, -1}, {2, 3}}))
	}, ""},
	{168, "segments that are 93 % of a body", warns("segments-missing"), func(t *testing.T) ([]grf.Warning, error) {
		m, w, err := com.NewModel(com.DeLevaMen, landmarks("vertex"))
		if err == nil && !(m.Fraction() > 0.9 && m.Fraction() < 0.96) {
			t.Errorf("%.3f of the body", m.Fraction())
		}
		_, _, tooLittle := com.NewModel(com.DeLevaMen, landmarks("knee_left", "knee_right", "hip_left", "hip_right"))
		is(tooLittle, com.ErrSegment, "a body without legs")(t)
		return w, err
	}, "scaled up with a warning as long as 90 % of the body are there, an error below"},
	{169, "a marker that is missing now and then", warns("points-lost"), func(t *testing.T) ([]grf.Warning, error) {
		m := com.PelvisProxy(com.Landmark{"a", "b"})
		v := r3.Vec{X: 1, Y: 2, Z: 3}
		lost := r3.Vec{X: nan, Y: nan, Z: nan}
		track, w, err := m.Track([]string{"a", "b"}, []float64{0, 0.1, 0.2}, [][]r3.Vec{{v, v, v}, {v, lost, v}}, r3.Vec{})
		if err == nil && (!math.IsNaN(track.Position[1].X) || track.Position[2] != v) {
			t.Errorf("%v", track.Position)
		}
		return w, err
	}, ""},
	{170, "a landmark that no table knows", fails(com.ErrSegment), func(t *testing.T) ([]grf.Warning, error) {
		l := landmarks()
		l["nose_left"] = com.Landmark{"N"}
		_, _, err := com.NewModel(com.DeLevaMen, l)
		if err == nil || !strings.Contains(err.Error(), "nose_left") {
			t.Errorf("%v does not name it", err)
		}
		return nil, err
	}, ""},
	{171, "a rotation that is none", notHere(), nil, "nothing takes a matrix of a rotation: axes are built from directions and corners, and are orthonormal by construction"},
	{172, "an up that is zero, or along the target", fails(grf.ErrAxes), both(grf.ErrAxes,
		only(errOf(grf.NewAxes(r3.Vec{}, r3.Vec{Y: 1}, r3.Vec{}, grf.RightHanded))),
		only(errOf(grf.NewAxes(r3.Vec{Z: 1}, r3.Vec{Z: -2}, r3.Vec{}, grf.RightHanded))),
		only(errOf(grf.NewAxes(r3.Vec{Z: 1}, r3.Vec{X: nan}, r3.Vec{}, grf.LeftHanded))),
	), ""},
	{173, "a foot whose heel is its toe", fails(cop.ErrFoot), func(t *testing.T) ([]grf.Warning, error) {
		is(setupError(`{"version": 1, "feet": {"lead": {"heel": ["0 m", "0 m", "0 m"], "toe": ["0 m", "0 m", "0 m"], "width": "9 cm"}}}`)(t), capture.ErrSetup, "a setup")(t)
		return nil, errOf(cop.NewFoot(cop.Lead, r3.Vec{X: 1}, r3.Vec{X: 1}, 0.1))
	}, ""},
	{174, "a correlation of records with two equal peaks", warns("sync-ambiguous"), func(t *testing.T) ([]grf.Warning, error) {
		a, b := make([]r3.Vec, 1000), make([]r3.Vec, 1000)
		for i := range a {
			a[i].X = math.Sin(2 * math.Pi * float64(i) / 40) // repeats every 0.4 s
			b[i].X = math.Sin(2 * math.Pi * float64(i+7) / 40)
		}
		c, err := com.Correlate(a, b, 100, 1)
		flat, err2 := com.Correlate(a, make([]r3.Vec, 1000), 100, 1)
		if !slices.ContainsFunc(flat.Warnings, func(w grf.Warning) bool { return w.Code == "sync-weak" }) {
			t.Errorf("a flat record: %v", flat.Warnings)
		}
		return c.Warnings, errors.Join(err, err2)
	}, ""},
	{175, "clocks that drift by 2 %", warns("clock-drift"), func(t *testing.T) ([]grf.Warning, error) {
		var stamps, instants []float64
		for i := range 6 {
			stamps, instants = append(stamps, float64(i)), append(instants, 0.5+1.02*float64(i))
		}
		c, err := com.FitClock(stamps, instants, 0.001)
		if err == nil && (math.Abs(c.Factor-1.02) > 1e-9 || math.Abs(c.Time(3)-3.56) > 1e-9) {
			t.Errorf("%+v", c)
		}
		return c.Warnings, err
	}, ""},
	{176, "a stream in blocks of 1, 7, 4096 and 0 samples", defined(), func(t *testing.T) ([]grf.Warning, error) {
		x := wave(5000)
		var want []float64
		for _, block := range []int{1, 7, 4096} {
			c, err := filter.NewCausal(filter.CausalOptions{Cutoff: 20, Rate: 1000})
			if err != nil {
				return nil, err
			}
			var got []float64
			for i := 0; i < len(x); i += block {
				got = append(got, c.Push(nil, x[i:min(len(x), i+block)])...)
				got = append(got, c.Push(nil, nil)...)
			}
			if want == nil {
				want = got
			}
			if !slices.Equal(got, want) {
				t.Errorf("blocks of %d differ", block)
			}
		}
		return nil, nil
	}, ""},
	{177, "a stream that goes on after an error", fails(filter.ErrNotFinite), func(t *testing.T) ([]grf.Warning, error) {
		c, err := filter.NewCausal(filter.CausalOptions{Cutoff: 20, Rate: 1000})
		if err != nil {
			return nil, err
		}
		c.Push(nil, []float64{1, inf, 3})
		if y := c.Push(nil, []float64{4}); !math.IsNaN(y[0]) {
			t.Errorf("%g after an error", y[0])
		}
		err = c.Err()
		if c.Reset(); c.Err() != nil || c.Push(nil, []float64{4})[0] != 4 {
			t.Error("Reset does not begin anew")
		}
		return nil, err
	}, ""},
	{178, "one filter in several goroutines", defined(), func(t *testing.T) ([]grf.Warning, error) {
		z := lowPass(t, filter.ZeroPhaseOptions{})
		x := wave(500)
		want, err := z.Apply(nil, x)
		var group sync.WaitGroup
		for range 8 {
			group.Add(1)
			go func() {
				defer group.Done()
				for range 20 {
					if got, err := z.Apply(nil, x); err != nil || !slices.Equal(got, want) {
						t.Errorf("differs: %v", err)
					}
				}
			}()
		}
		group.Wait()
		return nil, err
	}, "what keeps state across samples (Causal, Tracker, Online, Chain) must not be shared, and says so"},
}

// Rows 179 to 188: what is written.

// written is the error of writing small after a change; nothing is written then.
func written(change func(f *c3d.File)) func(t *testing.T) error {
	return func(t *testing.T) error {
		f := small()
		change(f)
		b, err := c3d.Append(nil, f)
		if err != nil && b != nil {
			t.Errorf("%d bytes beside %v", len(b), err)
		}
		return err
	}
}

var errDisk = errors.New("no room on the disk")

type full struct{}

func (full) Write([]byte) (int, error) { return 0, errDisk }

var _ io.Writer = full{}

var writeRows = []row{
	{179, "points that are NaN or infinite", defined(), decoded(of(func(f *c3d.File) {
		f.Points[0].Position[0].Y, f.Points[0].Position[1].X = nan, inf
	}), func(t *testing.T, f *c3d.File) {
		p := f.Points[0].Position
		if !math.IsNaN(p[0].X) || !math.IsNaN(p[1].Z) || math.IsNaN(p[2].X) {
			t.Errorf("%v", p[:3])
		}
		b := encode(t, f)
		if start := decode(t, b).Layout.DataStart; !slices.Equal(b[start:start+16], reals(0, 0, 0, -1)) {
			t.Errorf("stored as % x", b[start:start+16])
		}
	}), ""},
	{180, "NaN in a channel of integers", fails(c3d.ErrRange), both(c3d.ErrRange,
		written(func(f *c3d.File) { f.Storage = c3d.Integer; f.Channels[3].Values[7] = nan }),
		written(func(f *c3d.File) { f.Storage = c3d.Integer; f.Channels[3].Values[7] = inf }),
	), ""},
	{181, "a value beyond 16 bits and their scale", fails(c3d.ErrRange), func(t *testing.T) ([]grf.Warning, error) {
		f := small()
		f.Storage = c3d.Integer
		f.Channels[3].Values[7], f.Channels[3].Scale, f.Channels[3].Offset = 1e6, 0, 0 // 0: choose one
		g := decode(t, encode(t, f))
		if v := g.Channels[3].Values[7]; math.Abs(v-1e6) > 1e6/32000 {
			t.Errorf("with a scale that is chosen: %g", v)
		}
		err := written(func(f *c3d.File) { f.Storage = c3d.Integer; f.Channels[3].Values[7] = 1e6 })(t)
		var e *c3d.WriteError
		if !errors.As(err, &e) || e.Index != 7 || !strings.Contains(e.Place, "Mx1") {
			t.Errorf("%v does not say where", err)
		}
		return nil, err
	}, ""},
	{182, "more than 65535 frames", defined(), decoded(func(t *testing.T) []byte { return encode(t, long(70000)) }, has(70000)), ""},
	{183, "more than 255 labels", defined(), decoded(of(func(f *c3d.File) {
		for i := range 300 {
			f.Points = append(f.Points, c3d.Point{Label: "P" + strings.Repeat("x", i/100) + string(rune('A'+i%26)) + string(rune('a'+i/26)), Position: make([]r3.Vec, frames)})
		}
	}), func(t *testing.T, f *c3d.File) {
		if len(f.Points) != 303 || f.Points[302].Label == "" || f.Groups.Find("POINT", "LABELS2") == nil {
			t.Errorf("%d points", len(f.Points))
		}
	}), ""},
	{184, "a label of 300 bytes", fails(c3d.ErrLabelLength), both(c3d.ErrLabelLength, written(func(f *c3d.File) { f.Points[1].Label = strings.Repeat("x", 300) })), ""},
	{185, "parameters of more than 255 blocks", fails(c3d.ErrTooLarge), both(c3d.ErrTooLarge, written(func(f *c3d.File) {
		for i := range 4 {
			f.Groups.Set("FILL", c3d.Parameter{Name: "F" + string(rune('A'+i)), Type: c3d.Byte, Dims: []int{255, 200}, Data: make([]byte, 255*200)})
		}
	})), ""},
	{186, "a writer that fails", fails(errDisk), func(t *testing.T) ([]grf.Warning, error) {
		return nil, c3d.Encode(full{}, small())
	}, "the programs write to another name and rename: see the tests of examples/internal/safe and of examples/batch, where the writer is killed"},
	{187, "an undefined measure in a report", defined(), func(t *testing.T) ([]grf.Warning, error) {
		r := recorded(t)
		r.Net, _ = r.NetWrenches(nil)
		r.Lead, r.Trail = nil, nil
		a, err := swing.Analyse(r, swing.Options{})
		if err != nil {
			return nil, err
		}
		undefined := 0
		for _, m := range a.Measures {
			if math.IsNaN(m.Value) {
				if undefined++; m.Note == "" {
					t.Errorf("%s is undefined without a reason", m.Name)
				}
			}
		}
		if undefined == 0 {
			t.Error("no measure is undefined: nothing was tested")
		}
		return nil, nil
	}, "in JSON null, with the reason beside it: see examples/internal/results"},
	{188, "text with control characters and markup in a report", notHere(), nil,
		"the library writes no pages; the programs do, and escape names, labels and messages: see the tests of examples/report, examples/live, examples/batch and examples/internal/safe"},
}
