package units

// The three defined numbers behind all units that are not SI. They are untyped
// constants: Go computes with them exactly and rounds each unit only once.
const (
	// inch, in metres, is exact by the international yard of 1959; SP 811 gives
	// 2.54 E-02. "Yard agreement" in the comments of this package means this.
	inch = 0.0254
	// pound (avoirdupois), in kilograms, is exact by the same agreement (from
	// memory); SP 811 gives the rounded 4.535 924 E-01.
	pound = 0.45359237
	// gravity, in m/s², is exact by the declaration of the 3rd General
	// Conference on Weights and Measures, 1901, Comptes Rendus p. 70: "CGPM
	// 1901" in the comments of this package.
	gravity = 9.80665
)

// BodyWeight returns the weight of a body of this mass under standard gravity.
// It serves as a unit: f.In(units.BodyWeight(m)) is f in multiples of body
// weight, NaN if m is zero, and 100 times that is f in %BW. Local gravity
// differs from the standard by up to 0.3 % at sea level; where a plate has
// measured the golfer's weight, that force is the better unit.
func BodyWeight(mass Mass) Force { return Force(float64(mass) * gravity) }
