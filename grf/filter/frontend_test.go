package filter

import (
	"errors"
	"math"
	"math/rand"
	"testing"

	"example.com/momentarm/grf"
)

// A front end is a mix and a filter, one after the other: with the vector kernel and
// without it the digits of both, whatever the readings are.
func TestFrontEndIsMixAndFilter(t *testing.T) {
	r := rand.New(rand.NewSource(50))
	for try := range 400 {
		series := 1 + r.Intn(9)
		weights, zero := make([]float64, 6*series), make([]float64, series)
		for i := range weights {
			weights[i] = r.NormFloat64()
		}
		for i := range zero {
			zero[i] = r.NormFloat64()
		}
		mix, err := NewMix(6, weights)
		if err != nil {
			t.Fatal(err)
		}
		causal := func() *Causal {
			c, err := NewCausal(CausalOptions{Order: 2 * (1 + try%4), Cutoff: 50, Rate: 1000, Channels: 6, NaN: NaNSegments})
			if err == nil && try%5 == 0 { // zeros off the unit circle: not for the kernel
				sections := c.Sections()
				sections[0].B2 *= 0.5
				c, err = NewCausalSections(sections, CausalOptions{Rate: 1000, Channels: 6, NaN: NaNSegments})
			}
			if err != nil {
				t.Fatal(err)
			}
			return c
		}
		limit := 1e12
		if try%3 == 0 {
			limit = 0
		}
		front := func() *FrontEnd {
			f, err := NewFrontEnd(mix, causal(), limit)
			if err != nil {
				t.Fatal(err)
			}
			if try%2 == 0 {
				f.SetZero(weights[:series]) // another one before
				f.SetZero(zero)
			}
			return f
		}
		if try%2 == 1 {
			zero = nil
		}
		fast, plain, after := front(), front().WithoutLanes(), causal()
		columns := make([][]float64, series)
		for i := range 60 {
			readings := make([]float64, series)
			for j := range readings {
				readings[j] = 5 * r.NormFloat64()
				if r.Intn(100) == 0 {
					readings[j] = odd[r.Intn(len(odd))]
				}
				columns[j] = readings[j : j+1]
			}
			var row [6]float64
			mix.Apply(row[:], 6, columns, zero, 0, 1)
			mixed := toWrench(row)
			measured := true
			for _, v := range row {
				measured = measured && math.Abs(v) <= fast.limit
			}
			if !measured {
				mixed = grf.NaN()
			}
			filtered := after.PushWrench(mixed)
			for name, f := range map[string]*FrontEnd{"lanes": fast, "Go": plain} {
				var gotMixed, gotFiltered grf.Wrench
				if got := f.PushTo(&gotFiltered, &gotMixed, readings); got != measured {
					t.Fatalf("%s: measured %t, want %t: %v", name, got, measured, row)
				}
				if !same(gotMixed, mixed) || !same(gotFiltered, filtered) {
					t.Fatalf("%s, %d series, order %d, sample %d: %v and %v, want %v and %v", name, series, 2*(1+try%4), i, gotMixed, gotFiltered, mixed, filtered)
				}
				if f.WrenchTo(&gotMixed, readings); measured && !same(gotMixed, mixed) {
					t.Fatalf("%s: WrenchTo %v, want %v", name, gotMixed, mixed)
				}
				if err := f.filter.Err(); err != nil {
					t.Fatal(err)
				}
			}
		}
	}
}

func toWrench(row [6]float64) (w grf.Wrench) {
	w.Force.X, w.Force.Y, w.Force.Z = row[0], row[1], row[2]
	w.Moment.X, w.Moment.Y, w.Moment.Z = row[3], row[4], row[5]
	return w
}

func rowOf(w grf.Wrench) []float64 {
	return []float64{w.Force.X, w.Force.Y, w.Force.Z, w.Moment.X, w.Moment.Y, w.Moment.Z}
}

func same(a, b grf.Wrench) bool { return firstDifference(rowOf(a), rowOf(b)) < 0 }

// A policy that covers no missing sample stops the filter of a front end, and what
// overflows inside the filter does, too; each with its reason.
func TestFrontEndStops(t *testing.T) {
	loud := []Section{{B0: 1e160, B2: 1e160}}
	for name, c := range map[string]struct {
		sections []Section
		bad      float64
		measured bool
		want     error
	}{
		"missing":  {lowPass(t), math.NaN(), false, ErrNotFinite},
		"enormous": {lowPass(t), 1e151, false, ErrNotFinite},
		"overflow": {loud, 1e149, true, ErrOverflow},
	} {
		f := newFrontEnd(t, identity(), c.sections, NaNError)
		var filtered, mixed grf.Wrench
		good := []float64{1, 2, 3, 4, 5, 6}
		for range 3 {
			if !f.PushTo(&filtered, &mixed, good) || f.filter.Err() != nil {
				t.Fatal(name, mixed, f.filter.Err())
			}
		}
		if f.PushTo(&filtered, &mixed, []float64{1, 2, c.bad, 4, 5, 6}) != c.measured || !errors.Is(f.filter.Err(), c.want) {
			t.Errorf("%s: %v, %v", name, filtered, f.filter.Err())
		}
		if f.PushTo(&filtered, &mixed, good); !math.IsNaN(filtered.Force.Z) {
			t.Errorf("%s: goes on with %v", name, filtered)
		}
	}
}

