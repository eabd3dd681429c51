package com

import (
	"fmt"
	"math"

	"example.com/momentarm/grf"
	"gonum.org/v1/gonum/dsp/fourier"
	"gonum.org/v1/gonum/spatial/r3"
)

// Correlate finds by how much b is late against a: two records of the same
// movement at the same rate, from the same nominal instant on, along the same
// axes (leave those that are unknown zero). They may differ by a factor and by
// constants. Delays of up to seek seconds either way are tried.
//
// The delay is where Σ a(t)·b(t+delay), over all axes and after the means were
// removed, is largest; a parabola through the three largest values gives it
// between the samples. The correlation is computed by FFT. The standard
// deviation takes what a, shifted and scaled, leaves of b for noise, whose own
// correlation in time is allowed for; it is an approximation.
//
// The error wraps [grf.ErrLength], [grf.ErrNoData] (a NaN or too few samples),
// [grf.ErrRate] or [ErrOption].
//
// Source: Knapp & Carter, IEEE Trans. Acoust. Speech Signal Process.
// 24:320–327 (1976), for the correlator and its variance; Bartlett's formula
// for noise that is correlated in time (both from memory).
func Correlate(a, b []r3.Vec, rate, seek float64) (Clock, error) {
	if len(a) != len(b) {
		return Clock{}, &grf.LengthError{What: "second record against the first", Want: len(a), Got: len(b)}
	}
	if !(rate > 0) || math.IsInf(rate, 0) {
		return Clock{}, fmt.Errorf("%w: %g Hz", grf.ErrRate, rate)
	}
	lags := count(math.Ceil(seek * rate))
	if !(seek > 0) || lags >= len(a)/2 {
		return Clock{}, fmt.Errorf("%w: delays of up to %g s in a record of %g s", ErrOption, seek, float64(len(a))/rate)
	}
	a, b, err := centred(a, b)
	if err != nil {
		return Clock{}, err
	}
	r := correlation(a, b, lags+1)
	best := 1
	for i := 1; i < len(r)-1; i++ {
		if r[i] > r[best] {
			best = i
		}
	}
	c := Clock{Method: "cross-correlation"}
	ea, eb := energy(a), energy(b)
	rho := r[best] / math.Sqrt(ea*eb)
	if !(rho > 0.3) { // also when one record is constant
		c.warn("sync-weak", "the best correlation is only %.2f: do the records show the same movement along the same axes?", rho)
	}
	if best == 1 || best == len(r)-2 {
		c.warn("sync-range", "the largest correlation lies at the end of the range that was searched, %g s: search further", seek)
	}
	other := -1
	for i := 1; i < len(r)-1; i++ {
		if (i < best-1 || i > best+1) && r[i] > r[i-1] && r[i] > r[i+1] && (other < 0 || r[i] > r[other]) {
			other = i
		}
	}
	if other >= 0 && r[other] > 0.95*r[best] {
		c.warn("sync-ambiguous", "delays of %.0f and %.0f ms correlate nearly equally", 1000*float64(best-lags-1)/rate, 1000*float64(other-lags-1)/rate)
	}
	shift := float64(best - lags - 1)
	if bend := r[best-1] - 2*r[best] + r[best+1]; bend < 0 {
		shift += 0.5 * (r[best-1] - r[best+1]) / bend
	}
	c.Delay = shift / rate
	c.DelaySD = delaySD(a, b, best-lags-1, r[best]/ea, rate)
	return c, nil
}

// centred returns a and b less their means.
func centred(a, b []r3.Vec) (ca, cb []r3.Vec, err error) {
	if len(a) < 8 {
		return nil, nil, fmt.Errorf("%w: %d samples are too few to correlate", grf.ErrNoData, len(a))
	}
	less := func(v []r3.Vec, name string) []r3.Vec {
		mean := meanForce(v)
		out := make([]r3.Vec, len(v))
		for i := range v {
			if out[i] = r3.Sub(v[i], mean); !finite(v[i]) && err == nil {
				err = fmt.Errorf("%w: sample %d of the %s record is not a number", grf.ErrNoData, i, name)
			}
		}
		return out
	}
	ca, cb = less(a, "first"), less(b, "second")
	return ca, cb, err
}

// correlation returns Σ a(t)·b(t+k) over all axes for k = −lags … lags.
func correlation(a, b []r3.Vec, lags int) []float64 {
	n := 1 // zeros behind the records keep the ends apart
	for n < len(a)+lags {
		n *= 2
	}
	fft := fourier.NewFFT(n)
	x, y := make([]float64, n), make([]float64, n)
	sum := make([]complex128, n/2+1)
	for k := range 3 {
		for i := range a {
			x[i], y[i] = *component(&a[i], k), *component(&b[i], k)
		}
		fx, fy := fft.Coefficients(nil, x), fft.Coefficients(nil, y)
		for i := range sum {
			sum[i] += complex(real(fx[i]), -imag(fx[i])) * fy[i]
		}
	}
	seq := fft.Sequence(nil, sum)
	r := make([]float64, 2*lags+1)
	for i := range r {
		r[i] = seq[(i-lags+n)%n] / float64(n)
	}
	return r
}

