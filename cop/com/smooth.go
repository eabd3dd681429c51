package com

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"example.com/momentarm/grf"
	"gonum.org/v1/gonum/spatial/r3"
)

// Smooth returns the path of the centre of mass that agrees best with all that
// is known: the net ground reaction, force sample i being taken at
// start + i/rate; stillness before and after the swing; and any number of
// other instruments, each at its own rate, with gaps, late or early.
//
// Force says how the centre of mass moves, and every other piece of knowledge
// is a [Fix] that corrects it; a constant and slowly wandering force bias and
// an error of the mass are found along with the path (see [Noise]). A forward
// pass (Kalman) and a backward pass (Rauch, Tung, Striebel) give each sample
// the benefit of everything before and after it. The standard deviations of
// the path follow from those of the inputs; that of a source's delay is added
// by its effect on the path.
//
// Lost force samples are bridged by straight lines whose uncertainty grows
// with the length of the gap. Before the first and after the last known force
// the path is NaN.
//
// The standard deviations are only as honest as those that went in: a source
// whose errors last (most segment models) needs its SlowSD. When a source
// disagrees with forces and other knowledge by more than it says it may, there
// is a warning.
//
// Without a quiet stance and without sources the error wraps
// [grf.ErrNoQuiet]; other errors wrap [grf.ErrNoData], [grf.ErrRate],
// [grf.ErrWindow], [ErrTrack] or [ErrOption].
//
// Sources: Rauch, Tung, Striebel, AIAA J. 3:1445–1450 (1965); force as input
// and position as correction, Le Mouel, Peer Community J. 5:e10 (2025), after
// Maus et al., J. Exp. Biol. 214:3511–3517 (2011), who joined the two by
// frequency.
func Smooth(net []grf.Wrench, start, rate float64, opt Options) (*Path, error) {
	s, err := newSmoother(net, start, rate, opt)
	if err != nil {
		return nil, err
	}
	if err := s.stances(net); err != nil {
		return nil, err
	}
	if err := s.sources(); err != nil {
		return nil, err
	}
	if len(s.known) == 0 {
		return nil, fmt.Errorf("%w: nothing says where the centre of mass is: there is no quiet stance, and no position of a source lies within the forces", grf.ErrNoQuiet)
	}
	s.run(s.known)
	s.keep()
	s.considerDelays()
	s.agreement()
	s.path.Method = "forces, " + strings.Join(s.used, ", ") + "; forward and backward filter"
	return s.path, nil
}

// smoother is the work space of [Smooth].
type smoother struct {
	path   *Path
	opt    Options
	d      dynamics
	force  []r3.Vec // short gaps bridged, NaN in long ones
	lo, hi int      // first and last known sample, half open
	filled []r3.Vec // all gaps between lo and hi bridged
	quiet  stance
	still  stance

	known []sourced
	used  []string // in words
	delay []int    // sources whose delay is uncertain
	times [][]float64
	at    [][]r3.Vec
	sd    []r3.Vec

	chain []node

	looseMass float64 // of the vertical mass error in motion fits, when larger than the noise's
}

// sourced is a fix and the number of its source, −1 for stillness.
type sourced struct {
	Fix
	source int
}

func newSmoother(net []grf.Wrench, start, rate float64, opt Options) (*smoother, error) {
	n := len(net)
	if n < 2 {
		return nil, fmt.Errorf("%w: %d force samples, need two or more", grf.ErrNoData, n)
	}
	if !(rate > 0) || math.IsInf(rate, 0) {
		return nil, fmt.Errorf("%w: %g Hz", grf.ErrRate, rate)
	}
	if math.IsNaN(start) || math.IsInf(start, 0) {
		return nil, fmt.Errorf("%w: start time %g s", ErrOption, start)
	}
	if err := positive(option{"gravity", opt.Gravity}, option{"mass", opt.Mass},
		option{"quiet distance SD", opt.QuietSD.Over}, option{"quiet speed SD", opt.QuietSD.Speed},
		option{"still distance SD", opt.StillSD.Over}, option{"still speed SD", opt.StillSD.Speed},
		option{"height", opt.Height}, option{"height SD", opt.HeightSD},
		option{"stature", opt.Stature}, option{"height fraction", opt.HeightFraction},
	); err != nil {
		return nil, err
	}
	noise, err := opt.Noise.withDefaults()
	if err != nil {
		return nil, err
	}
	s := &smoother{
		path:  &Path{Start: start, Rate: rate},
		opt:   opt,
		d:     dynamics{gravity: orDefault(opt.Gravity, StandardGravity), period: 1 / rate, noise: noise},
		force: make([]r3.Vec, n),
	}
	for i, w := range net {
		s.force[i] = w.Force
		if w.IsNaN() || !finite(w.Force) {
			s.force[i] = nan3()
		}
	}
	s.lo = slices.IndexFunc(s.force, finite)
	if s.lo < 0 {
		return nil, fmt.Errorf("%w: all %d force samples are lost", grf.ErrNoData, n)
	}
	for s.hi = n; !finite(s.force[s.hi-1]); s.hi-- {
	}
	s.filled = slices.Clone(s.force)
	lost := bridge(s.filled, n)
	if lost > 0 || s.hi-s.lo < n {
		s.path.warn("gap", "%d of %d force samples are lost; between known ones they were bridged by straight lines with a larger uncertainty",
			lost+n-(s.hi-s.lo), n)
	}
	bridge(s.force, count(math.Round(0.02*rate)))
	return s, nil
}

