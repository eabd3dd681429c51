package swing

import (
	"math"

	"example.com/momentarm/phase"
)

// measureMass: where the centre of mass goes.
func (a *Analysis) measureMass() {
	address := a.At(a.Quiet.To)
	shift := quantity{
		func(i Instant) float64 { return i.COM.Y - address.COM.Y },
		func(i Instant) float64 { return i.COMShiftSD.Y },
	}
	stance := a.stanceWidth()
	for _, f := range phase.Names() {
		if _, ok := a.Events.Get(f); !ok || f == phase.Address {
			continue
		}
		a.putAt("com_shift_at_"+string(f), "centre of mass toward the target since address, at "+Words(f), f, "m", shift)
		if !math.IsNaN(stance) {
			a.putAt("com_shift_at_"+string(f)+"_stance", "centre of mass toward the target since address, of the stance width, at "+Words(f), f, "%", shift.times(100/stance))
		}
	}
	a.putAt("com_speed_at_impact", "speed of the centre of mass toward the target at impact", phase.Impact, "m/s", quantity{
		func(i Instant) float64 { return i.COMVelocity.Y }, func(i Instant) float64 { return i.COMVelocitySD.Y }})
}

// stanceWidth is the distance of the feet's centres of pressure along the target
// line at address, m; NaN when the feet were not measured apart.
func (a *Analysis) stanceWidth() float64 {
	i := a.At(a.Quiet.To)
	return i.LeadCOP.Y - i.TrailCOP.Y
}
