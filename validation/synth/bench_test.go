package synth

import "testing"

func BenchmarkNew(b *testing.B) {
	for range b.N {
		if _, err := New(Config{}); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkAt(b *testing.B) {
	s, err := New(Config{})
	if err != nil {
		b.Fatal(err)
	}
	b.ReportAllocs()
	for i := range b.N {
		s.At(2 + float64(i%2000)/1000)
	}
}
