package swing

import (
	"errors"
	"fmt"
	"math"
	"slices"

	"gonum.org/v1/gonum/floats"
	"gonum.org/v1/gonum/spatial/r3"

	"example.com/momentarm/cop"
	"example.com/momentarm/cop/com"
	"example.com/momentarm/grf"
	"example.com/momentarm/grf/filter"
	"example.com/momentarm/phase"
	"example.com/momentarm/torque"
)

// Sentinels for [errors.Is].
var (
	// ErrOptions means options that make no sense.
	ErrOptions = errors.New("swing: unusable options")
	// ErrNobody means that nobody stood on the plates.
	ErrNobody = errors.New("swing: nobody on the plates")
)

// Analyse works one swing out. It fails when the recording can not be worked on
// ([grf.Recording.Check]), when a force or moment is infinite or beyond 10⁹ N or
// N·m (a [*filter.NotFiniteError]; mark it NaN), when nobody is on the plates
// ([ErrNobody]), when there is no quiet stance before the swing ([grf.ErrNoQuiet]),
// when there is no swing ([phase.ErrNoSwing]) and when the options make no sense
// ([ErrOptions]). The recording is not changed; the analysis shares its memory.
//
// Of several swings in the recording the one at the given impact is analysed, or
// else the one whose load moves fastest to the lead foot, with the warning
// "several-swings"; [Split] gives each. Of a recording without horizontal forces
// ([grf.Recording.VerticalOnly]) everything that needs them is NaN or missing and
// says so. Marks may be given by the number of their position: see
// [phase.Position].
//
// When the sampling rate is none at which swings are recorded, the feet press where
// feet can not be, or the recording holds no complete swing, errors begin with that.
func Analyse(rec *grf.Recording, opt Options) (*Analysis, error) {
	a, err := analyse(rec, opt)
	return a, explained(rec, err)
}

func analyse(rec *grf.Recording, opt Options) (*Analysis, error) {
	if err := rec.Check(); err != nil {
		return nil, err
	}
	if err := checkSize(rec); err != nil {
		return nil, err
	}
	settings, err := opt.settings(rec.Rate)
	if err != nil {
		return nil, err
	}
	a := &Analysis{Recording: rec, Settings: settings, asked: opt.Quiet}
	if a.marks, err = phase.NamedMarks(rec.Marks); err != nil {
		return nil, err
	}
	raw, err := rec.NetWrenches(nil)
	if err != nil {
		return nil, err
	}
	whole := a.bridged()
	if err := a.stances(whole, opt); err != nil {
		return nil, err
	}
	if err := a.filter(whole, raw); err != nil {
		return nil, err
	}
	a.pressure()
	if err := a.mass(raw, opt); err != nil {
		return nil, err
	}
	a.turning()
	a.noises(raw)
	if err := a.events(); err != nil {
		return nil, err
	}
	a.doubts()
	a.measure(opt)
	return a, nil
}

func (a *Analysis) step(format string, v ...any) {
	a.Steps = append(a.Steps, fmt.Sprintf(format, v...))
}

func (a *Analysis) warn(code, where, format string, v ...any) {
	a.Warnings = append(a.Warnings, grf.Warning{Code: code, Where: where, Text: fmt.Sprintf(format, v...)})
}

// stances finds when the golfer was on the plates, the quiet stance before the
// swing and the one after it, in a recording without short gaps.
func (a *Analysis) stances(rec *grf.Recording, opt Options) error {
	raw, err := rec.NetWrenches(nil)
	if err != nil {
		return err
	}
	one, err := a.choose(rec, raw, opt)
	if err != nil {
		return err
	}
	down := one.down
	a.From, a.To = onPlates(raw, down, rec.Rate)
	a.From, a.To = max(a.From, one.first), min(a.To, one.last)
	q := opt.Quiet
	q.Gravity = a.Settings.Gravity
	if q.From == 0 && q.To == 0 {
		q.From, q.To = rec.Time(a.From), rec.Time(down)
	}
	if a.Quiet, err = phase.FindAddress(rec, q); err != nil {
		return err
	}
	a.BodyWeight, a.Mass = a.Quiet.Weight, a.Quiet.Mass
	a.step("quiet stance from %.3f to %.3f s: weight %.1f N (standard error %.1f N), mass %.2f kg with gravity %.5f m/s²",
		a.Quiet.From, a.Quiet.To, a.BodyWeight, a.Quiet.WeightSE, a.Mass, a.Settings.Gravity)
	if rec.Time(down)+0.5 < rec.Time(a.To) {
		still := grf.QuietOptions{From: rec.Time(down) + 0.5, To: rec.Time(a.To), Duration: 0.3, Limit: q.Limit, Gravity: q.Gravity}
		if s, err := phase.FindStill(rec, a.BodyWeight, still); err == nil {
			a.Still = &s
			a.step("still again from %.3f to %.3f s", s.From, s.To)
		}
	}
	a.saturated(down)
	return nil
}

