package live_test

import (
	"encoding/binary"
	"errors"
	"math"
	"reflect"
	"sync"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"example.com/momentarm/cop/com"
	"example.com/momentarm/grf"
	"example.com/momentarm/phase/live"
	"example.com/momentarm/validation/synth"
)

const fuzzRate = 100

// fuzzTake is a swing with empty plates before it, as channels of two plates that
// report forces and moments.
var fuzzTake = sync.OnceValue(func() [][]float64 {
	s, err := synth.New(synth.Config{Rate: fuzzRate, Unloaded: 1.5})
	if err != nil {
		panic(err)
	}
	rec := s.Recording()
	out := make([][]float64, rec.Len())
	for i := range out {
		for _, w := range []grf.Wrench{rec.Trail[i], rec.Lead[i]} {
			v := components(w)
			out[i] = append(out[i], v[:]...)
		}
	}
	return out
})

// fuzzChain takes forces and moments in swing axes as they are.
func fuzzChain(t testing.TB) *live.Chain {
	flat, err := grf.NewAxes(r3.Vec{Z: 1}, r3.Vec{Y: 1}, r3.Vec{}, grf.RightHanded)
	if err != nil {
		t.Fatal(err)
	}
	plate, err := grf.NewPlate(grf.PlateConfig{Type: grf.TypeMoment, Sense: grf.Reaction,
		Corners: [4]r3.Vec{{X: 0.5, Y: 0.5}, {X: -0.5, Y: 0.5}, {X: -0.5, Y: -0.5}, {X: 0.5, Y: -0.5}}})
	if err != nil {
		t.Fatal(err)
	}
	ranges := []live.Range{{Low: -5000, High: 5000}}
	return chain(t, live.Config{Rate: fuzzRate, Cutoff: 20, Axes: flat, ZeroTime: 0.2, WeighTime: 0.5,
		Inputs: []live.Input{{Plate: plate, Foot: live.Trail, Ranges: ranges}, {Plate: plate, Foot: live.Lead}}})
}

// drive feeds a chain with the swing, disturbed as the bytes say: eight bytes a
// disturbance. Stretches without a disturbance go in as blocks of the given length.
func drive(t *testing.T, c *live.Chain, data []byte, block int) []live.Frame {
	take := fuzzTake()
	values := [...]float64{math.NaN(), math.Inf(1), math.Inf(-1), 0, 100, -100, 800, 5000, 1e9, -1e13, 1e300}
	disturb := map[int][][]byte{}
	for ; len(data) >= 8; data = data[8:] {
		at := int(binary.LittleEndian.Uint16(data)) % len(take)
		disturb[at] = append(disturb[at], data[:8])
	}
	var out []live.Frame
	add := func(f live.Frame) {
		for _, e := range f.Events {
			// Times of events lie before the frame; a mark may be on it. Sequence numbers
			// that jump by more than a float's digits leave times a rounding apart.
			if !(e.Time <= f.Time+1e-9+1e-15*math.Abs(f.Time)) || math.IsInf(e.SD, 0) || e.SD < 0 {
				t.Fatalf("%+v in the frame of %g s", e, f.Time)
			}
		}
		f.Events = append(f.Events[:0:0], f.Events...)
		out = append(out, f)
	}
	known := func(err error, want ...error) {
		for _, w := range want {
			if errors.Is(err, w) {
				return
			}
		}
		if err != nil {
			t.Fatal(err)
		}
	}
	sequence, held := uint64(0), []float64(nil)
	for i := 0; i < len(take); {
		for _, d := range disturb[i] {
			arg := int(binary.LittleEndian.Uint16(d[3:]))
			switch d[2] % 12 {
			case 0:
				sequence += uint64(arg % 8)
			case 1:
				sequence += uint64(arg) << (d[5] % 48)
			case 2:
				c.Restart()
			case 3:
				c.Zero()
			case 4:
				known(c.Weigh(), live.ErrNotZeroed)
			case 5:
				known(c.SetZero())
			case 6:
				_ = c.Mark([]string{"impact", "P4", "top", ""}[d[5]%4], float64(i-arg%200)/fuzzRate)
			case 7:
				_ = c.Correct(com.Fix{Time: float64(i-arg%30) / fuzzRate, Position: r3.Vec{X: values[int(d[5])%len(values)], Z: 1}, PositionSD: r3.Vec{X: 0.01, Y: 0.01, Z: values[int(d[6])%len(values)]}})
			case 8: // something else from the device
				_, err := c.Push(live.Sample{Sequence: sequence, Channels: make([]float64, arg%20)})
				known(err, grf.ErrChannels, live.ErrSequence)
				if err == nil {
					sequence++
				}
			case 9: // out of order
				_, err := c.Push(live.Sample{Sequence: sequence - uint64(1+arg), Channels: take[i]})
				known(err, live.ErrSequence)
			case 10: // a channel that is anything
				held = append([]float64(nil), take[i]...)
				held[int(d[5])%len(held)] = values[int(d[6])%len(values)]
			case 11: // a clock that is anything
				f, err := c.Push(live.Sample{Sequence: sequence, Stamp: values[int(d[5])%len(values)] * float64(arg), Channels: take[i]})
				known(err, live.ErrSequence)
				if err == nil {
					add(f)
					sequence++
				}
			}
		}
		n := 1
		for n < block && i+n < len(take) && disturb[i+n] == nil {
			n++
		}
		var flat []float64
		for k := range n {
			if held != nil {
				flat = append(flat, held...)
				held = nil
				continue
			}
			flat = append(flat, take[i+k]...)
		}
		i += n
		if block == 1 {
			f, err := c.Push(live.Sample{Sequence: sequence, Channels: flat})
			known(err, live.ErrSequence)
			if err == nil {
				add(f)
			}
		} else {
			fs, err := c.PushBlock(nil, live.Sample{Sequence: sequence, Channels: flat})
			known(err, live.ErrSequence)
			for _, f := range fs {
				add(f)
			}
		}
		sequence += uint64(n)
	}
	return out
}

