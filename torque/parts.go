package torque

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"

	"example.com/momentarm/cop"
	"example.com/momentarm/grf"
)

// FootParts says which component of one foot's force made which part of its
// moment about a point, N·m. With r from the point to the foot's centre of
// pressure:
//
//	            frontal   sagittal   horizontal
//	Forward        0       rz·Fx      −ry·Fx
//	Lateral     −rz·Fy       0         rx·Fy
//	Vertical     ry·Fz    −rx·Fz         0
//	Free           0         0       free moment
//
// Forward + Lateral + Vertical + Free is Total, to rounding.
type FootParts struct {
	Forward, Lateral, Vertical, Free Planes

	// Total is the moment of the whole foot. It needs no centre of pressure and
	// is defined also where the parts are not.
	Total Planes
}

// Sum returns Forward + Lateral + Vertical + Free.
func (p FootParts) Sum() Planes {
	return p.Forward.Add(p.Lateral).Add(p.Vertical).Add(p.Free)
}

// Split holds the parts of both feet.
type Split struct {
	Lead, Trail FootParts
}

// Total returns the moment of both feet, N·m: what [About] gives for the sum of
// the wrenches, to rounding.
func (s Split) Total() Planes { return s.Lead.Total.Add(s.Trail.Total) }

// Parts splits the moment of both feet about com by foot and by component of the
// force. Each foot acts at its own centre of pressure on the plane Z = height.
// The parts of a foot whose vertical force is under minVertical newtons are NaN,
// because its centre of pressure is; its Total stays.
func Parts(lead, trail grf.Wrench, com r3.Vec, height, minVertical float64) Split {
	return Split{
		Lead:  PartsOf(lead, com, height, minVertical),
		Trail: PartsOf(trail, com, height, minVertical),
	}
}

// PartsOf is [Parts] for one foot, or for one plate that carries both feet.
func PartsOf(w grf.Wrench, com r3.Vec, height, minVertical float64) FootParts {
	parts := FootParts{Total: About(w, com)}
	p, free := cop.Of(w, height, minVertical)
	if math.IsNaN(free) {
		n := math.NaN()
		nan := Planes{n, n, n}
		parts.Forward, parts.Lateral, parts.Vertical, parts.Free = nan, nan, nan, nan
		return parts
	}
	r, f := r3.Sub(p, com), w.Force
	parts.Forward = Planes{Sagittal: r.Z * f.X, Horizontal: -r.Y * f.X}
	parts.Lateral = Planes{Frontal: -r.Z * f.Y, Horizontal: r.X * f.Y}
	parts.Vertical = Planes{Frontal: r.Y * f.Z, Sagittal: -r.X * f.Z}
	parts.Free = Planes{Horizontal: free}
	return parts
}
