package swing_test

import (
	"math"
	"reflect"
	"runtime"
	"testing"

	"example.com/momentarm/cop"
	"example.com/momentarm/phase/swing"
	"example.com/momentarm/torque"
	"example.com/momentarm/validation/synth"
)

// What a sample tells is what the packages below make of the series.
func TestSampleIsOfTheSeries(t *testing.T) {
	s := synthetic(t, synth.Config{})
	a, err := swing.Analyse(s.Recording(), swing.Options{})
	if err != nil {
		t.Fatal(err)
	}
	x := &a.Series
	for i := range x.Time {
		at := a.Sample(i)
		arms := torque.Arms(x.Net[i], x.COM[i], x.NetFree[i], a.Settings.MinPlane)
		want := swing.Instant{
			Time: x.Time[i],
			Lead: x.Lead[i], Trail: x.Trail[i], Net: x.Net[i],
			LeadCOP: x.LeadCOP[i], TrailCOP: x.TrailCOP[i], NetCOP: x.NetCOP[i],
			LeadFree: x.LeadFree[i], TrailFree: x.TrailFree[i], NetFree: x.NetFree[i],
			LeadShare: cop.ShareOf(x.Lead[i].Force.Z, x.Trail[i].Force.Z, a.Settings.MinVertical),
			COM:       x.COM[i], COMVelocity: x.COMVelocity[i],
			Moment:  torque.About(x.Net[i], x.COM[i]),
			InPlane: torque.InPlane(torque.About(x.Net[i], x.COM[i]), a.Settings.Plane),
			Arm:     arms.Planes, Arm3D: arms.ThreeD,
			COMSD: x.COMSD[i], COMVelocitySD: x.COMVelocitySD[i], COMShiftSD: x.COMShiftSD[i],
			// What Monte Carlo tests hold:
			LeadCOPSD: at.LeadCOPSD, TrailCOPSD: at.TrailCOPSD, NetCOPSD: at.NetCOPSD,
			LeadFreeSD: at.LeadFreeSD, TrailFreeSD: at.TrailFreeSD, NetFreeSD: at.NetFreeSD,
			LeadShareSD: at.LeadShareSD,
			MomentSD:    at.MomentSD, ArmSD: at.ArmSD, InPlaneSD: at.InPlaneSD, Arm3DSD: at.Arm3DSD,
		}
		if !alike(at, want) {
			t.Fatalf("sample %d is\n%+v, want\n%+v", i, at, want)
		}
		if sd := at.MomentSD.Frontal; i > a.From && i < a.To && !(sd > 0) {
			t.Fatalf("sample %d: SD of the moment is %g", i, sd)
		}
		if on := a.At(x.Time[i]); !alike(on, at) {
			t.Fatalf("sample %d by its time is\n%+v, want\n%+v", i, on, at)
		}
	}
}

// figures returns all numbers of an instant.
func figures(v reflect.Value) []float64 {
	if v.Kind() == reflect.Float64 {
		return []float64{v.Float()}
	}
	var out []float64
	for k := range v.NumField() {
		out = append(out, figures(v.Field(k))...)
	}
	return out
}

func alike(a, b swing.Instant) bool {
	x, y := figures(reflect.ValueOf(a)), figures(reflect.ValueOf(b))
	for k := range x {
		if x[k] != y[k] && !(math.IsNaN(x[k]) && math.IsNaN(y[k])) {
			return false
		}
	}
	return true
}

// Every number between two samples lies on the line between them, and outside of
// the recording there is none.
func TestAtIsBetweenSamples(t *testing.T) {
	s := synthetic(t, synth.Config{})
	a, err := swing.Analyse(s.Recording(), swing.Options{})
	if err != nil {
		t.Fatal(err)
	}
	i := (a.From + a.To) / 2
	x, y := figures(reflect.ValueOf(a.Sample(i))), figures(reflect.ValueOf(a.Sample(i+1)))
	got := figures(reflect.ValueOf(a.At(a.Recording.Start + (float64(i)+0.25)/a.Recording.Rate)))
	for k := range got {
		want := 0.75*x[k] + 0.25*y[k]
		if math.IsNaN(want) || !same(got[k], want, 1e-9*(1+math.Abs(want))) {
			t.Errorf("number %d is %g, want %g between %g and %g", k, got[k], want, x[k], y[k])
		}
	}
	last := len(a.Series.Time) - 1
	for _, when := range []float64{a.Recording.Start - 0.001, a.Series.Time[last] + 0.001, math.NaN(), math.Inf(1)} {
		for k, v := range figures(reflect.ValueOf(a.At(when))) {
			if k > 0 && !math.IsNaN(v) {
				t.Errorf("at %g s number %d is %g, want NaN", when, k, v)
			}
		}
	}
}

// An analysis keeps at most four times what was measured: twelve numbers a sample.
func TestAnalysisKeepsLittle(t *testing.T) {
	if testing.Short() {
		t.Skip("a minute of data")
	}
	one := synthetic(t, synth.Config{})
	swings := make([]*synth.Swing, 20)
	for i := range swings {
		swings[i] = one
	}
	rec, _, err := synth.Join(2, swings...)
	if err != nil {
		t.Fatal(err)
	}
	rec = synth.Cut(rec, rec.Start, rec.Start+60)
	heap := func() uint64 {
		var m runtime.MemStats
		runtime.GC()
		runtime.GC()
		runtime.ReadMemStats(&m)
		return m.HeapAlloc
	}
	before := heap()
	a, err := swing.Analyse(rec, swing.Options{})
	if err != nil {
		t.Fatal(err)
	}
	kept, measured := heap()-before, 12*8*rec.Len()
	t.Logf("%d samples, %.2f times what was measured", rec.Len(), float64(kept)/float64(measured))
	if kept > 4*uint64(measured) {
		t.Errorf("an analysis of %d bytes of measurements keeps %d", measured, kept)
	}
	runtime.KeepAlive(a)
	runtime.KeepAlive(rec)
}

// Measures of a stretch have standard deviations, too.
func TestImpulsesHaveSDs(t *testing.T) {
	s := synthetic(t, synth.Config{})
	a, err := swing.Analyse(s.Recording(), swing.Options{})
	if err != nil {
		t.Fatal(err)
	}
	for _, name := range []string{"lateral_impulse", "frontal_angular_impulse", "vertical_angular_impulse", "plane_angular_impulse"} {
		if m, ok := a.Measure(name); !ok || !(m.SD > 0) {
			t.Errorf("%s: %+v", name, m)
		}
	}
}
