package com

import (
	"fmt"
	"math"
	"slices"

	"example.com/momentarm/cop"
	"example.com/momentarm/grf"
	"gonum.org/v1/gonum/spatial/r3"
)

// Quality is what a recording says about itself: laws of mechanics that forces,
// stillness and other instruments must obey together, and by how much they do
// not. Figures that could not be found are NaN; each one that is larger than it
// should be comes with a warning that names likely causes.
type Quality struct {
	// HorizontalAtRest is the mean horizontal force of the quiet stance, N; it
	// should be zero.
	HorizontalAtRest r3.Vec

	// Mass is what the plates show in the quiet stance, kg.
	Mass float64

	// Impulse is ∫ΣF dt + m g Δt between the middles of the quiet stance and
	// the still finish, N·s; as the golfer is still at both, it should be
	// zero. The force that held in the quiet stance stands for m g.
	Impulse r3.Vec

	// Outside is the part of the loaded samples whose net centre of pressure
	// lies outside the stance, and Farthest how far the farthest one is, m,
	// and OutsideAt when, s.
	Outside, Farthest, OutsideAt float64

	// Newton holds, for each source, by which force bias, mass error and
	// residual it can be brought to agree with Newton's second law; nil for a
	// source that does not overlap with the forces.
	Newton []*MotionFit

	Warnings []grf.Warning
}

// Limits above which [CheckQuality] warns. Common practice (no published
// source).
const (
	impulseLimit  = 0.1  // m/s of velocity that should be zero
	outsideLimit  = 0.01 // of loaded samples
	outsideMargin = 0.02 // m, beyond the stance
	newtonBias    = 15.0 // N
	newtonMass    = 0.03 // of the mass
	newtonSure    = 3    // standard deviations, so that noise raises no alarm
	newtonChi2    = 4    // residual twice as large as stated
)

// CheckQuality asks a recording whether it can be right, with the options that
// [Smooth] would be given. outline holds points of the feet's outlines on the
// ground, m, in any order; the stance is their convex hull. Without three
// points the centre of pressure is not checked.
//
// The checks: no horizontal force at rest; mass on the plates as stated; no
// change of momentum from stillness to stillness; centre of pressure within
// the stance; Newton's second law between the forces and each source.
//
// The errors are those of Smooth, except that missing stillness only leaves
// figures NaN.
func CheckQuality(net []grf.Wrench, start, rate float64, opt Options, outline []r3.Vec) (*Quality, error) {
	s, err := newSmoother(net, start, rate, opt)
	if err != nil {
		return nil, err
	}
	nan := math.NaN()
	q := &Quality{HorizontalAtRest: nan3(), Mass: nan, Impulse: nan3(), Outside: nan, Farthest: nan, OutsideAt: nan}
	quiet, unquiet := findQuiet(net, s.force, opt.Quiet, start, rate)
	if unquiet != nil && opt.Quiet.given() {
		return nil, unquiet
	}
	s.d.mass = opt.Mass
	if unquiet == nil {
		s.d.mass = quiet.force.Z / s.d.gravity
		q.Mass = s.d.mass
		q.HorizontalAtRest = r3.Vec{X: quiet.force.X, Y: quiet.force.Y}
		s.path.quietWarnings(quiet, s.d.mass, opt.Mass)
		still, ok, err := findStill(net, s.force, quiet, s.hi, opt.Still, start, rate, quiet.force.Z)
		if err != nil {
			return nil, err
		}
		if ok {
			q.impulse(s, quiet, still)
		}
	}
	if len(outline) >= 3 {
		q.stance(s, net, outline)
	}
	for i := range opt.Sources {
		src := &opt.Sources[i]
		times, at, sd, err := src.check()
		if err != nil {
			return nil, fmt.Errorf("%s: %w", src.name(i), err)
		}
		if s.d.mass == 0 {
			return nil, fmt.Errorf("the mass is unknown: neither stated nor to be weighed: %w", unquiet)
		}
		q.Newton = append(q.Newton, q.newton(s, src, i, times, at, sd))
	}
	q.Warnings = append(s.path.Warnings, q.Warnings...)
	return q, nil
}

func (q *Quality) warn(code, where, format string, args ...any) {
	q.Warnings = append(q.Warnings, grf.Warning{Code: code, Where: where, Text: fmt.Sprintf(format, args...)})
}

