package filter_test

import (
	"encoding/json"
	"math"
	"math/cmplx"
	"os"
	"testing"

	"example.com/momentarm/grf/filter"
)

// What SciPy makes of a short signal: testdata/gen/scipy_filters.py wrote it
// and names the versions in the file.
type scipyFile struct {
	SciPy, NumPy string
	Input        []float64
	Lowpass      []struct {
		Order               int
		Cutoff, Rate        float64
		SOS                 [][]float64
		Freq, Re, Im, Delay []float64
		Rest                []float64 `json:"sosfilt_rest"`
		Steady              []float64 `json:"sosfilt_steady"`
		TwoPass             []float64 `json:"sosfiltfilt"`
		NoPad               []float64 `json:"sosfiltfilt_nopad"`
		Pad100              []float64 `json:"sosfiltfilt_pad100"`
		Corrected           []float64
	}
	Other []struct {
		Kind    string
		SOS     [][]float64
		TwoPass []float64 `json:"sosfiltfilt"`
	}
	Residual struct {
		Rate         float64
		Cutoffs, RMS []float64
		Pad          []int
	}
	Interp struct {
		Times, Values                         []float64
		Start, Rate                           float64
		N                                     int
		Linear, Cubic, Cubic4, Cubic3, Cubic2 []float64
	}
}

// tight is what different orders of summation leave of agreement, relative to
// the largest value of the series.
const tight = 1e-12

func scipy(t *testing.T) *scipyFile {
	t.Helper()
	data, err := os.ReadFile("testdata/scipy_filters.json")
	if err != nil {
		t.Fatal(err)
	}
	var f scipyFile
	if err := json.Unmarshal(data, &f); err != nil {
		t.Fatal(err)
	}
	if f.SciPy == "" || len(f.Input) == 0 || len(f.Lowpass) == 0 || len(f.Other) == 0 {
		t.Fatal("nothing to compare with")
	}
	return &f
}

func sectionsOf(sos [][]float64) []filter.Section {
	var s []filter.Section
	for _, r := range sos {
		s = append(s, filter.Section{B0: r[0], B1: r[1], B2: r[2], A1: r[4], A2: r[5]})
	}
	return s
}

// SciPy puts all of the gain into the first section; poles and order are the
// same.
func TestDesignAgainstSciPy(t *testing.T) {
	for _, c := range scipy(t).Lowpass {
		ours, err := filter.Butterworth(c.Order, c.Cutoff, c.Rate)
		if err != nil {
			t.Fatal(err)
		}
		theirs := sectionsOf(c.SOS)
		if len(ours) != len(theirs) {
			t.Fatalf("order %d: %d sections, want %d", c.Order, len(ours), len(theirs))
		}
		gain, want := 1.0, 1.0
		for i := range ours {
			gain *= ours[i].B0
			want *= theirs[i].B0
			if math.Abs(ours[i].A1-theirs[i].A1) > tight || math.Abs(ours[i].A2-theirs[i].A2) > tight {
				t.Errorf("order %d at %g/%g Hz, section %d: %v, want the poles of %v", c.Order, c.Cutoff, c.Rate, i, ours[i], theirs[i])
			}
		}
		if math.Abs(gain/want-1) > tight*100 { // digits lost in 1 + A1 + A2
			t.Errorf("order %d at %g/%g Hz: gain %g, want %g", c.Order, c.Cutoff, c.Rate, gain, want)
		}
		for i, f := range c.Freq {
			want := complex(c.Re[i], c.Im[i])
			if got := filter.Response(ours, f, c.Rate); cmplx.Abs(got-want) > tight {
				t.Errorf("order %d at %g/%g Hz: response at %g Hz %v, want %v", c.Order, c.Cutoff, c.Rate, f, got, want)
			}
			// SciPy's is computed from the polynomials of the whole filter,
			// which costs it digits.
			if got := filter.GroupDelay(ours, f, c.Rate); math.Abs(got/c.Delay[i]-1) > 1e-7 {
				t.Errorf("order %d at %g/%g Hz: delay at %g Hz %g s, want %g s", c.Order, c.Cutoff, c.Rate, f, got, c.Delay[i])
			}
		}
	}
}

func TestZeroPhaseAgainstSciPy(t *testing.T) {
	f := scipy(t)
	check := func(name string, z *filter.ZeroPhase, err error, want []float64) {
		t.Helper()
		if err != nil {
			t.Fatalf("%s: %v", name, err)
		}
		got, err := z.Apply(nil, f.Input)
		if err != nil {
			t.Fatalf("%s: %v", name, err)
		}
		if d := worst(got, want); d > tight {
			t.Errorf("%s: off by %.2g", name, d)
		}
	}
	for _, c := range f.Lowpass {
		s := sectionsOf(c.SOS)
		ref := filter.ReferencePad(s)
		z, err := filter.NewZeroPhaseSections(s, filter.ZeroPhaseOptions{Pad: ref})
		check("sosfiltfilt", z, err, c.TwoPass)
		z, err = filter.NewZeroPhaseSections(s, filter.ZeroPhaseOptions{Pad: filter.NoPad})
		check("sosfiltfilt without pad", z, err, c.NoPad)
		z, err = filter.NewZeroPhaseSections(s, filter.ZeroPhaseOptions{Pad: 100})
		check("sosfiltfilt with 100", z, err, c.Pad100)
		z, err = filter.NewZeroPhase(filter.ZeroPhaseOptions{Order: c.Order, Cutoff: c.Cutoff, Rate: c.Rate, Pad: ref})
		check("corrected cut-off", z, err, c.Corrected)
	}
	for _, c := range f.Other {
		s := sectionsOf(c.SOS)
		z, err := filter.NewZeroPhaseSections(s, filter.ZeroPhaseOptions{Pad: filter.ReferencePad(s)})
		check(c.Kind, z, err, c.TwoPass)
	}
}

