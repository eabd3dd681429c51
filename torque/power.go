package torque

import (
	"gonum.org/v1/gonum/spatial/r3"
)

// Power returns the power of a force at a point that moves with velocity m/s:
// F·v, in W. With the ground force and the velocity of the centre of mass it is
// the rate at which that force changes the kinetic energy of the centre of mass.
// It is not metabolic power, nor what the ground delivers: a foot that does not
// slip takes no work from the ground. NaN when a component is NaN.
func Power(force, velocity r3.Vec) float64 { return r3.Dot(force, velocity) }

// AngularPower returns the power of a moment on a body that turns with omega
// rad/s in swing axes: M·ω, in W. A golfer is no rigid body: it is the power of
// the turning that omega stands for. NaN when a component is NaN, as for an
// omega that is not known.
func AngularPower(m Planes, omega r3.Vec) float64 { return r3.Dot(m.Vec(), omega) }
