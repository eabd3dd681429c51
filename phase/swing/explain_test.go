package swing_test

import (
	"errors"
	"math"
	"strings"
	"testing"

	"example.com/momentarm/grf"
	"example.com/momentarm/phase"
	"example.com/momentarm/phase/swing"
	"example.com/momentarm/validation/synth"
)

// An error begins with its likely cause, and still is what it was.
func TestCauseComesFirst(t *testing.T) {
	s := synthetic(t, synth.Config{})
	rec := synth.Disturbance{Seed: 1, ForceNoise: 2, MomentNoise: 0.3}.Apply(s.Recording())
	rec.Marks = nil
	one := func(rec *grf.Recording) *grf.Recording {
		net, err := rec.NetWrenches(nil)
		if err != nil {
			t.Fatal(err)
		}
		out := *rec
		out.Lead, out.Trail, out.Net = nil, nil, net
		return &out
	}
	until := func(from, to float64) *grf.Recording {
		out := *rec
		i, k := rec.Index(from), rec.Index(to)
		out.Start, out.Lead, out.Trail = rec.Time(i), rec.Lead[i:k+1], rec.Trail[i:k+1]
		return &out
	}
	slow := *rec
	slow.Rate = 0.5
	fast := *rec
	fast.Rate = 1e6
	mounting := synthetic(t, synth.Config{Unloaded: 1}).Recording()
	step := *mounting
	step.Lead, step.Trail, step.Marks = mounting.Lead[:3500], mounting.Trail[:3500], nil
	down := s.EventTime("even_load")
	for name, c := range map[string]struct {
		rec   *grf.Recording
		begin string
		is    []error // one of them
	}{
		"metres as millimetres":           {scaledLength(rec, 1e-3), "the feet press 0.", []error{phase.ErrNoSwing}},
		"millimetres as metres":           {scaledLength(rec, 1e3), "the feet press 4", []error{phase.ErrNoSwing, grf.ErrNoQuiet}},
		"metres as millimetres, together": {one(scaledLength(rec, 1e-3)), "the pressure travels 0.", []error{phase.ErrNoSwing}},
		"millimetres as metres, together": {one(scaledLength(rec, 1e3)), "the pressure travels ", []error{phase.ErrNoSwing, grf.ErrNoQuiet}},
		"across the target":               {turned(rec, math.Pi/2), "the feet press 4", []error{phase.ErrNoSwing, grf.ErrNoQuiet}},
		"too slow":                        {&slow, "sampling rate 0.5 Hz: is the unit of time right?", []error{swing.ErrOptions}},
		"too fast":                        {&fast, "sampling rate 1e+06 Hz: is the unit of time right?", []error{phase.ErrNoSwing, grf.ErrNoQuiet, grf.ErrWindow}},
		"ends before the swing":           {until(rec.Start, s.EventTime("onset")), "swing: no complete swing", []error{phase.ErrNoSwing, grf.ErrNoQuiet}},
		"short":                           {until(down-0.2, down+0.3), "swing: no complete swing in the recording, which is 0.501 s long and ends with the golfer on the plates; does it begin too late or end too early?", []error{grf.ErrNoQuiet, grf.ErrWindow}},
		"ends after the step":             {&step, "swing: no complete swing", []error{grf.ErrNoQuiet}},
		"begins in the downswing":         {until(down-0.2, rec.End()), "swing: no complete swing", []error{grf.ErrNoQuiet, grf.ErrWindow}},
		"begins in the swing":             {until(down-0.6, rec.End()), "", []error{grf.ErrNoQuiet}},
	} {
		_, err := swing.Analyse(c.rec, swing.Options{})
		_, _, err2 := swing.Split(c.rec, swing.Options{})
		for _, err := range []error{err, err2} {
			is := false
			for _, e := range c.is {
				is = is || errors.Is(err, e)
			}
			if !is || !strings.HasPrefix(err.Error(), c.begin) || c.begin == "" && strings.Contains(err.Error(), "no complete swing") {
				t.Errorf("%s: %v", name, err)
			}
		}
	}
}