// Many channels at once are SciPy's numbers too, with the vector kernel and
// without. Channel c is the signal times −2^c, which no digit depends on.
func TestChannelsAgainstSciPy(t *testing.T) {
	f := scipy(t)
	scale := func(c int) float64 { return math.Ldexp(-1, c) }
	for _, channels := range []int{4, 6, 12, 17} {
		x := make([]float64, len(f.Input)*channels)
		for i := range x {
			x[i] = f.Input[i/channels] * scale(i%channels)
		}
		check := func(name string, y, want []float64) {
			t.Helper()
			for c := range channels {
				got := channel(y, c, channels)
				for i := range got {
					got[i] /= scale(c)
				}
				if d := worst(got, want); d > tight {
					t.Errorf("%s, channel %d of %d: off by %.2g", name, c, channels, d)
				}
			}
		}
		for _, c := range f.Lowpass {
			s := sectionsOf(c.SOS)
			for _, kernel := range []string{"lanes", "go"} {
				z, err := filter.NewZeroPhaseSections(s, filter.ZeroPhaseOptions{Pad: filter.ReferencePad(s)})
				if err != nil {
					t.Fatal(err)
				}
				p, err := filter.NewCausalSections(s, filter.CausalOptions{Rate: c.Rate, Channels: channels})
				if err != nil {
					t.Fatal(err)
				}
				if kernel == "go" {
					z, p = z.WithoutLanes(), p.WithoutLanes()
				}
				y, err := z.Interleaved(nil, x, channels)
				if err != nil {
					t.Fatal(err)
				}
				check("sosfiltfilt by "+kernel, y, c.TwoPass)
				check("sosfilt by "+kernel, p.Push(nil, x), c.Steady)
			}
		}
	}
}

func TestCausalAgainstSciPy(t *testing.T) {
	f := scipy(t)
	for _, c := range f.Lowpass {
		ours := causal(t, filter.CausalOptions{Order: c.Order, Cutoff: c.Cutoff, Rate: c.Rate})
		if d := worst(ours.Push(nil, f.Input), c.Steady); d > tight {
			t.Errorf("order %d at %g/%g Hz from the steady state: off by %.2g", c.Order, c.Cutoff, c.Rate, d)
		}
		ours.Reset()
		if err := ours.Prime([]float64{0}); err != nil {
			t.Fatal(err)
		}
		if d := worst(ours.Push(nil, f.Input), c.Rest); d > tight {
			t.Errorf("order %d at %g/%g Hz from rest: off by %.2g", c.Order, c.Cutoff, c.Rate, d)
		}
		theirs, err := filter.NewCausalSections(sectionsOf(c.SOS), filter.CausalOptions{Rate: c.Rate})
		if err != nil {
			t.Fatal(err)
		}
		if d := worst(theirs.Push(nil, f.Input), c.Steady); d > tight {
			t.Errorf("their sections of order %d: off by %.2g", c.Order, d)
		}
	}
}

func TestResidualsAgainstSciPy(t *testing.T) {
	f := scipy(t)
	got, err := filter.Residuals(f.Input, f.Residual.Rate, f.Residual.Cutoffs, filter.ResidualOptions{})
	if err != nil {
		t.Fatal(err)
	}
	if d := worst(got, f.Residual.RMS); d > tight*100 { // a small difference of large values
		t.Errorf("residuals off by %.2g: %v, want %v", d, got, f.Residual.RMS)
	}
	for i, cutoff := range f.Residual.Cutoffs {
		z := zeroPhase(t, filter.ZeroPhaseOptions{Cutoff: cutoff, Rate: f.Residual.Rate})
		if z.Pad() != f.Residual.Pad[i] {
			t.Errorf("default pad at %g Hz is %d, want %d", cutoff, z.Pad(), f.Residual.Pad[i])
		}
	}
}

func TestInterpolationAgainstSciPy(t *testing.T) {
	in := scipy(t).Interp
	for _, c := range []struct {
		name string
		kind filter.Interpolation
		n    int // knots
		want []float64
	}{
		{"linear", filter.Linear, 40, in.Linear},
		{"cubic", filter.Cubic, 40, in.Cubic},
		{"cubic of 4", filter.Cubic, 4, in.Cubic4},
		{"cubic of 3", filter.Cubic, 3, in.Cubic3},
		{"cubic of 2", filter.Cubic, 2, in.Cubic2},
	} {
		to := filter.Clock{Start: in.Start, Rate: in.Rate, N: len(c.want)}
		got, err := filter.Resample(nil, to, in.Times[:c.n], in.Values[:c.n], filter.ResampleOptions{Kind: c.kind})
		if err != nil {
			t.Fatal(err)
		}
		if d := worst(got, c.want); d > tight {
			t.Errorf("%s: off by %.2g", c.name, d)
		}
	}
}
