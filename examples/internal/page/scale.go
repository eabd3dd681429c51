package page

import (
	"math"
	"sort"
)

// scale maps values to places along a line of a drawing.
type scale struct{ v0, v1, p0, p1 float64 }

func (s scale) at(v float64) float64 {
	return s.p0 + (v-s.v0)/(s.v1-s.v0)*(s.p1-s.p0)
}

// ticks returns round values within the scale, about n of them.
func (s scale) ticks(n int) []float64 {
	lo, hi := math.Min(s.v0, s.v1), math.Max(s.v0, s.v1)
	step := round125((hi - lo) / float64(max(n, 1)))
	if !(step > 0) {
		return nil
	}
	var out []float64
	for k := math.Ceil(lo/step - 1e-9); k*step <= hi+1e-9*step; k++ {
		out = append(out, k*step+0)
	}
	return out
}

// round125 returns the next 1, 2 or 5 times a power of ten that is not below v.
func round125(v float64) float64 {
	if !(v > 0) || math.IsInf(v, 0) {
		return 0
	}
	p := math.Pow(10, math.Floor(math.Log10(v)))
	for _, m := range []float64{1, 2, 5} {
		if m*p >= v*(1-1e-9) {
			return m * p
		}
	}
	return 10 * p
}

// decimals that values at this distance need.
func decimals(step float64) int {
	if !(step > 0) {
		return 0
	}
	return max(0, int(math.Ceil(-math.Log10(step)-1e-9)))
}

// apart moves places that are closer than gap away from each other, as little as
// possible in the sense of least squares, and keeps all within lo…hi if they fit.
// xs must rise.
func apart(xs []float64, gap, lo, hi float64) []float64 {
	// Subtracting i·gap turns "at least gap apart" into "not falling", which is
	// solved by pooling neighbours that fall (Barlow et al. 1972).
	type pool struct {
		sum float64
		n   int
	}
	var pools []pool
	for i, x := range xs {
		pools = append(pools, pool{x - float64(i)*gap, 1})
		for k := len(pools) - 1; k > 0; k = len(pools) - 1 {
			a, b := pools[k-1], pools[k]
			if a.sum/float64(a.n) <= b.sum/float64(b.n) {
				break
			}
			pools = append(pools[:k-1], pool{a.sum + b.sum, a.n + b.n})
		}
	}
	out := make([]float64, 0, len(xs))
	top := hi - float64(len(xs)-1)*gap
	for _, p := range pools {
		mean := math.Max(lo, math.Min(top, p.sum/float64(p.n)))
		for range p.n {
			out = append(out, mean+float64(len(out))*gap)
		}
	}
	return out
}

// extent is the least and the greatest of some values.
type extent struct{ lo, hi float64 }

func emptyExtent() extent { return extent{math.Inf(1), math.Inf(-1)} }

func (e *extent) add(vs ...float64) {
	for _, v := range vs {
		if !math.IsNaN(v) && !math.IsInf(v, 0) {
			e.lo, e.hi = math.Min(e.lo, v), math.Max(e.hi, v)
		}
	}
}

func (e extent) empty() bool { return e.lo > e.hi }

// quantiles returns the extent without a part p of the values at either end, so
// that a few wild quotients do not flatten everything else.
func quantiles(vs []float64, p float64) extent {
	var x []float64
	for _, v := range vs {
		if !math.IsNaN(v) && !math.IsInf(v, 0) {
			x = append(x, v)
		}
	}
	if len(x) == 0 {
		return emptyExtent()
	}
	sort.Float64s(x)
	k := int(p * float64(len(x)-1))
	return extent{x[k], x[len(x)-1-k]}
}
