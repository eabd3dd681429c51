package main

import (
	"errors"
	"math"

	"gonum.org/v1/gonum/spatial/r3"

	"example.com/momentarm/examples/internal/input"
	"example.com/momentarm/phase"
	"example.com/momentarm/torque"
)

// ask is how much of each change is asked about.
type ask struct {
	Lateral float64 // % more lateral force
	Arm     float64 // m more arm
	Lighten float64 // % of body weight less vertical force
}

// usual is what a coach asks first.
var usual = ask{Lateral: 10, Arm: 0.05, Lighten: 10}

// answers are what is known of one swing.
type answers struct {
	swing    *input.Swing
	demo     bool // it is the demonstration
	ask      ask
	instants []instant
	missing  []phase.Missing
}

// instant is when a torque was largest, what made it and what would change it.
type instant struct {
	event  phase.Event
	plane  torque.Plane // of the torque that was largest
	state  torque.State
	massSD r3.Vec        // standard deviation of the centre of mass, m
	sd     torque.Planes // of the moment, N·m

	arm, force float64 // in the plane: m, with the sign of what it makes; N
	// pivoting is the couple of the feet's horizontal forces, which is in the free
	// moment, N·m; NaN when the feet were not measured apart.
	pivoting float64

	elasticity torque.Elasticity
	slopes     torque.Sensitivity
	answers    []answer
	four       fourTimes
}

// answer is what one change would do.
type answer struct {
	name, label string
	change      torque.Change
	sd          torque.Planes // of the change, from the centre of mass, N·m
	// elasticity is by how many per cent the torque changes for one per cent more
	// of what the question is about.
	elasticity float64
}

// moved is the change of the moment. It is what the parts of the change add up to,
// without their rounding.
func (a answer) moved() torque.Planes { return a.change.To.Sub(a.change.From) }

// fourTimes holds what four times the force and four times the arm make, without
// the free moment, which has no arm: N·m.
type fourTimes struct{ once, force, arm float64 }

// of returns the part of p in the plane.
func of(plane torque.Plane, p torque.Planes) float64 {
	switch plane {
	case torque.Frontal:
		return p.Frontal
	case torque.Sagittal:
		return p.Sagittal
	}
	return p.Horizontal
}

// answerAll answers at both peaks. A peak that the swing does not have is among
// the missing; it is an error when neither is there.
func answerAll(s *input.Swing, a ask) (*answers, error) {
	out := &answers{swing: s, ask: a}
	for _, peak := range []struct {
		event phase.Name
		plane torque.Plane
	}{{phase.FrontalTorquePeak, torque.Frontal}, {phase.VerticalTorquePeak, torque.Horizontal}} {
		e, ok := s.Events.Get(peak.event)
		if !ok {
			out.missing = append(out.missing, missing(s, peak.event))
			continue
		}
		i := s.At(e.Time)
		state := torque.NewState(i.Net, i.COM, 0, s.Settings.MinVertical)
		if math.IsNaN(of(peak.plane, state.Moment())) {
			out.missing = append(out.missing, phase.Missing{Name: peak.event, Reason: "the centre of pressure or of mass is not defined at that instant"})
			continue
		}
		at := instant{event: e, plane: peak.plane, state: state, massSD: i.COMSD, sd: i.MomentSD, pivoting: math.NaN()}
		if s.Recording.Split() {
			at.pivoting = torque.Pivot(i.Lead, i.Trail, i.COM, 0, s.Settings.MinVertical).Pivoting()
		}
		at.answer(s.BodyWeight, a)
		out.instants = append(out.instants, at)
	}
	if len(out.instants) == 0 {
		var all []error
		for _, m := range out.missing {
			all = append(all, errors.New(string(m.Name)+": "+m.Reason))
		}
		return nil, errors.Join(all...)
	}
	return out, nil
}

func missing(s *input.Swing, event phase.Name) phase.Missing {
	for _, m := range s.Events.Missing {
		if m.Name == event {
			return m
		}
	}
	return phase.Missing{Name: event, Reason: "not found"}
}

// answer puts the questions to the state.
func (i *instant) answer(bodyWeight float64, a ask) {
	s := i.state
	i.elasticity, i.slopes = torque.Elasticities(s), torque.Sensitivities(s)
	// The slope to the arm is the force in the plane, signed as what it makes.
	i.force = math.Abs(of(i.plane, i.slopes.Arm))
	i.arm = i.ofForce(s) / i.force
	for _, q := range i.questions(bodyWeight, a) {
		changed := q.apply(s)
		i.answers = append(i.answers, answer{
			name: q.name, label: q.label,
			change:     torque.Difference(s, changed),
			sd:         changeSD(s, i.massSD, q.apply),
			elasticity: q.elasticity,
		})
	}
	const k = 4
	i.four = fourTimes{
		once:  i.ofForce(s),
		force: i.ofForce(s.ScaleForce(r3.Vec{X: k, Y: k, Z: k})),
		arm:   i.ofForce(s.LengthenArm(i.plane, (k-1)*math.Abs(i.arm))),
	}
}

// ofForce is the moment of the force alone in the plane, without the free moment.
func (i instant) ofForce(s torque.State) float64 {
	s.Free = 0
	return of(i.plane, s.Moment())
}

// changeSD is what the uncertainty of the centre of mass makes of a change: first
// order (JCGM 100:2008, equation 10), exact because a moment is linear in each
// coordinate.
func changeSD(s torque.State, sd r3.Vec, apply func(torque.State) torque.State) torque.Planes {
	change := func(d r3.Vec) torque.Planes {
		s := s.MoveMass(d)
		return apply(s).Moment().Sub(s.Moment())
	}
	var sum torque.Planes
	for _, d := range []r3.Vec{{X: sd.X}, {Y: sd.Y}, {Z: sd.Z}} {
		p := change(d).Sub(change(r3.Scale(-1, d))).Scale(0.5)
		sum.Frontal = math.Hypot(sum.Frontal, p.Frontal)
		sum.Sagittal = math.Hypot(sum.Sagittal, p.Sagittal)
		sum.Horizontal = math.Hypot(sum.Horizontal, p.Horizontal)
	}
	return sum
}
