package validation

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"example.com/momentarm/grf/filter"
)

// fault is the library with one mistake in it.
type fault struct {
	operation string
	// before spoils the inputs, after the outputs; either may be nil.
	before func(in Values)
	after  func(in, out Values)
}

func (f fault) Answer(operation string, in Values) (Values, error) {
	if operation != f.operation {
		return Library().Answer(operation, in)
	}
	if f.before != nil {
		f.before(in)
	}
	out, err := Library().Answer(operation, in)
	if err == nil && f.after != nil {
		f.after(in, out)
	}
	return out, err
}

// set replaces number i of an output by g of it.
func set(out Values, name string, i int, g func(float64) float64) {
	v := out[name]
	v.Numbers = append([]float64(nil), v.Numbers...)
	v.Numbers[i] = g(v.Numbers[i])
	out[name] = v
}

func negative(x float64) float64 { return -x }

// The four mistakes that are made most often.
var seededFaults = map[string]fault{
	"sign of the centre of pressure, x = +My/Fz": {operation: "plate", after: func(_, out Values) {
		set(out, "surface_point", 0, negative)
	}},
	"sign of the centre of pressure, from a wrench": {operation: "line_of_action", after: func(_, out Values) {
		set(out, "point", 0, negative)
	}},
	"origin depth forgotten": {operation: "plate", before: func(in Values) {
		o := in["origin"]
		o.Numbers = append([]float64(nil), o.Numbers...)
		o.Numbers[2] = 0
		in["origin"] = o
	}},
	"free moments of the feet added up": {operation: "line_of_action", after: func(in, out Values) {
		var sum float64
		for _, c := range in["couples"].Vecs() {
			sum += c.Z
		}
		set(out, "free_moment", 0, func(float64) float64 { return sum })
	}},
	"cut-off not corrected for two passes": {operation: "low_pass_both_ways", before: func(in Values) {
		// Ask for the cut-off whose corrected single pass is the plain one.
		rate := in["rate"].Float()
		c := math.Pow(math.Sqrt2-1, 1/(2*in["order"].Float()))
		f := rate / math.Pi * math.Atan(c*math.Tan(math.Pi*in["cutoff"].Float()/rate))
		in["cutoff"] = Number("Hz", f)
	}},
}

