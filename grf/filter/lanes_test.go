package filter

import (
	"fmt"
	"math"
	"math/rand"
	"slices"
	"strings"
	"testing"
)

// everySample is the definition of what bank.run does: every sample of every
// channel through all sections, one after the other.
func everySample(b *bank, block []float64, d direction) {
	n := b.channels
	samples := len(block) / n
	for i := range samples {
		if d == descending {
			i = samples - 1 - i
		}
		for c := range n {
			for k := range b.sections {
				s1, s2 := b.of(k)
				block[i*n+c], s1[c], s2[c] = b.sections[k].next(s1[c], s2[c], block[i*n+c])
			}
		}
	}
}

// equal reports whether two numbers have the same bits, or are both NaN. The
// payload of a NaN is nobody's business.
func equal(a, b float64) bool {
	return math.Float64bits(a) == math.Float64bits(b) || math.IsNaN(a) && math.IsNaN(b)
}

func firstDifference(a, b []float64) int {
	for i := range a {
		if !equal(a[i], b[i]) {
			return i
		}
	}
	return -1
}

// randomSections returns stable sections: low-passes, others with B2 = B0, and
// some that are like nothing.
func randomSections(r *rand.Rand) []Section {
	s := butterworth(2+2*r.Intn(4), warp(0.001+0.45*r.Float64(), 1))
	for k := range s {
		switch r.Intn(4) {
		case 0:
			s[k].B1 = r.NormFloat64()
		case 1:
			s[k].B0, s[k].B1, s[k].B2 = r.NormFloat64(), r.NormFloat64(), r.NormFloat64()
		}
	}
	return s
}

// odd are values that a kernel could treat in its own way.
var odd = []float64{
	math.NaN(), math.Inf(1), math.Inf(-1), 0, math.Copysign(0, -1), 1,
	5e-324, -1e-310, math.SmallestNonzeroFloat64 * 1e10, 1e-300,
	math.MaxFloat64, -1e308, 1e150,
}

// The vector kernel, the loop over pairs of channels and the definition give
// the same digits and the same memory, for any number of channels and samples,
// in both directions, whatever the values are, and touch nothing else.
func TestRunIsTheDefinition(t *testing.T) {
	if !haveLanes() {
		t.Log("no vector kernel here: only the Go code is compared")
	}
	r := rand.New(rand.NewSource(20))
	lengths := []int{0, 1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 16, 33, 100, 199, 200}
	for channels := 1; channels <= 33; channels++ {
		if channels > 17 && channels%5 != 0 {
			continue
		}
		for _, length := range append(lengths, r.Intn(200)) {
			for _, d := range []direction{ascending, descending} {
				for _, values := range []string{"plain", "odd", "zeros", "tiny"} {
					checkRun(t, r, channels, length, d, values)
				}
			}
		}
	}
}

func checkRun(t *testing.T, r *rand.Rand, channels, length int, d direction, values string) {
	t.Helper()
	s := randomSections(r)
	const guard = 1234.5
	memory := make([]float64, 8+channels*length+8)
	for i := range memory {
		memory[i] = guard
	}
	block := memory[8 : 8+channels*length : 8+channels*length]
	for i := range block {
		switch values {
		case "plain":
			block[i] = 800 + 200*r.NormFloat64()
		case "odd":
			block[i] = r.NormFloat64()
			if r.Intn(1+length/2) == 0 {
				block[i] = odd[r.Intn(len(odd))]
			}
		case "zeros":
			block[i] = 0
		case "tiny":
			block[i] = r.NormFloat64() * 1e-308
		}
	}
	b := newBank(s, channels)
	for i := range b.memory {
		b.memory[i] = r.NormFloat64()
	}
	want := append([]float64(nil), block...)
	definition := bank{sections: s, channels: channels, memory: slices.Clone(b.memory)}
	everySample(&definition, want, d)

	start := append([]float64(nil), block...)
	before, kernel := slices.Clone(b.memory), b.lanes
	source := make([]float64, len(block)) // somewhere else
	for _, way := range []string{"in place, in Go", "in place", "to another place, in Go", "to another place"} {
		where := fmt.Sprintf("%d channels, %d samples, direction %d, %s, %s", channels, length, d, values, way)
		copy(block, start)
		copy(source, start)
		copy(b.memory, before)
		b.lanes = kernel
		if strings.HasSuffix(way, "in Go") {
			b.lanes = *new(lanes)
		}
		src := block
		if strings.HasPrefix(way, "to") {
			src = source
			fill(block, guard)
		}
		b.run(block, src, d)
		if i := firstDifference(block, want); i >= 0 {
			t.Fatalf("%s: sample %d of channel %d is %v, want %v\nsections %v", where, i/channels, i%channels, block[i], want[i], s)
		}
		if i := firstDifference(b.memory, definition.memory); i >= 0 {
			t.Fatalf("%s: memory %d is %v, want %v", where, i, b.memory[i], definition.memory[i])
		}
		if i := firstDifference(source, start); i >= 0 {
			t.Fatalf("%s: wrote to the source", where)
		}
		for i, v := range memory {
			if (i < 8 || i >= 8+len(block)) && v != guard {
				t.Fatalf("%s: wrote outside the block", where)
			}
		}
	}
}

