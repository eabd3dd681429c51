package grf

import (
	"fmt"
	"maps"
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r3"
)

// MaxRate is the highest sampling rate of a recording, Hz. Windows are counted in
// samples, and no force plate comes near it.
const MaxRate = 1e7

// Recording is what two plates measured during one stretch of time, as ground
// reaction wrenches in swing axes. Sample i was taken at Start + i/Rate.
//
// Either Lead and Trail are set, one series for each foot and of one length,
// or Net alone, when one plate carried both feet. A sample that was lost is
// NaN; so are Force.X, Force.Y and Moment.Z of every sample of an instrument that
// measures no horizontal force (see [Recording.VerticalOnly]). A Recording is not changed by anything in this module; it may be shared
// by goroutines that only read it.
type Recording struct {
	Start, Rate float64 // s, Hz

	Lead, Trail []Wrench // N, N·m about the origin of the swing axes
	Net         []Wrench // only when the feet were not measured apart

	// Mass of the golfer and everything they carry, kg, and Stature, m, as
	// stated by somebody; 0 when unknown.
	Mass, Stature float64

	// Handed says for which golfer the axes were mirrored. The signs of the
	// data do not depend on it.
	Handed Handedness

	// Marks are instants that somebody or something other than the forces
	// knows, in seconds on the recording's clock, by event name.
	Marks map[string]float64
}

// Track is the path of a point in swing axes: metres against seconds on the
// recording's clock, at any rate, with NaN where the source lost it.
type Track struct {
	Time     []float64
	Position []r3.Vec
	// SD is the standard deviation of one position, per axis, m; 0 when the
	// source does not state it.
	SD r3.Vec
}

// Len returns the number of samples.
func (r *Recording) Len() int {
	if r.Net != nil {
		return len(r.Net)
	}
	return len(r.Lead)
}

// Split reports whether the feet were measured apart.
func (r *Recording) Split() bool { return r.Net == nil }

// Time returns the instant of sample i, s.
func (r *Recording) Time(i int) float64 { return r.Start + float64(i)/r.Rate }

// Index returns the sample nearest to t, held inside the recording.
func (r *Recording) Index(t float64) int {
	i := int(math.Round((t - r.Start) * r.Rate))
	return max(0, min(i, r.Len()-1))
}

// End returns the instant of the last sample, s.
func (r *Recording) End() float64 { return r.Time(r.Len() - 1) }

// NetWrenches sets dst to the resultant of both feet and returns it, grown if
// it was too short.
func (r *Recording) NetWrenches(dst []Wrench) ([]Wrench, error) {
	if !r.Split() {
		dst = grow(dst, len(r.Net))
		copy(dst, r.Net)
		return dst, nil
	}
	return AddSeries(dst, r.Lead, r.Trail)
}

// Check returns an error when the recording can not be worked on: no samples,
// no rate or one above [MaxRate] ([ErrRate]), feet of different lengths
// ([*LengthError]), a mark outside of it ([ErrWindow]), and, as [ErrRecording],
// both a net and a split measurement, a mass or stature that is not a positive
// number, and a start so far from zero that neighbouring samples fall together.
func (r *Recording) Check() error {
	if !(r.Rate > 0) || math.IsInf(r.Rate, 0) {
		return fmt.Errorf("%w: %g Hz", ErrRate, r.Rate)
	}
	if r.Rate > MaxRate {
		return fmt.Errorf("%w: %g Hz, more than %g Hz", ErrRate, r.Rate, MaxRate)
	}
	if r.Net != nil && (r.Lead != nil || r.Trail != nil) {
		return fmt.Errorf("%w: it has either Net or Lead and Trail, not both", ErrRecording)
	}
	// Times are good to 1 in 10¹⁶, and a few hundredths of a sample have to be told
	// apart.
	if end := math.Abs(r.Start) + float64(r.Len())/r.Rate; !(end*r.Rate < 1e14) {
		return fmt.Errorf("%w: it starts at %g s and has %d samples at %g Hz, whose times can not be told apart", ErrRecording, r.Start, r.Len(), r.Rate)
	}
	if r.Split() && len(r.Lead) != len(r.Trail) {
		return &LengthError{What: "trail foot against lead foot", Want: len(r.Lead), Got: len(r.Trail)}
	}
	if r.Len() == 0 {
		return ErrNoData
	}
	for _, stated := range []struct {
		name  string
		value float64
	}{{"mass", r.Mass}, {"stature", r.Stature}} {
		if v := stated.value; v < 0 || math.IsNaN(v) || math.IsInf(v, 0) {
			return fmt.Errorf("%w: %s %g is not a positive number (0 means unknown)", ErrRecording, stated.name, v)
		}
	}
	for _, name := range slices.Sorted(maps.Keys(r.Marks)) { // the same error every time
		t := r.Marks[name]
		if half := 0.5 / r.Rate; !(t >= r.Start-half && t <= r.End()+half) {
			return fmt.Errorf("%w: mark %q at %g s, the recording runs from %g to %g s", ErrWindow, name, t, r.Start, r.End())
		}
	}
	return nil
}
