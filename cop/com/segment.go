package com

import (
	"fmt"
	"math"
	"slices"

	"example.com/momentarm/grf"
	"gonum.org/v1/gonum/spatial/r3"
)

// Landmark is a place on the body: the mean of the points with these labels,
// for instance two markers on either side of a joint.
type Landmark []string

// Segment is a rigid part of the body between two landmarks.
type Segment struct {
	Name             string
	Proximal, Distal Landmark
	// Mass is the segment's part of the body mass, and Centre the place of its
	// centre of mass as a part of the way from Proximal to Distal.
	Mass, Centre float64
	// Extra marks what is carried and is no part of the body, such as a club:
	// its Mass, too, is counted in body masses, but on top of 1.
	Extra bool
}

// Club returns a club as an extra segment: its mass and that of the golfer
// without it, kg, and its balance point as a part of the way from grip to head.
func Club(mass, golfer, balance float64, grip, head Landmark) Segment {
	return Segment{Name: "club", Proximal: grip, Distal: head, Mass: mass / golfer, Centre: balance, Extra: true}
}

// Model is a body put together from segments. The centre of mass of the body
// is the mean of those of its segments, weighted by their masses; when these do
// not add up to a whole body, the rest is taken to be where they are.
type Model struct {
	Name     string
	Segments []Segment
}

// PelvisProxy returns a stand-in for a model: the mean of markers around the
// pelvis. It is not the centre of mass. It does not follow the trunk's lean or
// the arms and misses the centre of mass of a bent golfer by some centimetres,
// most of which stays the same for long: give its [Source] a SlowSD of 0.03 m
// or more (common practice, no published source).
func PelvisProxy(pelvis Landmark) Model {
	return Model{Name: "pelvis markers as a proxy", Segments: []Segment{{Name: "pelvis proxy", Proximal: pelvis, Distal: pelvis, Mass: 1}}}
}

// Fraction returns how much of the body's mass the segments stand for.
func (m Model) Fraction() float64 {
	var f float64
	for _, s := range m.Segments {
		if !s.Extra {
			f += s.Mass
		}
	}
	return f
}

// Labels returns the labels of all points that the model needs, once each, in
// alphabetical order.
func (m Model) Labels() []string {
	var all []string
	for _, s := range m.Segments {
		all = append(append(all, s.Proximal...), s.Distal...)
	}
	slices.Sort(all)
	return slices.Compact(all)
}

// Body is a model tied to a set of points. It is not changed after it was made
// and may be shared by goroutines.
type Body struct {
	segments []bound
	mass     float64
}

type bound struct {
	proximal, distal []int
	mass, centre     float64
}

// Bind ties a model to points that come in the order of labels. The error
// wraps [ErrSegment] when the model has no segments, a mass or centre that is
// not a number, or a label that is not there.
func (m Model) Bind(labels []string) (*Body, error) {
	if len(m.Segments) == 0 {
		return nil, fmt.Errorf("%w: the model has no segments", ErrSegment)
	}
	b := &Body{}
	for _, s := range m.Segments {
		if !(s.Mass > 0) || math.IsInf(s.Mass, 0) || math.IsNaN(s.Centre) || math.IsInf(s.Centre, 0) {
			return nil, fmt.Errorf("%w: %s has mass %g and centre %g", ErrSegment, s.Name, s.Mass, s.Centre)
		}
		t := bound{mass: s.Mass, centre: s.Centre}
		for _, end := range []struct {
			of Landmark
			to *[]int
		}{{s.Proximal, &t.proximal}, {s.Distal, &t.distal}} {
			if len(end.of) == 0 {
				return nil, fmt.Errorf("%w: %s has an end without points", ErrSegment, s.Name)
			}
			for _, label := range end.of {
				i := slices.Index(labels, label)
				if i < 0 {
					return nil, fmt.Errorf("%w: %s needs point %q, which is not among the %d points", ErrSegment, s.Name, label, len(labels))
				}
				*end.to = append(*end.to, i)
			}
		}
		b.segments = append(b.segments, t)
		b.mass += s.Mass
	}
	return b, nil
}

// At returns the centre of mass for one frame of the points that the body was
// bound to; NaN when one of those it needs is NaN. It allocates nothing, and
// panics when there are fewer points than labels.
func (b *Body) At(points []r3.Vec) r3.Vec {
	var sum r3.Vec
	for i := range b.segments {
		sum = r3.Add(sum, r3.Scale(b.segments[i].mass, b.segments[i].at(points)))
	}
	return r3.Scale(1/b.mass, sum)
}

// at returns the centre of mass of a segment.
func (s *bound) at(points []r3.Vec) r3.Vec {
	p, d := middle(points, s.proximal), middle(points, s.distal)
	return r3.Add(p, r3.Scale(s.centre, r3.Sub(d, p)))
}

func middle(points []r3.Vec, of []int) r3.Vec {
	var sum r3.Vec
	for _, i := range of {
		sum = r3.Add(sum, points[i])
	}
	return r3.Scale(1/float64(len(of)), sum)
}

// Track returns the path of the centre of mass of moving points: series[i][j]
// is the point labels[i] at times[j], m, NaN where it was not seen. A frame in
// which a needed point is missing is NaN as a whole, because leaving a segment
// out would make the centre of mass jump; [Smooth] closes such gaps. sd is the
// standard deviation of the result to be noted with it, m; 0 if unknown.
//
// The error wraps [ErrSegment] or [grf.ErrLength].
func (m Model) Track(labels []string, times []float64, series [][]r3.Vec, sd r3.Vec) (grf.Track, []grf.Warning, error) {
	if len(series) != len(labels) {
		return grf.Track{}, nil, &grf.LengthError{What: "series of points against labels", Want: len(labels), Got: len(series)}
	}
	for i, s := range series {
		if len(s) != len(times) {
			return grf.Track{}, nil, &grf.LengthError{What: "point " + labels[i], Want: len(times), Got: len(s)}
		}
	}
	b, err := m.Bind(labels)
	if err != nil {
		return grf.Track{}, nil, err
	}
	track := grf.Track{Time: slices.Clone(times), Position: make([]r3.Vec, len(times)), SD: sd}
	frame := make([]r3.Vec, len(labels))
	lost := 0
	for j := range times {
		for i := range series {
			frame[i] = series[i][j]
		}
		p := b.At(frame)
		if !finite(p) {
			p = nan3()
			lost++
		}
		track.Position[j] = p
	}
	var warnings []grf.Warning
	if lost > 0 {
		worst, most := "", 0
		for i, label := range labels {
			n := 0
			for _, p := range series[i] {
				if !finite(p) {
					n++
				}
			}
			if n > most && slices.Contains(m.Labels(), label) {
				worst, most = label, n
			}
		}
		warnings = append(warnings, grf.Warning{Code: "points-lost", Where: "segment model",
			Text: fmt.Sprintf("%d of %d frames lack a point that the centre of mass needs; %q is missing most often, in %d", lost, len(times), worst, most)})
	}
	return track, warnings, nil
}
