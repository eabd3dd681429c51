package grf

import (
	"errors"
	"math"
	"math/rand/v2"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"
)

// standing returns a recording at 100 Hz: sway of ±60 N before and after a
// still stretch from 2 to 4 s in which each foot carries 360 N.
func standing(noise float64) *Recording {
	rnd := rand.New(rand.NewPCG(11, 12))
	rec := &Recording{Start: 10, Rate: 100}
	for i := range 700 {
		t := float64(i) / 100
		var sway float64
		if t < 2 || t > 4 {
			sway = 60 * math.Sin(2*math.Pi*1.5*t)
		}
		n := func() r3.Vec {
			return r3.Scale(noise, r3.Vec{X: rnd.NormFloat64(), Y: rnd.NormFloat64(), Z: rnd.NormFloat64()})
		}
		lead := At(r3.Add(n(), r3.Vec{X: 20, Z: 360 + sway}), r3.Vec{Y: 0.2}, r3.Vec{})
		trail := At(r3.Add(n(), r3.Vec{X: -20, Z: 360 - sway/3}), r3.Vec{Y: -0.2}, r3.Vec{})
		rec.Lead = append(rec.Lead, lead)
		rec.Trail = append(rec.Trail, trail)
	}
	return rec
}

func TestFindQuiet(t *testing.T) {
	rec := standing(2)
	q, err := FindQuiet(rec, QuietOptions{})
	if err != nil {
		t.Fatal(err)
	}
	if math.Abs(q.From-12) > 0.1 || math.Abs(q.To-14) > 0.1 {
		t.Errorf("found %.2f to %.2f s, planted 12 to 14 s", q.From, q.To)
	}
	// The mean of some 200 samples with 2·√2 N of noise each: 0.2 N.
	if math.Abs(q.Weight-720) > 1 {
		t.Errorf("weight %.2f N, planted 720 N", q.Weight)
	}
	if math.Abs(q.Mass*9.80665-q.Weight) > 1e-9 {
		t.Errorf("mass %.3f kg", q.Mass)
	}
	if math.Abs(q.WeightSD-2*math.Sqrt2) > 0.5 || math.Abs(q.LeadSD.Force.X-2) > 0.4 {
		t.Errorf("noise: net %.2f N, lead %.2f N, planted %.2f and 2 N", q.WeightSD, q.LeadSD.Force.X, 2*math.Sqrt2)
	}
	if q.WeightSE <= 0 || q.WeightSE > 1 {
		t.Errorf("standard error %.3f N", q.WeightSE)
	}
	if math.Hypot(q.Mean.Force.X, q.Mean.Force.Y) > 1 {
		t.Errorf("horizontal force at rest %v", q.Mean.Force)
	}
}

func TestFindQuietOfBothFeetTogether(t *testing.T) {
	rec := standing(2)
	net, err := rec.NetWrenches(nil)
	if err != nil {
		t.Fatal(err)
	}
	one := &Recording{Start: rec.Start, Rate: rec.Rate, Net: net}
	a, err := FindQuiet(rec, QuietOptions{})
	if err != nil {
		t.Fatal(err)
	}
	b, err := FindQuiet(one, QuietOptions{})
	if err != nil {
		t.Fatal(err)
	}
	if a.Weight != b.Weight || a.First != b.First || !b.LeadSD.IsNaN() {
		t.Errorf("one plate: %+v\ntwo plates: %+v", b, a)
	}
}

func TestFindQuietKeepsToItsRange(t *testing.T) {
	q, err := FindQuiet(standing(1), QuietOptions{From: 13, To: 13.8})
	if err != nil {
		t.Fatal(err)
	}
	if q.From < 13 || q.To > 13.8 {
		t.Errorf("%.3f to %.3f s", q.From, q.To)
	}
}

