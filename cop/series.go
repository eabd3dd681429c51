package cop

import (
	"gonum.org/v1/gonum/spatial/r3"

	"example.com/momentarm/grf"
)

// Series sets p[i] and free[i] to [Of] ws[i] and returns both, each grown if it
// was too short.
func Series(p []r3.Vec, free []float64, ws []grf.Wrench, height, minVertical float64) ([]r3.Vec, []float64) {
	p, free = grow(p, len(ws)), grow(free, len(ws))
	for i := range ws {
		OfTo(&p[i], &free[i], &ws[i], height, minVertical)
	}
	return p, free
}

// PlaneSeries sets p[i] and free[i] to [OnPlane] of ws[i] and returns both, each
// grown if it was too short.
func PlaneSeries(p []r3.Vec, free []float64, ws []grf.Wrench, through, normal r3.Vec, minNormal float64) ([]r3.Vec, []float64) {
	p, free = grow(p, len(ws)), grow(free, len(ws))
	for i, w := range ws {
		p[i], free[i] = OnPlane(w, through, normal, minNormal)
	}
	return p, free
}

// NetSeries sets p[i] and free[i] to [Net] of sample i of both feet and returns
// both, each grown if it was too short. Feet of different lengths are a
// [*grf.LengthError]; then nothing is written.
func NetSeries(p []r3.Vec, free []float64, lead, trail []grf.Wrench, height, minVertical float64) ([]r3.Vec, []float64, error) {
	if err := sameLength(lead, trail); err != nil {
		return nil, nil, err
	}
	p, free = grow(p, len(lead)), grow(free, len(lead))
	for i := range lead {
		w := lead[i].Add(trail[i])
		OfTo(&p[i], &free[i], &w, height, minVertical)
	}
	return p, free, nil
}

// AxisSeries sets p[i] and couple[i] to [WrenchAxisPoint] of ws[i] and returns
// both, each grown if it was too short.
func AxisSeries(p, couple []r3.Vec, ws []grf.Wrench, height, minVertical float64) ([]r3.Vec, []r3.Vec) {
	p, couple = grow(p, len(ws)), grow(couple, len(ws))
	for i, w := range ws {
		p[i], couple[i] = WrenchAxisPoint(w, height, minVertical)
	}
	return p, couple
}

// ShareSeries sets dst[i] to the lead part of the vertical load of sample i, as
// [Share] does with minVertical as the threshold of the total, and returns dst,
// grown if it was too short. Feet of different lengths are a
// [*grf.LengthError]; then nothing is written.
func ShareSeries(dst []float64, lead, trail []grf.Wrench, minVertical float64) ([]float64, error) {
	if err := sameLength(lead, trail); err != nil {
		return nil, err
	}
	dst = grow(dst, len(lead))
	for i := range lead {
		dst[i] = ShareOf(lead[i].Force.Z, trail[i].Force.Z, minVertical)
	}
	return dst, nil
}

func sameLength(lead, trail []grf.Wrench) error {
	if len(lead) != len(trail) {
		return &grf.LengthError{What: "trail foot against lead foot", Want: len(lead), Got: len(trail)}
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
