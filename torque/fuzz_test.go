package torque_test

import (
	"encoding/binary"
	"errors"
	"math"
	"reflect"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"example.com/momentarm/cop"
	"example.com/momentarm/grf"
	"example.com/momentarm/torque"
)

// plain reports whether all numbers in v are finite and none is so large or small
// that products of four of them leave the range of numbers; zeros are plain.
func plain(v reflect.Value) bool {
	switch v.Kind() {
	case reflect.Float64:
		x := math.Abs(v.Float())
		return x == 0 || x > 1e-30 && x < 1e30
	case reflect.Struct:
		for i := range v.NumField() {
			if !plain(v.Field(i)) {
				return false
			}
		}
	}
	return true
}

func hasInfinity(v reflect.Value) bool {
	switch v.Kind() {
	case reflect.Float64:
		return math.IsInf(v.Float(), 0)
	case reflect.Struct:
		for i := range v.NumField() {
			if hasInfinity(v.Field(i)) {
				return true
			}
		}
	}
	return false
}

// FuzzTorque: of plain numbers torques, arms and their parts are finite or NaN; the
// parts add up; twice the load gives twice the torque with the same arms, and a
// mirror changes signs only.
func FuzzTorque(f *testing.F) {
	add := func(v ...float64) {
		var b []byte
		for _, x := range v {
			b = binary.LittleEndian.AppendUint64(b, math.Float64bits(x))
		}
		f.Add(b, 0.0, 20.0)
	}
	add(30, 60, 500, 120, -10, 5, -20, 90, 400, -100, 12, -4, 0.05, 0.02, 0.95)
	add(make([]float64, 15)...)
	add(math.NaN(), 60, 500, 120, -10, math.NaN(), -20, 90, 400, -100, 12, -4, 0.05, 0.02, 0.95)
	add(1e300, 1e300, 1e300, 1e300, 1e300, 1e300, -1e300, 1e300, 1e300, 1e300, 1e300, 1e300, 1e300, 1e300, 1e300)
	add(0, 0, 20, 0, 0, 0, 0, 0, 5e-324, 0, 0, 0, 0, 0, math.Inf(1))
	f.Fuzz(func(t *testing.T, data []byte, height, least float64) {
		var v [15]float64
		for i := range v {
			if len(data) >= 8*(i+1) {
				v[i] = math.Float64frombits(binary.LittleEndian.Uint64(data[8*i:]))
			}
		}
		vec := func(i int) r3.Vec { return r3.Vec{X: v[i], Y: v[i+1], Z: v[i+2]} }
		lead, trail, com := grf.Wrench{Force: vec(0), Moment: vec(3)}, grf.Wrench{Force: vec(6), Moment: vec(9)}, vec(12)
		net := lead.Add(trail)
		_, free := cop.Of(net, height, least)
		m := torque.About(net, com)
		arms := torque.Arms(net, com, free, least)
		parts := torque.Parts(lead, trail, com, height, least)
		pivot := torque.Pivot(lead, trail, com, height, least)
		state := torque.NewState(net, com, height, least)
		change := torque.Difference(state, torque.NewState(lead, com, height, least))
		u := torque.Uncertainty{COM: r3.Vec{X: 0.01, Y: 0.01, Z: 0.02}}
		results := []any{m, arms, parts, pivot, state, change, torque.AboutSD(net, com, &u), torque.ArmsSD(net, com, least, &u),
			torque.PivotSD(lead, trail, com, least, &u, &u), torque.TiltOf(net.Force, least), torque.Elasticities(state), torque.Sensitivities(state)}
		for _, p := range []torque.Plane{torque.Frontal, torque.Sagittal, torque.Horizontal, 7} {
			results = append(results, state.LengthenArm(p, 0.1))
		}
		if !plain(reflect.ValueOf(height)) || !plain(reflect.ValueOf(least)) {
			return // no panic is all that is asked
		}
		for i := range v {
			if !plain(reflect.ValueOf(v[i])) {
				return
			}
		}
		for i, r := range results {
			if hasInfinity(reflect.ValueOf(r)) && i != 10 { // an elasticity of a torque of zero has no size
				t.Fatalf("result %d: %+v", i, r)
			}
		}
		size := 0.0
		for i := range 12 {
			size += math.Abs(v[i])
		}
		size *= 1 + math.Abs(v[12]) + math.Abs(v[13]) + math.Abs(v[14]) + math.Abs(height)
		near := func(what string, a, b torque.Planes) {
			t.Helper()
			d := a.Sub(b)
			for _, x := range []float64{d.Frontal, d.Sagittal, d.Horizontal} {
				if math.Abs(x) > 1e-9*size {
					t.Fatalf("%s: %+v and %+v", what, a, b)
				}
			}
		}
		// NaN where a foot carries too little; |NaN| is never greater.
		if loaded := func(w grf.Wrench) bool { return w.Force.Z >= math.Max(least, 1e-3*size) && w.Force.Z > 0 }; loaded(lead) && loaded(trail) {
			near("parts and torque", parts.Total(), m)
		}
		near("a state and torque", state.Moment(), m)
		if least > 0 {
			double := torque.Arms(net.Scale(2), com, 2*free, 2*least)
			for _, p := range [][2]float64{{double.Frontal, arms.Frontal}, {double.Sagittal, arms.Sagittal}, {double.Horizontal, arms.Horizontal}, {double.ThreeD, arms.ThreeD}} {
				if math.Abs(p[0]-p[1]) > 1e-9*math.Abs(p[1]) || math.IsNaN(p[0]) != math.IsNaN(p[1]) {
					t.Fatalf("arms %+v, of twice the load %+v", arms, double)
				}
			}
		}
		mirror := func(w grf.Wrench) grf.Wrench {
			w.Force.Y, w.Moment.X, w.Moment.Z = -w.Force.Y, -w.Moment.X, -w.Moment.Z
			return w
		}
		o := torque.About(mirror(net), r3.Vec{X: com.X, Y: -com.Y, Z: com.Z})
		near("a mirror", torque.Planes{Frontal: -o.Frontal, Sagittal: o.Sagittal, Horizontal: -o.Horizontal}, m)
	})
}