func TestNoQuietStance(t *testing.T) {
	rec := standing(1)
	_, err := FindQuiet(rec, QuietOptions{To: 11.9, From: 10})
	var none *NoQuietError
	if !errors.Is(err, ErrNoQuiet) || !errors.As(err, &none) {
		t.Fatal(err)
	}
	if none.Best < 0.02 || none.Best > 0.2 || none.At < 10 || none.At > 12 {
		t.Errorf("%+v", none)
	}
	// Nobody on the plates.
	empty := &Recording{Rate: 100, Net: make([]Wrench, 300)}
	if _, err := FindQuiet(empty, QuietOptions{}); !errors.As(err, &none) || !math.IsNaN(none.Best) {
		t.Errorf("empty plates: %v", err)
	}
	if _, err := FindQuiet(rec, QuietOptions{From: 10, To: 10.2}); !errors.Is(err, ErrWindow) {
		t.Errorf("a range shorter than the stance: %v", err)
	}
}

func TestLostSamplesAreNotQuiet(t *testing.T) {
	rec := standing(1)
	rec.Lead[300] = NaN() // 13 s
	q, err := FindQuiet(rec, QuietOptions{})
	if err != nil {
		t.Fatal(err)
	}
	if q.First <= 300 && q.Last >= 300 {
		t.Errorf("the stance %d to %d holds the lost sample 300", q.First, q.Last)
	}
	if math.IsNaN(q.Weight) || math.Abs(q.Weight-720) > 1 {
		t.Errorf("weight %.2f N", q.Weight)
	}
}

func TestMeasureBaseline(t *testing.T) {
	p := mustPlate(t, plateConfig(TypeMoment))
	rnd := rand.New(rand.NewPCG(13, 14))
	offset := []float64{3, -4, 12, 0.5, -0.8, 0.2}
	ch := make([][]float64, 6)
	for i := range ch {
		for k := range 400 {
			v := offset[i] + 0.5*rnd.NormFloat64()
			if i == 2 && k >= 300 {
				v -= 800 // somebody steps on
			}
			ch[i] = append(ch[i], v)
		}
	}
	b, err := MeasureBaseline(p, ch, 0, 299, BaselineOptions{})
	if err != nil {
		t.Fatal(err)
	}
	for i := range offset {
		if math.Abs(b.Mean[i]-offset[i]) > 0.15 { // 0.5/√300 = 0.03
			t.Errorf("channel %d: %.3f, planted %.3f", i+1, b.Mean[i], offset[i])
		}
	}
	zeroed, err := b.Subtract(nil, ch)
	if err != nil {
		t.Fatal(err)
	}
	if got := zeroed[2][350]; math.Abs(got+800) > 3 {
		t.Errorf("the load after zeroing is %.2f N, planted −800 N", got)
	}
	if ch[2][0] == zeroed[2][0] {
		t.Error("Subtract without dst changed its input")
	}
	if _, err := b.Subtract(ch, ch); err != nil || ch[2][0] != zeroed[2][0] {
		t.Error("Subtract in place")
	}
	if _, err := b.Subtract(nil, ch[:5]); !errors.Is(err, ErrChannels) {
		t.Errorf("five channels: %v", err)
	}

	for name, c := range map[string]struct {
		first, last int
		want        error
	}{
		"loaded":       {310, 399, ErrLoaded},
		"stepping on":  {290, 305, ErrLoaded},
		"too short":    {0, 5, ErrWindow},
		"outside":      {390, 400, ErrWindow},
		"before start": {-1, 40, ErrWindow},
	} {
		if _, err := MeasureBaseline(p, ch, c.first, c.last, BaselineOptions{}); !errors.Is(err, c.want) {
			t.Errorf("%s: %v", name, err)
		}
	}
	if _, err := MeasureBaseline(p, ch, 0, 299, BaselineOptions{MaxSD: 0.1}); !errors.Is(err, ErrUnquiet) {
		t.Errorf("shaking: %v", err)
	}
	drift := make([][]float64, 6)
	for i := range drift {
		drift[i] = make([]float64, 300)
		for k := range drift[i] {
			drift[i][k] = 0.03 * float64(k)
		}
	}
	if _, err := MeasureBaseline(p, drift, 0, 299, BaselineOptions{}); !errors.Is(err, ErrUnquiet) {
		t.Errorf("drifting: %v", err)
	}
	drift[0][10] = math.NaN()
	if _, err := MeasureBaseline(p, drift, 0, 299, BaselineOptions{}); err == nil {
		t.Error("a lost sample was taken for a baseline")
	}
}

