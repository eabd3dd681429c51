package acceptance

import (
	"encoding/json"
	"errors"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"example.com/momentarm/grf"
)

// grid is the usual one: the middle and eight places around it.
func grid() []r3.Vec {
	var at []r3.Vec
	for _, x := range []float64{-0.2, 0, 0.2} {
		for _, y := range []float64{-0.15, 0, 0.15} {
			at = append(at, r3.Vec{X: x, Y: y})
		}
	}
	return at
}

// weigh lays weights on a plate that does this with a load.
func weigh(loads []float64, plate func(load float64, at r3.Vec) grf.Wrench) []Reading {
	var rs []Reading
	for _, load := range loads {
		for _, at := range grid() {
			rs = append(rs, Reading{Load: load, X: at.X, Y: at.Y, Wrench: plate(load, at)})
		}
	}
	return rs
}

func value(t *testing.T, r *Report, name string) float64 {
	t.Helper()
	i, ok := r.Item(name)
	if !ok {
		t.Fatalf("no item %s", name)
	}
	return i.Value
}

// Each fault shows in its items and in no other: the values are closed form.
func TestCheckWeightsFaults(t *testing.T) {
	loads := []float64{200, 400, 600}
	push := func(f r3.Vec, load float64) r3.Vec { f.Z += load; return f }
	far := math.Hypot(0.2, 0.15)
	for _, c := range []struct {
		name  string
		plate func(load float64, at r3.Vec) grf.Wrench
		want  map[string]float64
	}{
		{"perfect", func(load float64, at r3.Vec) grf.Wrench { return grf.At(r3.Vec{Z: load}, at, r3.Vec{}) }, nil},
		{"tells the push", func(load float64, at r3.Vec) grf.Wrench { return grf.At(r3.Vec{Z: -load}, at, r3.Vec{}) }, nil},
		{"shifted by 3, 4 mm", func(load float64, at r3.Vec) grf.Wrench {
			return grf.At(r3.Vec{Z: load}, r3.Add(at, r3.Vec{X: 0.003, Y: 0.004}), r3.Vec{})
		}, map[string]float64{"cop_error_max": 0.005, "cop_error_mean": 0.005, "cop_error_rms": 0.005, "cop_bias": 0.005}},
		{"stretched by 1 %", func(load float64, at r3.Vec) grf.Wrench {
			return grf.At(r3.Vec{Z: load}, r3.Scale(1.01, at), r3.Vec{})
		}, map[string]float64{"cop_error_max": 0.01 * far,
			"cop_error_mean": 0.01 * (4*far + 2*0.2 + 2*0.15) / 9,
			"cop_error_rms":  0.01 * math.Sqrt((4*far*far+2*0.04+2*0.0225)/9)}},
		{"gain of 0.98", func(load float64, at r3.Vec) grf.Wrench {
			return grf.At(r3.Vec{Z: 0.98 * load}, at, r3.Vec{})
		}, map[string]float64{"load_error_max": 0.02, "gain_error": 0.02}},
		{"an offset of 6 N", func(load float64, at r3.Vec) grf.Wrench {
			return grf.At(r3.Vec{Z: load + 6}, at, r3.Vec{})
		}, map[string]float64{"load_error_max": 0.03}},
		// Of three equal steps the middle one is 3 N low: the line is 1 N low, so
		// that the middle is 2 N and the ends are 1 N off it.
		{"sags", func(load float64, at r3.Vec) grf.Wrench {
			return grf.At(r3.Vec{Z: load - 3*(1-math.Abs(load-400)/200)}, at, r3.Vec{})
		}, map[string]float64{"load_error_max": 3.0 / 400, "linearity": 2.0 / 600}},
		{"pushes along x", func(load float64, at r3.Vec) grf.Wrench {
			return grf.At(push(r3.Vec{X: -0.01 * load}, load), at, r3.Vec{})
		}, map[string]float64{"crosstalk_x": 0.01}},
		{"pushes along y", func(load float64, at r3.Vec) grf.Wrench {
			return grf.At(push(r3.Vec{Y: 0.02 * load}, load), at, r3.Vec{})
		}, map[string]float64{"crosstalk_y": 0.02}},
		{"twists", func(load float64, at r3.Vec) grf.Wrench {
			return grf.At(r3.Vec{Z: load}, at, r3.Vec{Z: -0.004 * load})
		}, map[string]float64{"crosstalk_twist": 0.004}},
	} {
		r, err := CheckWeights(nil, weigh(loads, c.plate), Limits{})
		if err != nil {
			t.Fatal(c.name, err)
		}
		for _, i := range r.Items {
			if strings.HasPrefix(i.Name, "repeatability") {
				if !math.IsNaN(i.Value) || i.Note == "" {
					t.Errorf("%s: %s is %g without repetitions", c.name, i.Name, i.Value)
				}
				continue
			}
			if want := c.want[i.Name]; !(math.Abs(i.Value-want) < 1e-12) {
				t.Errorf("%s: %s is %g, want %g", c.name, i.Name, i.Value, want)
			}
			if i.Verdict != NotJudged {
				t.Errorf("%s: %s is judged (%v) without a limit", c.name, i.Name, i.Verdict)
			}
		}
		if r.Verdict != NotJudged || len(r.Places) != 9 || len(r.Results) != 27 {
			t.Errorf("%s: verdict %v, %d places, %d results", c.name, r.Verdict, len(r.Places), len(r.Results))
		}
	}
}

