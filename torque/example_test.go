package torque_test

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/spatial/r3"

	"example.com/momentarm/cop"
	"example.com/momentarm/grf"
	"example.com/momentarm/torque"
)

// downswing is an invented instant: the lead foot pushes hard, up and away from
// the target.
var (
	lead  = grf.At(r3.Vec{X: -90, Y: -60, Z: 900}, r3.Vec{X: -0.02, Y: 0.27}, r3.Vec{Z: 9})
	trail = grf.At(r3.Vec{X: 80, Y: 30, Z: 300}, r3.Vec{X: 0.03, Y: -0.25}, r3.Vec{Z: 3})
	com   = r3.Vec{Y: 0.02, Z: 0.92}
)

func ExampleAbout() {
	m := torque.About(lead.Add(trail), com)
	fmt.Printf("frontal %.1f, sagittal %.1f, horizontal %.1f N·m\n", m.Frontal, m.Sagittal, m.Horizontal)
	fmt.Printf("in a swing plane at 55° %.1f N·m\n", torque.InPlane(m, 55*math.Pi/180))
	// Output:
	// frontal 116.4, sagittal 18.2, horizontal 58.2 N·m
	// in a swing plane at 55° 128.7 N·m
}

func ExampleArms() {
	net := lead.Add(trail)
	_, free := cop.Of(net, 0, cop.DefaultMinVertical)
	a := torque.Arms(net, com, free, torque.DefaultMinForce)
	fmt.Printf("frontal %.3f m, sagittal %.3f m, 3-D %.3f m\n", a.Frontal, a.Sagittal, a.ThreeD)
	fmt.Printf("horizontal %.3f m\n", a.Horizontal)
	// Output:
	// frontal 0.097 m, sagittal 0.015 m, 3-D 0.098 m
	// horizontal 0.045 m
}

func ExampleParts() {
	s := torque.Parts(lead, trail, com, 0, cop.DefaultMinVertical)
	for _, foot := range []struct {
		name string
		torque.FootParts
	}{{"lead", s.Lead}, {"trail", s.Trail}} {
		fmt.Printf("%-5s frontal: lateral %+.1f, vertical %+.1f; horizontal: forward %+.1f, lateral %+.1f, free %+.1f\n",
			foot.name, foot.Lateral.Frontal, foot.Vertical.Frontal,
			foot.Forward.Horizontal, foot.Lateral.Horizontal, foot.Free.Horizontal)
	}
	fmt.Printf("total frontal %.1f, horizontal %.1f N·m\n", s.Total().Frontal, s.Total().Horizontal)
	// Output:
	// lead  frontal: lateral -55.2, vertical +225.0; horizontal: forward +22.5, lateral +1.2, free +9.0
	// trail frontal: lateral +27.6, vertical -81.0; horizontal: forward +21.6, lateral +0.9, free +3.0
	// total frontal 116.4, horizontal 58.2 N·m
}

func ExamplePivot() {
	g := torque.Pivot(lead, trail, com, 0, cop.DefaultMinVertical)
	fmt.Printf("about the vertical: ground force %.1f, pivoting %.1f, foot contact %.1f, total %.1f N·m\n",
		g.GroundForce.Horizontal, g.Pivoting(), g.FootContact(), g.Total().Horizontal)
	// Output:
	// about the vertical: ground force 1.4, pivoting 44.8, foot contact 12.0, total 58.2 N·m
}

func ExampleAngularImpulse() {
	// A moment that rises from 0 to 100 N·m within 0.1 s, sampled at 100 Hz.
	ms := make([]torque.Planes, 11)
	for i := range ms {
		ms[i].Frontal = 10 * float64(i)
	}
	l, err := torque.AngularImpulse(ms, 0, 100, 0, 0.075) // ends between samples
	fmt.Printf("%.4f N·m·s, %v\n", l.Frontal, err)
	// Output: 2.8125 N·m·s, <nil>
}

func ExampleDifference() {
	// The same golfer pushes 10 % harder and 3 cm nearer the target.
	a := torque.NewState(lead.Add(trail), com, 0, cop.DefaultMinVertical)
	b := a.ScaleForce(r3.Vec{X: 1.1, Y: 1.1, Z: 1.1}).MovePressure(r3.Vec{Y: 0.03})
	c := torque.Difference(a, b)
	fmt.Printf("frontal %.1f to %.1f N·m\n", c.From.Frontal, c.To.Frontal)
	fmt.Printf("harder %+.1f, direction %+.1f, pressure %+.1f, mass %+.1f\n",
		c.ForceSize.Frontal, c.ForceDirection.Frontal, c.PressurePosition.Frontal, c.MassPosition.Frontal)
	// Output:
	// frontal 116.4 to 167.6 N·m
	// harder +13.4, direction +0.0, pressure +37.8, mass +0.0
}

// Four times the force at one foot of arm turns as hard as one time the force at
// four feet of arm.
func ExampleState() {
	const (
		pound = 4.4482216152605 // N
		foot  = 0.3048          // m
	)
	s := torque.State{Force: r3.Vec{Z: 100 * pound}, Pressure: r3.Vec{Y: 1 * foot}, Mass: r3.Vec{Z: 3 * foot}}
	harder := s.ScaleForce(r3.Vec{X: 4, Y: 4, Z: 4})
	longer := s.LengthenArm(torque.Frontal, 3*foot)
	for _, k := range []struct {
		name string
		torque.State
	}{{"100 lbf at 1 ft", s}, {"400 lbf at 1 ft", harder}, {"100 lbf at 4 ft", longer}} {
		m := k.Moment().Frontal
		fmt.Printf("%s: %.0f lbf·ft = %.1f N·m\n", k.name, m/(pound*foot), m)
	}
	// Output:
	// 100 lbf at 1 ft: 100 lbf·ft = 135.6 N·m
	// 400 lbf at 1 ft: 400 lbf·ft = 542.3 N·m
	// 100 lbf at 4 ft: 400 lbf·ft = 542.3 N·m
}

// What would 10 % more lateral force, 5 cm more arm, or 10 % of body weight less
// vertical force do to the frontal torque?
func ExampleElasticities() {
	const bodyWeight = 800.0
	s := torque.NewState(lead.Add(trail), com, 0, cop.DefaultMinVertical)
	for _, k := range []struct {
		name string
		what torque.State
	}{
		{"10 % more lateral force", s.ScaleForce(r3.Vec{X: 1, Y: 1.1, Z: 1})},
		{"5 cm more arm", s.LengthenArm(torque.Frontal, 0.05)},
		{"lighter by 10 % of body weight", s.AddForce(r3.Vec{Z: -0.1 * bodyWeight})},
	} {
		c := torque.Difference(s, k.what)
		fmt.Printf("%s: %+.1f N·m (%+.1f %%)\n", k.name, c.Total().Frontal, 100*c.Relative().Frontal)
	}
	e := torque.Elasticities(s)
	fmt.Printf("one per cent more lateral force: %+.2f %%, vertical force: %+.2f %%, arm: %+.2f %%\n",
		e.Lateral.Frontal, e.Vertical.Frontal, e.ForceSize.Frontal)
	// Output:
	// 10 % more lateral force: -2.8 N·m (-2.4 %)
	// 5 cm more arm: +60.0 N·m (+51.6 %)
	// lighter by 10 % of body weight: -9.6 N·m (-8.2 %)
	// one per cent more lateral force: -0.24 %, vertical force: +1.24 %, arm: +1.00 %
}