// A bank that is run in pieces goes on where it stopped, whichever loop does
// which piece.
func TestRunInPieces(t *testing.T) {
	r := rand.New(rand.NewSource(21))
	s := butterworth(4, warp(50, 1000))
	for _, channels := range []int{1, 2, 3, 4, 6, 11, 12, 17} {
		whole := make([]float64, 300*channels)
		for i := range whole {
			whole[i] = 800 + 200*r.NormFloat64()
		}
		pieces := append([]float64(nil), whole...)
		a, b := newBank(s, channels), newBank(s, channels)
		a.run(whole, whole, ascending)
		for rest := pieces; len(rest) > 0; {
			n := min(r.Intn(20)*channels, len(rest))
			b.run(rest[:n], rest[:n], ascending)
			rest = rest[n:]
		}
		if i := firstDifference(pieces, whole); i >= 0 {
			t.Errorf("%d channels: value %d is %v, want %v", channels, i, pieces[i], whole[i])
		}
	}
}

// A value that is too large or not a number is seen wherever it is.
func TestWithin(t *testing.T) {
	for n := range 70 {
		x := make([]float64, n)
		for i := range x {
			x[i] = float64(1 - 2*(i%2))
			if i%3 == 0 {
				x[i] *= largest
			}
		}
		if haveLanes() && !clean(x) {
			t.Errorf("%d measured values are not clean", n)
		}
		if at := (floats{x, 1}).bad(0); at != n {
			t.Errorf("%d measured values: %d is bad", n, at)
		}
		for i := range x {
			was := x[i]
			for _, v := range []float64{math.NaN(), -math.NaN(), math.Inf(1), math.Inf(-1), -1.1 * largest, math.MaxFloat64} {
				x[i] = v
				if clean(x) {
					t.Errorf("%v at %d of %d is not seen", v, i, n)
				}
				if at := (floats{x, 1}).bad(0); at != i {
					t.Errorf("%v at %d of %d is found at %d", v, i, n, at)
				}
			}
			x[i] = was
		}
	}
}

// The Go compiler's floating-point code after a call of the vector kernel: were
// the upper halves of the registers not cleared, 'after' would be a multiple of
// 'alone' on processors that merge them (most of Intel's before AVX-512).
func BenchmarkScalarAfterLanes(b *testing.B) {
	if !haveLanes() {
		b.Skip("no vector kernel here")
	}
	s := butterworth(4, warp(50, 1000))
	k := newBank(s, 12)
	block := make([]float64, 12*6)
	sum := 0.0
	scalar := func() {
		x := 1.0
		for i := range 2000 {
			x = float64(x*0.999) + float64(i)
		}
		sum += x
	}
	b.Run("alone", func(b *testing.B) {
		for b.Loop() {
			scalar()
		}
	})
	b.Run("after", func(b *testing.B) {
		for b.Loop() {
			k.run(block, block, ascending)
			scalar()
		}
	})
	_ = sum
}

// The kernel itself, without ends and checks: two plates, two sections, one
// direction, ns per sample of all twelve channels.
func BenchmarkRun(b *testing.B) {
	for _, channels := range []int{1, 3, 4, 6, 12, 24} {
		for _, kind := range []string{"go", "lanes"} {
			b.Run(fmt.Sprintf("%d/%s", channels, kind), func(b *testing.B) {
				if kind == "lanes" && !haveLanes() {
					b.Skip("no vector kernel here")
				}
				k := newBank(butterworth(4, warp(50, 1000)), channels)
				if kind == "go" {
					k.lanes = *new(lanes)
				}
				const samples = 160
				block := make([]float64, samples*channels)
				for b.Loop() {
					for i := range block {
						block[i] = float64(i & 7)
					}
					k.run(block, block, ascending)
				}
				b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N)/samples, "ns/sample")
			})
		}
	}
}