// impulse compares the impulse between two still windows with zero.
func (q *Quality) impulse(s *smoother, quiet, still stance) {
	a, b := (quiet.lo+quiet.hi-1)/2, (still.lo+still.hi-1)/2
	var j r3.Vec
	for i := a; i < b; i++ { // trapezium
		f := r3.Scale(0.5, r3.Add(s.filled[i], s.filled[i+1]))
		j = r3.Add(j, r3.Scale(1/s.path.Rate, r3.Sub(f, quiet.force)))
	}
	q.Impulse = j
	if v := r3.Scale(1/s.d.mass, j); largest(v) > impulseLimit {
		q.warn("impulse", "net force", "from stillness at %.2f s to stillness at %.2f s the forces change the velocity by (%.2f, %.2f, %.2f) m/s where it should be 0. Likely causes: a plate drifts, a foot left the plates, a hand or club touched something, the golfer was not still",
			s.path.Time(a), s.path.Time(b), v.X, v.Y, v.Z)
	}
}

// stance checks that the centre of pressure lies inside the hull of the feet.
func (q *Quality) stance(s *smoother, net []grf.Wrench, outline []r3.Vec) {
	hull := convexHull(outline)
	if len(hull) < 3 {
		return
	}
	var loaded, out float64
	q.Farthest, q.OutsideAt = 0, math.NaN()
	for i, w := range net {
		p, _ := cop.Of(w, 0, cop.DefaultMinVertical)
		if !finite(p) {
			continue
		}
		loaded++
		d := beyond(hull, p)
		if d > outsideMargin {
			out++
		}
		if d > q.Farthest {
			q.Farthest, q.OutsideAt = d, s.path.Time(i)
		}
	}
	if loaded == 0 {
		q.Farthest = math.NaN()
		return
	}
	q.Outside = out / loaded
	if q.Outside > outsideLimit {
		q.warn("cop-outside-stance", "net centre of pressure", "%.1f %% of the samples lie more than %g mm outside the stance, the farthest by %.0f mm at %.2f s. Likely causes: corners or order of the plates wrong, sign of a plate's origin, moments in another unit, feet not where they are said to be, something else touched the plates",
			100*q.Outside, 1000*outsideMargin, 1000*q.Farthest, q.OutsideAt)
	}
}

// newton compares a source with the forces and looks for the simplest thing
// that would explain the difference.
func (q *Quality) newton(s *smoother, src *Source, number int, times []float64, at []r3.Vec, sd r3.Vec) *MotionFit {
	free := *s
	// Let bias and mass show. Of the mass only along the vertical: across, the
	// forces are small, and a free factor would explain away anything.
	free.d.noise.BiasSD, free.looseMass = 1000, 0.5
	fit, err := free.fitMotion(src.Clock, 0, times, at, sd)
	name := src.name(number)
	if err != nil { // too little overlap to say anything
		q.warn("source-outside", name, "not compared with the forces: %v", err)
		return nil
	}
	fit.Source = name
	scale := math.Sqrt(max(1, fit.Chi2))
	sure := false
	for k := range 3 {
		b, sd := *component(&fit.Resting, k), *component(&fit.RestingSD, k)
		sure = sure || math.Abs(b) > max(newtonBias, newtonSure*scale*sd)
	}
	if b := fit.Resting; sure {
		q.warn("newton-bias", name, "the forces agree with it only when (%.1f, %.1f, %.1f) N are added. Likely causes: plate not zeroed or drifting, axes of the two tilted against each other, positions that drift",
			b.X, b.Y, b.Z)
	}
	if m := fit.MassError.Z; math.Abs(m) > max(newtonMass, newtonSure*scale*fit.MassErrorSD.Z) {
		q.warn("newton-mass", name, "the vertical movement fits a mass %+.1f %% from the one in use. Likely causes: wrong mass, wrong gain of a plate, positions in another scale", 100*m)
	}
	if fit.Chi2 < newtonChi2 {
		return fit
	}
	q.warn("newton-residual", name, "positions and forces differ by (%.1f, %.1f, %.1f) mm RMS, %.1f times as much as the standard deviation says. %s",
		1000*fit.Residual.X, 1000*fit.Residual.Y, 1000*fit.Residual.Z, math.Sqrt(fit.Chi2), free.explain(src, times, at, sd, fit.Chi2))
	return fit
}

