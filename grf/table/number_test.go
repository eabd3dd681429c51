package table

import (
	"fmt"
	"math"
	"math/rand/v2"
	"strconv"
	"testing"
)

// The quick way must give what the standard library gives, to the last bit, or
// not claim to know.
func TestScanNumber(t *testing.T) {
	rng := rand.New(rand.NewPCG(3, 4))
	check := func(s string) {
		t.Helper()
		v, n, ok := scanNumber([]byte(s+",rest"), '.')
		if !ok {
			return
		}
		want, err := strconv.ParseFloat(s, 64)
		if err != nil || n != len(s) || math.Float64bits(v) != math.Float64bits(want) {
			t.Errorf("%q: got %v and %d bytes, want %v and %d (%v)", s, v, n, want, len(s), err)
		}
	}
	known := 0
	for range 200000 {
		v := rng.NormFloat64() * math.Pow(10, float64(rng.IntN(12)-4))
		s := strconv.FormatFloat(v, "fge"[rng.IntN(3)], rng.IntN(20)-1, 64)
		check(s)
		if _, _, ok := scanNumber([]byte(s), '.'); ok {
			known++
		}
	}
	if known < 100000 {
		t.Errorf("only %d of 200000 usual numbers were read the quick way", known)
	}
	for _, s := range []string{"0", "-0", "+1", "1.", ".5", "9007199254740992", "9007199254740993", "1e22", "1e23", "1e-22", "123456789012345678901"} {
		check(s)
	}
	for _, s := range []string{"", "-", ".", "e5", "1e", "1e+", "--1", "x"} {
		if v, n, ok := scanNumber([]byte(s), '.'); ok && n == len(s) {
			t.Errorf("%q was read as %v", s, v)
		}
	}
}

func BenchmarkDecode(b *testing.B) {
	data := sheet(60000, 13)
	b.SetBytes(int64(len(data)))
	b.ReportAllocs()
	for b.Loop() {
		if _, err := Decode(data, Options{}); err != nil {
			b.Fatal(err)
		}
	}
}

// sheet returns a table as a plate program would write it.
func sheet(rows, columns int) []byte {
	rng := rand.New(rand.NewPCG(5, 6))
	data := []byte("time[s]")
	for c := 1; c < columns; c++ {
		data = append(data, fmt.Sprintf(",F%d[N]", c)...)
	}
	data = append(data, '\n')
	for i := range rows {
		data = strconv.AppendFloat(data, float64(i)/1000, 'f', 3, 64)
		for c := 1; c < columns; c++ {
			data = append(data, ',')
			data = strconv.AppendFloat(data, 500*rng.NormFloat64(), 'f', 6, 64)
		}
		data = append(data, '\n')
	}
	return data
}
