package grf

import (
	"errors"
	"math"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"
)

// restful is two seconds of somebody who stands on one plate.
func restful() *Recording {
	rec := &Recording{Rate: 100, Net: make([]Wrench, 200)}
	for i := range rec.Net {
		rec.Net[i] = At(r3.Vec{Z: 700}, r3.Vec{}, r3.Vec{})
	}
	return rec
}

// What a recording states must be possible and must not contradict itself.
func TestRecordingLimits(t *testing.T) {
	if err := restful().Check(); err != nil {
		t.Fatal(err)
	}
	for name, c := range map[string]struct {
		change func(r *Recording)
		want   error
	}{
		"rate of a radio":       {func(r *Recording) { r.Rate = 2 * MaxRate }, ErrRate},
		"rate NaN":              {func(r *Recording) { r.Rate = math.NaN() }, ErrRate},
		"start NaN":             {func(r *Recording) { r.Start = math.NaN() }, ErrRecording},
		"start infinite":        {func(r *Recording) { r.Start = math.Inf(-1) }, ErrRecording},
		"times fall together":   {func(r *Recording) { r.Start = 1e13 }, ErrRecording},
		"net and feet":          {func(r *Recording) { r.Lead = r.Net }, ErrRecording},
		"mass NaN":              {func(r *Recording) { r.Mass = math.NaN() }, ErrRecording},
		"stature negative":      {func(r *Recording) { r.Stature = -1 }, ErrRecording},
		"mark outside":          {func(r *Recording) { r.Marks = map[string]float64{"impact": 3} }, ErrWindow},
		"mark NaN":              {func(r *Recording) { r.Marks = map[string]float64{"impact": math.NaN()} }, ErrWindow},
		"feet of other lengths": {func(r *Recording) { r.Lead, r.Trail, r.Net = r.Net, r.Net[1:], nil }, ErrLength},
		"no samples":            {func(r *Recording) { r.Net = r.Net[:0] }, ErrNoData},
	} {
		r := restful()
		c.change(r)
		if err := r.Check(); !errors.Is(err, c.want) {
			t.Errorf("%s: %v", name, err)
		}
	}
	for name, start := range map[string]float64{"seconds of this century": 1.9e9, "before zero": -3} {
		r := restful()
		r.Start = start
		if err := r.Check(); err != nil {
			t.Errorf("%s: %v", name, err)
		}
	}
}

// Bounds of a search may be any number: a range that holds nothing is refused, one
// that holds more than there is takes what there is.
func TestQuietRangeIsAnyNumber(t *testing.T) {
	for _, c := range []struct {
		from, to float64
		want     error
	}{
		{0.5, 1e300, nil}, {0.5, math.Inf(1), nil}, {-1e300, 1, nil}, {math.Inf(-1), math.Inf(1), nil},
		{1e300, 2e300, ErrWindow}, {1, 0.5, ErrWindow}, {-1e300, -1e299, ErrWindow},
		{math.NaN(), 1, ErrWindow}, {0.5, math.NaN(), ErrWindow},
	} {
		q, err := FindQuiet(restful(), QuietOptions{From: c.from, To: c.to})
		if !errors.Is(err, c.want) {
			t.Errorf("%g to %g s: %v", c.from, c.to, err)
		}
		if err == nil && (q.From < c.from-1e-9 || q.To > c.to+1e-9 || math.Abs(q.Weight-700) > 1e-9) {
			t.Errorf("%g to %g s: %+v", c.from, c.to, q)
		}
	}
	for _, d := range []float64{1e300, math.NaN(), -1} {
		if _, err := FindQuiet(restful(), QuietOptions{Duration: d}); !errors.Is(err, ErrWindow) {
			t.Errorf("a stance of %g s: %v", d, err)
		}
	}
}
