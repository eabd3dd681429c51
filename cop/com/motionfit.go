package com

import (
	"fmt"
	"math"

	"example.com/momentarm/grf"
	"gonum.org/v1/gonum/spatial/r3"
)

// MotionFit says how a track and the forces fit together: the track is
// compared with the path that the forces imply when start position, start
// velocity, force bias and mass are chosen to fit it best.
type MotionFit struct {
	Source string // name of the track
	Clock  Clock  // of the track; Delay found or as given

	// Bias is the constant error of the net force that fits best, N: what it is
	// short of. MassError is that of the mass, as a part of it, along each
	// axis; the vertical one says most. Their standard deviations follow from
	// those of the positions. Vertical bias and mass are nearly the same thing for
	// a golfer who moves little, and known together only: see Resting.
	Bias, MassError     r3.Vec
	BiasSD, MassErrorSD r3.Vec
	// Resting is what the net force would be short of if the golfer were at
	// rest, N: Bias and, along the vertical, what the mass error makes of the
	// weight.
	Resting, RestingSD r3.Vec
	// Residual is the root mean square of what remains, m, per axis.
	Residual r3.Vec
	// Chi2 is the sum of squares of the residuals over their standard
	// deviations, per degree of freedom: 1 when these are right.
	Chi2 float64
	// Positions is the number of positions that were compared.
	Positions int
}

// MotionOptions say what [FitMotion] may assume.
type MotionOptions struct {
	Mass    float64 // kg; required
	Gravity float64 // m/s²; 0 means [StandardGravity]
	Noise   Noise   // BiasSD and MassSD hold the fit back
	// Seek is the largest difference of the delay from the source's
	// Clock.Delay that is looked for, s; 0 means that the clock is right.
	Seek float64
}

// fitSpan is how much time around the largest force is compared, s: in longer
// stretches a wandering force bias would pass for motion.
const fitSpan = 4

// FitMotion compares a track of the centre of mass with the forces, force
// sample i being taken at start + i/rate, and finds by how much the track's
// clock is late.
//
// With the forces' own path q(τ), at rest in the origin at τ = 0, and its
// response φ(τ) to an error of the mass, each position z with stamp t is
//
//	z(t) = q(τ) + p₀ + v₀ τ + b τ²/2 + ε φ(τ) + error,  τ = Clock.Time(t) − origin
//
// with p₀, v₀, b, ε free for each axis (the last two held by their standard
// deviations) and one delay for all. The delay with the smallest sum of
// squares is the maximum-likelihood one; its standard deviation follows from
// the curvature there (profile likelihood), times √Chi2 where the residuals
// are larger than stated. This is the cross-correlation of the two movements
// with the weight that the noise of each frequency asks for; see [Correlate]
// for the plain one.
//
// The noise of the forces has no part in the fit: against a track better than
// 2 mm at 200 Hz it is no longer small, and the standard deviation of the delay
// is then too small by a fifth or so. What is compared is at most 4 s around
// the largest force, so delays of more than a second are not sought: give the
// nearest second as Clock.Delay, or use [CorrelateTrack].
//
// The movement itself must be in the record: a golfer who stands still has any
// delay. A warning says so, or that another delay fits nearly as well.
//
// The error wraps [grf.ErrNoData] when forces and track do not overlap by ten
// positions, [grf.ErrRate], [ErrTrack] or [ErrOption].
//
// Source: maximum likelihood with nuisance parameters, closed form; any
// textbook of estimation, for instance Kay, Fundamentals of Statistical Signal
// Processing: Estimation Theory, 1993, ch. 7 (from memory).
func FitMotion(net []grf.Wrench, start, rate float64, source Source, opt MotionOptions) (*MotionFit, error) {
	if !(opt.Mass > 0) || math.IsInf(opt.Mass, 0) {
		return nil, fmt.Errorf("%w: mass %g kg must be positive", ErrOption, opt.Mass)
	}
	if err := positive(option{"seek", opt.Seek}); err != nil {
		return nil, err
	}
	s, err := newSmoother(net, start, rate, Options{Gravity: opt.Gravity, Noise: opt.Noise})
	if err != nil {
		return nil, err
	}
	s.d.mass = opt.Mass
	times, at, sd, err := source.check()
	if err != nil {
		return nil, err
	}
	fit, err := s.fitMotion(source.Clock, opt.Seek, times, at, sd)
	if err == nil {
		fit.Source = source.name(0)
	}
	return fit, err
}

