package com

import (
	"math"
)

// SteadyGains returns the gains that a tracker settles at when positions with
// standard deviation positionSD, m, come with every force sample, whose
// standard deviation is forceSD, N, at rate Hz, and neither bias nor mass error
// is sought:
//
//	r  = positionSD rate² mass/forceSD
//	l₂ = (1 + 4r − √(1 + 8r))/(4r²)
//	l₁ = 1 − r² l₂²
//
// A position z that differs by e from the one predicted corrects position by
// l₁ e and velocity by l₂ rate e. It is NaN unless all inputs are positive.
//
// Source: Le Mouel, Peer Community J. 5:e10 (2025). The explanation that comes
// with its program prints l₁ = 1 − r² l₂, without the square; the program and
// the alpha–beta filter (Kalata, IEEE Trans. Aerosp. Electron. Syst.
// 20:174–182, 1984, from memory) have the square, and so has the filter that
// is really settled (see the tests).
func SteadyGains(forceSD, positionSD, mass, rate float64) (l1, l2 float64) {
	if !(forceSD > 0 && positionSD > 0 && mass > 0 && rate > 0) {
		return math.NaN(), math.NaN()
	}
	r := positionSD * rate * rate * mass / forceSD
	// The same as above, without the difference of nearly equal numbers that
	// it has for small r: with u = √(1 + 8r), r = (u² − 1)/8.
	u := math.Sqrt(1 + 8*r)
	l2 = 8 / ((u + 1) * (u + 1))
	return 1 - float64(r*l2)*float64(r*l2), l2
}