// FuzzChain: whatever a device sends and a viewer asks, the chain gives frames of
// finite numbers and NaN or refuses the sample, and the same frames in blocks of any
// length.
func FuzzChain(f *testing.F) {
	f.Add([]byte{})
	f.Add([]byte{0, 0, 3, 0, 0, 0, 0, 0, 120, 1, 4, 0, 0, 0, 0, 0})                           // zeroed, weighed
	f.Add([]byte{0, 0, 5, 0, 0, 0, 0, 0, 120, 1, 4, 0, 0, 0, 0, 0, 0, 2, 0, 5, 0, 0, 0, 0})   // and a short gap
	f.Add([]byte{0, 0, 5, 0, 0, 0, 0, 0, 120, 1, 4, 0, 0, 0, 0, 0, 0, 2, 1, 9, 0, 40, 0, 0})  // and a long one
	f.Add([]byte{0, 0, 5, 0, 0, 0, 0, 0, 120, 1, 4, 0, 0, 0, 0, 0, 0, 2, 10, 0, 0, 2, 10, 0}) // and a huge force
	f.Add([]byte{0, 1, 2, 0, 0, 0, 0, 0, 0, 2, 9, 1, 0, 0, 0, 0, 0, 2, 8, 11, 0, 0, 0, 0, 0, 2, 11, 1, 0, 1, 0, 0})
	f.Fuzz(func(t *testing.T, data []byte) {
		if len(data) > 400 {
			return
		}
		single := drive(t, fuzzChain(t), data, 1)
		blocks := drive(t, fuzzChain(t), data, 97)
		if len(single) != len(blocks) {
			t.Fatalf("%d frames singly, %d in blocks", len(single), len(blocks))
		}
		for i := range single {
			if !sound(reflect.ValueOf(single[i]), reflect.ValueOf(blocks[i])) {
				t.Fatalf("frame %d singly\n%+v\nin blocks\n%+v", i, single[i], blocks[i])
			}
		}
	})
}

// sound reports whether two values are the same, NaN alike, and nothing in them is
// infinite.
func sound(a, b reflect.Value) bool {
	switch a.Kind() {
	case reflect.Float64:
		x, y := a.Float(), b.Float()
		return !math.IsInf(x, 0) && (x == y || math.IsNaN(x) && math.IsNaN(y))
	case reflect.Struct:
		for i := range a.NumField() {
			if !sound(a.Field(i), b.Field(i)) {
				return false
			}
		}
		return true
	case reflect.Slice:
		if a.Len() != b.Len() {
			return false
		}
		for i := range a.Len() {
			if !sound(a.Index(i), b.Index(i)) {
				return false
			}
		}
		return true
	}
	return a.Equal(b)
}