// seekDelay finds the delay of a source; the caller has the mass by now.
func (s *smoother) seekDelay(src *Source, times []float64, at []r3.Vec, sd r3.Vec) (Clock, error) {
	m, err := s.fitMotion(src.Clock, src.SeekDelay, times, at, sd)
	if err != nil {
		return Clock{}, err
	}
	return m.Clock, nil
}

// motionFit is the work space of a fit.
type motionFit struct {
	d       *dynamics
	forced  Path      // twofold integral of F/m + g, at rest in the origin at τ = 0
	origin  float64   // instant of τ = 0, s
	clock   Clock     // as given
	times   []float64 // stamps
	at      []r3.Vec
	sd      r3.Vec
	bias    float64 // standard deviation, m/s²
	massErr r3.Vec  // standard deviation along each axis
}

func (s *smoother) fitMotion(clock Clock, seek float64, times []float64, at []r3.Vec, sd r3.Vec) (*MotionFit, error) {
	lo, hi := s.lo, s.hi
	if span := count(fitSpan / 2 * s.path.Rate); hi-lo > 2*span {
		peak := action(s.filled[:hi], lo, hi)
		lo, hi = max(lo, peak-span), min(hi, peak+span+1)
	}
	n := hi - lo
	if n < 2 {
		return nil, fmt.Errorf("%w: %d force samples around the largest one", grf.ErrNoData, n)
	}
	m := motionFit{
		d:      &s.d,
		forced: Path{Start: s.path.Time(lo), Rate: s.path.Rate, Position: make([]r3.Vec, n), Velocity: make([]r3.Vec, n)},
		clock:  clock,
		sd:     sd,
	}
	a := make([]r3.Vec, n)
	for i := range a {
		a[i] = r3.Sub(r3.Scale(1/s.d.mass, s.filled[lo+i]), r3.Vec{Z: s.d.gravity})
	}
	integrate(m.forced.Position, m.forced.Velocity, a, s.path.Rate)
	mid := n / 2 // where the path is at rest in the origin, so that numbers stay small
	anchor(m.forced.Position, m.forced.Velocity, mid, mid+1, s.path.Rate, r3.Vec{})
	m.origin = m.forced.Time(mid)
	first, last := s.path.Time(lo), s.path.Time(hi-1)
	// A stamp counts when it lies within the forces for every delay sought.
	for i, stamp := range times {
		if t := clock.Time(stamp); t-seek >= first && t+seek <= last {
			m.times, m.at = append(m.times, stamp), append(m.at, at[i])
		}
	}
	if len(m.times) < 10 {
		return nil, fmt.Errorf("%w: %d positions lie within the forces (from %g to %g s, less %g s of delay to seek at both ends), need 10",
			grf.ErrNoData, len(m.times), first, last, seek)
	}
	// Where a standard deviation is 0 a state is not free; a vanishing one does.
	m.bias = max(s.d.noise.BiasSD/s.d.mass, 1e-9)
	e := max(s.d.noise.MassSD, 1e-9)
	m.massErr = r3.Vec{X: e, Y: e, Z: max(e, s.looseMass)}

	fit := &MotionFit{Clock: clock, Positions: len(m.times)}
	if seek > 0 {
		m.seek(seek, &fit.Clock)
	}
	cost := m.cost(fit.Clock.Delay, fit)
	for _, v := range []*r3.Vec{&fit.Bias, &fit.BiasSD, &fit.Resting, &fit.RestingSD} { // m/s² to N
		*v = r3.Scale(s.d.mass, *v)
	}
	fit.Chi2 = cost / m.freedom()
	if fit.Chi2 > 1 && seek > 0 {
		fit.Clock.DelaySD *= math.Sqrt(fit.Chi2)
	}
	return fit, nil
}

// freedom returns the degrees of freedom: 3 axes of positions less two start
// values each and the delay; bias and mass bring their own data.
func (m *motionFit) freedom() float64 { return float64(3*len(m.times) - 7) }

