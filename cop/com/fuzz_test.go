package com

import (
	"encoding/binary"
	"math"
	"testing"

	"example.com/momentarm/grf"
	"gonum.org/v1/gonum/spatial/r3"
)

// Whatever the numbers are, there is a path of the right length or an error,
// and never a panic.
func FuzzSmooth(f *testing.F) {
	m := demo()
	encode := func(v ...float64) []byte {
		var b []byte
		for _, x := range v {
			b = binary.LittleEndian.AppendUint64(b, math.Float64bits(x))
		}
		return b
	}
	var good []float64
	for i := range 60 {
		w := m.wrench(0.5 + float64(i)/30)
		good = append(good, w.Force.X, w.Force.Y, w.Force.Z, w.Moment.X, w.Moment.Y)
	}
	f.Add(30.0, 0.0, 78.0, encode(good...), encode(0, 0, 0, 1, 0.5, 0, 0, 1, 1, 0, 0, 1))
	f.Add(1e300, -1e300, 1e-300, encode(1, math.NaN(), math.Inf(1), 0, 0), encode(1e308, 1, 2, 3))
	f.Add(1e-300, 1.0, 1e300, encode(good[:100]...), encode(-1e308, 1, 2, 3, 1e308, 1, 2, 3))
	f.Fuzz(func(t *testing.T, rate, start, mass float64, force, positions []byte) {
		numbers := func(b []byte) []float64 {
			var v []float64
			for ; len(b) >= 8; b = b[8:] {
				v = append(v, math.Float64frombits(binary.LittleEndian.Uint64(b)))
			}
			return v
		}
		var net []grf.Wrench
		for v := numbers(force); len(v) >= 5; v = v[5:] {
			net = append(net, grf.Wrench{Force: r3.Vec{X: v[0], Y: v[1], Z: v[2]}, Moment: r3.Vec{X: v[3], Y: v[4]}})
		}
		var track grf.Track
		for v := numbers(positions); len(v) >= 4; v = v[4:] {
			track.Time, track.Position = append(track.Time, v[0]), append(track.Position, r3.Vec{X: v[1], Y: v[2], Z: v[3]})
		}
		src := Source{Track: track, SlowSD: 0.01, SeekDelay: 0.1}
		check := func(p *Path, err error) {
			t.Helper()
			if (p == nil) == (err == nil) || p != nil && (len(p.Position) != len(net) || len(p.Velocity) != len(net)) {
				t.Fatalf("%v, %v", p, err)
			}
		}
		check(FromForces(net, start, rate, ForceOptions{}))
		check(FromForces(net, start, rate, ForceOptions{Quiet: Window{start, start + mass}}))
		check(FromTrack(track, start, rate, len(net)))
		check(Smooth(net, start, rate, Options{Mass: mass}))
		check(Smooth(net, start, rate, Options{Mass: mass, Sources: []Source{src}}))
		src.SeekDelay = 0
		check(Smooth(net, start, rate, Options{Mass: mass, Sources: []Source{src}}))
		_, _ = FitMotion(net, start, rate, src, MotionOptions{Mass: mass, Seek: 0.1})
		_, _ = CorrelateTrack(net, start, rate, src, 0.1, 0)
		_, _ = CheckQuality(net, start, rate, Options{Mass: mass, Sources: []Source{src}}, track.Position)
		_, _ = FindTaps(numbers(force), start, rate, 1)
		_, _ = FitClock(track.Time, track.Time, 0)
		if tr, err := NewTracker(TrackerOptions{Rate: rate, Start: start, Mass: mass}); err == nil {
			for _, w := range net {
				e := tr.Push(w)
				_ = tr.Correct(Fix{Time: e.Time, Position: w.Moment, PositionSD: r3.Vec{X: 1}})
			}
			tr.Lagged()
		}
	})
}
