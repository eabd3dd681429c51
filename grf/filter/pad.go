package filter

import "math"

// NoPad as a [ZeroPhaseOptions].Pad means no padding at all.
const NoPad = -1

// ReferencePad returns the number of samples by which the general-purpose
// zero-phase routine for sections in SciPy (signal.sosfiltfilt) extends a
// series at each end when it is not told otherwise: 3·(2·len(sections)+1),
// less what first-order sections spare.
func ReferencePad(sections []Section) int {
	taps := 2*len(sections) + 1
	var b, a int
	for _, s := range sections {
		if s.B2 == 0 {
			b++
		}
		if s.A2 == 0 {
			a++
		}
	}
	return 3 * (taps - min(a, b))
}

// DefaultPad returns the number of samples by which [ZeroPhase] extends a
// series at each end when it is not told otherwise: [ReferencePad] or three
// times the time in which the slowest mode of the filter falls to a hundredth,
// whichever is longer. What a wrong start leaves behind has then fallen to a
// millionth before the first sample. That is about 2.5 periods of the cut-off
// frequency for order 2, 5.2 for order 4, 10 for order 8: at 1000 Hz sampling
// and order 2, 51 samples for 50 Hz and 250 for 10 Hz.
func DefaultPad(sections []Section) int {
	long := math.Ceil(3 * decay(sections))
	if long > math.MaxInt32/2 { // longer than any series
		return math.MaxInt32 / 2
	}
	return max(ReferencePad(sections), int(long))
}

// mirror turns samples into their point reflections about the sample edge:
// 2·edge − x.
func mirror(block, edge []float64) {
	n := len(edge)
	for ; len(block) >= n; block = block[n:] {
		for c, e := range edge {
			block[c] = 2*e - block[c]
		}
	}
}