func energy(v []r3.Vec) float64 {
	var e float64
	for _, x := range v {
		e += r3.Norm2(x)
	}
	return e
}

// delaySD returns the standard deviation of a delay: with b(t) = k a(t − d) + e,
// the estimate is out by Σ e·ȧ/(k Σ ȧ·ȧ), whose variance is that of the noise
// summed over all pairs of instants at which both e and ȧ are correlated.
func delaySD(a, b []r3.Vec, shift int, k, rate float64) float64 {
	lo, hi := max(1, 1-shift), min(len(a)-1, len(a)-1-shift)
	n := hi - lo
	e, slope := make([]r3.Vec, n), make([]r3.Vec, n)
	for i := range n {
		j := lo + i
		e[i] = r3.Sub(b[j+shift], r3.Scale(k, a[j]))
		slope[i] = r3.Scale(rate/2, r3.Sub(a[j+1], a[j-1]))
	}
	reach := min(n-1, count(rate/2))
	re, rs := correlation(e, e, reach), correlation(slope, slope, reach)
	var sum float64
	for i := range re {
		sum += re[i] * rs[i]
	}
	// re is a sum over n instants and 3 axes, rs over both, as it should be.
	sum /= 3 * float64(n)
	return math.Sqrt(max(sum, 0)) / (math.Abs(k) * energy(slope))
}

// CorrelateTrack finds by how much the times of a source are late by
// correlating accelerations: that of the force, sample i at start + i/rate,
// and that of the track, both smoothed by the same Gaussian whose cut-off
// (−3 dB) is cutoff Hz, 0 meaning 4 Hz. Delays within seek of source.Clock.Delay
// are tried.
//
// It needs no model and no start values. [FitMotion] is several times more
// accurate for noisy positions, because it weighs each frequency by its noise;
// this is the check on it, and the choice when the track's slow part is of no
// use.
//
// The error wraps the errors of [Correlate] and [ErrTrack].
func CorrelateTrack(net []grf.Wrench, start, rate float64, source Source, seek, cutoff float64) (Clock, error) {
	if err := positive(option{"cut-off", cutoff}, option{"seek", seek}); err != nil {
		return Clock{}, err
	}
	s, err := newSmoother(net, start, rate, Options{})
	if err != nil {
		return Clock{}, err
	}
	times, at, _, err := source.check()
	if err != nil {
		return Clock{}, err
	}
	moved := grf.Track{Position: at, Time: make([]float64, len(times))}
	for i, t := range times {
		moved.Time[i] = source.Clock.Time(t)
	}
	// The longest run of samples at which both are known.
	path, err := FromTrack(moved, start, rate, len(net))
	if err != nil {
		return Clock{}, err
	}
	lo, hi := 0, 0
	for i := s.lo; i < s.hi; i++ {
		if j := runEnd(path.Position, i, s.hi); j-i > hi-lo {
			lo, hi = i, j
			i = j
		}
	}
	sigma := math.Sqrt(math.Ln2) / (2 * math.Pi * orDefault(cutoff, 4)) * rate // samples
	if 12*sigma+8 > float64(hi-lo) {
		return Clock{}, fmt.Errorf("%w: forces and track overlap by %d samples without gaps, need %.0f", grf.ErrNoData, hi-lo, 12*sigma+8)
	}
	low, bend := gaussian(sigma)
	mean := meanForce(path.Position[lo:hi])
	z := make([]r3.Vec, hi-lo)
	for i := range z {
		z[i] = r3.Sub(path.Position[lo+i], mean)
	}
	c, err := Correlate(convolve(s.filled[lo:hi], low), convolve(z, bend), rate, seek)
	if err != nil {
		return Clock{}, err
	}
	c.Delay += source.Clock.Delay
	c.At, c.Factor, c.FactorSD = source.Clock.At, source.Clock.Factor, source.Clock.FactorSD
	c.Method = "cross-correlation of accelerations"
	return c, nil
}

// runEnd returns the end of the run of defined vectors that begins at i.
func runEnd(v []r3.Vec, i, n int) int {
	for i < n && finite(v[i]) {
		i++
	}
	return i
}

// gaussian returns a Gaussian of unit sum and its second derivative, for a
// standard deviation of sigma samples, out to six of them, where cutting it
// off leaves the response to a constant and a slope below 1e-7.
func gaussian(sigma float64) (low, bend []float64) {
	half := int(math.Ceil(6 * sigma))
	var sum float64
	for i := -half; i <= half; i++ {
		u := float64(i) / sigma
		g := math.Exp(-u * u / 2)
		low = append(low, g)
		bend = append(bend, g*(u*u-1)/(sigma*sigma))
		sum += g
	}
	for i := range low {
		low[i] /= sum
		bend[i] /= sum
	}
	return low, bend
}

// convolve returns v weighted by a symmetric kernel, only where all of it lies
// within v.
func convolve(v []r3.Vec, kernel []float64) []r3.Vec {
	out := make([]r3.Vec, len(v)-len(kernel)+1)
	for i := range out {
		var s r3.Vec
		for j, k := range kernel {
			s = r3.Add(s, r3.Scale(k, v[i+j]))
		}
		out[i] = s
	}
	return out
}