// loaded returns about the weight of the golfer, N: see [loadedMedian].
func loaded(raw []grf.Wrench) (float64, error) {
	weight := loadedMedian(raw)
	if math.IsNaN(weight) {
		return 0, fmt.Errorf("%w: the vertical force never exceeds %g N; are the plates, their signs and units right?", ErrNobody, leastWeight)
	}
	if weight > mostWeight {
		return 0, fmt.Errorf("%w: the vertical force is %.3g N for half of the loaded time, more than any golfer weighs; is the unit of force right?", ErrNobody, weight)
	}
	return weight, nil
}

// leastWeight and mostWeight bound the vertical force of a golfer who stands, N.
const leastWeight, mostWeight = 100.0, 4000.0

// loadedMedian returns the median vertical force of the loaded samples, which
// is near body weight whatever the swing did; NaN if there are none.
func loadedMedian(raw []grf.Wrench) float64 {
	var z []float64
	for _, w := range raw {
		if w.Force.Z > leastWeight {
			z = append(z, w.Force.Z)
		}
	}
	if len(z) == 0 {
		return math.NaN()
	}
	slices.Sort(z)
	return z[len(z)/2]
}

// onPlates returns the first and last sample of the stretch around sample at in
// which the golfer is on the plates: interruptions of less than 0.1 s (a jump, a
// lost packet) do not end it.
func onPlates(raw []grf.Wrench, at int, rate float64) (from, to int) {
	least := 0.2 * loadedMedian(raw)
	gap := int(math.Round(0.1 * rate))
	walk := func(step int) int {
		edge, off := at, 0
		for i := at; i >= 0 && i < len(raw); i += step {
			if raw[i].Force.Z >= least {
				edge, off = i, 0
			} else if off++; off > gap {
				break
			}
		}
		return edge
	}
	return walk(-1), walk(1)
}

// filter low-passes each foot, or the net wrench, without delay, in a recording
// without short gaps. Lost samples are undefined again afterwards.
func (a *Analysis) filter(rec *grf.Recording, raw []grf.Wrench) error {
	s := &a.Series
	s.Time = make([]float64, rec.Len())
	for i := range s.Time {
		s.Time[i] = rec.Time(i)
	}
	if a.Settings.Cutoff == 0 {
		s.Lead, s.Trail, s.Net = a.Recording.Lead, a.Recording.Trail, raw
		a.step("not filtered")
		return nil
	}
	f, err := filter.NewZeroPhase(filter.ZeroPhaseOptions{
		Order: a.Settings.Order, Cutoff: a.Settings.Cutoff, Rate: rec.Rate, NaN: filter.NaNSegments, Short: filter.ShortReduce,
	})
	if err != nil {
		return err
	}
	if rec.Split() {
		if s.Lead, err = lowpass(f, rec.Lead); err != nil {
			return fmt.Errorf("lead foot: %w", err)
		}
		if s.Trail, err = lowpass(f, rec.Trail); err != nil {
			return fmt.Errorf("trail foot: %w", err)
		}
		if s.Net, err = grf.AddSeries(nil, s.Lead, s.Trail); err != nil {
			return err
		}
	} else if s.Net, err = lowpass(f, rec.Net); err != nil {
		return err
	}
	a.unbridge()
	if a.passed, err = passedNoise(f, min(int(0.5*rec.Rate), rec.Len())); err != nil {
		return err
	}
	a.step("forces and moments low-passed: Butterworth, order %d forward and backward, −3 dB of the whole at %g Hz", a.Settings.Order, a.Settings.Cutoff)
	return nil
}

// passedNoise returns the variance of what a filter leaves of white noise as a part
// of the variance of what it takes away, from its response half samples to either
// side.
func passedNoise(f *filter.ZeroPhase, half int) (float64, error) {
	impulse := make([]float64, 2*half+1)
	mid := len(impulse) / 2
	impulse[mid] = 1
	h, err := f.Apply(nil, impulse)
	if err != nil {
		return 0, err
	}
	sq := floats.Dot(h, h)
	return sq / (1 - 2*h[mid] + sq), nil
}

// pressure works out centres of pressure, free moments and load share. Whether a
// sample is loaded is decided on the unfiltered vertical force, because a filter
// smears force into the time before a contact.
func (a *Analysis) pressure() {
	rec, s, least := a.Recording, &a.Series, a.Settings.MinVertical
	gate := func(p []r3.Vec, free []float64, loaded func(i int) float64) {
		for i := range p {
			if !(loaded(i) >= least) {
				p[i], free[i] = nanVec(), math.NaN()
			}
		}
	}
	s.NetCOP, s.NetFree = cop.Series(nil, nil, s.Net, 0, least)
	if !rec.Split() {
		gate(s.NetCOP, s.NetFree, func(i int) float64 { return rec.Net[i].Force.Z })
		return
	}
	gate(s.NetCOP, s.NetFree, func(i int) float64 { return rec.Lead[i].Force.Z + rec.Trail[i].Force.Z })
	s.LeadCOP, s.LeadFree = cop.Series(nil, nil, s.Lead, 0, least)
	gate(s.LeadCOP, s.LeadFree, func(i int) float64 { return rec.Lead[i].Force.Z })
	s.TrailCOP, s.TrailFree = cop.Series(nil, nil, s.Trail, 0, least)
	gate(s.TrailCOP, s.TrailFree, func(i int) float64 { return rec.Trail[i].Force.Z })
}