// The pooled scatter of many repetitions is that of the noise put in.
func TestRepeatability(t *testing.T) {
	rnd := rand.New(rand.NewPCG(8, 3))
	var loads []float64
	for range 100 {
		loads = append(loads, 300, 600)
	}
	r, err := CheckWeights(nil, weigh(loads, func(load float64, at r3.Vec) grf.Wrench {
		at.X += 0.001 * rnd.NormFloat64()
		at.Y += 0.002 * rnd.NormFloat64()
		return grf.At(r3.Vec{Z: load + 1.5*rnd.NormFloat64()}, at, r3.Vec{})
	}), Limits{RepeatCOP: 0.0022, RepeatLoad: 0.0026})
	if err != nil {
		t.Fatal(err)
	}
	// 1782 degrees of freedom: 2 % of the standard deviation, 3 of them allowed.
	if got, want := value(t, r, "repeatability_load"), 1.5/600; math.Abs(got-want) > 0.06*want {
		t.Errorf("load %g, want %g", got, want)
	}
	if got, want := value(t, r, "repeatability_cop"), math.Hypot(0.001, 0.002); math.Abs(got-want) > 0.06*want {
		t.Errorf("centre of pressure %g, want %g", got, want)
	}
	if i, _ := r.Item("repeatability_cop"); i.Verdict != Fail {
		t.Errorf("verdict on %g with the limit %g: %v", i.Value, i.Limit, i.Verdict)
	}
	if i, _ := r.Item("repeatability_load"); i.Verdict != Pass {
		t.Errorf("verdict on %g with the limit %g: %v", i.Value, i.Limit, i.Verdict)
	}
	if r.Verdict != Fail {
		t.Errorf("verdict %v", r.Verdict)
	}
}

