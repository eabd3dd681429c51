package units_test

import (
	"encoding/json"
	"fmt"

	"example.com/momentarm/units"
	"gonum.org/v1/gonum/unit"
)

func Example() {
	// The trade speaks of pounds and feet; the library computes in SI.
	force := 100 * units.PoundForce
	arm := 1 * units.Foot
	moment := units.Moment(float64(arm) * float64(force))

	fmt.Println(force, "at", arm, "makes", moment)
	fmt.Printf("%.0f lbf·ft\n", moment.In(units.PoundForceFoot))
	// Output:
	// 444.822 N at 0.3048 m makes 135.582 N·m
	// 100 lbf·ft
}

// Multiples of body weight, as a number and in per cent.
func ExampleBodyWeight() {
	bw := units.BodyWeight(80 * units.Kilogram)
	peak := 1255 * units.Newton

	fmt.Println(bw)
	fmt.Printf("%.2f BW\n", peak.In(bw))
	fmt.Printf("%.0f %%BW\n", 100*peak.In(bw))
	// Output:
	// 784.532 N
	// 1.60 BW
	// 160 %BW
}

func ExampleParseForce() {
	for _, text := range []string{"20 N", "4.5lbf", "20", "20 lb", "20,5 N"} {
		f, err := units.ParseForce(text)
		if err != nil {
			fmt.Println(err)
			continue
		}
		fmt.Println(f)
	}
	// Output:
	// 20 N
	// 20.017 N
	// units: force "20": no unit; accepted: N, kN, lbf, ozf, kgf
	// units: force "20 lb": wrong quantity: lb is a unit of mass, not of force; the pound is a mass, lbf is the force: write lbf; accepted: N, kN, lbf, ozf, kgf
	// units: force "20,5 N": not a decimal number: the decimal sign is a point, not a comma (1.5, not 1,5), and thousands are not grouped (1000)
}

// The header of a table names a unit; the numbers below it times SI are in SI.
func ExampleLookUp() {
	u, ok := units.LookUp("N.mm")
	fmt.Println(u.Symbol, "of", u.Quantity, ok)
	fmt.Println(1500*u.SI, u.Quantity.Units()[0].Symbol)
	// Output:
	// N·mm of moment true
	// 1.5 N·m
}

// All units that are read.
func ExampleQuantity_Units() {
	for q := units.QuantityLength; q <= units.QuantityFrequency; q++ {
		fmt.Print(q, ":")
		for _, u := range q.Units() {
			fmt.Print(" ", u.Symbol)
		}
		fmt.Println()
	}
	// Output:
	// length: m cm mm in ft yd mi
	// mass: kg g lb oz slug
	// force: N kN lbf ozf kgf
	// moment: N·m N·cm N·mm kN·m lbf·ft lbf·in kgf·m
	// speed: m/s cm/s mm/s km/h ft/s mph
	// angle: rad deg rev
	// angular speed: rad/s deg/s rpm
	// acceleration: m/s² ft/s² g_n
	// pressure: Pa kPa bar N/cm² psi
	// impulse: N·s lbf·s
	// angular impulse: N·m·s lbf·ft·s
	// time: s ms µs
	// frequency: Hz kHz
}

// Quantities are strings with a unit in JSON.
func ExampleMass_UnmarshalText() {
	var golfer struct{ Mass units.Mass }
	err := json.Unmarshal([]byte(`{"Mass": "80.5 kg"}`), &golfer)
	fmt.Printf("%.1f lb %v\n", golfer.Mass.In(units.Pound), err)

	text, err := json.Marshal(golfer)
	fmt.Println(string(text), err)
	// Output:
	// 177.5 lb <nil>
	// {"Mass":"80.5 kg"} <nil>
}

// Products keep their dimensions in gonum's package unit, and From checks them.
func ExampleMoment_From() {
	arm, force := 2*units.Metre, 3*units.Newton

	var m units.Moment
	fmt.Println(m.From(arm.Unit().Mul(force)), m)
	fmt.Println(m.From(force.Unit().Mul(force)), m)
	fmt.Println(unit.DimensionsMatch(m, unit.Newtonmetre))
	// Output:
	// <nil> 6 N·m
	// units: wrong quantity: the dimensions of a moment are "kg m^2 s^-2", got "kg^2 m^2 s^-4" NaN N·m
	// true
}
