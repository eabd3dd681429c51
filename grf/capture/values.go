package capture

import (
	"encoding/json"
	"math"
	"strings"

	"gonum.org/v1/gonum/spatial/r3"

	"example.com/momentarm/units"
)

// Direction is a direction in laboratory axes, of any length; zero means that
// it is not stated. In JSON it is an axis such as "+z" or "-y", or a list of
// three numbers.
type Direction r3.Vec

var axisNames = map[string]r3.Vec{
	"+x": {X: 1}, "-x": {X: -1}, "+y": {Y: 1}, "-y": {Y: -1}, "+z": {Z: 1}, "-z": {Z: -1},
}

func (d *Direction) fromJSON(path string, n any) error {
	switch n := n.(type) {
	case string:
		name := strings.ToLower(strings.TrimSpace(n))
		name = strings.Replace(name, "−", "-", 1)
		if len(name) == 1 {
			name = "+" + name
		}
		v, ok := axisNames[name]
		if !ok {
			return setupErrorf(path, `%s is no axis; write "+x", "-x", "+y", "-y", "+z", "-z" or three numbers`, describe(n))
		}
		*d = Direction(v)
		return nil
	case []any:
		if len(n) != 3 {
			return setupErrorf(path, "%s; want three numbers", describe(n))
		}
		var c [3]float64
		for i, e := range n {
			x, err := number(index(path, i), e)
			if err != nil {
				return err
			}
			c[i] = x
		}
		*d = Direction{X: c[0], Y: c[1], Z: c[2]}
		if norm := r3.Norm(r3.Vec(*d)); norm == 0 || math.IsInf(norm, 0) {
			return setupErrorf(path, "%v is no direction", c)
		}
		return nil
	}
	return setupErrorf(path, `%s; want an axis such as "+z", or three numbers`, describe(n))
}

// MarshalJSON writes a list of three numbers.
func (d Direction) MarshalJSON() ([]byte, error) {
	return json.Marshal([3]float64{d.X, d.Y, d.Z})
}

func (d Direction) stated() bool { return d != Direction{} }

// Position is a point: x, y, z. In JSON it is a list of three lengths.
type Position [3]units.Length

func (p Position) vec() r3.Vec {
	return r3.Vec{X: float64(p[0]), Y: float64(p[1]), Z: float64(p[2])}
}

// Place is a point, or the label of a point in a C3D file. In JSON it is a
// list of three lengths or a text.
type Place struct {
	Label string
	At    Position // when Label is empty
}

func (p *Place) fromJSON(path string, n any) error {
	if s, ok := n.(string); ok {
		if strings.TrimSpace(s) == "" {
			return setupErrorf(path, "an empty label")
		}
		p.Label = s
		return nil
	}
	list, ok := n.([]any)
	if !ok || len(list) != 3 {
		return setupErrorf(path, "%s; want the label of a point or three lengths", describe(n))
	}
	for i, e := range list {
		if err := fillText(index(path, i), e, &p.At[i]); err != nil {
			return err
		}
	}
	return nil
}

// MarshalJSON writes the label or the three lengths.
func (p Place) MarshalJSON() ([]byte, error) {
	if p.Label != "" {
		return json.Marshal(p.Label)
	}
	return json.Marshal(p.At)
}

// ChannelName names a channel or a column: by its label, or by its number from 1.
// In JSON it is a text or a whole number.
type ChannelName string

func (c *ChannelName) fromJSON(path string, n any) error {
	switch n := n.(type) {
	case string:
		*c = ChannelName(n)
		return nil
	case json.Number:
		if !strings.ContainsAny(n.String(), ".eE-") {
			*c = ChannelName(n.String())
			return nil
		}
	}
	return setupErrorf(path, "%s; want the label of a channel or its number", describe(n))
}

// Labels are the labels of points whose mean is meant. In JSON they are a text or
// a list of texts.
type Labels []string

func (l *Labels) fromJSON(path string, n any) error {
	if s, ok := n.(string); ok {
		*l = Labels{s}
		return nil
	}
	list, ok := n.([]any)
	if !ok {
		return setupErrorf(path, "%s; want the label of a point, or a list of labels", describe(n))
	}
	*l = Labels{}
	for i, e := range list {
		s, ok := e.(string)
		if !ok {
			return setupErrorf(index(path, i), "%s; want the label of a point", describe(e))
		}
		*l = append(*l, s)
	}
	return nil
}

// fromJSON also takes the method alone: "none", "file".
func (z *Zero) fromJSON(path string, n any) error {
	if s, ok := n.(string); ok {
		z.Method = s
		return nil
	}
	type plain Zero
	return fillInto(path, n, (*plain)(z))
}

// fromJSON also takes the method alone: "none".
func (f *Filter) fromJSON(path string, n any) error {
	if s, ok := n.(string); ok {
		f.Method = s
		return nil
	}
	type plain Filter
	return fillInto(path, n, (*plain)(f))
}
