package torque

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"
)

// Elasticity says by how many per cent the moment in each plane changes for one
// per cent more of a cause, all else being equal: (x/M)·∂M/∂x. A negative one
// means that more of the cause makes the moment smaller.
//
// Each term of a moment is a component of the force times one of the lever, so
// the elasticities to the three components of the force add up to that to the
// size of the force, and so do those to the lever. Together with the free moment
// they add up to 1.
type Elasticity struct {
	Forward, Lateral, Vertical Planes // to Fx, Fy, Fz

	// To the components of the way from the centre of mass to the centre of
	// pressure.
	LeverX, LeverY, LeverZ Planes

	// ForceSize is to the length of the force and, alike, to the moment arm: 1
	// in the frontal and the sagittal plane, and 1 less the part of the free
	// moment in the horizontal plane.
	ForceSize Planes
	Free      Planes // to the free moment
}

// Elasticities returns the elasticities of the moment of s about the centre of
// mass. They are NaN in a plane whose moment is 0 or NaN.
func Elasticities(s State) Elasticity {
	m, r, f := s.Moment(), s.lever(), s.Force
	// The six terms of r × F.
	yz, zy := r.Y*f.Z, -r.Z*f.Y // frontal
	zx, xz := r.Z*f.X, -r.X*f.Z // sagittal
	xy, yx := r.X*f.Y, -r.Y*f.X // horizontal
	return Elasticity{
		Forward:   Planes{0, zx, yx}.over(m),
		Lateral:   Planes{zy, 0, xy}.over(m),
		Vertical:  Planes{yz, xz, 0}.over(m),
		LeverX:    Planes{0, xz, xy}.over(m),
		LeverY:    Planes{yz, 0, yx}.over(m),
		LeverZ:    Planes{zy, zx, 0}.over(m),
		ForceSize: FromVec(r3.Cross(r, f)).over(m),
		Free:      Planes{Horizontal: s.Free}.over(m),
	}
}

// Sensitivity says by how much the moment in each plane changes per unit of a
// cause, all else being equal: the slope ∂M/∂x.
type Sensitivity struct {
	Forward, Lateral, Vertical Planes // per newton of Fx, Fy, Fz: N·m/N

	// Per metre that the centre of pressure moves along X, Y, Z: N·m/m. Moving
	// the centre of mass has the opposite effect.
	PressureX, PressureY, PressureZ Planes

	// Arm is per metre of moment arm, toward its own side: the force in the
	// plane, with the sign of the moment of the force.
	Arm Planes
}

// Sensitivities returns the slopes of the moment of s about the centre of mass,
// NaN where they depend on a NaN.
func Sensitivities(s State) Sensitivity {
	r, f := s.lever(), s.Force
	m := r3.Cross(r, f)
	return Sensitivity{
		Forward:   Planes{0, r.Z, -r.Y},
		Lateral:   Planes{-r.Z, 0, r.X},
		Vertical:  Planes{r.Y, -r.X, 0},
		PressureX: Planes{0, -f.Z, f.Y},
		PressureY: Planes{f.Z, 0, -f.X},
		PressureZ: Planes{-f.Y, f.X, 0},
		Arm: Planes{
			side(m.X) * math.Hypot(f.Y, f.Z),
			side(m.Y) * math.Hypot(f.X, f.Z),
			side(m.Z) * math.Hypot(f.X, f.Y),
		},
	}
}