// stances finds the quiet windows and what they tell.
func (s *smoother) stances(net []grf.Wrench) error {
	p, opt := s.path, &s.opt
	quiet, err := findQuiet(net, s.force, opt.Quiet, p.Start, p.Rate)
	switch {
	case err == nil:
		s.quiet = quiet
		p.quietWarnings(quiet, quiet.force.Z/s.d.gravity, opt.Mass)
		s.d.mass = quiet.force.Z / s.d.gravity
		height, sd := s.height()
		for _, f := range quiet.fixes(s.force, s.d.mass, p.Start, p.Rate, opt.QuietSD.orDefault(addressStillness), height, sd) {
			s.known = append(s.known, sourced{f, -1})
		}
		s.used = append(s.used, "quiet stance")
	case opt.Quiet.given() || len(opt.Sources) == 0:
		return err
	case opt.Mass == 0:
		return fmt.Errorf("the mass is unknown: neither stated nor to be weighed: %w", err)
	default:
		s.d.mass = opt.Mass
		if !opt.Quiet.none() {
			p.warn("no-quiet", "the path starts without a quiet stance and with the stated mass of %g kg (%v)", opt.Mass, err)
		}
	}
	p.Mass = s.d.mass

	still, ok, err := findStill(net, s.force, s.quiet, s.hi, opt.Still, p.Start, p.Rate, s.d.mass*s.d.gravity)
	if err != nil {
		return err
	}
	if ok {
		s.still = still
		for _, f := range still.fixes(s.force, s.d.mass, p.Start, p.Rate, opt.StillSD.orDefault(finishStillness), 0, 0) {
			s.known = append(s.known, sourced{f, -1})
		}
		s.used = append(s.used, "still finish")
	}
	return nil
}

// height returns the height in the quiet stance and its standard deviation, 0
// when it is left to the sources.
func (s *smoother) height() (height, sd float64) {
	opt := &s.opt
	switch {
	case opt.Height > 0:
		return opt.Height, orDefault(opt.HeightSD, 0.02)
	case len(opt.Sources) > 0:
		return 0, 0
	case opt.Stature > 0:
		sd = 0.04
	default:
		sd = 0.07
	}
	return s.path.height(0, opt.Stature, opt.HeightFraction), orDefault(opt.HeightSD, sd)
}

// sources turns the positions of all sources into fixes.
func (s *smoother) sources() error {
	s.opt.Sources = slices.Clone(s.opt.Sources)
	for i := range s.opt.Sources {
		src := &s.opt.Sources[i]
		times, at, sd, err := src.check()
		if err != nil {
			return fmt.Errorf("%s: %w", src.name(i), err)
		}
		s.times, s.at, s.sd = append(s.times, times), append(s.at, at), append(s.sd, sd)
		if src.SeekDelay > 0 {
			if src.Clock, err = s.seekDelay(src, times, at, sd); err != nil {
				return fmt.Errorf("%s: %w", src.name(i), err)
			}
			s.path.warn("delay-estimated", "%s: its time stamps are %.1f ± %.1f ms late, found from the motion", src.name(i), 1000*src.Clock.Delay, 1000*src.Clock.DelaySD)
			s.path.Warnings = append(s.path.Warnings, src.Clock.Warnings...)
		}
		s.path.Clocks = append(s.path.Clocks, src.Clock)
		fixes := s.fixes(i, src.Clock)
		if len(fixes) == 0 {
			s.path.warn("source-outside", "%s: none of its %d positions lies within the forces", src.name(i), len(times))
			continue
		}
		s.known = append(s.known, fixes...)
		s.used = append(s.used, src.name(i))
		if src.Clock.SD((times[0]+times[len(times)-1])/2) > 0 {
			s.delay = append(s.delay, i)
		}
	}
	slices.SortStableFunc(s.known, byTime)
	return nil
}

func byTime(a, b sourced) int {
	switch {
	case a.Time < b.Time:
		return -1
	case a.Time > b.Time:
		return 1
	}
	return 0
}

// fixes returns the positions of source i that lie within the forces.
func (s *smoother) fixes(i int, c Clock) []sourced {
	first, last := s.path.Time(s.lo), s.path.Time(s.hi-1)
	// Where stamps and samples are meant to be the same instant they are made
	// so; a rounding error apart they would be two.
	slack := 1e-6 / s.path.Rate
	var fixes []sourced
	for j, stamp := range s.times[i] {
		t := c.Time(stamp)
		if k := math.Round((t - s.path.Start) * s.path.Rate); math.Abs(t-(s.path.Start+k/s.path.Rate)) < slack {
			t = s.path.Start + k/s.path.Rate
		}
		if t >= first && t <= last {
			fixes = append(fixes, sourced{Fix{Time: t, Position: s.at[i][j], PositionSD: s.sd[i]}, i})
		}
	}
	return fixes
}

