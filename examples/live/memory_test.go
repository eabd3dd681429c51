package main

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"example.com/momentarm/grf"
	"example.com/momentarm/phase"
	"example.com/momentarm/phase/live"
)

// numbered is a frame whose forces are its number.
func numbered(i int, motion phase.State, lost int) *live.Frame {
	w := grf.Wrench{Force: r3.Vec{Z: float64(i)}}
	return &live.Frame{Time: float64(i) / 100, Motion: motion, Lost: uint64(lost), MeasuredLead: w, MeasuredTrail: w.Scale(2)}
}

// What comes out of the memory is what went in, in order and at its time, with NaN
// for what was lost.
func TestMemory(t *testing.T) {
	m := newMemory(live.Config{Rate: 100, Inputs: make([]live.Input, 2)})
	i := 0
	push := func(n int, motion phase.State, events ...phase.Event) (got captured, ok bool) {
		for range n {
			f := numbered(i, motion, 0)
			f.Events, events = events, nil
			if c, done := m.push(f, 1.7); done {
				got, ok = c, true
			}
			i++
		}
		return got, ok
	}
	push(3000, phase.Ready) // more than fits
	push(150, phase.Moving)
	address := float64(i-160) / 100
	push(100, phase.Swinging, phase.Event{Name: phase.Address, Time: address})
	f := numbered(i+5, phase.Swinging, 5) // five are lost
	if _, ok := m.push(f, 1.7); ok {
		t.Fatal("a swing before it is over")
	}
	i += 6
	c, ok := push(1, phase.Waiting)
	if !ok || c.number != 1 || c.rec.Stature != 1.7 || c.rec.Rate != 100 {
		t.Fatalf("%v, %+v", ok, c)
	}
	if err := c.rec.Check(); err != nil {
		t.Fatal(err)
	}
	if d := c.rec.Start - (address - beforeAddress); math.Abs(d) > 0.02 {
		t.Errorf("begins %g s late", d)
	}
	if end := c.rec.End(); math.Abs(end-float64(i-1)/100) > 1e-9 {
		t.Errorf("ends at %g s, the last sample was at %g s", end, float64(i-1)/100)
	}
	lost := 0
	for k := range c.rec.Len() {
		z := c.rec.Lead[k].Force.Z
		if math.IsNaN(z) {
			lost++
			continue
		}
		if at := c.rec.Time(k); math.Abs(z-100*at) > 1e-6 || c.rec.Trail[k].Force.Z != 2*z {
			t.Fatalf("sample %g at %g s", z, at)
		}
	}
	if lost != 5 {
		t.Errorf("%d samples are NaN, want 5", lost)
	}
	// A swing whose address is not known, and one that a long gap cut off.
	push(10, phase.Swinging)
	if _, ok := push(1, phase.Waiting); ok {
		t.Error("a swing without an address")
	}
	push(10, phase.Swinging, phase.Event{Name: phase.Address, Time: float64(i-50) / 100})
	if _, ok := m.push(numbered(i+5000, phase.Waiting, 5000), 0); ok {
		t.Error("a swing across a long gap")
	}
	if m.held != 1 {
		t.Errorf("%d samples are kept across a long gap", m.held)
	}
}
