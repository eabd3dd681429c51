package torque

import (
	"gonum.org/v1/gonum/spatial/r3"

	"example.com/momentarm/grf"
)

// AboutSeries sets dst[i] to [About] of sample i and returns
// dst, grown if it was too short. Series of different lengths are a
// [*grf.LengthError]; then nothing is written.
func AboutSeries(dst []Planes, ws []grf.Wrench, com []r3.Vec) ([]Planes, error) {
	if err := same("centre of mass", len(ws), len(com)); err != nil {
		return nil, err
	}
	dst = grow(dst, len(ws))
	for i, w := range ws {
		dst[i] = About(w, com[i])
	}
	return dst, nil
}

// ArmSeries sets dst[i] to [Arms] of sample i and returns
// dst, grown if it was too short. Series of different lengths are a
// [*grf.LengthError]; then nothing is written.
func ArmSeries(dst []Arm, ws []grf.Wrench, com []r3.Vec, free []float64, minForce float64) ([]Arm, error) {
	if err := same("centre of mass", len(ws), len(com)); err != nil {
		return nil, err
	}
	if err := same("free moment", len(ws), len(free)); err != nil {
		return nil, err
	}
	dst = grow(dst, len(ws))
	for i, w := range ws {
		dst[i] = Arms(w, com[i], free[i], minForce)
	}
	return dst, nil
}

// InPlaneSeries sets dst[i] to [InPlane] of ms[i] and returns dst,
// grown if it was too short.
func InPlaneSeries(dst []float64, ms []Planes, inclination float64) []float64 {
	dst = grow(dst, len(ms))
	for i, m := range ms {
		dst[i] = InPlane(m, inclination)
	}
	return dst
}

// PartsSeries sets dst[i] to [Parts] of sample i and returns
// dst, grown if it was too short. Series of different lengths are a
// [*grf.LengthError]; then nothing is written.
func PartsSeries(dst []Split, lead, trail []grf.Wrench, com []r3.Vec, height, minVertical float64) ([]Split, error) {
	if err := feet(lead, trail, com); err != nil {
		return nil, err
	}
	dst = grow(dst, len(lead))
	for i := range lead {
		dst[i] = Parts(lead[i], trail[i], com[i], height, minVertical)
	}
	return dst, nil
}

// PivotSeries sets dst[i] to [Pivot] of sample i and returns
// dst, grown if it was too short. Series of different lengths are a
// [*grf.LengthError]; then nothing is written.
func PivotSeries(dst []GroundMoments, lead, trail []grf.Wrench, com []r3.Vec, height, minVertical float64) ([]GroundMoments, error) {
	if err := feet(lead, trail, com); err != nil {
		return nil, err
	}
	dst = grow(dst, len(lead))
	for i := range lead {
		dst[i] = Pivot(lead[i], trail[i], com[i], height, minVertical)
	}
	return dst, nil
}

// PowerSeries sets dst[i] to [Power] of the force of ws[i] and velocity[i] and returns
// dst, grown if it was too short. Series of different lengths are a
// [*grf.LengthError]; then nothing is written.
func PowerSeries(dst []float64, ws []grf.Wrench, velocity []r3.Vec) ([]float64, error) {
	if err := same("velocity", len(ws), len(velocity)); err != nil {
		return nil, err
	}
	dst = grow(dst, len(ws))
	for i, w := range ws {
		dst[i] = Power(w.Force, velocity[i])
	}
	return dst, nil
}

// AngularPowerSeries sets dst[i] to [AngularPower] of ms[i] and omega[i] and returns
// dst, grown if it was too short. Series of different lengths are a
// [*grf.LengthError]; then nothing is written.
func AngularPowerSeries(dst []float64, ms []Planes, omega []r3.Vec) ([]float64, error) {
	if err := same("angular velocity", len(ms), len(omega)); err != nil {
		return nil, err
	}
	dst = grow(dst, len(ms))
	for i, m := range ms {
		dst[i] = AngularPower(m, omega[i])
	}
	return dst, nil
}

// TiltSeries sets dst[i] to [TiltOf] the force of ws[i] and returns dst,
// grown if it was too short.
func TiltSeries(dst []Tilt, ws []grf.Wrench, minForce float64) []Tilt {
	dst = grow(dst, len(ws))
	for i, w := range ws {
		dst[i] = TiltOf(w.Force, minForce)
	}
	return dst
}

func feet(lead, trail []grf.Wrench, com []r3.Vec) error {
	if err := same("trail foot against lead foot", len(lead), len(trail)); err != nil {
		return err
	}
	return same("centre of mass", len(lead), len(com))
}

func same(what string, want, got int) error {
	if want != got {
		return &grf.LengthError{What: what, Want: want, Got: got}
	}
	return nil
}

// grow returns dst with length n, reusing its memory when there is enough.
func grow[T any](dst []T, n int) []T {
	if cap(dst) < n {
		return make([]T, n)
	}
	return dst[:n]
}
