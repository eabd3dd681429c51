package com

import "gonum.org/v1/gonum/spatial/r3"

// integrate sets position and velocity to the twofold integral of an
// acceleration that runs in straight lines between its samples, from rest at
// zero at the first sample. Within one step h
//
//	v₁ = v₀ + h (a₀ + a₁)/2
//	p₁ = p₀ + h v₀ + h² (2a₀ + a₁)/6
//
// which is exact for such an acceleration; holding each sample for a whole
// step instead would shift the acceleration by half a step.
func integrate(position, velocity, acceleration []r3.Vec, rate float64) {
	h := 1 / rate
	position[0], velocity[0] = r3.Vec{}, r3.Vec{}
	for i := 1; i < len(acceleration); i++ {
		a0, a1 := acceleration[i-1], acceleration[i]
		v0 := velocity[i-1]
		velocity[i] = r3.Add(v0, r3.Scale(h/2, r3.Add(a0, a1)))
		position[i] = r3.Add(position[i-1], r3.Add(r3.Scale(h, v0),
			r3.Scale(h*h/6, r3.Add(r3.Scale(2, a0), a1))))
	}
}

// anchor shifts a path so that its mean velocity over samples lo..hi is zero
// and its mean position there is at.
func anchor(position, velocity []r3.Vec, lo, hi int, rate float64, at r3.Vec) {
	v := meanForce(velocity[lo:hi])
	for i := range position {
		velocity[i] = r3.Sub(velocity[i], v)
		position[i] = r3.Sub(position[i], r3.Scale(float64(i)/rate, v))
	}
	d := r3.Sub(at, meanForce(position[lo:hi]))
	for i := range position {
		position[i] = r3.Add(position[i], d)
	}
}

// bridge fills runs of undefined vectors that are no longer than limit samples
// with the straight line between their neighbours, and returns how many
// samples it filled.
func bridge(v []r3.Vec, limit int) (filled int) {
	for i := 0; i < len(v); i++ {
		if finite(v[i]) {
			continue
		}
		j := i
		for j < len(v) && !finite(v[j]) {
			j++
		}
		if i > 0 && j < len(v) && j-i <= limit {
			a, b := v[i-1], v[j]
			for k := i; k < j; k++ {
				u := float64(k-i+1) / float64(j-i+1)
				v[k] = r3.Add(a, r3.Scale(u, r3.Sub(b, a)))
			}
			filled += j - i
		}
		i = j
	}
	return filled
}

// around returns the longest run of defined vectors that contains lo..hi.
func around(v []r3.Vec, lo, hi int) (int, int) {
	for lo > 0 && finite(v[lo-1]) {
		lo--
	}
	for hi < len(v) && finite(v[hi]) {
		hi++
	}
	return lo, hi
}
