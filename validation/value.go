package validation

import (
	"encoding/json"
	"errors"
	"fmt"
	"math"

	"gonum.org/v1/gonum/spatial/r3"
)

// Value is one input or output of an operation: a number, a vector, a list, a
// table, a word or a file, in the SI unit that it names. In JSON it is an object
// with the unit and the numbers, nested row by row:
//
//	{"unit": "N·m", "value": 3.21}
//	{"unit": "m", "value": [0.25, 0, 0]}
//	{"unit": "N", "value": [[1, 2, 3], [4, 5, 6]]}
//	{"value": "lbf"}
//	{"file": "c3d/sample28/type1.C3D"}
//	{"unit": "m", "value": null, "undefined": "the plate is not loaded"}
//
// NaN is null, and then the reason stands in undefined.
type Value struct {
	Unit    string    // SI; "1" for a ratio, empty for a word
	Numbers []float64 // row by row
	Shape   []int     // nil: a number; [n]: a list; [n m]: n rows of m
	Word    string    // instead of numbers
	File    string    // instead of numbers: a path below the folder of data sets
	Content []byte    // of the file, not to be changed; not part of the JSON form
	Reason  string    // why numbers are NaN
}

// Number returns a value of one number.
func Number(unit string, x float64) Value { return Value{Unit: unit, Numbers: []float64{x}} }

// Vector returns a value of three components.
func Vector(unit string, v r3.Vec) Value { return List(unit, v.X, v.Y, v.Z) }

// List returns a value of a row of numbers.
func List(unit string, xs ...float64) Value {
	return Value{Unit: unit, Numbers: xs, Shape: []int{len(xs)}}
}

// Table returns a value of rows, which must all be of one length.
func Table(unit string, rows ...[]float64) Value {
	v := Value{Unit: unit, Shape: []int{len(rows), 0}}
	for _, r := range rows {
		v.Shape[1] = len(r)
		v.Numbers = append(v.Numbers, r...)
	}
	return v
}

// Vectors returns a value of rows of three components.
func Vectors(unit string, vs ...r3.Vec) Value {
	v := Value{Unit: unit, Shape: []int{len(vs), 3}}
	for _, p := range vs {
		v.Numbers = append(v.Numbers, p.X, p.Y, p.Z)
	}
	return v
}

// Word returns a value that is a name, such as the symbol of a unit.
func Word(s string) Value { return Value{Word: s} }

// File returns a value that is a file of the data sets: its path below their
// folder and what is in it.
func File(path string, content []byte) Value { return Value{File: path, Content: content} }

// Undefined returns a number that has no value, with the reason.
func Undefined(unit, reason string) Value {
	return Value{Unit: unit, Numbers: []float64{math.NaN()}, Reason: reason}
}

// Float returns the number of v, NaN when v is none.
func (v Value) Float() float64 {
	if len(v.Numbers) != 1 {
		return math.NaN()
	}
	return v.Numbers[0]
}

// Vec returns the three components of v, NaN when it has not three.
func (v Value) Vec() r3.Vec {
	if len(v.Numbers) != 3 {
		n := math.NaN()
		return r3.Vec{X: n, Y: n, Z: n}
	}
	return r3.Vec{X: v.Numbers[0], Y: v.Numbers[1], Z: v.Numbers[2]}
}

// Rows returns the rows of a table, nil when v is none.
func (v Value) Rows() [][]float64 {
	if len(v.Shape) != 2 {
		return nil
	}
	n, m := v.Shape[0], v.Shape[1]
	rows := make([][]float64, n)
	for i := range rows {
		rows[i] = v.Numbers[i*m : (i+1)*m]
	}
	return rows
}

// Vecs returns the rows of a table of three columns as vectors, nil when v is
// none.
func (v Value) Vecs() []r3.Vec {
	if len(v.Shape) != 2 || v.Shape[1] != 3 {
		return nil
	}
	vs := make([]r3.Vec, v.Shape[0])
	for i := range vs {
		vs[i] = r3.Vec{X: v.Numbers[3*i], Y: v.Numbers[3*i+1], Z: v.Numbers[3*i+2]}
	}
	return vs
}

