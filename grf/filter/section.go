package filter

import (
	"fmt"
	"math"
	"math/cmplx"

	"example.com/momentarm/grf"
)

// MaxOrder is the largest order of one pass. Higher orders ring for long and
// have no use on ground forces.
const MaxOrder = 40

// closest is how near a cut-off may come to zero and to half the sampling rate,
// relative to the sampling rate. Rounding in a second-order section grows toward
// both: here about half the digits of a float64 are left.
const closest = 1e-6

// Section is a second-order section (biquad) with a0 = 1:
//
//	y[i] = B0 x[i] + B1 x[i−1] + B2 x[i−2] − A1 y[i−1] − A2 y[i−2]
//
// A filter is a list of sections that are run one after the other.
type Section struct{ B0, B1, B2, A1, A2 float64 }

// Butterworth returns a low-pass of the given even order for one pass, with
// −3 dB (a gain of 1/√2) at cutoff, as order/2 sections. cutoff and rate are
// in Hz. Each section has a gain of exactly 1 at zero frequency; those with the
// lowest quality come first.
//
// The analogue prototype is mapped by the bilinear transform with the cut-off
// pre-warped to tan(π·cutoff/rate), so that it is met exactly at any ratio to
// the sampling rate (Winter, Biomechanics and Motor Control of Human Movement,
// 4th ed. 2009, eq. 2.19, for order 2; Oppenheim and Schafer, Discrete-Time
// Signal Processing, for the general case).
//
// Odd orders, which would need a first-order section, and orders outside
// 2 … [MaxOrder] are an [ErrOrder]; a cut-off that is not above zero and below
// rate/2, by a millionth of the rate at least, is a [*CutoffError].
func Butterworth(order int, cutoff, rate float64) ([]Section, error) {
	if err := checkDesign(order, cutoff, rate); err != nil {
		return nil, err
	}
	return butterworth(order, warp(cutoff, rate)), nil
}

func checkDesign(order int, cutoff, rate float64) error {
	if order < 2 || order > MaxOrder || order%2 != 0 {
		return fmt.Errorf("%w: order %d must be even and lie in 2 … %d", ErrOrder, order, MaxOrder)
	}
	if err := checkRate(rate); err != nil {
		return err
	}
	if !(cutoff >= closest*rate && cutoff <= (0.5-closest)*rate) {
		return &CutoffError{Cutoff: cutoff, Rate: rate}
	}
	return nil
}

func checkRate(rate float64) error {
	if !(rate > 0) || math.IsInf(rate, 0) {
		return fmt.Errorf("%w: %g Hz", grf.ErrRate, rate)
	}
	return nil
}

// warp returns the analogue frequency, relative to twice the sampling rate,
// that the bilinear transform maps to f.
func warp(f, rate float64) float64 { return math.Tan(math.Pi * f / rate) }

// butterworth returns the sections for a warped cut-off. The analogue
// prototype's pole pairs are s² + d·s + 1 with d = 2 sin((2k−1)π/2n).
func butterworth(order int, warped float64) []Section {
	sections := make([]Section, order/2)
	for k := range sections {
		d := 2 * math.Sin(float64(order-1-2*k)*math.Pi/float64(2*order))
		w2 := warped * warped
		norm := 1 + d*warped + w2
		a1 := 2 * (w2 - 1) / norm
		a2 := (1 - d*warped + w2) / norm
		// b0 is w2/norm. Taken from the rounded a1 and a2 it makes the gain at
		// zero frequency exactly 1, however low the cut-off.
		b0 := (1 + a1 + a2) / 4
		sections[k] = Section{b0, 2 * b0, b0, a1, a2}
	}
	return sections
}

// passCorrection returns C = (2^(1/2) − 1)^(1/2n): a Butterworth filter of
// order n whose warped cut-off is divided by C has −3 dB at the wanted cut-off
// after two passes (Winter 2009, chapter 2, prints 0.802 for order 2).
func passCorrection(order int) float64 {
	return math.Pow(math.Sqrt2-1, 1/float64(2*order))
}

// Response returns the complex gain of one pass over the sections at frequency
// f, both f and rate in Hz. Two passes, one in each direction, have the gain
// |Response|². The result is NaN when f or rate is not finite.
func Response(sections []Section, f, rate float64) complex128 {
	z := cmplx.Rect(1, -2*math.Pi*f/rate) // delay by one sample
	h := complex(1, 0)
	for _, s := range sections {
		h *= horner(s.B0, s.B1, s.B2, z) / horner(1, s.A1, s.A2, z)
	}
	return h
}

// GroupDelay returns by how many seconds one pass over the sections delays
// what happens around frequency f; f and rate are in Hz. It is NaN where the
// gain is zero.
func GroupDelay(sections []Section, f, rate float64) float64 {
	z := cmplx.Rect(1, -2*math.Pi*f/rate)
	samples := 0.0
	for _, s := range sections {
		samples += polyDelay(s.B0, s.B1, s.B2, z) - polyDelay(1, s.A1, s.A2, z)
	}
	return samples / rate
}

// polyDelay is the group delay of c0 + c1 z + c2 z² in samples:
// Re(z·P′(z)/P(z)) (Oppenheim and Schafer).
func polyDelay(c0, c1, c2 float64, z complex128) float64 {
	slope := z * (complex(c1, 0) + complex(2*c2, 0)*z)
	return real(slope / horner(c0, c1, c2, z))
}

func horner(c0, c1, c2 float64, z complex128) complex128 {
	return complex(c0, 0) + z*(complex(c1, 0)+z*complex(c2, 0))
}

// gainDC returns the gain at zero frequency.
func (s *Section) gainDC() float64 { return (s.B0 + s.B1 + s.B2) / (1 + s.A1 + s.A2) }

// checkSections reports sections that can not be run. A section is stable when
// its coefficients lie inside the triangle |A2| < 1, |A1| < 1 + A2.
func checkSections(sections []Section) error {
	if len(sections) == 0 {
		return fmt.Errorf("%w: there is none", ErrSections)
	}
	for i, s := range sections {
		if sum := s.B0 + s.B1 + s.B2 + s.A1 + s.A2; !isFinite(sum) {
			return fmt.Errorf("%w: section %d, %v, is not finite", ErrSections, i, s)
		}
		if !(math.Abs(s.A2) < 1 && math.Abs(s.A1) < 1+s.A2) {
			return fmt.Errorf("%w: section %d with A1 = %g, A2 = %g is not stable", ErrSections, i, s.A1, s.A2)
		}
	}
	return nil
}

// decay returns the number of samples in which the slowest mode of the
// sections falls to a hundredth.
func decay(sections []Section) float64 {
	longest := 0.0
	for _, s := range sections {
		r := math.Sqrt(math.Abs(s.A2)) // radius of a complex pair
		if q := s.A1*s.A1/4 - s.A2; q >= 0 {
			r = math.Abs(s.A1)/2 + math.Sqrt(q)
		}
		if r > 0 { // r = 0: nothing rings on
			longest = math.Max(longest, math.Log(100)/-math.Log(r))
		}
	}
	return longest
}
