package live

import (
	"math"
	"math/rand/v2"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"example.com/momentarm/grf"
	"example.com/momentarm/grf/filter"
)

// A channel is saturated at either end of its range and beyond, however many of the
// others are near theirs, and never where no range is known.
func TestSaturatedChannels(t *testing.T) {
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
	rng := rand.New(rand.NewPCG(5, 6))
	count := map[Health]int{}
	for range 20_000 {
		var ranges []Range
		for range 6 {
			low := -10 + 20*rng.Float64()
			ranges = append(ranges, Range{low, low + 0.01 + 10*rng.Float64()})
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
			default:
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
