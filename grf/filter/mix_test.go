package filter

import (
	"errors"
	"math"
	"math/rand"
	"testing"

	"gonum.org/v1/gonum/mat"
)

// The vector kernel, the loop for six series and the definition give the same
// digits, for any number of samples, wherever they begin, whatever the values
// are, and touch nothing else.
func TestMixIsTheDefinition(t *testing.T) {
	if !haveLanes() {
		t.Log("no vector kernel here: only the Go code is compared")
	}
	r := rand.New(rand.NewSource(40))
	for range 3000 {
		channels, count := 6, 6
		if r.Intn(3) == 0 {
			channels, count = 1+r.Intn(9), 1+r.Intn(9)
		}
		weights := make([]float64, channels*count)
		for i := range weights {
			weights[i] = r.NormFloat64()
		}
		m, err := NewMix(channels, weights)
		if err != nil {
			t.Fatal(err)
		}
		if m.Channels() != channels || m.Series() != count {
			t.Fatalf("%d × %d, want %d × %d", m.Channels(), m.Series(), channels, count)
		}
		from, samples, stride := r.Intn(5), r.Intn(20), channels+r.Intn(8)
		series := make([][]float64, count)
		zero, offset := make([]float64, count), make([]float64, channels)
		for j := range series {
			series[j] = make([]float64, from+samples)
			for i := range series[j] {
				series[j][i] = 800 + 200*r.NormFloat64()
				if r.Intn(30) == 0 {
					series[j][i] = odd[r.Intn(len(odd))]
				}
			}
			zero[j] = r.NormFloat64()
		}
		for c := range offset {
			for j, z := range zero {
				offset[c] -= float64(weights[c*count+j] * z)
			}
		}
		if r.Intn(2) == 0 {
			zero = nil
			clear(offset)
		}

		const guard = 1234.5
		got, want := make([]float64, samples*stride+8), make([]float64, samples*stride+8)
		fill(got, guard)
		fill(want, guard)
		m.any(want, stride, offset, series, from, from+samples)
		for _, kernel := range []mixLanes{m.lanes, nil} {
			fill(got, guard)
			m.lanes = kernel
			m.Apply(got, stride, series, zero, from, from+samples)
			if i := firstDifference(got, want); i >= 0 {
				t.Fatalf("%d × %d, %d samples from %d, stride %d, lanes %t: value %d is %v, want %v",
					channels, count, samples, from, stride, kernel != nil, i, got[i], want[i])
			}
		}
	}
}

// A mix is a matrix product: gonum's, to the rounding of sums.
func TestMixIsAProduct(t *testing.T) {
	r := rand.New(rand.NewSource(41))
	const samples = 50
	for _, shape := range [][2]int{{6, 6}, {6, 8}, {6, 3}, {1, 1}, {3, 7}, {12, 12}} {
		channels, count := shape[0], shape[1]
		w, x := mat.NewDense(channels, count, nil), mat.NewDense(count, samples, nil)
		for _, m := range []*mat.Dense{w, x} {
			m.Apply(func(_, _ int, _ float64) float64 { return r.NormFloat64() }, m)
		}
		zero := make([]float64, count)
		series := make([][]float64, count)
		less := mat.DenseCopyOf(x)
		for j := range zero {
			zero[j] = r.NormFloat64()
			series[j] = x.RawRowView(j)
			for i := range samples {
				less.Set(j, i, x.At(j, i)-zero[j])
			}
		}
		var want mat.Dense
		want.Mul(w, less)
		m, err := NewMix(channels, w.RawMatrix().Data)
		if err != nil {
			t.Fatal(err)
		}
		got := make([]float64, samples*channels)
		m.Apply(got, channels, series, zero, 0, samples)
		for i := range samples {
			for c := range channels {
				if off := math.Abs(got[i*channels+c] - want.At(c, i)); off > 1e-13 {
					t.Errorf("%v: sample %d, channel %d is off by %g", shape, i, c, off)
				}
			}
		}
	}
}

func TestNewMixErrors(t *testing.T) {
	for name, try := range map[string]struct {
		channels int
		weights  []float64
	}{
		"no channels":  {0, []float64{1}},
		"below none":   {-1, []float64{1}},
		"no weights":   {2, nil},
		"half a row":   {2, []float64{1, 2, 3}},
		"NaN":          {1, []float64{1, math.NaN()}},
		"infinite":     {1, []float64{math.Inf(-1)}},
		"more than is": {7, []float64{1, 2, 3}},
	} {
		if m, err := NewMix(try.channels, try.weights); m != nil || !errors.Is(err, ErrWeights) {
			t.Errorf("%s: %v, %v", name, m, err)
		}
	}
}

// The weights are the mix's own.
func TestMixKeepsItsWeights(t *testing.T) {
	weights := []float64{2}
	m, err := NewMix(1, weights)
	if err != nil {
		t.Fatal(err)
	}
	weights[0] = 3
	got := []float64{0}
	m.Apply(got, 1, [][]float64{{5}}, nil, 0, 1)
	if got[0] != 10 {
		t.Errorf("%g, want 10", got[0])
	}
}

// What is too short is an index out of range before anything is written.
func TestMixPanics(t *testing.T) {
	m, err := NewMix(6, make([]float64, 36))
	if err != nil {
		t.Fatal(err)
	}
	long := func(n int) [][]float64 {
		s := make([][]float64, 6)
		for j := range s {
			s[j] = make([]float64, n, 100)
		}
		return s
	}
	short := long(8)
	short[5] = short[5][:7]
	for name, f := range map[string]func(dst []float64){
		"series too few":   func(dst []float64) { m.Apply(dst, 6, long(8)[:5], nil, 0, 8) },
		"series too short": func(dst []float64) { m.Apply(dst, 6, short, nil, 0, 8) },
		"below zero":       func(dst []float64) { m.Apply(dst, 6, long(8), nil, -1, 7) },
		"zeros too few":    func(dst []float64) { m.Apply(dst, 6, long(8), make([]float64, 5, 9), 0, 8) },
		"dst too short":    func(dst []float64) { m.Apply(dst[:47], 6, long(8), nil, 0, 8) },
		"stride too short": func(dst []float64) { m.Apply(dst, 5, long(8), nil, 0, 8) },
	} {
		dst := make([]float64, 100)
		fill(dst, 7)
		func() {
			defer func() {
				if recover() == nil {
					t.Errorf("%s: no panic", name)
				}
			}()
			f(dst)
		}()
		for _, v := range dst {
			if v != 7 {
				t.Errorf("%s: something was written", name)
				break
			}
		}
	}
	m.Apply(nil, 6, nil, nil, 3, 3) // nothing is asked for
}

// Two plates into one block, ns per sample.
func BenchmarkMix(b *testing.B) {
	weights := make([]float64, 36)
	for i := range weights {
		weights[i] = float64(i)
	}
	for _, kind := range []string{"go", "lanes"} {
		b.Run(kind, func(b *testing.B) {
			m, err := NewMix(6, weights)
			if err != nil {
				b.Fatal(err)
			}
			if kind == "lanes" && !haveLanes() {
				b.Skip("no vector kernel here")
			}
			if kind == "go" {
				m.lanes = nil
			}
			const samples = 160
			series := make([][]float64, 12)
			for j := range series {
				series[j] = make([]float64, samples)
			}
			block := make([]float64, 12*samples)
			for b.Loop() {
				m.Apply(block, 12, series[:6], nil, 0, samples)
				m.Apply(block[6:], 12, series[6:], nil, 0, samples)
			}
			b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N)/samples, "ns/sample")
		})
	}
}
