package c3d

import (
	"fmt"
	"math"
	"slices"
	"strings"
)

// AnalogRate returns the number of samples of a channel per second, 0 when the
// frame rate is unknown or there are no channels.
func (f *File) AnalogRate() float64 {
	if f.CheckRate() != nil || len(f.Channels) == 0 {
		return 0
	}
	return f.Rate * float64(f.SamplesPerFrame)
}

// CheckRate returns an error that wraps [ErrRate] when the file states no frame
// rate that is positive and finite.
func (f *File) CheckRate() error {
	if f.Rate > 0 && !math.IsInf(f.Rate, 0) {
		return nil
	}
	return &FormatError{Place: "POINT:RATE", Offset: -1, Err: ErrRate,
		Detail: fmt.Sprintf("%g frames per second; state the true one in Options.Rate", f.Rate)}
}

// Duration returns the time that the stored frames stand for, Frames/Rate in
// seconds; NaN when the rate is unknown.
func (f *File) Duration() float64 { return f.FrameTime(f.Frames) }

// FrameTime returns the instant of frame i in seconds from the first stored
// frame, NaN when the rate is unknown.
func (f *File) FrameTime(i int) float64 {
	if f.CheckRate() != nil {
		return math.NaN()
	}
	return float64(i) / f.Rate
}

// SampleTime returns the instant of sample k of a channel in seconds from the
// first stored frame, NaN when the rate is unknown. The first sample of a frame
// is taken at the instant of the frame.
func (f *File) SampleTime(k int) float64 {
	r := f.AnalogRate()
	if r == 0 {
		return math.NaN()
	}
	return float64(k) / r
}

// FrameAt returns the frame nearest to t, which may lie outside the stored
// ones, and false when the rate is unknown or t is not a number.
func (f *File) FrameAt(t float64) (int, bool) {
	// Rounding, not truncation: times of exact frames are stored in single
	// precision and fall below the frame about as often as above it.
	x := math.Floor(t*f.Rate + 0.5)
	if f.CheckRate() != nil || math.IsNaN(x) || math.Abs(x) > math.MaxInt32 {
		return 0, false
	}
	return int(x), true
}

// PointIndex returns the first point with this label, or −1. Case and
// surrounding blanks do not matter; a label "subject:NAME" is also found by
// NAME when no other label is.
func (f *File) PointIndex(label string) int {
	return find(len(f.Points), func(i int) string { return f.Points[i].Label }, label)
}

// ChannelIndex returns the first channel with this label, or −1, as
// [File.PointIndex] does.
func (f *File) ChannelIndex(label string) int {
	return find(len(f.Channels), func(i int) string { return f.Channels[i].Label }, label)
}

// find looks for a label: exactly, then folded, then behind a prefix. A name
// behind different prefixes is ambiguous and not found.
func find(n int, at func(int) string, label string) int {
	for i := range n {
		if at(i) == label {
			return i
		}
	}
	label = strings.TrimSpace(label)
	for i := range n {
		if strings.EqualFold(strings.TrimSpace(at(i)), label) {
			return i
		}
	}
	found := -1
	for i := range n {
		l := at(i)
		k := strings.LastIndexByte(l, ':')
		if k < 0 || !strings.EqualFold(strings.TrimSpace(l[k+1:]), label) {
			continue
		}
		if found >= 0 && !strings.EqualFold(at(found), l) {
			return -1
		}
		if found < 0 {
			found = i
		}
	}
	return found
}

// UnitMetres returns what one of [File.Units] is in metres. The error wraps
// [ErrUnit] when the file states no unit or an unknown one, and [ErrMixedUnits]
// when its positions have different units.
func (f *File) UnitMetres() (float64, error) {
	units := f.Units
	for i := range f.Points {
		p := &f.Points[i]
		if p.Kind != Position || p.Unit == "" {
			continue
		}
		if units == "" {
			units = p.Unit
		}
		a, okA := metres(units)
		b, okB := metres(p.Unit)
		if okA != okB || a != b {
			return 0, &FormatError{Place: "POINT:UNITS", Offset: -1, Err: ErrMixedUnits,
				Detail: fmt.Sprintf("%q and %q of point %s", units, p.Unit, p.Label)}
		}
	}
	m, ok := metres(units)
	if !ok {
		return 0, &FormatError{Place: "POINT:UNITS", Offset: -1, Err: ErrUnit,
			Detail: fmt.Sprintf("%q; this package knows mm, cm, m, in, ft", units)}
	}
	return m, nil
}

// metres resolves the spellings of length units that files use.
func metres(unit string) (float64, bool) {
	u := strings.ToLower(strings.Trim(unit, " \t'\"\x00"))
	has := func(p string) bool { return strings.HasPrefix(u, p) }
	switch {
	case u == "mm" || has("mill"):
		return 1e-3, true
	case u == "cm" || has("cent"):
		return 1e-2, true
	case u == "m" || has("met"):
		return 1, true
	case u == "in" || has("inch"):
		return 0.0254, true // exact, international inch
	case u == "ft" || has("foot") || has("feet"):
		return 0.3048, true
	}
	return 0, false
}

// ZeroFrames returns [File.Zero] as a range of frames counted from 0, last
// included. The error wraps [ErrZero] when it states no range or one that is
// not stored. A first frame of 0 stands for 1 unless both are 0 (Source: C3D
// User Guide, FORCE_PLATFORM:ZERO). Whether the plates were unloaded then, or
// their zero has been subtracted already, the file does not say.
func (f *File) ZeroFrames() (first, last int, err error) {
	first, last = f.Zero[0], f.Zero[1]
	if first == 0 && last > 0 {
		first = 1
	}
	if first < 1 || last < first || last > f.Frames {
		return 0, 0, &FormatError{Place: "FORCE_PLATFORM:ZERO", Offset: -1, Err: ErrZero,
			Detail: fmt.Sprintf("%d to %d of %d frames", f.Zero[0], f.Zero[1], f.Frames)}
	}
	return first - 1, last - 1, nil
}

// PlateValues returns the values of the channels of plate p (from 0), in the
// order of its type and without copying them. The error wraps
// [ErrPlateChannel] when one of them is not in the file.
func (f *File) PlateValues(p int) ([][]float64, error) {
	if p < 0 || p >= len(f.Plates) {
		return nil, &FormatError{Place: "FORCE_PLATFORM", Offset: -1, Err: ErrPlateChannel,
			Detail: fmt.Sprintf("plate %d of %d", p+1, len(f.Plates))}
	}
	values := make([][]float64, len(f.Plates[p].Channels))
	for k, c := range f.Plates[p].Channels {
		if c < 0 || c >= len(f.Channels) {
			return nil, &FormatError{Place: fmt.Sprintf("FORCE_PLATFORM:CHANNEL plate %d", p+1), Offset: -1,
				Err: ErrPlateChannel, Detail: fmt.Sprintf("channel %d of %d", c+1, len(f.Channels))}
		}
		values[k] = f.Channels[c].Values
	}
	return values, nil
}

// EventsByTime returns the events in the order of time; those without a time
// come last, equal ones in the order of the file.
func (f *File) EventsByTime() []Event {
	ev := slices.Clone(f.Events)
	slices.SortStableFunc(ev, func(a, b Event) int {
		switch aNaN, bNaN := math.IsNaN(a.Time), math.IsNaN(b.Time); {
		case aNaN && bNaN:
			return 0
		case aNaN || b.Time < a.Time:
			return 1
		case bNaN || a.Time < b.Time:
			return -1
		}
		return 0
	})
	return ev
}
