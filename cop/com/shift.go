package com

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r3"
)

// shiftSD returns how sure the way from one sample to every other is, per axis.
// Positions next to each other are wrong by nearly the same, so that this is less
// than both standard deviations together. With C the gain of the smoother from one
// node to the next and P the smoothed covariance,
//
//	cov(x_i, x_j) = C_i C_(i+1) … C_(j−1) P_j   for i < j
//
// (de Jong and Mackinnon, Biometrika 75:601–602, 1988, from memory), of which the
// positions' part is wanted.
func (s *smoother) shiftSD(from int) []r3.Vec {
	n := len(s.chain)
	gains := make([]gain, n)           // from each node to the next
	column := make([][3][4]float64, n) // of P, by the position
	ax := s.chain[n-1].ax
	for i := n - 1; ; i-- {
		for k := range ax {
			column[i][k] = ax[k].p.full()[0]
		}
		if i == 0 {
			break
		}
		ax, gains[i-1] = s.d.back(&s.chain[i-1], &s.chain[i], &ax)
	}
	at := slices.IndexFunc(s.chain, func(n node) bool { return n.sample == from })
	sd := make([]r3.Vec, len(s.force))
	for i := range sd {
		sd[i] = nan3()
	}
	put := func(i, k int, cov float64) {
		if j := s.chain[i].sample; j >= 0 {
			*component(&sd[j], k) = math.Sqrt(max(column[i][k][0]+column[at][k][0]-2*cov, 0))
		}
	}
	for k := range 3 {
		row := [4]float64{1} // C … C, of the position
		for i := at; i < n; i++ {
			if i > at {
				row = gains[i-1][k].before(row)
			}
			put(i, k, dot(row, column[i][k]))
		}
		col := column[at][k] // C … C P
		for i := at - 1; i >= 0; i-- {
			col = gains[i][k].times(col)
			put(i, k, col[0])
		}
	}
	return sd
}

// gain is that of the smoother along three axes.
type gain [3]gain1

// gain1 is Cᵀ of one axis, as axis.smooth finds it.
type gain1 [4][4]float64

// times returns C v.
func (c *gain1) times(v [4]float64) (w [4]float64) {
	for i := range 4 {
		for j := range 4 {
			w[i] += c[j][i] * v[j]
		}
	}
	return w
}

// before returns v C.
func (c *gain1) before(v [4]float64) (w [4]float64) {
	for j := range 4 {
		w[j] = dot(v, c[j])
	}
	return w
}

func dot(a, b [4]float64) float64 {
	return a[0]*b[0] + a[1]*b[1] + a[2]*b[2] + a[3]*b[3]
}
