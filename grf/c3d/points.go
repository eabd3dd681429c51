package c3d

import "gonum.org/v1/gonum/spatial/r3"

// Point is one trajectory: a marker, or a model output that the file keeps
// among the points (see Kind). The three series have one element per frame.
type Point struct {
	// Label is never empty after Decode: a point without one is named M001,
	// M002, … by its place.
	Label       string
	Description string
	// Unit is the unit of this point when the file states one unit per point,
	// otherwise "".
	Unit string
	Kind Kind

	// Position holds the coordinates in the units of the file, NaN in all three
	// where the point is missing. Encode takes any NaN or infinite coordinate
	// for a missing point.
	Position []r3.Vec
	// Residual is the mean distance of the camera rays, in the units of the
	// file: 0 for a computed point, NaN for a missing one. nil is all 0.
	Residual []float64
	// Cameras has bit k set when camera k+1 (of 7) saw the point; 0 where it is
	// missing. nil is all 0.
	Cameras []uint8
}

// Kind is what a point holds, as told by the lists POINT:ANGLES, FORCES,
// MOMENTS, POWERS and SCALARS. Only positions are lengths.
type Kind uint8

const (
	Position Kind = iota // a place, in the units of the file
	Angle
	Force
	Moment
	Power
	Scalar
)
