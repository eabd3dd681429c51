package phase

import (
	"errors"
	"math"
	"runtime"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"example.com/momentarm/grf"
)

// A fit takes memory in proportion to its samples, not to their square, and none for
// samples that the series does not have.
func TestLocalFitMemory(t *testing.T) {
	for _, c := range []struct {
		rate   float64
		length int
		limit  uint64 // bytes
	}{
		{1e5, 1e6, 8 << 20},
		{1e7, 1000, 1 << 20},
		{1e300, 10, 1 << 16},
	} {
		var before, after runtime.MemStats
		runtime.ReadMemStats(&before)
		f := newLocalFit(0.125, c.rate, c.length)
		runtime.ReadMemStats(&after)
		if got := after.TotalAlloc - before.TotalAlloc; got > c.limit {
			t.Errorf("%g Hz, %d samples: %d bytes", c.rate, c.length, got)
		}
		if _, ok := f.at(make([]float64, c.length), c.length/2); ok != (c.length == 1e6) {
			t.Errorf("%g Hz, %d samples: fits is %v", c.rate, c.length, ok)
		}
	}
}

// Rates, starts and bounds may be any number.
func TestDetectRefusesAnyNumber(t *testing.T) {
	good := Input{Rate: 100, Net: make([]grf.Wrench, 300), Address: grf.Quiet{Weight: 700, First: 0, Last: 99}}
	for i := range good.Net {
		good.Net[i] = grf.At(r3.Vec{Z: 700}, r3.Vec{}, r3.Vec{})
	}
	if _, err := Detect(good); !errors.Is(err, ErrNoSwing) {
		t.Fatal(err)
	}
	for _, v := range []float64{math.NaN(), math.Inf(1), math.Inf(-1), 1e300, -1e300} {
		for name, in := range map[string]Input{
			"rate":  {Rate: v, Net: good.Net, Address: good.Address},
			"start": {Rate: 100, Start: v, Net: good.Net, Address: good.Address, From: 1, To: 2},
			"from":  {Rate: 100, From: v, To: 2, Net: good.Net, Address: good.Address},
			"to":    {Rate: 100, From: 1, To: v, Net: good.Net, Address: good.Address},
		} {
			_, err := Detect(in)
			// A bound beyond the series is one that does not bind.
			if want := name == "from" && v < 0 || name == "to" && v > 0; want != errors.Is(err, ErrNoSwing) || !want && !errors.Is(err, ErrInput) {
				t.Errorf("%s %g: %v", name, v, err)
			}
		}
		FindDownswings(good.Net, v, 700, 0, len(good.Net)-1)
	}
}
