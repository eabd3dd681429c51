package torque

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/spatial/r3"

	"example.com/momentarm/cop"
	"example.com/momentarm/grf"
)

// State is what makes the moment of a ground force about the centre of mass at
// one instant: of one foot, or of both together.
//
// Its methods that return a State answer "what if", all else being equal at that
// instant: a force that really changed would move the mass, and the arms with
// it, from then on. [Difference] between a state and its changed copy shows the
// effect. It is mechanics, not advice on what a body should do.
type State struct {
	Force    r3.Vec  // N
	Pressure r3.Vec  // centre of pressure, m
	Mass     r3.Vec  // centre of mass, m
	Free     float64 // free moment about the vertical through Pressure, N·m
}

// NewState returns the state of a wrench about the centre of mass com, with the
// centre of pressure on the plane Z = height. Pressure and Free are NaN where
// cop.Of is.
func NewState(w grf.Wrench, com r3.Vec, height, minVertical float64) State {
	p, free := cop.Of(w, height, minVertical)
	return State{Force: w.Force, Pressure: p, Mass: com, Free: free}
}

// Moment returns the moment about the centre of mass, N·m, NaN where it depends
// on a NaN.
func (s State) Moment() Planes {
	m := FromVec(r3.Cross(s.lever(), s.Force))
	m.Horizontal += s.Free
	return m
}

// lever returns the way from the centre of mass to the centre of pressure.
func (s State) lever() r3.Vec { return r3.Sub(s.Pressure, s.Mass) }

// ScaleForce returns s with each component of the force multiplied by that of
// factors: {1, 1.1, 1} is 10 % more lateral force, {4, 4, 4} four times the push
// in the same direction.
func (s State) ScaleForce(factors r3.Vec) State {
	s.Force = r3.Vec{X: factors.X * s.Force.X, Y: factors.Y * s.Force.Y, Z: factors.Z * s.Force.Z}
	return s
}

// AddForce returns s with f newtons added to the force: {Z: −0.1·body weight}
// lightens the vertical by 10 % of body weight.
func (s State) AddForce(f r3.Vec) State {
	s.Force = r3.Add(s.Force, f)
	return s
}

// MovePressure returns s with the centre of pressure moved by d metres, the force
// and the free moment unchanged.
func (s State) MovePressure(d r3.Vec) State {
	s.Pressure = r3.Add(s.Pressure, d)
	return s
}

// MoveMass returns s with the centre of mass moved by d metres.
func (s State) MoveMass(d r3.Vec) State {
	s.Mass = r3.Add(s.Mass, d)
	return s
}

// Plane names one of the planes of [Planes].
type Plane int

const (
	// Frontal is the plane of Y and Z, seen face-on.
	Frontal Plane = iota
	// Sagittal is the plane of X and Z, seen along the target line.
	Sagittal
	// Horizontal is the plane of X and Y, seen from above.
	Horizontal
)

// String returns "frontal", "sagittal" or "horizontal".
func (p Plane) String() string {
	switch p {
	case Frontal:
		return "frontal"
	case Sagittal:
		return "sagittal"
	case Horizontal:
		return "horizontal"
	}
	return fmt.Sprintf("Plane(%d)", int(p))
}

// LengthenArm returns s with the moment arm in a plane made longer by d metres
// (shorter when d is negative): the arm keeps its side of the centre of mass, and
// an arm of zero becomes a positive one. The centre of pressure moves on its
// plane as little as that needs: along Y for the frontal arm, along X for the
// sagittal arm, square to the horizontal force for the horizontal arm. The other
// planes feel that too.
//
// The pressure becomes NaN when no move can do it: no vertical force for the
// first two, no horizontal force for the third; and for a plane that does not
// exist.
func (s State) LengthenArm(p Plane, d float64) State {
	f, r := s.Force, s.lever()
	var move r3.Vec
	switch m := FromVec(r3.Cross(r, f)); p {
	case Frontal:
		move.Y = ratio(side(m.Frontal)*d*math.Hypot(f.Y, f.Z), f.Z)
	case Sagittal:
		move.X = -ratio(side(m.Sagittal)*d*math.Hypot(f.X, f.Z), f.Z)
	case Horizontal:
		h := math.Hypot(f.X, f.Y)
		by := side(m.Horizontal) * d
		move.X, move.Y = ratio(by*f.Y, h), -ratio(by*f.X, h)
	default:
		move.X, move.Y = math.NaN(), math.NaN()
	}
	return s.MovePressure(move)
}

// side returns the sign of a moment, positive for zero and NaN for NaN.
func side(m float64) float64 {
	switch {
	case math.IsNaN(m):
		return m
	case m < 0:
		return -1
	}
	return 1
}
