package com

import (
	"fmt"
	"math"
	"slices"

	"example.com/momentarm/grf"
	"gonum.org/v1/gonum/spatial/r3"
)

// Source is another instrument's idea of where the centre of mass is: markers,
// video, a segment model.
type Source struct {
	Name  string // for messages
	Track grf.Track

	// SD is the standard deviation of one position along each axis, m: the part
	// of the error that changes from frame to frame. Zero means Track.SD, and
	// when that is zero too, 10 mm (common practice, no published source).
	SD r3.Vec

	// SlowSD is the standard deviation, m, of an error that lasts: a joint
	// centre in the wrong place, a segment table that does not fit the golfer.
	// It is forgotten over SlowTime, s (default 0.5 s). 0 means none. Positions
	// that are wrong in the same way for many frames are worth only few
	// positions: each counts with the variance SD² + SlowSD² (1+φ)/(1−φ),
	// φ = exp(−frame time/SlowTime), which gives a slow signal the weight that
	// such errors leave it (the spectral density at frequency 0 of a
	// first-order Gauss–Markov process).
	SlowSD, SlowTime float64

	// Clock turns the track's times into those of the forces. The zero Clock
	// leaves them as they are.
	Clock Clock
	// SeekDelay, when not 0, says that the delay is only known to lie within
	// this of Clock.Delay, s, and is to be found by [FitMotion].
	SeekDelay float64
}

// usualSD stands in for the error of a source that states none, m. Common practice
// (no published source).
const usualSD = 0.01

// name returns the source's name or its number.
func (s *Source) name(i int) string {
	if s.Name != "" {
		return s.Name
	}
	return fmt.Sprintf("source %d", i+1)
}

// check returns the known positions with their times, and the standard
// deviation that one position counts with.
func (s *Source) check() (times []float64, at []r3.Vec, sd r3.Vec, err error) {
	if err := positive(option{"SD", s.SD.X}, option{"SD", s.SD.Y}, option{"SD", s.SD.Z},
		option{"slow SD", s.SlowSD}, option{"slow time", s.SlowTime}, option{"delay to seek", s.SeekDelay}); err != nil {
		return nil, nil, sd, err
	}
	if err := s.Clock.check(); err != nil {
		return nil, nil, sd, err
	}
	times, at, err = known(s.Track)
	if err != nil {
		return nil, nil, sd, err
	}
	sd = s.SD
	if sd == (r3.Vec{}) {
		sd = s.Track.SD
	}
	if sd == (r3.Vec{}) {
		sd = r3.Vec{X: usualSD, Y: usualSD, Z: usualSD}
	}
	if s.SlowSD > 0 && len(times) > 1 {
		phi := math.Exp(-medianStep(times) / orDefault(s.SlowTime, 0.5))
		slow := s.SlowSD * s.SlowSD * (1 + phi) / (1 - phi)
		for k := range 3 {
			if c := component(&sd, k); *c > 0 {
				*c = math.Sqrt(*c**c + slow)
			}
		}
	}
	return times, at, sd, nil
}

// medianStep returns the median distance of two or more instants.
func medianStep(times []float64) float64 {
	steps := make([]float64, len(times)-1)
	for i := range steps {
		steps[i] = times[i+1] - times[i]
	}
	slices.Sort(steps)
	return steps[len(steps)/2]
}
