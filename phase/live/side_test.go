package live

import (
	"math"
	"math/rand/v2"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"example.com/momentarm/grf"
	"example.com/momentarm/grf/filter"
)

// plain returns a plate that measures N and N·m, and axes.
func plain(t *testing.T) (*grf.Plate, grf.Axes) {
	t.Helper()
	plate, err := grf.NewPlate(grf.PlateConfig{
		Type: grf.TypeMoment, Sense: grf.Reaction,
		Corners: [4]r3.Vec{{X: 0.3, Y: 0.2}, {X: -0.3, Y: 0.2}, {X: -0.3, Y: -0.2}, {X: 0.3, Y: -0.2}},
	})
	if err != nil {
		t.Fatal(err)
	}
	axes, err := grf.NewAxes(r3.Vec{Z: 1}, r3.Vec{Y: 1}, r3.Vec{}, grf.RightHanded)
	if err != nil {
		t.Fatal(err)
	}
	return plate, axes
}

// An impossible reading of one of two plates under a foot is not made up for by the
// other.
func TestImpossibleTogether(t *testing.T) {
	plate, axes := plain(t)
	c, err := New(Config{Rate: 1000, Axes: axes, Inputs: []Input{{Plate: plate, Foot: Lead}, {Plate: plate, Foot: Trail}, {Plate: plate, Foot: Lead}}})
	if err != nil {
		t.Fatal(err)
	}
	channels := make([]float64, 18)
	push := func(n uint64, one, other float64) Frame {
		channels[2], channels[8], channels[14] = one, 300, other
		f, err := c.Push(Sample{Sequence: n, Channels: channels})
		if err != nil {
			t.Fatal(err)
		}
		return f
	}
	if f := push(1, 400, 100); f.MeasuredLead.Force.Z != 500 || f.Health.Has(Missing) {
		t.Errorf("%v, %v", f.MeasuredLead, f.Health)
	}
	for _, n := range []uint64{2, 4} { // in succession, and after one that was lost
		if f := push(n, 2e12, -2e12); !f.MeasuredLead.IsNaN() || !f.Lead.IsNaN() || !f.Health.Has(Missing) || f.Trail.IsNaN() {
			t.Errorf("%v, %v, %v", f.MeasuredLead, f.Lead, f.Health)
		}
	}
}

// A channel is saturated at either end of its range and beyond, however many of the
// others are near theirs, and never where no range is known.
func TestSaturatedChannels(t *testing.T) {
	plate, axes := plain(t)
	rng := rand.New(rand.NewPCG(5, 6))
	count := map[Health]int{}
	for range 20_000 {
		var ranges []Range
		for range 6 {
			low := -10 + 20*rng.Float64()
			width := 0.01 + 10*rng.Float64()
			if rng.IntN(6) == 0 { // a few digits wide
				low, width = 1e9*low, 1e-5*width
			}
			ranges = append(ranges, Range{low, math.Max(low+width, math.Nextafter(low, math.Inf(1)))})
		}
		switch rng.IntN(8) {
		case 0:
			ranges = nil
		case 1:
			ranges = ranges[:1]
		case 2:
			ranges = []Range{{-math.MaxFloat64, math.MaxFloat64}}
		case 3:
			ranges = []Range{{math.Inf(-1), 5}}
		}
		lowPass, err := filter.NewCausal(filter.CausalOptions{Cutoff: 50, Rate: 1000, Channels: 6})
		if err != nil {
			t.Fatal(err)
		}
		in, err := newInput(Input{Plate: plate, Ranges: ranges}, axes, 0, lowPass)
		if err != nil {
			t.Fatal(err)
		}
		values := make([]float64, 6)
		var want Health
		for j := range values {
			r := Range{-10, 10}
			if len(ranges) > 0 {
				r = ranges[min(j, len(ranges)-1)]
			}
			switch rng.IntN(20) {
			case 0:
				values[j] = r.Low
			case 1:
				values[j] = math.Nextafter(r.High, math.Inf(-1))
			case 2:
				values[j] = r.High
			case 3:
				values[j] = []float64{math.Inf(1), math.Inf(-1), math.NaN(), 1e300}[rng.IntN(4)]
			case 4, 5, 6:
				values[j] = r.Low + (r.High-r.Low)/2
			default:
				if part := 0.3 + 0.4*rng.Float64(); r.Low > 20 || r.High < -20 {
					values[j] = r.Low + part*(r.High-r.Low)
					break
				}
				values[j] = math.Max(r.Low, -20) + (math.Min(r.High, 20)-math.Max(r.Low, -20))*(0.3+0.4*rng.Float64())
			}
			if len(ranges) > 0 && (values[j] <= r.Low || values[j] >= r.High) {
				want = Saturated
			}
		}
		if got := in.health(values); got != want {
			t.Fatalf("%v in %v: %v, want %v", values, ranges, got, want)
		}
		count[want]++
	}
	if count[0] < 1000 || count[Saturated] < 1000 {
		t.Error(count)
	}
}