// Wrong core formulas. Each must turn at least one external case red.
var wrongFormulas = map[string]fault{
	"moment as F × r": {operation: "moment", after: func(_, out Values) {
		for i := range 3 {
			set(out, "moment", i, negative)
		}
	}},
	"moment about the origin instead of the point": {operation: "moment", before: func(in Values) {
		delete(in, "about")
	}},
	"couples left out of the moment": {operation: "moment", before: func(in Values) {
		delete(in, "couples")
	}},
	"centre of pressure without the height of the plane": {operation: "line_of_action", before: func(in Values) {
		delete(in, "height")
	}},
	"centre of pressure at an unloaded plate": {operation: "line_of_action", before: func(in Values) {
		in["min_vertical"] = Number("N", 0)
	}},
	"arms without their sign": {operation: "moment_arms", after: func(_, out Values) {
		set(out, "horizontal", 0, math.Abs)
	}},
	"arms over the whole force": {operation: "moment_arms", after: func(in, out Values) {
		f := in["forces"].Vecs()[0]
		set(out, "horizontal", 0, func(x float64) float64 { return x * math.Hypot(f.X, f.Y) / r3.Norm(f) })
	}},
	"impulse by rectangles": {operation: "impulse", after: func(in, out Values) {
		f := in["forces"].Rows()
		set(out, "linear", 2, func(x float64) float64 {
			return x + (f[0][2]+f[len(f)-1][2])/2/in["rate"].Float()
		})
	}},
	"gravity with the wrong sign": {operation: "motion", after: func(in, out Values) {
		g, t := in["gravity"].Float(), in["instant"].Float()-in["quiet"].Float()
		set(out, "velocity", 2, func(v float64) float64 { return v + 2*g*t })
	}},
	"load share of the trail foot": {operation: "load_share", after: func(_, out Values) {
		set(out, "share", 0, func(x float64) float64 { return 1 - x })
	}},
	"sensor distances a and b swapped": {operation: "plate", before: func(in Values) {
		if in["type"].Float() == 3 {
			o := in["origin"]
			o.Numbers = []float64{o.Numbers[1], o.Numbers[0], o.Numbers[2]}
			in["origin"] = o
		}
	}},
	"calibration matrix transposed": {operation: "plate", before: func(in Values) {
		if c, ok := in["calibration"]; ok {
			rows := c.Rows()
			t := make([][]float64, len(rows))
			for i := range t {
				for j := range rows {
					t[i] = append(t[i], rows[j][i])
				}
			}
			in["calibration"] = Table("1", t...)
		}
	}},
	"analogue cut-off without warping": {operation: "low_pass_sections", before: func(in Values) {
		rate := in["rate"].Float()
		in["cutoff"] = Number("Hz", rate/math.Pi*math.Atan(math.Pi*in["cutoff"].Float()/rate))
	}},
	"χ² instead of the prediction factor": {operation: "ellipse_factor", after: func(_, out Values) {
		set(out, "factor", 0, func(float64) float64 { return 5.991464547107982 })
	}},
	"path velocity over N samples": {operation: "path_measures", after: func(in, out Values) {
		n := float64(len(in["x"].Numbers))
		set(out, "mean_velocity", 0, func(v float64) float64 { return v * (n - 1) / n })
	}},
	"pivoting moment counted twice": {operation: "two_feet", after: func(_, out Values) {
		set(out, "moment", 2, func(x float64) float64 { return x + out["pivoting"].Float() })
	}},
	"inclined plane with sine and cosine swapped": {operation: "torque_in_plane", before: func(in Values) {
		in["inclination"] = Number("rad", math.Pi/2-in["inclination"].Float())
	}},
	"ICC(2,1) without the raters' variance": {operation: "icc", before: func(in Values) {
		if in["form"].Word == "(2,1)" {
			in["form"] = Word("(3,1)")
		}
	}},
	"standard deviation over N": {operation: "limits_of_agreement", after: func(in, out Values) {
		n := float64(len(in["a"].Numbers))
		set(out, "sd", 0, func(x float64) float64 { return x * math.Sqrt((n-1)/n) })
	}},
	"correlation left out of the propagation": {operation: "propagate", before: func(in Values) {
		rows := in["covariance"].Rows()
		for i := range rows {
			for j := range rows {
				if i != j {
					rows[i][j] = 0
				}
			}
		}
	}},
	"pound-force-inch as 0.1130057 N·m": {operation: "convert", after: func(in, out Values) {
		if in["from"].Word == "lbf·in" {
			set(out, "value", 0, func(float64) float64 { return 0.1130057188312 })
		}
	}},
}

// missed returns the cases that miss, and how many of them are external.
func missed(impl Implementation) (ids []string, external int) {
	seen := map[string]bool{}
	for _, res := range Check(impl).Results {
		if res.Status == Missed && !seen[res.ID] {
			seen[res.ID] = true
			ids = append(ids, res.ID)
			if res.Case.Level.External() {
				external++
			}
		}
	}
	return ids, external
}

func TestSeededFaultsAreCaught(t *testing.T) {
	for name, f := range seededFaults {
		ids, external := missed(f)
		if external == 0 {
			t.Errorf("%s: no external case misses (missed: %v)", name, ids)
		}
		t.Logf("%s: %v", name, ids)
	}
}

func TestWrongFormulasTurnExternalCasesRed(t *testing.T) {
	if len(wrongFormulas) < 10 {
		t.Errorf("only %d formulas are tried", len(wrongFormulas))
	}
	for name, f := range wrongFormulas {
		ids, external := missed(f)
		if external == 0 {
			t.Errorf("%s: no external case misses (missed: %v)", name, ids)
		}
	}
}

// An uncorrected filter built from the parts that the library offers for
// single passes, as somebody might: also caught.
func TestUncorrectedFilterFromParts(t *testing.T) {
	impl := answerFunc(func(operation string, in Values) (Values, error) {
		if operation != "low_pass_both_ways" {
			return nil, ErrUnsupported
		}
		s, err := filter.Butterworth(int(in["order"].Float()), in["cutoff"].Float(), in["rate"].Float())
		if err != nil {
			return nil, err
		}
		z, err := filter.NewZeroPhaseSections(s, filter.ZeroPhaseOptions{Pad: int(in.or("padding", 0))})
		if err != nil {
			return nil, err
		}
		signal, err := z.Apply(nil, in["signal"].Numbers)
		return Values{"signal": List("1", signal...)}, err
	})
	if _, external := missed(impl); external == 0 {
		t.Error("not caught")
	}
}

type answerFunc func(string, Values) (Values, error)

func (f answerFunc) Answer(operation string, in Values) (Values, error) { return f(operation, in) }
