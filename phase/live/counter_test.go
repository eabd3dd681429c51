package live_test

import (
	"errors"
	"fmt"
	"math/rand/v2"
	"testing"

	"example.com/momentarm/grf"
	"example.com/momentarm/phase/live"
)

func TestCounter(t *testing.T) {
	for _, c := range []struct {
		bits    int
		in, out []uint64
	}{
		{0, []uint64{5, 1 << 60, 2}, []uint64{5, 1 << 60, 2}},
		{64, []uint64{5, 2}, []uint64{5, 2}},
		{8, []uint64{250, 255, 0, 1, 3}, []uint64{250, 255, 256, 257, 259}},
		{8, []uint64{250, 121}, []uint64{250, 377}}, // 127 ahead
		{8, []uint64{250, 122}, []uint64{250, 122}}, // 128 behind
		{8, []uint64{250, 249, 250, 251}, []uint64{250, 249, 250, 251}},
		{8, []uint64{255, 0, 255, 1}, []uint64{255, 256, 255, 257}}, // late, across the end
		{8, []uint64{3, 254, 4}, []uint64{3, 0, 4}},                 // before the first
		{8, []uint64{0x1ff, 0x300}, []uint64{255, 256}},             // only so many bits
		{16, []uint64{65_535, 0}, []uint64{65_535, 65_536}},
		{63, []uint64{1<<63 - 1, 0}, []uint64{1<<63 - 1, 1 << 63}},
	} {
		counter := live.Counter{Bits: c.bits}
		for i, n := range c.in {
			if got := counter.Widen(n); got != c.out[i] {
				t.Errorf("%d bits, %v: number %d is %d, want %d", c.bits, c.in, i, got, c.out[i])
			}
		}
		counter.Restart()
		if got := counter.Widen(c.in[0]); got != c.out[0] {
			t.Errorf("%d bits: %d after a restart, want %d", c.bits, got, c.out[0])
		}
	}
	// Whatever is lost, less than half of the range at a time.
	rng := rand.New(rand.NewPCG(8, 9))
	for _, bits := range []int{4, 8, 12, 16, 32} {
		counter := live.Counter{Bits: bits}
		want := rng.Uint64N(1 << bits)
		counter.Widen(want)
		for range 10_000 {
			want += 1 + rng.Uint64N(1<<(bits-1)-1)
			if got := counter.Widen(want & (1<<bits - 1)); got != want {
				t.Fatalf("%d bits: %d, want %d", bits, got, want)
			}
		}
	}
}

// The chain marks a gap across the end of the device's numbers, and refuses what
// came before it.
func TestGapWhereNumbersBeginAnew(t *testing.T) {
	d := newFeeder(t)
	counter := live.Counter{Bits: 8}
	push := func(n uint64) (live.Frame, error) {
		return d.c.Push(live.Sample{Sequence: counter.Widen(n), Channels: d.r.channels(nobody, nobody)})
	}
	for n := uint64(200); n < 254; n++ {
		if f, err := push(n); err != nil || f.Lost != 0 {
			t.Fatalf("%d: %d lost, %v", n, f.Lost, err)
		}
	}
	f, err := push(2) // 254, 255, 0 and 1 are lost
	if err != nil || f.Lost != 4 || !f.Health.Has(live.Lost|live.Bridged) || f.Time != 0.058 {
		t.Errorf("%d lost, %v at %g s: %v", f.Lost, f.Health, f.Time, err)
	}
	if _, err := push(255); !errors.Is(err, live.ErrSequence) {
		t.Errorf("a late sample: %v", err)
	}
	if f, err := push(3); err != nil || f.Lost != 0 {
		t.Errorf("%d lost, %v", f.Lost, err)
	}
}

// Numbers at the very end of 64 bits do no harm either.
func TestLastOfAllNumbers(t *testing.T) {
	d := newFeeder(t)
	ch := d.r.channels(nobody, grf.Wrench{})
	for i, sequence := range []uint64{1<<64 - 3, 1<<64 - 2, 1<<64 - 1} {
		if f, err := d.c.Push(live.Sample{Sequence: sequence, Channels: ch}); err != nil || f.Lost != 0 || f.Time != float64(i)/rate {
			t.Errorf("%d: %+v, %v", sequence, f.Time, err)
		}
	}
	if _, err := d.c.Push(live.Sample{Sequence: 0, Channels: ch}); !errors.Is(err, live.ErrSequence) {
		t.Error(err)
	}
	c := chain(t, d.r.config())
	if dst, err := c.PushBlock(nil, live.Sample{Sequence: 1<<64 - 1, Channels: append(ch, ch...)}); !errors.Is(err, live.ErrSequence) || len(dst) != 0 {
		t.Error(err)
	}
	if f, err := c.Push(live.Sample{Sequence: 7, Channels: ch}); err != nil || f.Lost != 0 {
		t.Errorf("the block that was refused has left a trace: %d lost, %v", f.Lost, err)
	}
	if dst, err := d.c.PushBlock(nil, live.Sample{Sequence: 1, Channels: append(ch, ch...)}); !errors.Is(err, live.ErrSequence) || len(dst) != 0 {
		t.Error(err)
	}
}

func ExampleCounter() {
	counter := live.Counter{Bits: 16} // the device counts to 65535
	for _, n := range []uint64{65533, 65534, 65535, 0, 1, 4} {
		fmt.Print(counter.Widen(n), " ")
	}
	fmt.Println()
	// Output: 65533 65534 65535 65536 65537 65540
}
