package validation

import (
	"fmt"
	"math"
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
	"example.com/momentarm/phase/live"
	"example.com/momentarm/phase/screen"
	"example.com/momentarm/phase/swing"
	"example.com/momentarm/validation/synth"
)

// shared runs something in many goroutines at once, which all must get what one alone
// gets. The race detector sees to it that nobody writes.
func shared(t *testing.T, name string, ask func() string) {
	t.Helper()
	t.Run(name, func(t *testing.T) {
		want := ask()
		if want == "" || strings.Contains(want, "error") {
			t.Fatalf("%q", want)
		}
		var group sync.WaitGroup
		for range 8 {
			group.Add(1)
			go func() {
				defer group.Done()
				for range 4 {
					if got := ask(); got != want {
						t.Errorf("got\n%.300s\nwant\n%.300s", got, want)
						return
					}
				}
			}()
		}
		group.Wait()
	})
}

// say prints results, or an error as one.
func say(err error, results ...any) string {
	if err != nil {
		return "error: " + err.Error()
	}
	return fmt.Sprint(results...)
}

// TestShared: what may be shared by goroutines is. What keeps state across samples
// (filter.Causal, com.Tracker, phase.Online, live.Chain) or is read into
// (c3d.File.Decode) must not be, and says so; made of shared parts, one for each
// goroutine, they are tested here as well.
func TestShared(t *testing.T) {
	s, err := synth.New(synth.Config{Rate: 100, Unloaded: 1})
	if err != nil {
		t.Fatal(err)
	}
	rec := s.Recording()
	opt := swing.Options{Cutoff: 15}
	a, err := swing.Analyse(rec, opt)
	if err != nil {
		t.Fatal(err)
	}
	file, err := s.C3D(synth.CaptureOptions{})
	if err != nil {
		t.Fatal(err)
	}
	data, err := c3d.Append(nil, file)
	if err != nil {
		t.Fatal(err)
	}
	if file, err = c3d.Decode(data, c3d.Options{}); err != nil {
		t.Fatal(err)
	}
	setup, err := capture.ReadSetup(strings.NewReader(`{"version": 1, "lab": {"target": "-x"}, "golfer": {"stature": "1.78 m"}}`))
	if err != nil {
		t.Fatal(err)
	}
	corners := [4]r3.Vec{{X: 0.4, Y: 0.6}, {X: 0.4}, {}, {Y: 0.6}}
	plate, err := grf.NewPlate(grf.PlateConfig{Type: grf.TypeMoment, Corners: corners, Origin: r3.Vec{Z: -0.04}, Sense: grf.Reaction, PointCorrection: &[12]float64{2: 1e-9}})
	if err != nil {
		t.Fatal(err)
	}
	axes, err := grf.NewAxes(r3.Vec{Z: 1}, r3.Vec{Y: 1}, r3.Vec{X: 0.2, Y: 0.3}, grf.LeftHanded)
	if err != nil {
		t.Fatal(err)
	}
	sample := []float64{10, -20, 700, 30, -40, 5}
	shared(t, "plate and axes", func() string {
		w := plate.Wrench(sample)
		ws, err := plate.Wrenches(nil, [][]float64{{10}, {-20}, {700}, {30}, {-40}, {5}})
		return say(err, w, ws, plate.WithSense(grf.Action).Wrench(sample), axes.Wrench(w), axes.Wrenches(nil, ws), plate.Warnings())
	})
	zero, err := filter.NewZeroPhase(filter.ZeroPhaseOptions{Cutoff: 15, Rate: 100, NaN: filter.NaNSegments, Short: filter.ShortReduce})
	if err != nil {
		t.Fatal(err)
	}
	shared(t, "zero-phase filter", func() string {
		ws, err := zero.Wrenches(nil, rec.Lead)
		x, err2 := zero.Apply(nil, sample)
		if err == nil {
			err = err2
		}
		return say(err, ws[300], x, zero.Gain(10), zero.String())
	})
	body, err := com.PelvisProxy(com.Landmark{"a", "b"}).Bind([]string{"a", "b"})
	if err != nil {
		t.Fatal(err)
	}
	shared(t, "segment body", func() string { return say(nil, body.At([]r3.Vec{{X: 1}, {Y: 1}})) })
	foot, err := cop.NewFoot(cop.Lead, r3.Vec{X: -0.1, Y: 0.2}, r3.Vec{X: 0.18, Y: 0.25}, 0.1)
	if err != nil {
		t.Fatal(err)
	}
	grid, err := cop.NewGrid(cop.GridConfig{Rows: 2, Columns: 4, Across: r3.Vec{Y: -0.1}, Down: r3.Vec{X: -0.1}, First: r3.Vec{Y: 0.15}})
	if err != nil {
		t.Fatal(err)
	}
	division, err := cop.DivideByLine(grid, r3.Vec{}, r3.Vec{X: 1})
	if err != nil {
		t.Fatal(err)
	}
	shared(t, "foot, grid and division", func() string {
		lead, trail := grid.Feet([]float64{1, 2, 3, 4, 5, 6, 7, 8}, division)
		return say(nil, foot.Place(r3.Vec{X: 0.05, Y: 0.22}), foot.Outline(nil), lead, trail)
	})
	shared(t, "setup, with the bytes of a capture", func() string {
		r, err := capture.Read("swing.c3d", data, setup, nil)
		if err != nil {
			return say(err)
		}
		return say(nil, r.Recording.Lead[300], r.Steps, r.Warnings, setup.Check())
	})
	shared(t, "C3D file", func() string {
		plates, warnings := capture.Plates(file, nil)
		ws, err := plates[0].Wrenches(nil)
		b, err2 := c3d.Append(nil, file)
		if err == nil {
			err = err2
		}
		return say(err, ws[300], warnings, len(b), file.PointIndex("x"), file.EventsByTime())
	})
	shared(t, "recording and options", func() string {
		b, err := swing.Analyse(rec, opt)
		if err != nil {
			return say(err)
		}
		parts, _, err := swing.Split(rec, opt)
		return say(err, b.Measures, b.Events, len(parts))
	})
	in := phase.Input{Start: rec.Start, Rate: rec.Rate, Net: a.Series.Net, Lead: a.Series.Lead, Trail: a.Series.Trail, Address: a.Quiet, Still: a.Still,
		From: rec.Time(a.From), To: rec.Time(a.To), Given: map[string]float64{"P7": s.EventTime("impact")}}
	shared(t, "input of the detector", func() string {
		ev, err := phase.Detect(in)
		return say(err, ev)
	})
	bands := []*screen.Bands{screen.Starter(), screen.Published()}
	shared(t, "analysis, screened and compared", func() string {
		r, err := screen.Swing(a, screen.Options{Bands: bands})
		if err != nil {
			return say(err)
		}
		session, err := swing.NewSession([]*swing.Analysis{a, a, a, a})
		if err != nil {
			return say(err)
		}
		c, err := swing.Compare(session, session, swing.ChangeOptions{})
		if err != nil {
			return say(err)
		}
		splits, err := swing.SplitPeaks(a, a)
		if err != nil {
			return say(err)
		}
		curve, err := a.Curve(swing.Signals()[0], swing.Between(phase.Onset, phase.Impact))
		return say(err, r.Findings, c.Tested, splits, curve.Value, a.At(s.EventTime("impact")), len(session.Spreads))
	})
	shared(t, "made-up swing", func() string { return say(nil, s.At(2.5), s.Events(), s.Track(synth.TrackOptions{Rate: 10}).Position) })
	shared(t, "chains of their own, with plate and axes shared", func() string {
		c, err := live.New(live.Config{Rate: 100, Cutoff: 15, Axes: axes, Inputs: []live.Input{{Plate: plate, Foot: live.Both}}})
		if err != nil {
			return say(err)
		}
		var f live.Frame
		for i := range 50 {
			sample := []float64{10, -20, 700 + math.Sin(float64(i)), 30, -40, 5}
			if f, err = c.Push(live.Sample{Sequence: uint64(i), Channels: sample}); err != nil {
				return say(err)
			}
		}
		return say(nil, f)
	})
	shared(t, "files of their own, with the bytes shared", func() string {
		var f c3d.File
		for range 2 {
			if err := f.Decode(data, c3d.Options{}); err != nil {
				return say(err)
			}
		}
		raw, err := f.RawAnalog(nil, 3)
		return say(err, raw[300], f.Frames)
	})
}
