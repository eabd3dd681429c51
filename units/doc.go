// Package units holds the quantities that meet at the edges of this library,
// and the units that people write them in. Inside, the library computes with
// plain float64 in SI units; a setup, the header of a table, a command line and
// a report carry units, and this package reads and prints them.
//
// # Quantities
//
// Each quantity is a type of its own, defined from float64, with the SI unit as
// 1, and each unit is a constant of that type. Multiply to make a value, use In
// to count in a unit, convert to float64 to have it in SI:
//
//	f := 100 * units.PoundForce
//	f.In(units.Newton)                 // 444.822…
//	float64(f)                         // the same
//	x := units.Length(inches) * units.Inch
//
// A value prints with its SI unit to six significant digits. For other units
// and digits print the number: fmt.Printf("%.1f lbf", f.In(units.PoundForce)).
//
// NaN is "not known" and goes through In and String as NaN. It has no text
// form: MarshalText refuses it, and the Parse functions never return it without
// an error.
//
// Body weight depends on the body, so it is a function and no constant. The
// weight of a mass serves as a unit of force:
//
//	bw := units.BodyWeight(80 * units.Kilogram)
//	fmt.Printf("%.2f BW\n", f.In(bw))
//	fmt.Printf("%.0f %%BW\n", 100*f.In(bw))
//
// # Text
//
// The Parse functions and UnmarshalText read one decimal number and one unit of
// the quantity at hand:
//
//   - A number without a unit is an error which lists the units, also for zero.
//   - The number is written as in Go, without underscores and other bases:
//     5, -5, +5, 1.5, .5, 5., 1e3, 1.5E-3. The sign may be U+2212 (−).
//   - A decimal comma, grouped thousands and a second number are errors, as are
//     NaN, infinities and what float64 cannot tell from zero or from infinity.
//   - Between number and unit, before and behind may be white space: spaces,
//     tabs, no-break spaces (U+00A0, U+202F) and thin spaces (U+2009).
//   - Upper and lower case of a unit differ. A product is written with one of
//     · ⋅ * . - or one space, a square as ², ^2 or 2. Newton-metres also go
//     without a sign: N·m, N*m, N.m, N-m, N m and Nm are the same.
//   - Every spelling stands for one unit: "lb" is the pound, a mass, and never a
//     force (lbf), and "g" is the gram, never an acceleration (g_n).
//
// [Quantity.Units] lists the units, [LookUp] finds one by its spelling. A value
// that was read equals the number times the constant of the unit, in float64.
// MarshalText writes the SI unit and all digits: UnmarshalText returns the same
// bits. The types therefore work as they are as fields in encoding/json (as a
// string with a unit; a bare JSON number is refused) and in flag.TextVar.
//
// # Dimensions
//
// Every type, and [Unit], has a method Unit that makes it a Uniter of package
// gonum.org/v1/gonum/unit, whose values carry their dimensions at run time.
// From goes back and checks:
//
//	var m units.Moment
//	err := m.From((2 * units.Metre).Unit().Mul(3 * units.Newton)) // 6 N·m
//
// That costs a map for each value: it is for checks and tests, not for samples.
// As in gonum the angle is a dimension of its own.
//
// # What the types cannot catch
//
// Passing a length where a force is due does not compile. The following does
// compile, and is wrong or may be:
//
//   - Products of two values. 2*units.Newton * units.Newton is still a Force,
//     though it is N². The same goes for scaling twice: if x is a Length, then
//     x*units.Inch is nonsense. Multiply plain numbers by units; for products of
//     values go through float64 or Unit.
//   - Bare numbers. Untyped constants become any type: units.Force(100) and
//     var f units.Force = 100 are 100 N, whatever was meant.
//   - Conversions. units.Force(m) of a Mass m compiles; the weight is
//     BodyWeight(m).
//   - N·m as moment or as energy. [Moment] means the first. Energy is not
//     here, but gonum's joule has the same dimensions and goes into Moment.From.
//     In the same way an impulse and a momentum are both N·s.
//   - Pound and pound. The pound is a mass (lb), the pound-force its weight
//     under standard gravity (lbf); the texts are kept apart, but a "pound" that
//     was typed in as a number is not. The poundal, 1 lb·ft/s² or 0.138 N, is a
//     third thing that is not here. The same goes for kilogram and
//     kilogram-force. "ft·lb" is refused: the moment is lbf·ft.
//   - Action or reaction. The push of the golfer on the plate and that of the
//     plate on the golfer differ in sign only.
//   - Frames and points. A component says nothing of its axis, a position of its
//     origin, a moment of the point that it is about.
//   - Component or magnitude, peak or mean, one foot or both, gauge or absolute
//     pressure.
//   - Cycles and radians, once they are numbers: 1 Hz is 2π rad/s. As types,
//     [Frequency] and [AngularSpeed] do not mix.
//   - Gravity. A force in kgf, or in BodyWeight, uses standard gravity; a plate
//     measures weight under the local one, which is 9.780 m/s² at the equator
//     and 9.832 m/s² at the poles at sea level (WGS 84, as given in the data
//     file of GNU Units 2.22).
//
// # Sources
//
// The inch-pound and gravitational units follow from three exact numbers:
//
//   - inch, 0.0254 m: international yard of 1959; read, with its history, in
//     the data file of the program GNU Units 2.22, which cites NBS Special
//     Publication 447;
//   - pound (avoirdupois), 0.45359237 kg: read there; that it is exact by the
//     same agreement is from memory;
//   - standard gravity, 9.80665 m/s²: 3rd General Conference on Weights and
//     Measures, 1901, Comptes Rendus p. 70; read at
//     https://www.bipm.org/en/CGPM/db/3/2/.
//
// The digits that comments give for SP 811 are those of NIST Special
// Publication 811 (2008), Appendix B.8
// (https://physics.nist.gov/Pubs/SP811/appenB8.html), read in the transcription
// in the R package NISTunits, except where "from memory" says otherwise. Names
// and symbols are those of the SI Brochure and of SP 811 (from memory); mph,
// psi and rpm are common practice (no published source).
package units
