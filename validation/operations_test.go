package validation

import (
	"strings"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"
)

// Operations that only cases on public data ask for, on inputs whose answers can be
// seen: they have to work, and to refuse, without those data, too.
func TestOperationsOfRecordings(t *testing.T) {
	floor := r3.Vec{X: 0.2, Y: 0.3}
	corners := Vectors("m", floor, r3.Vec{X: -0.2, Y: 0.3}, r3.Vec{X: -0.2, Y: -0.3}, r3.Vec{X: 0.2, Y: -0.3})
	plate := Values{
		"type": Number("1", 2), "corners": corners, "origin": List("m", 0, 0, 0),
		"channels": Table("1", []float64{1, 2, 3, 4, 5, 6}, []float64{-1, 0, 700, 0, 70, 0}),
	}
	out, err := Library().Answer("plate_series", plate)
	if err != nil {
		t.Fatal(err)
	}
	same := func(v Value, want ...r3.Vec) {
		t.Helper()
		for i, got := range v.Vecs() {
			if r3.Norm(r3.Sub(got, want[i])) > 1e-12 {
				t.Errorf("row %d is %v, want %v", i, got, want[i])
			}
		}
		if n := len(v.Vecs()); n != len(want) {
			t.Errorf("%d rows", n)
		}
	}
	same(out["forces"], r3.Vec{X: 1, Y: 2, Z: 3}, r3.Vec{X: -1, Z: 700})
	same(out["moments"], r3.Vec{X: 4, Y: 5, Z: 6}, r3.Vec{Y: 70})

	// A third of the load at Y = 0.3 m, two thirds at Y = −0.3 m.
	feet := Values{
		"right_forces": Vectors("N", r3.Vec{Z: 200}), "right_points": Vectors("m", r3.Vec{X: 0.1, Y: 0.3}),
		"left_forces": Vectors("N", r3.Vec{Z: 400}), "left_points": Vectors("m", r3.Vec{X: 0.1, Y: -0.3}),
	}
	if out, err = Library().Answer("two_plate_path", feet); err != nil {
		t.Fatal(err)
	}
	same(out["points"], r3.Vec{X: 0.1, Y: -0.1})

	with := func(in Values, name string, v Value) Values {
		changed := Values{name: v}
		for k, old := range in {
			if k != name {
				changed[k] = old
			}
		}
		return changed
	}
	for _, tt := range []struct {
		operation, says string
		in              Values
	}{
		{"plate_series", "four corners", with(plate, "corners", Vectors("m", floor))},
		{"plate_series", "the plate has 6", with(plate, "channels", Table("1", []float64{1, 2}))},
		{"two_plate_path", "right: 1 forces, 2 points", with(feet, "right_points", Vectors("m", floor, floor))},
		{"two_plate_path", "left: 1 forces, 2 points", with(feet, "left_points", Vectors("m", floor, floor))},
	} {
		if _, err := Library().Answer(tt.operation, tt.in); err == nil || !strings.Contains(err.Error(), tt.says) {
			t.Errorf("%s: %v, want %q", tt.operation, err, tt.says)
		}
	}
}