// run fills the chain from the fixes, in order of time, and makes the forward
// pass.
func (s *smoother) run(fixes []sourced) {
	if need := s.hi - s.lo + len(fixes); cap(s.chain) < need {
		s.chain = make([]node, 0, need)
	}
	s.chain = s.chain[:0]
	p, d := s.path, &s.d
	d.regulate()
	at := r3.Vec{}
	for k := range 3 {
		i := slices.IndexFunc(fixes, func(f sourced) bool { return *component(&f.PositionSD, k) > 0 })
		if i >= 0 {
			*component(&at, k) = *component(&fixes[i].Position, k)
		}
	}
	var lostFor float64
	next := 0 // fix
	for i := s.lo; i < s.hi; i++ {
		n := node{t: p.Time(i), force: s.filled[i], sample: i, source: -1}
		if i > s.lo {
			if finite(s.force[i]) {
				lostFor = 0
			} else {
				lostFor += d.period
			}
			n.lostFor = lostFor
			for ; next < len(fixes) && fixes[next].Time < n.t; next++ {
				last := &s.chain[len(s.chain)-1]
				f := d.between(last, &n, fixes[next].Fix, fixes[next].source)
				d.next(last, &f)
				s.chain = append(s.chain, f)
			}
			d.next(&s.chain[len(s.chain)-1], &n)
		} else {
			d.start(&n, at, 1)
		}
		s.chain = append(s.chain, n)
		for ; next < len(fixes) && fixes[next].Time == n.t; next++ {
			last := &s.chain[len(s.chain)-1]
			f := d.between(last, last, fixes[next].Fix, fixes[next].source)
			d.next(last, &f)
			s.chain = append(s.chain, f)
		}
	}
}

// backward makes the backward pass and hands the smoothed state of each force
// sample to take.
func (s *smoother) backward(take func(sample int, ax *[3]axis)) {
	i := len(s.chain) - 1
	ax := s.chain[i].ax
	for done := -1; ; i-- {
		if n := &s.chain[i]; n.sample >= 0 && n.sample != done {
			take(n.sample, &ax)
			done = n.sample
		}
		if i == 0 {
			return
		}
		ax, _ = s.d.back(&s.chain[i-1], &s.chain[i], &ax)
	}
}

// keep makes the path from the chain.
func (s *smoother) keep() {
	p := s.path
	n := len(s.force)
	p.Position, p.PositionSD = make([]r3.Vec, n), make([]r3.Vec, n)
	p.Velocity, p.VelocitySD = make([]r3.Vec, n), make([]r3.Vec, n)
	for i := range n {
		p.Position[i], p.PositionSD[i], p.Velocity[i], p.VelocitySD[i] = nan3(), nan3(), nan3(), nan3()
	}
	s.backward(func(i int, ax *[3]axis) {
		e := s.d.estimate(p.Time(i), ax)
		p.Position[i], p.PositionSD[i], p.Velocity[i], p.VelocitySD[i] = e.Position, e.PositionSD, e.Velocity, e.VelocitySD
		if i == s.hi-1 {
			p.Bias, p.BiasSD = e.Bias, e.BiasSD
			z := &ax[2]
			p.Mass = s.d.mass / (1 + z.x[3])
			p.MassSD = p.Mass * math.Sqrt(max(z.p.variance(3), 0))
		}
	})
	if s.quiet.hi > 0 {
		p.ShiftFrom = s.quiet.hi - 1
		p.ShiftSD = s.shiftSD(p.ShiftFrom)
	}
}

// agreement compares each source with what was known before each of its
// positions, by the mean of innovation²/variance, which is 1 when the standard
// deviations are right.
func (s *smoother) agreement() {
	const tooMuch = 3
	sum, n := make([]float64, len(s.opt.Sources)), make([]float64, len(s.opt.Sources))
	for i := 1; i < len(s.chain); i++ {
		b := &s.chain[i]
		if b.source < 0 {
			continue
		}
		a := s.chain[i-1].ax
		for k := range a {
			st := s.d.stride(&s.chain[i-1], b, k)
			a[k].predict(&a[k], &st)
			sd := *component(&b.fix.PositionSD, k)
			if a[k].p.variance(0) > 0.01 { // nothing known before: to within 0.1 m
				continue
			}
			e := *component(&b.fix.Position, k) - a[k].x[0]
			sum[b.source] += e * e / (a[k].p.variance(0) + sd*sd)
			n[b.source]++
		}
	}
	for i := range sum {
		if n[i] < 10 {
			continue
		}
		if r := sum[i] / n[i]; r > tooMuch {
			s.path.warn("source-disagrees", "%s differs from forces and other knowledge by %.1f times what the standard deviations allow. Likely causes: SD or SlowSD too small, wrong delay, wrong mass, axes that do not fit, plates not zeroed", s.opt.Sources[i].name(i), math.Sqrt(r))
		}
	}
}
