package units

import "fmt"

// Quantity names what is measured, for the headers of tables and for messages.
// The zero Quantity is none.
type Quantity int

// The quantities of this package, one for each type.
const (
	QuantityLength         Quantity = iota + 1 // [Length]
	QuantityMass                               // [Mass]
	QuantityForce                              // [Force]
	QuantityMoment                             // [Moment]
	QuantitySpeed                              // [Speed]
	QuantityAngle                              // [Angle]
	QuantityAngularSpeed                       // [AngularSpeed]
	QuantityAcceleration                       // [Acceleration]
	QuantityPressure                           // [Pressure]
	QuantityImpulse                            // [Impulse]
	QuantityAngularImpulse                     // [AngularImpulse]
	QuantityTime                               // [Time]
	QuantityFrequency                          // [Frequency]
)

// kind is what there is to know about a quantity.
type kind struct {
	name string
	dim  dimensions
	rows []row // the SI unit first
}

// dimensions are the exponents of the base units.
type dimensions struct{ length, mass, time, angle int }

// row is one unit with all its spellings: symbol is the one that is printed.
// A product is spelled with "·" here; see canonical for what else is read.
type row struct {
	symbol string
	si     float64
	also   []string
}

var kinds = [...]kind{
	QuantityLength:         {"length", dimensions{length: 1}, lengthUnits},
	QuantityMass:           {"mass", dimensions{mass: 1}, massUnits},
	QuantityForce:          {"force", dimensions{length: 1, mass: 1, time: -2}, forceUnits},
	QuantityMoment:         {"moment", dimensions{length: 2, mass: 1, time: -2}, momentUnits},
	QuantitySpeed:          {"speed", dimensions{length: 1, time: -1}, speedUnits},
	QuantityAngle:          {"angle", dimensions{angle: 1}, angleUnits},
	QuantityAngularSpeed:   {"angular speed", dimensions{angle: 1, time: -1}, angularSpeedUnits},
	QuantityAcceleration:   {"acceleration", dimensions{length: 1, time: -2}, accelerationUnits},
	QuantityPressure:       {"pressure", dimensions{length: -1, mass: 1, time: -2}, pressureUnits},
	QuantityImpulse:        {"impulse", dimensions{length: 1, mass: 1, time: -1}, impulseUnits},
	QuantityAngularImpulse: {"angular impulse", dimensions{length: 2, mass: 1, time: -1}, angularImpulseUnits},
	QuantityTime:           {"time", dimensions{time: 1}, timeUnits},
	QuantityFrequency:      {"frequency", dimensions{time: -1}, frequencyUnits},
}

// kind returns the entry of q, an empty one if q is none of the quantities.
func (q Quantity) kind() kind {
	if q < 0 || int(q) >= len(kinds) {
		return kind{}
	}
	return kinds[q]
}

// String returns the name of q in lower case, such as "angular speed".
func (q Quantity) String() string {
	if name := q.kind().name; name != "" {
		return name
	}
	return fmt.Sprintf("Quantity(%d)", int(q))
}

// Units returns the units of q that this package reads, the SI unit first, and
// nil if q is none of the quantities.
func (q Quantity) Units() []Unit {
	var us []Unit
	for _, r := range q.kind().rows {
		us = append(us, Unit{r.symbol, q, r.si})
	}
	return us
}
