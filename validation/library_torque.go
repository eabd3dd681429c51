package validation

import (
	"fmt"

	"gonum.org/v1/gonum/spatial/r3"

	"example.com/momentarm/grf"
	"example.com/momentarm/torque"
)

func moment(in Values) (Values, error) {
	w, err := resultant(in)
	if err != nil {
		return nil, err
	}
	m := torque.About(w, about(in)).Vec()
	return Values{
		"force":  Vector("N", w.Force),
		"moment": Vector("N·m", m),
		"size":   Number("N·m", r3.Norm(m)),
	}, nil
}

func about(in Values) r3.Vec {
	if in.Has("about") {
		return in["about"].Vec()
	}
	return r3.Vec{}
}

// momentOfMomentum uses that a momentum at a point has a moment just as a force
// at a point has.
func momentOfMomentum(in Values) (Values, error) {
	momenta, points := in["momenta"].Vecs(), in["points"].Vecs()
	if len(points) != len(momenta) {
		return nil, fmt.Errorf("%d momenta, %d points", len(momenta), len(points))
	}
	var sum grf.Wrench
	for i, p := range momenta {
		sum = sum.Add(grf.At(p, points[i], r3.Vec{}))
	}
	return Values{
		"momentum":         Vector("N·s", sum.Force),
		"angular_momentum": Vector("N·m·s", sum.About(about(in))),
	}, nil
}

func momentArms(in Values) (Values, error) {
	w, err := resultant(in)
	if err != nil {
		return nil, err
	}
	a := torque.Arms(w, in["centre"].Vec(), in.or("free_moment", 0), torque.DefaultMinForce)
	arm := func(x float64) Value {
		v := Number("m", x)
		v.Reason = "the force in this plane is under its threshold"
		return v
	}
	return Values{
		"frontal":    arm(a.Frontal),
		"sagittal":   arm(a.Sagittal),
		"horizontal": arm(a.Horizontal),
		"three_d":    arm(a.ThreeD),
	}, nil
}

func impulse(in Values) (Values, error) {
	forces, moments, rate := in["forces"].Vecs(), in["moments"].Vecs(), in["rate"].Float()
	ws := make([]grf.Wrench, len(forces))
	for i, f := range forces {
		ws[i].Force = f
	}
	ms := make([]torque.Planes, len(moments))
	for i, m := range moments {
		ms[i] = torque.FromVec(m)
	}
	if len(ws) != len(ms) {
		return nil, fmt.Errorf("%d forces, %d moments", len(ws), len(ms))
	}
	end := float64(len(ws)-1) / rate
	linear, err := torque.LinearImpulse(ws, 0, rate, 0, end)
	if err != nil {
		return nil, err
	}
	angular, err := torque.AngularImpulse(ms, 0, rate, 0, end)
	if err != nil {
		return nil, err
	}
	return Values{
		"linear":  Vector("N·s", linear),
		"angular": Vector("N·m·s", angular.Vec()),
	}, nil
}

func power(in Values) (Values, error) {
	return Values{"power": Number("W", torque.Power(in["force"].Vec(), in["velocity"].Vec()))}, nil
}

func planeTorque(in Values) (Values, error) {
	m := torque.FromVec(in["moment"].Vec())
	return Values{"torque": Number("N·m", torque.InPlane(m, in["inclination"].Float()))}, nil
}

// twoFeet takes each foot as a force at a point with a free moment.
func twoFeet(in Values) (Values, error) {
	foot := func(name string) grf.Wrench {
		return grf.At(in[name+"_force"].Vec(), in[name+"_point"].Vec(), r3.Vec{Z: in[name+"_free"].Float()})
	}
	g := torque.Pivot(foot("lead"), foot("trail"), in["centre"].Vec(), 0, 0)
	return Values{
		"moment":       Vector("N·m", g.Total().Vec()),
		"ground_force": Vector("N·m", g.GroundForce.Vec()),
		"pivoting":     Number("N·m", g.Pivoting()),
		"contact":      Number("N·m", g.FootContact()),
	}, nil
}
