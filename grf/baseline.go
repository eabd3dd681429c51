package grf

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/spatial/r3"
	"gonum.org/v1/gonum/stat"
)

// BaselineOptions sets what counts as an unloaded, steady plate. The zero value
// means the defaults.
type BaselineOptions struct {
	// MaxLoad is the largest force that the window may show, N; default 60. A
	// plate that was never zeroed can show more with nobody on it: then the
	// caller, who knows that, sets more.
	MaxLoad float64
	// MaxSD is the largest standard deviation of each force component, N;
	// default 5.
	MaxSD float64
	// MaxDrift is the largest change of each force component from the first to
	// the last third of the window, N; default 5.
	MaxDrift float64
}

// Baseline is what the channels of a plate read while nobody stood on it. It may
// be kept as JSON and read again. What was read no longer knows which channels of
// a [TypePoint] plate are positions: set their Mean to 0.
type Baseline struct {
	First, Last int       // samples, both inside the window
	Mean, SD    []float64 // of each channel, in the channel's unit
	// Load is the wrench that the plate reports for Mean, in the laboratory and
	// as measured: what zeroing takes away.
	Load Wrench
	// ForceSD is the standard deviation of the force, N, and Drift its change
	// from the first to the last third of the window.
	ForceSD, Drift r3.Vec

	point bool // channels 4 and 5 are positions, which have no zero
}

// MeasureBaseline returns the mean of each channel over the samples first to
// last (inclusive). It refuses with an error that wraps [ErrLoaded] when the
// plate shows more than MaxLoad there, [ErrUnquiet] when the force shakes or
// drifts, and [ErrWindow] when the window has fewer than ten samples or lies
// outside the data. A window with NaN is refused as unquiet.
func MeasureBaseline(p *Plate, channels [][]float64, first, last int, opt BaselineOptions) (Baseline, error) {
	if err := p.checkChannels(channels); err != nil {
		return Baseline{}, err
	}
	if n := len(channels[0]); first < 0 || last >= n || last-first+1 < 10 {
		return Baseline{}, fmt.Errorf("%w: samples %d to %d of %d, at least ten are needed to zero a plate", ErrWindow, first, last, n)
	}
	b := Baseline{First: first, Last: last, point: p.typ == TypePoint}
	window := make([][]float64, len(channels))
	for i, c := range channels {
		window[i] = c[first : last+1]
		mean, sd := stat.MeanStdDev(window[i], nil)
		b.Mean = append(b.Mean, mean)
		b.SD = append(b.SD, sd)
	}
	measured := p.WithSense(AsMeasured)
	b.Load = measured.Wrench(b.Mean)
	ws, err := measured.Wrenches(nil, window)
	if err != nil {
		return Baseline{}, err
	}
	third := len(ws) / 3
	_, b.ForceSD = forceMeanSD(ws)
	begin, _ := forceMeanSD(ws[:third])
	end, _ := forceMeanSD(ws[len(ws)-third:])
	b.Drift = r3.Sub(end, begin)
	return b, b.check(opt)
}

func (b *Baseline) check(opt BaselineOptions) error {
	if f := r3.Norm(b.Load.Force); !(f <= orDefault(opt.MaxLoad, 60)) {
		return fmt.Errorf("%w: %.1f N over samples %d to %d, up to %.0f N is taken for an unloaded plate; choose a window in which nobody stands on it or, for a plate that was never zeroed, a larger MaxLoad",
			ErrLoaded, f, b.First, b.Last, orDefault(opt.MaxLoad, 60))
	}
	if s, most := largest(b.ForceSD), orDefault(opt.MaxSD, 5); !(s <= most) {
		return fmt.Errorf("%w: standard deviation %.1f N over samples %d to %d, at most %.1f N is accepted", ErrUnquiet, s, b.First, b.Last, most)
	}
	if d, most := largest(b.Drift), orDefault(opt.MaxDrift, 5); !(d <= most) {
		return fmt.Errorf("%w: drift of %.1f N over samples %d to %d, at most %.1f N is accepted", ErrUnquiet, d, b.First, b.Last, most)
	}
	return nil
}

// Subtract sets dst to the channels less the baseline and returns it, grown if
// it was too short; dst may be channels. The position channels of a
// [TypePoint] plate are copied as they are. The error wraps [ErrChannels] when
// there are not as many channels as the baseline has.
func (b Baseline) Subtract(dst, channels [][]float64) ([][]float64, error) {
	if len(channels) != len(b.Mean) {
		return nil, fmt.Errorf("%w: baseline of %d, got %d", ErrChannels, len(b.Mean), len(channels))
	}
	dst = grow(dst, len(channels))
	for i, c := range channels {
		mean := b.Mean[i]
		if b.point && (i == 3 || i == 4) {
			mean = 0
		}
		dst[i] = grow(dst[i], len(c))
		for k, v := range c {
			dst[i][k] = v - mean
		}
	}
	return dst, nil
}

// forceMeanSD returns mean and standard deviation of each force component.
func forceMeanSD(ws []Wrench) (mean, sd r3.Vec) {
	m, s := wrenchMeanSD(ws)
	return m.Force, s.Force
}

// wrenchMeanSD returns mean and sample standard deviation of each component, by
// two passes.
func wrenchMeanSD(ws []Wrench) (mean, sd Wrench) {
	if len(ws) == 0 {
		return NaN(), NaN()
	}
	for _, w := range ws {
		mean = mean.Add(w)
	}
	mean = mean.Scale(1 / float64(len(ws)))
	square := func(v r3.Vec) r3.Vec { return r3.Vec{X: v.X * v.X, Y: v.Y * v.Y, Z: v.Z * v.Z} }
	root := func(v r3.Vec) r3.Vec { return r3.Vec{X: math.Sqrt(v.X), Y: math.Sqrt(v.Y), Z: math.Sqrt(v.Z)} }
	for _, w := range ws {
		d := w.Sub(mean)
		sd = sd.Add(Wrench{square(d.Force), square(d.Moment)})
	}
	sd = sd.Scale(1 / float64(len(ws)-1))
	return mean, Wrench{root(sd.Force), root(sd.Moment)}
}

// largest returns the largest component in size, NaN if any is NaN.
func largest(v r3.Vec) float64 {
	return math.Max(math.Abs(v.X), math.Max(math.Abs(v.Y), math.Abs(v.Z)))
}

func orDefault(v, def float64) float64 {
	if v == 0 {
		return def
	}
	return v
}