// seek finds the delay.
func (m *motionFit) seek(seek float64, c *Clock) {
	const step = 0.004 // s; the cost is smooth over much longer
	k := int(math.Ceil(seek / step))
	h := seek / float64(k)
	costs := make([]float64, 2*k+1)
	best := 0
	for i := range costs {
		costs[i] = m.cost(m.clock.Delay+float64(i-k)*h, nil)
		if costs[i] < costs[best] {
			best = i
		}
	}
	d := minimize(func(d float64) float64 { return m.cost(d, nil) },
		m.clock.Delay+float64(max(best-1, 0)-k)*h, m.clock.Delay+float64(min(best+1, 2*k)-k)*h)
	least := m.cost(d, nil)
	// The curvature over about one standard deviation, found in two rounds.
	sd := 0.003
	for range 3 {
		w := min(max(sd, 0.5e-3), 0.03)
		curve := (m.cost(d+w, nil) + m.cost(d-w, nil) - 2*least) / (w * w)
		if !(curve > 0) {
			sd = seek
			break
		}
		sd = min(math.Sqrt(2/curve), seek)
	}
	c.Delay, c.DelaySD, c.Method = d, sd, "motion of the centre of mass"

	scale := max(1, least/m.freedom())
	if best == 0 || best == 2*k {
		c.warn("sync-range", "the best delay lies at the end of the range that was searched, %g s about %g s: search further, or the track does not belong to these forces", seek, m.clock.Delay)
	}
	other := -1 // the next best of separate minima
	for i := 1; i < 2*k; i++ {
		if (i < best-1 || i > best+1) && costs[i] < costs[i-1] && costs[i] < costs[i+1] && (other < 0 || costs[i] < costs[other]) {
			other = i
		}
	}
	if other >= 0 && costs[other]-least < 9*scale { // within three standard deviations
		c.warn("sync-ambiguous", "a delay of %.0f ms fits nearly as well as %.0f ms", 1000*(m.clock.Delay+float64(other-k)*h), 1000*d)
	}
	if sd*math.Sqrt(scale) > 0.03 {
		c.warn("sync-weak", "the motion fixes the delay only to within %.0f ms: too little movement or too noisy a track", 1000*sd*math.Sqrt(scale))
	}
}

// cost returns the least sum of squares for a delay, and what belongs to it in
// fit unless that is nil (Bias and Resting in m/s²).
func (m *motionFit) cost(delay float64, fit *MotionFit) float64 {
	c := m.clock
	c.Delay = delay
	var normal [3][4][4]float64
	var right [3][4][4]float64 // first column in use
	var total [3]float64
	for i, stamp := range m.times {
		t := c.Time(stamp)
		forced, _ := m.forced.At(t)
		if !finite(forced) { // a rounding error outside
			continue
		}
		tau := t - m.origin
		for k := range 3 {
			q := *component(&forced, k)
			row := [4]float64{1, tau, tau * tau / 2, q}
			if k == 2 { // an error of the mass scales the force, not gravity
				row[3] += m.d.gravity * tau * tau / 2
			}
			y := *component(&m.at[i], k) - q
			w := *component(&m.sd, k)
			if w == 0 {
				continue
			}
			w = 1 / (w * w)
			total[k] += w * y * y
			for a := range 4 {
				right[k][a][0] += w * row[a] * y
				for b := range 4 {
					normal[k][a][b] += w * row[a] * row[b]
				}
			}
		}
	}
	var sum float64
	for k := range 3 {
		normal[k][2][2] += 1 / (m.bias * m.bias)
		e := *component(&m.massErr, k)
		normal[k][3][3] += 1 / (e * e)
		x, a := right[k], normal[k]
		solve(&a, &x)
		s := total[k]
		for a := range 4 {
			s -= x[a][0] * right[k][a][0]
		}
		sum += s
		if fit != nil {
			cov := [4][4]float64{{1}, {0, 1}, {0, 0, 1}, {0, 0, 0, 1}}
			a := normal[k]
			solve(&a, &cov)
			*component(&fit.Bias, k), *component(&fit.BiasSD, k) = x[2][0], math.Sqrt(max(cov[2][2], 0))
			// 1/m grows where m was too large.
			*component(&fit.MassError, k), *component(&fit.MassErrorSD, k) = -x[3][0], math.Sqrt(max(cov[3][3], 0))
			g := 0.0
			if k == 2 {
				g = m.d.gravity
			}
			*component(&fit.Resting, k) = x[2][0] + g*x[3][0]
			*component(&fit.RestingSD, k) = math.Sqrt(max(cov[2][2]+2*g*cov[2][3]+g*g*cov[3][3], 0))
			w := *component(&m.sd, k)
			*component(&fit.Residual, k) = math.Sqrt(max(s, 0)/float64(len(m.times))) * w
		}
	}
	return sum
}

// minimize returns the place of the minimum of f between a and b by golden
// sections, to a microsecond.
func minimize(f func(float64) float64, a, b float64) float64 {
	const g = 0.6180339887498949
	x1, x2 := b-g*(b-a), a+g*(b-a)
	f1, f2 := f(x1), f(x2)
	for b-a > 1e-6 {
		if f1 < f2 {
			b, x2, f2 = x2, x1, f1
			x1 = b - g*(b-a)
			f1 = f(x1)
		} else {
			a, x1, f1 = x1, x2, f2
			x2 = a + g*(b-a)
			f2 = f(x2)
		}
	}
	return (a + b) / 2
}
