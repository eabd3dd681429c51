package swing_test

import (
	"math"
	"testing"

	"example.com/momentarm/phase/swing"
	"example.com/momentarm/validation/synth"
)

// A gain that is off by 2 % makes a rise of force wrong by 2 %: it does not drop
// out of the difference as an offset does.
func TestRiseHasTheGainsError(t *testing.T) {
	rec := synth.Disturbance{Seed: 3, ForceNoise: 2, MomentNoise: 0.3}.Apply(synthetic(t, synth.Config{}).Recording())
	rise := func(gain, force float64) swing.Measure {
		a, err := swing.Analyse(rec, swing.Options{Errors: swing.Errors{Gain: gain, Force: force}})
		if err != nil {
			t.Fatal(err)
		}
		m, ok := a.Measure("lead_rise")
		if !ok {
			t.Fatal("no rise")
		}
		return m
	}
	none, gain, force := rise(math.NaN(), 0), rise(0.02, 0), rise(math.NaN(), 50)
	if want := math.Hypot(none.SD, 0.02*none.Value); !(math.Abs(gain.SD-want) < 1e-9*want) {
		t.Errorf("SD %g, want %g", gain.SD, want)
	}
	if force.SD != none.SD {
		t.Errorf("SD %g with an offset, %g without", force.SD, none.SD)
	}
}