// FuzzIntegral: an integral is finite or NaN, or there is an error of those that are
// documented; it is the sum of its parts.
func FuzzIntegral(f *testing.F) {
	f.Add([]byte{1, 2, 3, 4, 5}, 0.0, 100.0, 0.01, 0.035)
	f.Add([]byte{1, 255, 3, 4, 5}, 0.0, 100.0, 0.0, 0.04)
	f.Add([]byte{}, math.NaN(), math.Inf(1), 1e300, -1e300)
	f.Fuzz(func(t *testing.T, data []byte, start, rate, from, to float64) {
		x := make([]float64, len(data))
		for i, b := range data {
			if x[i] = float64(b) - 100; b == 255 {
				x[i] = math.NaN()
			}
		}
		whole, err := torque.Integral(x, start, rate, from, to)
		if err != nil {
			if !errors.Is(err, grf.ErrRate) && !errors.Is(err, grf.ErrNoData) && !errors.Is(err, grf.ErrWindow) && !errors.Is(err, grf.ErrRecording) {
				t.Fatalf("undocumented error: %v", err)
			}
			return
		}
		if math.IsInf(whole, 0) {
			t.Fatalf("%g from %g to %g s", whole, from, to)
		}
		middle := from + (to-from)/2
		a, err1 := torque.Integral(x, start, rate, from, middle)
		b, err2 := torque.Integral(x, start, rate, middle, to)
		if err1 == nil && err2 == nil && math.Abs(a+b-whole) > 1e-6*(to-from)*200 {
			t.Fatalf("%g and %g make %g", a, b, whole)
		}
	})
}
