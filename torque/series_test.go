package torque

import (
	"errors"
	"math/rand"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"example.com/momentarm/cop"
	"example.com/momentarm/grf"
)

func TestSeries(t *testing.T) {
	rnd := rand.New(rand.NewSource(18))
	const n = 30
	var lead, trail, net []grf.Wrench
	var com []r3.Vec
	for range n {
		a, b, c := somebody(rnd)
		lead, trail, net, com = append(lead, a), append(trail, b), append(net, a.Add(b)), append(com, c)
	}
	trail[3], net[3] = grf.Wrench{}, lead[3]
	_, free := cop.Series(nil, nil, net, 0, 20)

	ms, err := AboutSeries(nil, net, com)
	if err != nil {
		t.Fatal(err)
	}
	arms, err := ArmSeries(nil, net, com, free, 20)
	if err != nil {
		t.Fatal(err)
	}
	parts, err := PartsSeries(nil, lead, trail, com, 0, 20)
	if err != nil {
		t.Fatal(err)
	}
	pivots, err := PivotSeries(nil, lead, trail, com, 0, 20)
	if err != nil {
		t.Fatal(err)
	}
	power, err := PowerSeries(nil, net, com)
	if err != nil {
		t.Fatal(err)
	}
	angular, err := AngularPowerSeries(nil, ms, com)
	if err != nil {
		t.Fatal(err)
	}
	tilts := TiltSeries(nil, net, 20)
	for i := range net {
		a, p, g := Arms(net[i], com[i], free[i], 20), Parts(lead[i], trail[i], com[i], 0, 20), Pivot(lead[i], trail[i], com[i], 0, 20)
		if ms[i] != About(net[i], com[i]) || !samePlanes(arms[i].Planes, a.Planes) || arms[i].ThreeD != a.ThreeD || parts[i].Lead != p.Lead ||
			!samePlanes(parts[i].Trail.Forward, p.Trail.Forward) || parts[i].Trail.Total != p.Trail.Total ||
			pivots[i].GroundForce != g.GroundForce || !same64(pivots[i].PivotTrail, g.PivotTrail) ||
			power[i] != Power(net[i].Force, com[i]) || angular[i] != AngularPower(ms[i], com[i]) ||
			tilts[i] != TiltOf(net[i].Force, 20) {
			t.Fatalf("sample %d differs from the single call", i)
		}
	}

	// dst is reused when it is long enough.
	big := make([]Planes, 2*n)
	if got, err := AboutSeries(big, net, com); err != nil || len(got) != n || &got[0] != &big[0] {
		t.Errorf("dst not reused: %d, %v", len(got), err)
	}
}

func TestSeriesLengths(t *testing.T) {
	w2, w3, v2, v3 := make([]grf.Wrench, 2), make([]grf.Wrench, 3), make([]r3.Vec, 2), make([]r3.Vec, 3)
	_, e1 := AboutSeries(nil, w3, v2)
	_, e2 := ArmSeries(nil, w3, v2, make([]float64, 3), 20)
	_, e3 := ArmSeries(nil, w3, v3, make([]float64, 2), 20)
	_, e4 := PartsSeries(nil, w3, w2, v3, 0, 20)
	_, e5 := PartsSeries(nil, w3, w3, v2, 0, 20)
	_, e6 := PivotSeries(nil, w3, w2, v3, 0, 20)
	_, e7 := PowerSeries(nil, w3, v2)
	_, e8 := AngularPowerSeries(nil, make([]Planes, 3), v2)
	for i, err := range []error{e1, e2, e3, e4, e5, e6, e7, e8} {
		var le *grf.LengthError
		if !errors.Is(err, grf.ErrLength) || !errors.As(err, &le) || le.Want != 3 || le.Got != 2 {
			t.Errorf("call %d: %v", i+1, err)
		}
	}
}

func TestAllocations(t *testing.T) {
	lead, trail, com := somebody(rand.New(rand.NewSource(19)))
	s, b := NewState(lead, com, 0, 20), NewState(trail, com, 0, 20)
	ws, ms, coms := []grf.Wrench{lead, trail}, make([]Planes, 2), []r3.Vec{com, com}
	arms, free, splits := make([]Arm, 2), make([]float64, 2), make([]Split, 2)
	var sink float64
	for name, f := range map[string]func(){
		"About":         func() { sink += About(lead, com).Frontal },
		"Arms":          func() { sink += Arms(lead, com, 3, 20).ThreeD },
		"InPlane":       func() { sink += InPlane(Planes{1, 2, 3}, 0.9) },
		"Parts":         func() { sink += Parts(lead, trail, com, 0, 20).Total().Frontal },
		"Pivot":         func() { sink += Pivot(lead, trail, com, 0, 20).Pivoting() },
		"Power":         func() { sink += Power(lead.Force, com) },
		"TiltOf":        func() { sink += TiltOf(lead.Force, 20).Frontal },
		"Difference":    func() { sink += Difference(s, b).ForceSize.Frontal },
		"Elasticities":  func() { sink += Elasticities(s).Free.Horizontal },
		"Sensitivities": func() { sink += Sensitivities(s).Arm.Frontal },
		"LengthenArm":   func() { sink += s.LengthenArm(Frontal, 0.05).Pressure.Y },
		"AboutSeries":   func() { ms, _ = AboutSeries(ms, ws, coms) },
		"ArmSeries":     func() { arms, _ = ArmSeries(arms, ws, coms, free, 20) },
		"PartsSeries":   func() { splits, _ = PartsSeries(splits, ws, ws, coms, 0, 20) },
		"LinearImpulse": func() { v, _ := LinearImpulse(ws, 0, 1, 0.1, 0.9); sink += v.X },
	} {
		if n := testing.AllocsPerRun(100, f); n != 0 {
			t.Errorf("%s allocates %g times", name, n)
		}
	}
	_ = sink
}
