package swing

import (
	"math"
	"testing"
)

// Four tests, by hand: 4·0.011; 3·0.012, but not less than the one before;
// 2·0.03; 0.5, and never more than 1.
func TestHolm(t *testing.T) {
	got, n := holm([]float64{0.03, 0.011, 0.012, math.NaN(), 0.5})
	want := []float64{0.06, 0.044, 0.044, math.NaN(), 0.5}
	for i := range want {
		if !(math.Abs(got[i]-want[i]) < 1e-15 || math.IsNaN(want[i]) && math.IsNaN(got[i])) {
			t.Errorf("%d: %g, want %g", i, got[i], want[i])
		}
	}
	if n != 4 {
		t.Errorf("%d tests", n)
	}
	if got, _ := holm([]float64{0.9, 0.8}); got[0] != 1 || got[1] != 1 {
		t.Error(got)
	}
	if got, n := holm(nil); len(got) != 0 || n != 0 {
		t.Error(got, n)
	}
}
