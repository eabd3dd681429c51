// Package propagate carries uncertainty through a formula to first order: given
// the covariance of the inputs and the derivatives of the result, it returns
// the covariance of the result:
//
//	inputs x ± C  ----  y = f(x)  ---->  results y ± J C Jᵀ
//	                    J = ∂y/∂x
//
// It is for whoever has a formula and needs to say how sure its result is; the
// packages of this module use it for centres of pressure, arms and torques. The
// formula brings its Jacobian, worked out by hand. The package knows nothing of
// forces, axes or units: a covariance is in the units of its inputs, squared.
//
// # First order
//
// First order means that the formula is taken as straight over the width of the
// uncertainty. For a ratio such as a centre of pressure that holds while the
// denominator is many standard deviations from zero. Nothing here can tell: the
// caller checks against a Monte Carlo run once.
//
// A NaN among the inputs makes the results that depend on it NaN, so that an
// unknown uncertainty does not turn into none.
//
// # In use
//
// The standard deviation of a centre of pressure y = Mx/Fz, from those of Mx
// (2 N·m) and Fz (3 N):
//
//	c := propagate.Independent(2, 3)
//	sd, err := propagate.SD([]float64{1 / fz, -mx / (fz * fz)}, c) // m
//
// # Sources
//
// The law of propagation of the Guide to the expression of uncertainty in
// measurement (GUM, JCGM 100:2008): clause 5 for correlated inputs, clause 4.3
// for inputs known by their limits only, annex G for the degrees of freedom.
package propagate