// explain names what would make the residual much smaller.
func (s *smoother) explain(src *Source, times []float64, at []r3.Vec, sd r3.Vec, chi2 float64) string {
	const better = 0.5 // of the sum of squares
	best, text := better*chi2, "Likely causes: positions less exact than stated, markers that move on the body, a point that is not the centre of mass"
	if m, err := s.fitMotion(src.Clock, 0.2, times, at, sd); err == nil && m.Chi2 < best {
		best = m.Chi2
		text = fmt.Sprintf("It would be %.1f times if its clock were %.0f ms later. Likely cause: not synchronised", math.Sqrt(m.Chi2), 1000*(m.Clock.Delay-src.Clock.Delay))
	}
	for _, turn := range []struct {
		name string
		of   func(r3.Vec) r3.Vec
	}{
		{"x reversed", func(v r3.Vec) r3.Vec { return r3.Vec{X: -v.X, Y: v.Y, Z: v.Z} }},
		{"y reversed", func(v r3.Vec) r3.Vec { return r3.Vec{X: v.X, Y: -v.Y, Z: v.Z} }},
		{"x and y reversed", func(v r3.Vec) r3.Vec { return r3.Vec{X: -v.X, Y: -v.Y, Z: v.Z} }},
		{"x and y exchanged", func(v r3.Vec) r3.Vec { return r3.Vec{X: v.Y, Y: v.X, Z: v.Z} }},
		{"x and y turned by 90°", func(v r3.Vec) r3.Vec { return r3.Vec{X: -v.Y, Y: v.X, Z: v.Z} }},
		{"x and y turned by −90°", func(v r3.Vec) r3.Vec { return r3.Vec{X: v.Y, Y: -v.X, Z: v.Z} }},
	} {
		turned := make([]r3.Vec, len(at))
		for i := range at {
			turned[i] = turn.of(at[i])
		}
		if m, err := s.fitMotion(src.Clock, 0, times, turned, sd); err == nil && m.Chi2 < best {
			best = m.Chi2
			text = fmt.Sprintf("It would be %.1f times with %s. Likely cause: axes that do not fit", math.Sqrt(m.Chi2), turn.name)
		}
	}
	return text
}

// convexHull returns the corners of the convex hull of points seen from above,
// counter-clockwise (Andrew's monotone chain, Inf. Process. Lett. 9:216–219,
// 1979).
func convexHull(points []r3.Vec) []r3.Vec {
	p := slices.DeleteFunc(slices.Clone(points), func(v r3.Vec) bool { return !finite(v) })
	slices.SortFunc(p, func(a, b r3.Vec) int {
		switch {
		case a.X < b.X || a.X == b.X && a.Y < b.Y:
			return -1
		case a == b:
			return 0
		}
		return 1
	})
	turns := func(a, b, c r3.Vec) float64 { return (b.X-a.X)*(c.Y-a.Y) - (b.Y-a.Y)*(c.X-a.X) }
	var hull []r3.Vec
	for range 2 {
		base := len(hull)
		for _, v := range p {
			for len(hull) >= base+2 && turns(hull[len(hull)-2], hull[len(hull)-1], v) <= 0 {
				hull = hull[:len(hull)-1]
			}
			hull = append(hull, v)
		}
		if len(hull) > 0 {
			hull = hull[:len(hull)-1] // it begins the other half
		}
		slices.Reverse(p)
	}
	return hull
}

// beyond returns how far p lies outside a convex polygon, 0 when inside.
func beyond(hull []r3.Vec, p r3.Vec) float64 {
	inside := true
	near := math.Inf(1)
	for i, a := range hull {
		b := hull[(i+1)%len(hull)]
		ex, ey, px, py := b.X-a.X, b.Y-a.Y, p.X-a.X, p.Y-a.Y
		if ex*py-ey*px < 0 {
			inside = false
		}
		u := min(max((px*ex+py*ey)/(ex*ex+ey*ey), 0), 1)
		near = min(near, math.Hypot(px-u*ex, py-u*ey))
	}
	if inside {
		return 0
	}
	return near
}

// FlightError is a measure of how well a path obeys gravity while nothing
// touches the ground: the length of the vector whose components are the medians
// over all samples inside the flights of acceleration + g, as a part of g. The
// acceleration is the second difference of position. It tells the quality of
// the positions, not of the forces, and is NaN when no sample lies in a flight.
//
// Source: Le Mouel, Peer Community J. 5:e10 (2025), who reports 14–36 % for
// positions from markers alone and 1.1–3.1 % after combining them with forces.
func FlightError(position []r3.Vec, start, rate, gravity float64, flights []Window) float64 {
	g := orDefault(gravity, StandardGravity)
	var errs [3][]float64
	for _, w := range flights {
		lo, hi := w.samples(start, rate, len(position))
		for i := max(lo, 1); i < min(hi, len(position)-1); i++ {
			a := r3.Add(r3.Sub(position[i-1], r3.Scale(2, position[i])), position[i+1])
			a = r3.Add(r3.Scale(rate*rate, a), r3.Vec{Z: g})
			if !finite(a) {
				continue
			}
			for k := range 3 {
				errs[k] = append(errs[k], *component(&a, k))
			}
		}
	}
	var sum float64
	for _, e := range errs {
		m := median(e)
		sum += m * m
	}
	return math.Sqrt(sum) / g
}

// median returns the middle value, or the mean of the two middle ones.
func median(v []float64) float64 {
	if len(v) == 0 {
		return math.NaN()
	}
	slices.Sort(v)
	n := len(v)
	return (v[(n-1)/2] + v[n/2]) / 2
}
