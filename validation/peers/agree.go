package main

import (
	"encoding/binary"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"slices"

	"example.com/momentarm/grf"
	"example.com/momentarm/phase/batch"
	"example.com/momentarm/torque"
)

// tolerance is how far a row may be off, relative to its largest value.
const tolerance = 1e-12

// variants of SciPy's chain, by the names that it has for them.
var variants = []string{"matrix before sosfiltfilt", "matrix behind sosfiltfilt"}

// rough is a variant that is timed but not held to the tolerance: a polynomial of
// order 4 for the filter is faster and costs digits, which the twofold integration
// brings to light.
const rough = "matrix before filtfilt"

// events as both sides tell them: for each series the samples of minimum and
// maximum, and the first samples on the other side of the load threshold.
type events struct {
	Force, Moment, Vertical, Arm, Pressure, Free [][2]int
	Crossings                                    [][]int
}

func at(e ...batch.Extremes) (out [][2]int) {
	for _, e := range e {
		out = append(out, [2]int{e.MinAt, e.MaxAt})
	}
	return out
}

func eventsOf(r *batch.Result) events {
	p := r.PressureExtremes
	e := events{
		Force: at(r.ForceExtremes[:]...), Moment: at(r.MomentExtremes[:]...), Arm: at(r.ArmExtremes[:]...),
		Pressure: at(p[:2]...), Free: at(p[2]),
	}
	for i := range r.Plates {
		e.Vertical = append(e.Vertical, at(r.Plates[i].Vertical)...)
		e.Crossings = append(e.Crossings, r.Plates[i].Crossings)
	}
	e.Crossings = append(e.Crossings, r.Net.Crossings)
	return e
}

// differ returns the first difference of two sets of events, or "".
func (e events) differ(f events) string {
	for _, s := range []struct {
		name string
		a, b [][2]int
	}{
		{"net force", e.Force, f.Force}, {"moment", e.Moment, f.Moment}, {"vertical force of the plates", e.Vertical, f.Vertical},
		{"arm", e.Arm, f.Arm}, {"centre of pressure", e.Pressure, f.Pressure}, {"free moment", e.Free, f.Free},
	} {
		if !slices.Equal(s.a, s.b) {
			return fmt.Sprintf("extremes of the %s are at %v here and at %v there", s.name, s.a, s.b)
		}
	}
	if !slices.EqualFunc(e.Crossings, f.Crossings, func(a, b []int) bool { return slices.Equal(a, b) }) {
		return fmt.Sprintf("crossings of the load threshold are at %v here and at %v there", e.Crossings, f.Crossings)
	}
	return ""
}

// rowsOf returns the 36 rows of a result, in the order of SciPy's side: wrenches of
// the plates and the net, centres of pressure, free moments, centre of mass,
// moment, arms.
func rowsOf(r *batch.Result) (names []string, rows [][]float64) {
	n := len(r.COM)
	add := func(name string, value func(i int) float64) {
		row := make([]float64, n)
		for i := range row {
			row[i] = value(i)
		}
		names, rows = append(names, name), append(rows, row)
	}
	loads := []struct {
		name string
		*batch.Load
	}{{"plate 1", &r.Plates[0]}, {"plate 2", &r.Plates[1]}, {"net", &r.Net}}
	for _, l := range loads {
		for k, part := range []func(grf.Wrench) float64{
			func(w grf.Wrench) float64 { return w.Force.X }, func(w grf.Wrench) float64 { return w.Force.Y }, func(w grf.Wrench) float64 { return w.Force.Z },
			func(w grf.Wrench) float64 { return w.Moment.X }, func(w grf.Wrench) float64 { return w.Moment.Y }, func(w grf.Wrench) float64 { return w.Moment.Z },
		} {
			add(l.name+" "+[]string{"Fx", "Fy", "Fz", "Mx", "My", "Mz"}[k], func(i int) float64 { return part(l.Wrench(i)) })
		}
	}
	for _, l := range loads {
		add(l.name+" centre of pressure x", func(i int) float64 { return l.COP[i].X })
		add(l.name+" centre of pressure y", func(i int) float64 { return l.COP[i].Y })
	}
	for _, l := range loads {
		add(l.name+" free moment", func(i int) float64 { return l.Free[i] })
	}
	add("centre of mass x", func(i int) float64 { return r.COM[i].X })
	add("centre of mass y", func(i int) float64 { return r.COM[i].Y })
	add("centre of mass z", func(i int) float64 { return r.COM[i].Z })
	for _, p := range []struct {
		name   string
		planes []torque.Planes
	}{{"moment", r.Moment}, {"arm", r.Arm}} {
		add("frontal "+p.name, func(i int) float64 { return p.planes[i].Frontal })
		add("sagittal "+p.name, func(i int) float64 { return p.planes[i].Sagittal })
		add("horizontal "+p.name, func(i int) float64 { return p.planes[i].Horizontal })
	}
	return names, rows
}

// agree compares a result with SciPy's of the same recording and returns by how
// much the worst row is off.
func agree(s *scipy, folder, variant string, recording int, r *batch.Result) (worst float64, err error) {
	var theirs events
	if err := s.ask(map[string]any{"check": recording, "variant": variant}, &theirs); err != nil {
		return 0, err
	}
	names, rows := rowsOf(r)
	data, err := os.ReadFile(filepath.Join(folder, "rows.bin"))
	if err != nil {
		return 0, err
	}
	if want := 8 * len(rows) * len(rows[0]); len(data) != want {
		return 0, fmt.Errorf("SciPy's side wrote %d bytes, want %d", len(data), want)
	}
	for k, row := range rows {
		var largest, off float64
		for i, v := range row {
			want := math.Float64frombits(binary.LittleEndian.Uint64(data[8*(k*len(row)+i):]))
			if math.IsNaN(v) != math.IsNaN(want) {
				return 0, fmt.Errorf("%s, sample %d of recording %d: %g here, %g there (%s)", names[k], i, recording, v, want, variant)
			}
			if !math.IsNaN(v) {
				largest, off = max(largest, math.Abs(want)), max(off, math.Abs(v-want))
			}
		}
		worst = max(worst, off/largest)
		if !(off <= tolerance*largest) {
			return worst, fmt.Errorf("%s of recording %d is off by %.2g of its largest value (%s)", names[k], recording, off/largest, variant)
		}
	}
	if d := eventsOf(r).differ(theirs); d != "" {
		return worst, fmt.Errorf("recording %d: %s (%s)", recording, d, variant)
	}
	return worst, nil
}
