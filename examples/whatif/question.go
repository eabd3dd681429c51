package main

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/spatial/r3"

	"example.com/momentarm/torque"
	"example.com/momentarm/units"
)

// question is a change that somebody asks about.
type question struct {
	name, label string
	apply       func(torque.State) torque.State
	elasticity  float64 // of the torque to what is changed
}

// questions are those that are put at this instant.
func (i *instant) questions(bodyWeight float64, a ask) []question {
	part := func(p torque.Planes) float64 { return of(i.plane, p) }
	lighter := a.Lighten / 100 * bodyWeight
	list := []question{
		{
			"lateral_force", more(a.Lateral, "%") + " lateral force",
			func(s torque.State) torque.State { return s.ScaleForce(r3.Vec{X: 1, Y: 1 + a.Lateral/100, Z: 1}) },
			part(i.elasticity.Lateral),
		},
		{
			"arm", more(100*a.Arm, "cm") + " arm",
			func(s torque.State) torque.State { return s.LengthenArm(i.plane, a.Arm) },
			part(i.elasticity.ForceSize),
		},
		{
			"vertical_force", more(-a.Lighten, "%BW") + " vertical force",
			func(s torque.State) torque.State { return s.AddForce(r3.Vec{Z: -lighter}) },
			part(i.elasticity.Vertical),
		},
	}
	if i.plane == torque.Horizontal && !math.IsNaN(i.pivoting) {
		// Equal and opposite at both feet, it is not in the net force.
		list = append(list, question{
			"foot_against_foot", more(a.Lateral, "%") + " push foot against foot",
			func(s torque.State) torque.State {
				s.Free += a.Lateral / 100 * i.pivoting
				return s
			},
			i.pivotingElasticity(),
		})
	}
	return list
}

// pivotingElasticity is that of the torque about the vertical axis to the couple
// of the feet's horizontal forces.
func (i *instant) pivotingElasticity() float64 { return i.pivoting / i.state.Moment().Horizontal }

// explain says how much the changes are in other units.
func explain(a ask, bodyWeight float64) string {
	arm, force := math.Abs(a.Arm), math.Abs(a.Lighten)/100*bodyWeight
	return fmt.Sprintf("%s: %s in; %s: %s N, %s lbf",
		amount(100*arm, "cm"), fixed(units.Length(arm).In(units.Inch), 1),
		amount(math.Abs(a.Lighten), "%BW"), fixed(force, 0), fixed(units.Force(force).In(units.PoundForce), 0))
}

// more writes "10 % more" or "10 % less".
func more(x float64, unit string) string {
	if x < 0 {
		return amount(-x, unit) + " less"
	}
	return amount(x, unit) + " more"
}

// amount writes a number with as few digits as it has, at most four.
func amount(x float64, unit string) string { return fmt.Sprintf("%.4g %s", x, unit) }
