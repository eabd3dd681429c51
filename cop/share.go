package cop

import (
	"math"

	"example.com/momentarm/grf"
)

// Share returns the lead foot's part of the vertical load, 0 when all of it is
// on the trail foot and 1 when all of it is on the lead foot:
// Fz,lead / (Fz,lead + Fz,trail). It is NaN when the total is under
// [DefaultMinVertical] (see [ShareSeries] for another threshold) or a vertical
// force is NaN. The noise of an unloaded plate can carry it a little outside
// 0…1; it is not clipped.
//
// Tables of load share and of centre of pressure in per cent of the stance
// differ in which foot is 0 %. Here the trail foot is.
func Share(lead, trail grf.Wrench) float64 {
	return ShareOf(lead.Force.Z, trail.Force.Z, DefaultMinVertical)
}

// ShareOf is [Share] of two vertical forces, N, with a threshold of its own.
func ShareOf(lead, trail, minVertical float64) float64 {
	total := lead + trail
	if !loaded(total, minVertical) {
		return math.NaN()
	}
	return lead / total
}