// The filter of a front end may be used beside it: samples are counted together, what stops
// it stops the front end, and filtered may be where mixed is.
func TestFrontEndAndItsFilter(t *testing.T) {
	f := newFrontEnd(t, identity(), lowPass(t), NaNError)
	c := f.filter
	readings := []float64{1, 2, 3, 4, 5, 6}
	var filtered, mixed grf.Wrench
	for range 4 {
		f.PushTo(&filtered, &mixed, readings)
	}
	c.PushWrench(mixed)
	if f.PushTo(&mixed, &mixed, []float64{2, 4, 6, 8, 10, 12}); !(mixed.Force.X > 1 && mixed.Force.X < 1.1) {
		t.Errorf("in place: %v", mixed)
	}
	c.PushWrench(grf.NaN())
	var bad *NotFiniteError
	if err := c.Err(); !errors.As(err, &bad) || bad.Index != 6 {
		t.Errorf("%v, want sample 6", err)
	}
	if f.PushTo(&filtered, &mixed, readings); mixed.Force.Z != 3 || !filtered.IsNaN() {
		t.Errorf("of a filter that has stopped: %v, %v", mixed, filtered)
	}
	c.Reset()
	f.PushTo(&filtered, &mixed, readings)
	c.Push(nil, readings[:5])
	if f.PushTo(&filtered, &mixed, readings); c.Err() == nil || !filtered.IsNaN() {
		t.Errorf("of a filter that was used wrongly: %v, %v", filtered, c.Err())
	}
	c.Reset()
	for range 2 { // the second time the kernel could go on
		f.PushTo(&filtered, &mixed, readings)
		for _, n := range []int{0, 5} {
			func() {
				defer func() {
					if recover() == nil {
						t.Errorf("%d readings for 6 series", n)
					}
				}()
				f.PushTo(&filtered, &mixed, readings[:n])
			}()
		}
	}
}

// newFrontEnd returns a front end of these weights and sections.
func newFrontEnd(t testing.TB, weights []float64, sections []Section, nan NaNPolicy) *FrontEnd {
	t.Helper()
	mix, err := NewMix(6, weights)
	if err != nil {
		t.Fatal(err)
	}
	c, err := NewCausalSections(sections, CausalOptions{Rate: 1000, Channels: 6, NaN: nan})
	if err != nil {
		t.Fatal(err)
	}
	f, err := NewFrontEnd(mix, c, 0)
	if err != nil {
		t.Fatal(err)
	}
	return f
}

func lowPass(t testing.TB) []Section {
	t.Helper()
	sections, err := Butterworth(2, 50, 1000)
	if err != nil {
		t.Fatal(err)
	}
	return sections
}

func identity() []float64 {
	weights := make([]float64, 36)
	for i := range 6 {
		weights[7*i] = 1
	}
	return weights
}

func TestNewFrontEndErrors(t *testing.T) {
	mix := func(channels int) *Mix {
		m, err := NewMix(channels, make([]float64, channels*2))
		if err != nil {
			t.Fatal(err)
		}
		return m
	}
	causal := func(channels int) *Causal {
		c, err := NewCausal(CausalOptions{Cutoff: 50, Rate: 1000, Channels: channels})
		if err != nil {
			t.Fatal(err)
		}
		return c
	}
	for name, c := range map[string]struct {
		m     *Mix
		c     *Causal
		limit float64
		want  error
	}{
		"mix":      {mix(3), causal(6), 0, grf.ErrChannels},
		"filter":   {mix(6), causal(3), 0, grf.ErrChannels},
		"negative": {mix(6), causal(6), -1, ErrOption},
		"NaN":      {mix(6), causal(6), math.NaN(), ErrOption},
		"too much": {mix(6), causal(6), 1e151, ErrOption},
	} {
		if f, err := NewFrontEnd(c.m, c.c, c.limit); f != nil || !errors.Is(err, c.want) {
			t.Errorf("%s: %v, want %v", name, err, c.want)
		}
	}
}

func TestFrontEndAllocatesNothing(t *testing.T) {
	f := newFrontEnd(t, make([]float64, 48), lowPass(t), NaNSegments)
	readings := make([]float64, 8)
	var filtered, mixed grf.Wrench
	for _, v := range []float64{1, math.NaN()} {
		readings[3] = v
		if n := testing.AllocsPerRun(200, func() { f.PushTo(&filtered, &mixed, readings) }); n != 0 {
			t.Errorf("%g allocations for %g", n, v)
		}
	}
	if n := testing.AllocsPerRun(200, func() { f.SetZero(readings) }); n != 0 {
		t.Errorf("%g allocations for a zero", n)
	}
}

func BenchmarkFrontEnd(b *testing.B) {
	f := newFrontEnd(b, identity(), lowPass(b), NaNError)
	readings := []float64{1, 2, 3, 4, 5, 6}
	var filtered, mixed grf.Wrench
	b.ReportAllocs()
	for b.Loop() {
		f.PushTo(&filtered, &mixed, readings)
	}
}
