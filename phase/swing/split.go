package swing

import (
	"errors"
	"fmt"
	"math"

	"gonum.org/v1/gonum/spatial/r3"

	"example.com/momentarm/phase"
	"example.com/momentarm/torque"
)

// ErrUnlike means analyses or sessions that can not be held against each other.
var ErrUnlike = errors.New("swing: analyses do not compare")

// Causes is a torque in one swing, the same in another, and what the difference
// comes from, all in N·m. The five causes add up to To − From, to rounding.
type Causes struct {
	From, To float64
	Change   float64 // To − From

	ForceSize      float64 // how hard the ground pushes
	ForceDirection float64 // where to
	PressurePlace  float64 // where the net centre of pressure is in the stance
	MassPlace      float64 // where the centre of mass is in the stance
	// FreeMoment is the turn about the vertical through the net centre of pressure:
	// the feet pushing in opposite directions, and the twist of each of them.
	FreeMoment float64
}

// Sum returns the sum of the five causes.
func (c Causes) Sum() float64 {
	return c.ForceSize + c.ForceDirection + c.PressurePlace + c.MassPlace + c.FreeMoment
}

// TorqueSplit says why the torque of one swing differs from that of another at
// the same event.
type TorqueSplit struct {
	Name  string // "frontal", "vertical" or "plane"
	Label string
	// FromTime and ToTime are the instants compared, s on the clock of each swing;
	// NaN when a swing does not have it.
	FromTime, ToTime float64
	Value            Causes
	// SD is what the uncertainty of the two centres of mass, taken as independent,
	// makes of each number: first order. The other sources are small beside it.
	// NaN when it is unknown.
	SD Causes
	// Note says why the split is undefined, or what to keep in mind; may be empty.
	Note string
}

// SplitPeaks says why the peak torques of b differ from those of a: the frontal
// one, that about the vertical axis and that in the swing plane, in this order. A
// peak that one of the swings does not have is NaN with a note.
//
// Each cause has its Shapley value: see [torque.Difference]. Places are counted
// from the middle of the stance, half-way between the feet's centres of pressure at
// address (the net centre of pressure at address when the feet were not measured
// apart), so that a golfer who stood elsewhere on the plates did not change.
//
// It returns [ErrUnlike] when an analysis is missing or the swing planes differ.
func SplitPeaks(a, b *Analysis) ([]TorqueSplit, error) {
	if err := alike(a, b); err != nil {
		return nil, err
	}
	event := func(name phase.Name) func(*Analysis) (float64, string) {
		return func(s *Analysis) (float64, string) {
			if e, ok := s.Events.Get(name); ok {
				return e.Time, ""
			}
			return math.NaN(), s.whyMissing(name)
		}
	}
	inPlane := func(s *Analysis) (float64, string) {
		m, ok := s.Measure("plane_torque_peak")
		if !ok || math.IsNaN(m.Time) {
			return math.NaN(), "the time of the peak in the swing plane is not known"
		}
		return m.Time, ""
	}
	return []TorqueSplit{
		splitAt(a, b, "frontal", "peak frontal torque", event(phase.FrontalTorquePeak)),
		splitAt(a, b, "vertical", "peak vertical-axis torque", event(phase.VerticalTorquePeak)),
		splitAt(a, b, "plane", "peak torque in the swing plane", inPlane),
	}, nil
}

// SplitAt is [SplitPeaks] at an event of both swings.
func SplitAt(a, b *Analysis, event phase.Name) ([]TorqueSplit, error) {
	if err := alike(a, b); err != nil {
		return nil, err
	}
	at := func(s *Analysis) (float64, string) {
		if e, ok := s.Events.Get(event); ok {
			return e.Time, ""
		}
		return math.NaN(), s.whyMissing(event)
	}
	where := " at " + Words(event)
	return []TorqueSplit{
		splitAt(a, b, "frontal", "frontal torque"+where, at),
		splitAt(a, b, "vertical", "vertical-axis torque"+where, at),
		splitAt(a, b, "plane", "torque in the swing plane"+where, at),
	}, nil
}

func alike(a, b *Analysis) error {
	if a == nil || b == nil {
		return fmt.Errorf("%w: one is missing", ErrUnlike)
	}
	if p, q := a.Settings.Plane, b.Settings.Plane; p != q {
		return fmt.Errorf("%w: swing planes inclined by %.1f and %.1f°; analyse both with the same", ErrUnlike, p*180/math.Pi, q*180/math.Pi)
	}
	return nil
}