// A limit on what was not measured is no pass.
func TestNotAssessed(t *testing.T) {
	perfect := func(load float64, at r3.Vec) grf.Wrench { return grf.At(r3.Vec{Z: load}, at, r3.Vec{}) }
	r, err := CheckWeights(nil, weigh([]float64{500}, perfect), Limits{COPMax: 0.005, Linearity: 0.01, RepeatCOP: 0.001})
	if err != nil {
		t.Fatal(err)
	}
	for name, want := range map[string]Verdict{"cop_error_max": Pass, "linearity": NotAssessed, "gain_error": NotJudged, "repeatability_cop": NotAssessed} {
		if i, _ := r.Item(name); i.Verdict != want {
			t.Errorf("%s: %v, want %v (%s)", name, i.Verdict, want, i.Note)
		}
	}
	if r.Verdict != NotAssessed {
		t.Errorf("verdict %v", r.Verdict)
	}
	r, err = CheckWeights(nil, weigh([]float64{500}, perfect), Limits{COPMax: 0.005})
	if err != nil || r.Verdict != Pass {
		t.Errorf("%v, %v", r.Verdict, err)
	}
	// A failure is not hidden by what was not assessed.
	r, err = CheckWeights(nil, weigh([]float64{500}, func(load float64, at r3.Vec) grf.Wrench {
		return grf.At(r3.Vec{Z: load}, r3.Scale(1.1, at), r3.Vec{})
	}), Limits{COPMax: 0.005, Linearity: 0.01})
	if err != nil || r.Verdict != Fail {
		t.Errorf("%v, %v", r.Verdict, err)
	}
}

// Channels go through the plate: sensors below the surface, push on the plate.
func TestCheckWeightsChannels(t *testing.T) {
	plate, err := grf.NewPlate(grf.PlateConfig{Type: grf.TypeMoment, Sense: grf.Action, Origin: r3.Vec{X: 0.001, Z: -0.04},
		Corners: [4]r3.Vec{{X: .6, Y: .4}, {Y: .4}, {}, {X: .6}}})
	if err != nil {
		t.Fatal(err)
	}
	var rs []Reading
	for _, r := range weigh([]float64{300, 700}, func(float64, r3.Vec) grf.Wrench { return grf.Wrench{} }) {
		w := grf.At(r3.Vec{X: 5, Z: r.Load}, r3.Vec{X: r.X, Y: r.Y}, r3.Vec{}).MovedTo(r3.Vec{X: -0.001, Z: 0.04})
		r.Channels = []float64{w.Force.X, w.Force.Y, w.Force.Z, w.Moment.X, w.Moment.Y, w.Moment.Z}
		rs = append(rs, r)
	}
	r, err := CheckWeights(plate, rs, Limits{})
	if err != nil {
		t.Fatal(err)
	}
	if v := value(t, r, "cop_error_max"); v > 1e-12 {
		t.Errorf("error of the centre of pressure %g", v)
	}
	if v := value(t, r, "crosstalk_x"); math.Abs(v-5.0/300) > 1e-12 {
		t.Errorf("cross-talk %g", v)
	}
}