func TestBaselineLeavesPositionsAlone(t *testing.T) {
	p := mustPlate(t, plateConfig(TypePoint))
	ch := make([][]float64, 6)
	for i := range ch {
		ch[i] = make([]float64, 20)
		for k := range ch[i] {
			ch[i][k] = 0.1
		}
	}
	b, err := MeasureBaseline(p, ch, 0, 19, BaselineOptions{})
	if err != nil {
		t.Fatal(err)
	}
	z, err := b.Subtract(nil, ch)
	if err != nil {
		t.Fatal(err)
	}
	for i, want := range []float64{0, 0, 0, 0.1, 0.1, 0} {
		if math.Abs(z[i][7]-want) > 1e-12 {
			t.Errorf("channel %d: %g, want %g", i+1, z[i][7], want)
		}
	}
}

func TestRecordingCheck(t *testing.T) {
	ok := func() *Recording {
		return &Recording{Rate: 1000, Lead: make([]Wrench, 3), Trail: make([]Wrench, 3)}
	}
	if err := ok().Check(); err != nil {
		t.Fatal(err)
	}
	for name, change := range map[string]func(*Recording){
		"no rate":           func(r *Recording) { r.Rate = 0 },
		"infinite rate":     func(r *Recording) { r.Rate = math.Inf(1) },
		"start is NaN":      func(r *Recording) { r.Start = math.NaN() },
		"no samples":        func(r *Recording) { r.Lead, r.Trail = nil, nil },
		"feet differ":       func(r *Recording) { r.Lead = r.Lead[:2] },
		"net and feet":      func(r *Recording) { r.Net = make([]Wrench, 3) },
		"negative mass":     func(r *Recording) { r.Mass = -1 },
		"mass is NaN":       func(r *Recording) { r.Mass = math.NaN() },
		"stature infinite":  func(r *Recording) { r.Stature = math.Inf(1) },
		"mark is no number": func(r *Recording) { r.Marks = map[string]float64{"impact": math.NaN()} },
		"mark too late":     func(r *Recording) { r.Marks = map[string]float64{"impact": 0.0026} },
	} {
		r := ok()
		change(r)
		if r.Check() == nil {
			t.Errorf("%s: accepted", name)
		}
		if _, err := FindQuiet(r, QuietOptions{}); err == nil {
			t.Errorf("%s: FindQuiet accepted it", name)
		}
	}
}

func TestRecordingClock(t *testing.T) {
	r := &Recording{Start: -0.5, Rate: 200, Net: make([]Wrench, 401)}
	if r.Time(100) != 0 || r.End() != 1.5 || r.Split() || r.Len() != 401 {
		t.Errorf("time %g, end %g", r.Time(100), r.End())
	}
	for at, want := range map[float64]int{0: 100, 0.0024: 100, 0.0026: 101, -9: 0, 9: 400} {
		if got := r.Index(at); got != want {
			t.Errorf("Index(%g) = %d, want %d", at, got, want)
		}
	}
}

func TestWarningPrints(t *testing.T) {
	w := Warning{Code: "origin-sign", Where: "plate 2", Text: "z is positive; reversed"}
	if got := w.String(); got != "plate 2: z is positive; reversed (origin-sign)" {
		t.Error(got)
	}
	w.Where = ""
	if got := w.String(); got != "z is positive; reversed (origin-sign)" {
		t.Error(got)
	}
}

// The stance is the same, wherever the laboratory has its origin.
func TestQuietDoesNotDependOnTheOrigin(t *testing.T) {
	want, err := FindQuiet(standing(2), QuietOptions{})
	if err != nil {
		t.Fatal(err)
	}
	for _, p := range []r3.Vec{{Y: 1.2}, {X: -5, Y: 3}} {
		rec := standing(2)
		for i := range rec.Lead {
			rec.Lead[i], rec.Trail[i] = rec.Lead[i].MovedTo(p), rec.Trail[i].MovedTo(p)
		}
		q, err := FindQuiet(rec, QuietOptions{})
		if err != nil || q.First != want.First || q.Last != want.Last || !(math.Abs(q.Variation-want.Variation) < 1e-9) {
			t.Errorf("origin at %v: samples %d to %d vary by %g, want %d to %d by %g; %v", p,
				q.First, q.Last, q.Variation, want.First, want.Last, want.Variation, err)
		}
	}
}
