package batch_test

import (
	"encoding/binary"
	"math"
	"slices"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"example.com/momentarm/cop"
	"example.com/momentarm/grf/filter"
	"example.com/momentarm/phase/batch"
	"example.com/momentarm/torque"
)

// FuzzRun puts values of any kind into any places of a recording. Then Run says what
// is wrong and leaves nothing, or what it leaves obeys its own definitions at every
// sample: what is defined under the thresholds and what is not, crossings, extremes.
func FuzzRun(f *testing.F) {
	spoil := func(places ...any) (b []byte) {
		for _, p := range places {
			switch p := p.(type) {
			case int:
				b = binary.LittleEndian.AppendUint16(b, uint16(p))
			case float64:
				b = binary.LittleEndian.AppendUint64(b, math.Float64bits(p))
			}
		}
		return b
	}
	f.Add(uint64(1), uint16(300), uint8(0), []byte{})
	f.Add(uint64(2), uint16(700), uint8(1), spoil(100, 3, math.NaN(), 650, 2, math.NaN()))
	f.Add(uint64(3), uint16(129), uint8(2), spoil(64, 0, math.NaN(), 65, 7, 1e149))
	f.Add(uint64(4), uint16(40), uint8(4), spoil(5, 2, math.Inf(1)))
	f.Add(uint64(5), uint16(0), uint8(3), []byte{})
	f.Add(uint64(6), uint16(200), uint8(9), spoil(20, 8, -1e160, 21, 8, 5e-324))
	axes, plates := lab(f), twoPlates(f)
	f.Fuzz(func(t *testing.T, seed uint64, samples uint16, kind uint8, places []byte) {
		n := int(samples) % 1500
		in := batch.Input{Channels: make([][]float64, 12), Zero: make([]float64, 12)}
		if n > 0 {
			in.Channels = channels(t, plates, axes, feet(seed, n, axes), in.Zero, seed)
		}
		for ; len(places) >= 12 && n > 0; places = places[12:] {
			i, c := int(binary.LittleEndian.Uint16(places))%n, int(binary.LittleEndian.Uint16(places[2:]))%12
			in.Channels[c][i] = math.Float64frombits(binary.LittleEndian.Uint64(places[4:]))
		}
		switch kind / 3 % 3 {
		case 1:
			in.Start = batch.Start{Mass: 80, Position: r3.Vec{Z: 1}}
		case 2:
			in.COM = make([]r3.Vec, n)
			for i := range in.COM {
				in.COM[i] = r3.Vec{X: 0.01, Y: 0.1 * math.Sin(float64(i)), Z: 0.95}
			}
		}
		policies := []filter.NaNPolicy{filter.NaNError, filter.NaNSegments, filter.NaNInterpolate}
		c, err := batch.New(batch.Config{Rate: rate, Plates: plates, Axes: axes, NaN: policies[kind%3]})
		if err != nil {
			t.Fatal(err)
		}
		var r batch.Result
		if err := c.Run(&r, in); err != nil {
			if len(r.COM) != 0 || len(r.Moment) != 0 || len(r.Arm) != 0 || len(r.Net.COP) != 0 || len(r.Plates[0].COP) != 0 || err.Error() == "" {
				t.Fatalf("%v, and %d samples", err, len(r.COM))
			}
			return
		}
		got := of(&r)
		for _, l := range append(slices.Clone(got.plates), got.net) {
			for i, w := range l.wrench {
				if loaded := w.Force.Z >= cop.DefaultMinVertical; loaded == math.IsNaN(l.cop[i].X) && !math.IsInf(w.Moment.Y, 0) {
					t.Fatalf("sample %d of %g N: centre of pressure %v", i, w.Force.Z, l.cop[i])
				}
			}
		}
		for i, w := range got.net.wrench {
			want := torque.About(w, got.com[i])
			force := math.Hypot(w.Force.Y, w.Force.Z)
			if math.IsNaN(want.Frontal) != math.IsNaN(got.moment[i].Frontal) ||
				math.IsNaN(got.arm[i].Frontal) != (math.IsNaN(want.Frontal) || !(force >= torque.DefaultMinForce)) && math.Abs(force-torque.DefaultMinForce) > 1e-9 && force < 1e150 {
				t.Fatalf("sample %d: %+v about %v is %v, arm %v", i, w, got.com[i], got.moment[i], got.arm[i])
			}
		}
		sameExtremes(t, &r, got)
	})
}
