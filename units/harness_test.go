package units

import (
	"encoding"
	"fmt"
	"testing"

	"gonum.org/v1/gonum/unit"
)

// quantity is what every quantity can do, pointer what goes through its address.
// That all thirteen go through of pins the interfaces.
type quantity interface {
	~float64
	fmt.Stringer
	encoding.TextMarshaler
	unit.Uniter
}

type pointer[Q quantity] interface {
	*Q
	encoding.TextUnmarshaler
	From(unit.Uniter) error
}

// ops makes the quantities alike, so that each test runs over all of them.
type ops struct {
	quantity  Quantity
	parse     func(string) (float64, error)
	in        func(x, unit float64) float64
	text      func(float64) string
	marshal   func(float64) ([]byte, error)
	unmarshal func(start float64, text []byte) (float64, error)
	uniter    func(float64) unit.Uniter
	from      func(unit.Uniter) (float64, error)
}

func of[Q quantity, P pointer[Q]](q Quantity, parse func(string) (Q, error), in func(x, unit Q) float64) ops {
	return ops{
		quantity: q,
		parse:    func(s string) (float64, error) { x, err := parse(s); return float64(x), err },
		in:       func(x, unit float64) float64 { return in(Q(x), Q(unit)) },
		text:     func(x float64) string { return Q(x).String() },
		marshal:  func(x float64) ([]byte, error) { return Q(x).MarshalText() },
		unmarshal: func(x float64, b []byte) (float64, error) {
			q := Q(x)
			err := P(&q).UnmarshalText(b)
			return float64(q), err
		},
		uniter: func(x float64) unit.Uniter { return Q(x) },
		from:   func(u unit.Uniter) (float64, error) { var q Q; err := P(&q).From(u); return float64(q), err },
	}
}

var all = []ops{
	of(QuantityLength, ParseLength, Length.In),
	of(QuantityMass, ParseMass, Mass.In),
	of(QuantityForce, ParseForce, Force.In),
	of(QuantityMoment, ParseMoment, Moment.In),
	of(QuantitySpeed, ParseSpeed, Speed.In),
	of(QuantityAngle, ParseAngle, Angle.In),
	of(QuantityAngularSpeed, ParseAngularSpeed, AngularSpeed.In),
	of(QuantityAcceleration, ParseAcceleration, Acceleration.In),
	of(QuantityPressure, ParsePressure, Pressure.In),
	of(QuantityImpulse, ParseImpulse, Impulse.In),
	of(QuantityAngularImpulse, ParseAngularImpulse, AngularImpulse.In),
	of(QuantityTime, ParseTime, Time.In),
	of(QuantityFrequency, ParseFrequency, Frequency.In),
}

// spellings lists all that the tables of q spell, and the unit of each.
func spellings(q Quantity) map[string]Unit {
	m := map[string]Unit{}
	for _, r := range q.kind().rows {
		for _, s := range append([]string{r.symbol}, r.also...) {
			m[s] = Unit{r.symbol, q, r.si}
		}
	}
	return m
}

func TestEveryQuantityIsTested(t *testing.T) {
	if len(all) != len(kinds)-1 {
		t.Fatalf("%d quantities tested, the table has %d", len(all), len(kinds)-1)
	}
	for i, o := range all {
		if int(o.quantity) != i+1 {
			t.Errorf("row %d tests %v", i, o.quantity)
		}
	}
}