func TestCheckWeightsErrors(t *testing.T) {
	good := func() []Reading {
		return weigh([]float64{200, 400}, func(load float64, at r3.Vec) grf.Wrench { return grf.At(r3.Vec{Z: load}, at, r3.Vec{}) })
	}
	for _, c := range []struct {
		name, says string
		change     func(rs []Reading) []Reading
	}{
		{"none", "none", func([]Reading) []Reading { return nil }},
		{"no load", "reading 3 (x), 0 N", func(rs []Reading) []Reading { rs[2].Load, rs[2].Name = 0, "x"; return rs }},
		{"a load of NaN", "positive", func(rs []Reading) []Reading { rs[2].Load = math.NaN(); return rs }},
		{"a place of NaN", "finite", func(rs []Reading) []Reading { rs[2].X = math.NaN(); return rs }},
		{"lost", "not finite", func(rs []Reading) []Reading { rs[2].Wrench = grf.NaN(); return rs }},
		{"infinite", "not finite", func(rs []Reading) []Reading { rs[2].Wrench.Moment.X = math.Inf(1); return rs }},
		{"a dead plate", "does it work", func(rs []Reading) []Reading { rs[2].Wrench = grf.Wrench{}; return rs }},
		{"both senses", "opposite sign", func(rs []Reading) []Reading { rs[2].Wrench = rs[2].Wrench.Scale(-1); return rs }},
		{"channels without a plate", "need the plate", func(rs []Reading) []Reading { rs[2].Channels = make([]float64, 6); return rs }},
		{"one place", "1 places", func(rs []Reading) []Reading { return []Reading{rs[4], rs[13]} }},
		{"two places", "2 places", func(rs []Reading) []Reading { return rs[:2] }},
		{"a line", "in a line", func(rs []Reading) []Reading { return rs[:3] }},
		{"an oblique line", "in a line", func(rs []Reading) []Reading { return []Reading{rs[0], rs[4], rs[8], rs[13]} }},
	} {
		r, err := CheckWeights(nil, c.change(good()), Limits{})
		if !errors.Is(err, ErrReadings) || r != nil || !strings.Contains(err.Error(), c.says) {
			t.Errorf("%s: %v, %v; want %q", c.name, r, err, c.says)
		}
	}
	plate, err := grf.NewPlate(grf.PlateConfig{Type: grf.TypeEight, Origin: r3.Vec{X: .2, Y: .2, Z: -.04}, Corners: [4]r3.Vec{{X: .6, Y: .4}, {Y: .4}, {}, {X: .6}}})
	if err != nil {
		t.Fatal(err)
	}
	rs := good()
	rs[0].Channels = make([]float64, 6)
	if _, err := CheckWeights(plate, rs, Limits{}); !errors.Is(err, ErrReadings) {
		t.Errorf("channels of another plate: %v", err)
	}
}

func TestReportJSON(t *testing.T) {
	r, err := CheckWeights(nil, weigh([]float64{500}, func(load float64, at r3.Vec) grf.Wrench {
		return grf.At(r3.Vec{Z: load}, r3.Add(at, r3.Vec{X: 0.002}), r3.Vec{})
	}), Limits{COPMax: 0.001, RepeatCOP: 0.001})
	if err != nil {
		t.Fatal(err)
	}
	data, err := json.Marshal(r)
	if err != nil {
		t.Fatal(err)
	}
	var got struct {
		Verdict string
		Gain    *float64
		Items   []struct {
			Name, Verdict, Note string
			Value, Limit        *float64
		}
		Readings []map[string]any
	}
	if err := json.Unmarshal(data, &got); err != nil {
		t.Fatal(err)
	}
	if got.Verdict != "fail" || got.Gain != nil || len(got.Items) != len(r.Items) || len(got.Readings) != 9 {
		t.Errorf("%s", data)
	}
	first, last := got.Items[0], got.Items[len(got.Items)-1]
	if first.Name != "cop_error_max" || first.Verdict != "fail" || *first.Limit != 0.001 || math.Abs(*first.Value-0.002) > 1e-12 {
		t.Errorf("first item %+v", first)
	}
	if last.Value != nil || last.Verdict != "not assessed" || last.Note == "" || got.Items[1].Limit != nil {
		t.Errorf("last item %+v", last)
	}
	if _, err := json.Marshal(Verdict(7)); err == nil || Verdict(7).String() != "Verdict(7)" {
		t.Error("a verdict that is none is written")
	}
}

// Every figure has a source and belongs to an item that there is.
func TestContext(t *testing.T) {
	r, err := CheckWeights(nil, weigh([]float64{500}, func(load float64, at r3.Vec) grf.Wrench { return grf.At(r3.Vec{Z: load}, at, r3.Vec{}) }), Limits{})
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range Context() {
		if _, ok := r.Item(f.Item); !ok && f.Item != "" {
			t.Errorf("no item %q for %q", f.Item, f.Text)
		}
		switch f.Seen {
		case "text", "abstract", "quoted", "judgement":
		default:
			t.Errorf("%q was seen as %q", f.Text, f.Seen)
		}
		if f.Source == "" || f.Text == "" {
			t.Errorf("%+v has no source", f)
		}
	}
}
