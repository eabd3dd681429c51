package torque

import (
	"gonum.org/v1/gonum/spatial/r3"

	"example.com/momentarm/cop"
	"example.com/momentarm/grf"
)

// GroundMoments keeps apart the three ways in which the ground turns a golfer
// who stands on two feet, N·m (the terms of Han et al. 2019):
//
//	ground force   the net force at the net centre of pressure p, about com
//	pivoting       the couple of the feet's horizontal forces:
//	               Σ [(p_i − p) × F_i], about the vertical
//	foot contact   the feet's own free moments, about the vertical
//
// The three add up to the moment about com. A sum of (p_i − com) × F_i over the
// feet already holds the pivoting moment: it must not be added again.
type GroundMoments struct {
	GroundForce               Planes
	PivotLead, PivotTrail     float64 // each foot's part of the pivoting moment
	ContactLead, ContactTrail float64 // each foot's free moment
}

// Pivoting returns the couple of the horizontal forces of both feet.
func (g GroundMoments) Pivoting() float64 { return g.PivotLead + g.PivotTrail }

// FootContact returns the sum of the free moments of both feet.
func (g GroundMoments) FootContact() float64 { return g.ContactLead + g.ContactTrail }

// Total returns the moment about the point that g was made for: what [About]
// gives for the sum of the wrenches, to rounding.
func (g GroundMoments) Total() Planes {
	t := g.GroundForce
	t.Horizontal += g.Pivoting() + g.FootContact()
	return t
}

// Pivot splits the moment of both feet about com into ground-force, pivoting and
// foot-contact moments, with the centres of pressure on the plane Z = height
// (definitions of Han et al. 2019; the identity is a closed form).
//
// GroundForce is NaN where the total vertical force is under minVertical
// newtons. The other fields of a foot are NaN when its own vertical force is
// under it, or the total is: then only the sum of pivoting and foot contact is
// known, and it is the net free moment of cop.Net.
func Pivot(lead, trail grf.Wrench, com r3.Vec, height, minVertical float64) GroundMoments {
	net := lead.Add(trail)
	p, _ := cop.Of(net, height, minVertical)
	pl, freeLead := cop.Of(lead, height, minVertical)
	pt, freeTrail := cop.Of(trail, height, minVertical)
	return GroundMoments{
		GroundForce:  FromVec(r3.Cross(r3.Sub(p, com), net.Force)),
		PivotLead:    r3.Cross(r3.Sub(pl, p), lead.Force).Z,
		PivotTrail:   r3.Cross(r3.Sub(pt, p), trail.Force).Z,
		ContactLead:  freeLead,
		ContactTrail: freeTrail,
	}
}