// mass finds the path of the centre of mass while the golfer is on the plates.
func (a *Analysis) mass(raw []grf.Wrench, opt Options) error {
	if a.flat() {
		a.noMass(opt)
		return nil
	}
	rec, s := a.Recording, &a.Series
	still := com.Window{From: math.NaN(), To: math.NaN()}
	if a.Still != nil {
		still = com.Window{From: a.Still.From, To: a.Still.To}
	}
	how := com.Options{
		Gravity:  a.Settings.Gravity,
		Mass:     rec.Mass,
		Noise:    com.Noise{ForceSD: atLeast(a.Quiet.SD.Force, 0.1), BiasSD: orNaN(a.bothFeet(a.Settings.Errors.Force)), MassSD: orNaN(a.Settings.Errors.Gain)},
		Quiet:    com.Window{From: a.Quiet.From, To: a.Quiet.To},
		Still:    still,
		Height:   opt.COMHeight,
		HeightSD: opt.COMHeightSD,
		Stature:  rec.Stature,
		Sources:  opt.COM,
	}
	raw = raw[a.From : a.To+1]
	path, err := com.Smooth(raw, rec.Time(a.From), rec.Rate, how)
	if err != nil {
		return err
	}
	a.Settings.COM = path.Method
	a.how, a.clocks = how, path.Clocks
	a.Warnings = append(a.Warnings, path.Warnings...)
	a.step("centre of mass: %s", path.Method)
	for i, c := range path.Clocks {
		if c.Method != "" {
			a.step("%s: %.1f ms late (standard deviation %.1f ms), %s", opt.COM[i].Name, 1000*c.Delay, 1000*c.DelaySD, c.Method)
		}
	}
	spread := func(src []r3.Vec) []r3.Vec {
		if src == nil {
			return nil
		}
		dst := make([]r3.Vec, rec.Len())
		for i := range dst {
			dst[i] = nanVec()
		}
		copy(dst[a.From:], src)
		return dst
	}
	s.COM, s.COMVelocity = spread(path.Position), spread(path.Velocity)
	s.COMSD, s.COMVelocitySD = spread(path.PositionSD), spread(path.VelocitySD)
	s.COMShiftSD = spread(path.ShiftSD)
	return a.quality(raw, how, path, opt.Feet)
}

// bothFeet is the standard deviation of the sum of what each foot has alone.
func (a *Analysis) bothFeet(sd float64) float64 {
	if a.Recording.Split() {
		return sd * math.Sqrt2
	}
	return sd
}

// atLeast keeps the noise of a made-up or quantised recording from being zero,
// which stands for the default elsewhere.
func atLeast(sd r3.Vec, least float64) r3.Vec {
	return r3.Vec{X: math.Max(sd.X, least), Y: math.Max(sd.Y, least), Z: math.Max(sd.Z, least)}
}

// orNaN says no error in the way of package com.
func orNaN(sd float64) float64 {
	if sd == 0 {
		return math.NaN()
	}
	return sd
}

// turning says how moments and arms are worked out: sample by sample, see
// [Analysis.Sample].
func (a *Analysis) turning() {
	if a.flat() {
		return
	}
	a.step("moments about the centre of mass include the free moments; arms under %g N in their plane are undefined; swing plane inclined by %.0f°",
		a.Settings.MinPlane, a.Settings.Plane*180/math.Pi)
}

// events finds the events and phases.
func (a *Analysis) events() error {
	rec, s := a.Recording, &a.Series
	in := phase.Input{
		Start: rec.Start, Rate: rec.Rate,
		Net: s.Net, Lead: s.Lead, Trail: s.Trail,
		COMSD:   s.COMSD,
		Address: a.Quiet, Still: a.Still,
		From: rec.Time(a.From), To: rec.Time(a.To),
		Given: a.marks,
	}
	if !a.flat() {
		in.Frontal, in.Horizontal = make([]float64, len(s.Net)), make([]float64, len(s.Net))
		for i, w := range s.Net {
			m := torque.About(w, s.COM[i])
			in.Frontal[i], in.Horizontal[i] = m.Frontal, m.Horizontal
		}
	}
	var err error
	if a.Events, err = phase.Detect(in); err != nil {
		return err
	}
	a.Phases = a.Events.Phases()
	return nil
}
