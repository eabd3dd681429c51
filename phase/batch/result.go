package batch

import (
	"gonum.org/v1/gonum/spatial/r3"

	"example.com/momentarm/grf"
	"example.com/momentarm/torque"
)

// Result is what a [Chain] says of one recording, in swing axes and SI units,
// one element for each sample; and the memory that a run works with. The zero
// Result is ready to use. A run overwrites everything and reuses the memory, so
// that slices of the run before are no longer valid.
//
// After an error all series are empty.
type Result struct {
	// Plates in the order of [Config.Plates], and all of them together.
	Plates []Load
	Net    Load

	// Start is the state that the integration began with, as given or as the
	// rest tells; zero when the path was given or is not known.
	Start Start
	COM   []r3.Vec // centre of mass, m
	// Moment is that of the net wrench about the centre of mass, free moments
	// included, N·m: [torque.About].
	Moment []torque.Planes
	// Arm is the moment arm in each plane, m: [torque.Arms] with the net free
	// moment. (The arm in space is not computed; torque.Arms has it.)
	Arm []torque.Planes

	// Extremes of the net force along X, Y and Z, N; of Moment and of Arm in
	// the frontal, sagittal and horizontal plane; and of X and Y of the net
	// centre of pressure, m, and the net free moment, N·m.
	ForceExtremes, MomentExtremes, ArmExtremes, PressureExtremes [3]Extremes

	rows []float64 // wrenches of all plates, interleaved
	net  []float64 // and of the net, of the block that is worked on
	feed feed      // of the run that is under way
}

// Load is what a plate carries, or all plates together. Its wrenches, which are
// filtered and about the origin of the swing axes, lie among those of the other
// plates, as the filter wants them: see [Load.Wrench] and [Load.Wrenches].
type Load struct {
	// COP is the centre of pressure on the standing surface and Free the free
	// moment about it, NaN below [Config.MinVertical]: cop.Of.
	COP  []r3.Vec
	Free []float64
	// Vertical holds the extremes of the vertical force, N.
	Vertical Extremes
	// Crossings are the samples at which the load is on the other side of
	// [Config.MinVertical] than at the sample before: stepping on and stepping
	// off in turn. A NaN counts as no load. Whether a foot is down at sample i is
	// Wrench(i).Force.Z ≥ MinVertical.
	Crossings []int

	// The wrench of sample i is the sum of as many as parts says, the first of
	// which begins at i·stride.
	rows          []float64
	stride, parts int
	down          bool // at the sample before
}

// Wrench returns the wrench of sample i. Like an index it panics when there is no
// such sample.
func (l *Load) Wrench(i int) grf.Wrench {
	at := l.rows[i*l.stride:][:6*l.parts]
	w := wrench([6]float64(at))
	for p := 6; p < len(at); p += 6 {
		w = w.Add(wrench([6]float64(at[p:])))
	}
	return w
}

// Wrenches copies the wrenches of all samples to dst, grown if it was too short,
// and returns it: for the functions of other packages that take a series, and to
// keep them beyond the next run.
func (l *Load) Wrenches(dst []grf.Wrench) []grf.Wrench {
	dst = grow(dst, len(l.COP))
	for i := range dst {
		dst[i] = l.Wrench(i)
	}
	return dst
}

// size gives every series n samples.
func (r *Result) size(plates, n int) {
	if cap(r.Plates) < plates {
		r.Plates = append(r.Plates[:cap(r.Plates)], make([]Load, plates-cap(r.Plates))...)
	}
	r.Plates = r.Plates[:plates]
	r.rows, r.net = grow(r.rows, 6*plates*n), grow(r.net, 6*block)
	for p := range r.Plates {
		r.Plates[p].size(n, r.rows[min(6*p, len(r.rows)):], 6*plates, 1)
	}
	r.Net.size(n, r.rows, 6*plates, plates)
	r.Start = Start{}
	r.COM, r.Moment, r.Arm = grow(r.COM, n), grow(r.Moment, n), grow(r.Arm, n)
	for i := range r.ForceExtremes {
		r.ForceExtremes[i], r.MomentExtremes[i], r.ArmExtremes[i], r.PressureExtremes[i] = none, none, none, none
	}
}

// size gives a load n samples, whose wrenches are in rows.
func (l *Load) size(n int, rows []float64, stride, parts int) {
	l.COP, l.Free = grow(l.COP, n), grow(l.Free, n)
	l.Vertical, l.Crossings = none, l.Crossings[:0]
	l.rows, l.stride, l.parts = rows, stride, parts
}

// close turns the extremes of what was never measured into NaN.
func (r *Result) close() {
	for i := range r.Plates {
		r.Plates[i].Vertical.close()
	}
	r.Net.Vertical.close()
	for i := range r.ForceExtremes {
		r.ForceExtremes[i].close()
		r.MomentExtremes[i].close()
		r.ArmExtremes[i].close()
		r.PressureExtremes[i].close()
	}
}

// grow returns dst with length n, reusing its memory when there is enough.
func grow[T any](dst []T, n int) []T {
	if cap(dst) < n {
		return make([]T, n)
	}
	return dst[:n]
}