// shape names the shape of v as operations spell it.
func (v Value) shape() Shape {
	switch {
	case v.Word != "":
		return ShapeWord
	case v.File != "":
		return ShapeFile
	case len(v.Shape) == 0:
		return ShapeNumber
	case len(v.Shape) == 2:
		return ShapeTable
	}
	return ShapeList
}

// Values are the inputs or the outputs of one operation by name.
type Values map[string]Value

// Has reports whether there is a value of that name.
func (vs Values) Has(name string) bool {
	_, ok := vs[name]
	return ok
}

type jsonValue struct {
	Unit      string          `json:"unit,omitempty"`
	Value     json.RawMessage `json:"value"`
	File      string          `json:"file,omitempty"`
	Undefined string          `json:"undefined,omitempty"`
}

// MarshalJSON writes the form that [Value] describes. It fails on an infinite
// number and on a NaN without a reason.
func (v Value) MarshalJSON() ([]byte, error) {
	if v.Word != "" {
		return json.Marshal(map[string]string{"value": v.Word})
	}
	if v.File != "" {
		return json.Marshal(map[string]string{"file": v.File})
	}
	out := make([]*float64, len(v.Numbers))
	for i, x := range v.Numbers {
		switch {
		case math.IsInf(x, 0):
			return nil, errors.New("validation: an infinite number has no JSON form")
		case !math.IsNaN(x):
			out[i] = &x
		case v.Reason == "":
			return nil, errors.New("validation: a NaN needs a reason")
		}
	}
	var body any
	switch len(v.Shape) {
	case 0:
		if len(out) != 1 {
			return nil, fmt.Errorf("validation: a number with %d values", len(out))
		}
		body = out[0]
	case 1:
		body = out
	case 2:
		rows := make([][]*float64, v.Shape[0])
		for i := range rows {
			rows[i] = out[i*v.Shape[1] : (i+1)*v.Shape[1]]
		}
		body = rows
	default:
		return nil, fmt.Errorf("validation: a value of %d dimensions", len(v.Shape))
	}
	raw, err := json.Marshal(body)
	if err != nil {
		return nil, err
	}
	return json.Marshal(jsonValue{Unit: v.Unit, Value: raw, Undefined: v.Reason})
}

// UnmarshalJSON reads the form that [Value] describes.
func (v *Value) UnmarshalJSON(data []byte) error {
	var j jsonValue
	if err := json.Unmarshal(data, &j); err != nil {
		return err
	}
	if j.File != "" {
		*v = Value{File: j.File}
		return nil
	}
	*v = Value{Unit: j.Unit, Reason: j.Undefined}
	if len(j.Value) == 0 || string(j.Value) == "null" {
		v.Numbers = []float64{math.NaN()}
		return nil
	}
	if err := json.Unmarshal(j.Value, &v.Word); err == nil {
		return nil
	}
	number := func(x *float64) float64 {
		if x == nil {
			return math.NaN()
		}
		return *x
	}
	var one float64
	if err := json.Unmarshal(j.Value, &one); err == nil {
		v.Numbers = []float64{one}
		return nil
	}
	var list []*float64
	if err := json.Unmarshal(j.Value, &list); err == nil {
		v.Shape = []int{len(list)}
		for _, x := range list {
			v.Numbers = append(v.Numbers, number(x))
		}
		return nil
	}
	var rows [][]*float64
	if err := json.Unmarshal(j.Value, &rows); err != nil {
		return errors.New("validation: a value is a number, a list of numbers, a list of rows, a word or null")
	}
	v.Shape = []int{len(rows), 0}
	for i, r := range rows {
		if i > 0 && len(r) != v.Shape[1] {
			return fmt.Errorf("validation: row %d has %d numbers, row 0 has %d", i, len(r), v.Shape[1])
		}
		v.Shape[1] = len(r)
		for _, x := range r {
			v.Numbers = append(v.Numbers, number(x))
		}
	}
	return nil
}
