package cop

import (
	"math"

	"gonum.org/v1/gonum/dsp/fourier"
	"gonum.org/v1/gonum/floats"
)

// minSpectrum is the fewest samples from which a spectrum is estimated: two
// halves of eight.
const minSpectrum = 16

// centroids returns the centroids of the power spectra of two signals and their
// mean weighted with the power, Hz, as [AxisPath] describes.
func centroids(xs, ys []float64, rate float64) (x, y, both float64) {
	if len(xs) < minSpectrum {
		return math.NaN(), math.NaN(), math.NaN()
	}
	x, wx := centroid(xs, rate)
	y, wy := centroid(ys, rate)
	switch {
	case wx == 0:
		return x, y, y // that axis does not move: no weight
	case wy == 0:
		return x, y, x
	}
	return x, y, (x*wx + y*wy) / (wx + wy)
}

// centroid returns ∫f·P df / ∫P df by the trapezoid rule, Hz, and the sum of P,
// the weight of the signal; NaN and 0 for a signal that never moves.
func centroid(xs []float64, rate float64) (f, weight float64) {
	if floats.Min(xs) == floats.Max(xs) {
		return math.NaN(), 0
	}
	p := welch(xs)
	var moment, total float64
	for i := range len(p) - 1 {
		moment += (float64(i)*p[i] + float64(i+1)*p[i+1]) / 2
		total += (p[i] + p[i+1]) / 2
	}
	return rate / float64(len(xs)/2) * moment / total, floats.Sum(p)
}

// welch returns the one-sided power spectral density of xs up to a constant
// factor, from segments of half its length.
func welch(xs []float64) []float64 {
	n := len(xs) / 2
	step := n - n/2
	fft := fourier.NewFFT(n)
	seg, window := make([]float64, n), make([]float64, n)
	for i := range window {
		window[i] = (1 - math.Cos(2*math.Pi*float64(i)/float64(n))) / 2
	}
	coeff := make([]complex128, n/2+1)
	p := make([]float64, n/2+1)
	for first := 0; first+n <= len(xs); first += step {
		copy(seg, xs[first:first+n])
		floats.AddConst(-floats.Sum(seg)/float64(n), seg)
		floats.Mul(seg, window)
		fft.Coefficients(coeff, seg)
		for i, c := range coeff {
			power := real(c)*real(c) + imag(c)*imag(c)
			if i > 0 && !(i == n/2 && n%2 == 0) {
				power *= 2 // its mirror at the negative frequency
			}
			p[i] += power
		}
	}
	return p
}
