package acceptance

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/spatial/r2"
)

// Arrangement is one of the eight ways in which a plate can lie against its declared
// corners.
type Arrangement struct {
	// Turn is the angle about the z axis of the declared corners, degrees: 0, 90, 180
	// or 270. Where z points into the floor, as usual, it is clockwise seen from
	// above.
	Turn int
	// Mirrored: before that, x is reversed. A plate does not lie like that; a channel
	// with the wrong sign, or corners that run the wrong way round, look like it.
	Mirrored bool
}

// arrangements are all eight, the declared one first.
func arrangements() []Arrangement {
	var all []Arrangement
	for _, m := range []bool{false, true} {
		for turn := 0; turn < 360; turn += 90 {
			all = append(all, Arrangement{turn, m})
		}
	}
	return all
}

// String says it in words: "as declared", "turned by 90°", "mirrored in x" (x
// reversed), "mirrored in y" and so on.
func (a Arrangement) String() string {
	switch {
	case a == Arrangement{}:
		return "as declared"
	case !a.Mirrored:
		return fmt.Sprintf("turned by %d°", a.Turn)
	case a.Turn == 0:
		return "mirrored: x reversed"
	case a.Turn == 180:
		return "mirrored: y reversed"
	case a.Turn == 90:
		return "mirrored: x and y exchanged and reversed"
	}
	return "mirrored: x and y exchanged"
}

// apply turns a point or direction of the plate's own axes into the declared ones.
func (a Arrangement) apply(p r2.Vec) r2.Vec {
	if a.Mirrored {
		p.X = -p.X
	}
	switch a.Turn {
	case 90:
		p.X, p.Y = -p.Y, p.X
	case 180:
		p.X, p.Y = -p.X, -p.Y
	case 270:
		p.X, p.Y = p.Y, -p.X
	}
	return p
}

// cornerSigns are where the corners of a plate are in its own axes, in the order of
// grf.PlateConfig.Corners.
var cornerSigns = [4]r2.Vec{{X: 1, Y: 1}, {X: -1, Y: 1}, {X: -1, Y: -1}, {X: 1, Y: -1}}

// corners returns which declared corner is corner 1, 2, 3 and 4 of the plate as it
// lies.
func (a Arrangement) corners() (order [4]int) {
	for k, c := range cornerSigns {
		at := a.apply(c)
		for i, d := range cornerSigns {
			if math.Abs(at.X-d.X)+math.Abs(at.Y-d.Y) < 0.5 {
				order[k] = i
			}
		}
	}
	return order
}
