package c3d

import "gonum.org/v1/gonum/spatial/r3"

// PlateInfo is what the FORCE_PLATFORM group says about one plate, in the units
// of the file ([File.Units] for lengths, [Channel.Unit] for the channels).
// Nothing in it is corrected.
type PlateInfo struct {
	Type int // FORCE_PLATFORM:TYPE
	// Corners are the corners of the top surface in laboratory axes, in the
	// order of the file: the quadrants (+x, +y), (−x, +y), (−x, −y), (+x, −y) of
	// the plate. NaN when not stated.
	Corners [4]r3.Vec
	// Origin is FORCE_PLATFORM:ORIGIN: for types 2 and 4 the vector from the
	// measuring origin to the centre of the top surface in plate axes, for type
	// 3 half the distances between the sensors and their depth. NaN when not
	// stated.
	Origin r3.Vec
	// Channels are indices into [File.Channels], in the order that the type
	// prescribes: FORCE_PLATFORM:CHANNEL less 1. An index outside File.Channels
	// is kept; see [File.PlateValues].
	Channels []int
	// Calibration is CAL_MATRIX with one row per output and one column per
	// channel: output = Calibration · channels. The file stores it column by
	// column. nil when the file has none for this plate.
	Calibration [][]float64
	// Extras are the other numeric parameters of the group that have one entry
	// per plate, such as a polynomial for correcting the centre of pressure or
	// a translation. Encode does not look at them.
	Extras []Extra
}

// Extra is the part of a parameter that belongs to one plate.
type Extra struct {
	Name   string
	Dims   []int // without the last one, which runs over the plates
	Values []float64
}