// splitAt splits one torque between the instants that at finds in each swing.
func splitAt(a, b *Analysis, name, label string, at func(*Analysis) (float64, string)) TorqueSplit {
	s := TorqueSplit{Name: name, Label: label}
	var whyA, whyB string
	s.FromTime, whyA = at(a)
	s.ToTime, whyB = at(b)
	from, fromSD := a.state(s.FromTime)
	to, toSD := b.state(s.ToTime)
	part := planePart(name, a.Settings.Plane)
	s.Value = causes(torque.Difference(from, to), part)
	s.SD = causesSD(from, to, fromSD, toSD, part)
	switch {
	case whyA != "":
		s.Note = "in the first swing " + whyA
	case whyB != "":
		s.Note = "in the second swing " + whyB
	case math.IsNaN(s.Value.Change):
		s.Note = "the centre of pressure or of mass is not defined at that instant"
	case a.Settings.COM != b.Settings.COM:
		s.Note = "the centre of mass was found in different ways, which counts as its place"
	}
	return s
}

// planePart returns what takes one torque out of three.
func planePart(name string, inclination float64) func(torque.Planes) float64 {
	switch name {
	case "frontal":
		return func(p torque.Planes) float64 { return p.Frontal }
	case "vertical":
		return func(p torque.Planes) float64 { return p.Horizontal }
	}
	return func(p torque.Planes) float64 { return torque.InPlane(p, inclination) }
}

// state returns what makes the torque at an instant, places from the middle of the
// stance, and the standard deviation of the centre of mass.
func (a *Analysis) state(t float64) (torque.State, r3.Vec) {
	if math.IsNaN(t) {
		n := nanVec()
		return torque.State{Force: n, Pressure: n, Mass: n, Free: math.NaN()}, n
	}
	i := a.At(t)
	s := torque.NewState(i.Net, i.COM, 0, a.Settings.MinVertical)
	middle := a.stanceMiddle()
	return s.MovePressure(r3.Scale(-1, middle)).MoveMass(r3.Scale(-1, middle)), i.COMSD
}

// stanceMiddle is the place from which both swings are counted, on the surface.
func (a *Analysis) stanceMiddle() r3.Vec {
	i := a.At(a.Quiet.To)
	if a.Recording.Split() {
		return r3.Scale(0.5, r3.Add(i.LeadCOP, i.TrailCOP))
	}
	return i.NetCOP
}

func causes(c torque.Change, part func(torque.Planes) float64) Causes {
	return Causes{
		From: part(c.From), To: part(c.To), Change: part(c.To) - part(c.From),
		ForceSize:      part(c.ForceSize),
		ForceDirection: part(c.ForceDirection),
		PressurePlace:  part(c.PressurePosition),
		MassPlace:      part(c.MassPosition),
		FreeMoment:     part(c.FreeMoment),
	}
}

// causesSD propagates the standard deviations of both centres of mass (JCGM
// 100:2008, equation 10). Every cause is linear in the coordinates of each centre
// of mass, so that half of the difference over ∓ one standard deviation is the
// exact first-order term.
func causesSD(from, to torque.State, fromSD, toSD r3.Vec, part func(torque.Planes) float64) Causes {
	var sum [8]float64
	add := func(d r3.Vec, first bool) {
		f1, t1, f2, t2 := from, to, from, to
		if first {
			f1, f2 = from.MoveMass(d), from.MoveMass(r3.Scale(-1, d))
		} else {
			t1, t2 = to.MoveMass(d), to.MoveMass(r3.Scale(-1, d))
		}
		p := causes(torque.Difference(f1, t1), part).list()
		q := causes(torque.Difference(f2, t2), part).list()
		for k := range sum {
			h := (p[k] - q[k]) / 2
			sum[k] += h * h
		}
	}
	for i, sd := range []r3.Vec{fromSD, toSD} {
		add(r3.Vec{X: sd.X}, i == 0)
		add(r3.Vec{Y: sd.Y}, i == 0)
		add(r3.Vec{Z: sd.Z}, i == 0)
	}
	for k := range sum {
		sum[k] = math.Sqrt(sum[k])
	}
	return Causes{sum[0], sum[1], sum[2], sum[3], sum[4], sum[5], sum[6], sum[7]}
}

func (c Causes) list() [8]float64 {
	return [8]float64{c.From, c.To, c.Change, c.ForceSize, c.ForceDirection, c.PressurePlace, c.MassPlace, c.FreeMoment}
}
