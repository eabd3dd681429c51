package live_test

import (
	"encoding/json"
	"strings"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"example.com/momentarm/grf"
	"example.com/momentarm/phase/live"
)

// A zero may be kept and read again, that of plates whose channels are positions in
// part as well.
func TestZeroKeptAsJSON(t *testing.T) {
	for _, typ := range []grf.PlateType{grf.TypePoint, grf.TypeMoment, grf.TypeEight} {
		config := live.Config{Rate: 1000}
		var err error
		if config.Axes, err = grf.NewAxes(r3.Vec{Z: 1}, r3.Vec{Y: 1}, r3.Vec{}, grf.RightHanded); err != nil {
			t.Fatal(err)
		}
		plate, err := grf.NewPlate(grf.PlateConfig{
			Type: typ, Sense: grf.Action, Origin: r3.Vec{X: 0.2, Y: 0.15, Z: -0.04},
			Corners: [4]r3.Vec{{X: 0.3, Y: -0.25}, {X: -0.3, Y: -0.25}, {X: -0.3, Y: 0.25}, {X: 0.3, Y: 0.25}},
		})
		if err != nil {
			t.Fatal(err)
		}
		config.Inputs = []live.Input{{Plate: plate, Foot: live.Both}}

		// Nobody is on the plate, whose channels read something nevertheless.
		empty := make([]float64, plate.Channels())
		for i := range empty {
			empty[i] = 0.1 + 0.01*float64(i)
		}
		zeroed := chain(t, config)
		zeroed.Zero()
		sequence := uint64(0)
		for ; zeroed.State() != live.Zeroed; sequence++ {
			if sequence > 2000 {
				t.Fatal(zeroed.Refusal())
			}
			if _, err := zeroed.Push(live.Sample{Sequence: sequence, Channels: empty}); err != nil {
				t.Fatal(err)
			}
		}
		text, err := json.Marshal(zeroed.Zeros())
		if err != nil {
			t.Fatal(err)
		}
		var kept []grf.Baseline
		if err := json.Unmarshal(text, &kept); err != nil {
			t.Fatal(err)
		}
		again := chain(t, config)
		if err := again.SetZero(kept...); err != nil {
			t.Fatal(err)
		}
		loaded := append([]float64(nil), empty...)
		for i := range loaded {
			loaded[i] += 150
		}
		if typ == grf.TypePoint {
			loaded[3], loaded[4] = 0.05, -0.07
		}
		want, err := zeroed.Push(live.Sample{Sequence: sequence, Channels: loaded})
		if err != nil {
			t.Fatal(err)
		}
		got, err := again.Push(live.Sample{Channels: loaded})
		if err != nil {
			t.Fatal(err)
		}
		if got.MeasuredNet != want.MeasuredNet {
			t.Errorf("type %d: %v, want %v", typ, got.MeasuredNet, want.MeasuredNet)
		}
	}
}

// A default that does not go with the rate says that it is one, and what its unit is.
func TestDefaultOutOfRange(t *testing.T) {
	config := newRig(t).config()
	config.Rate = 80
	_, err := live.New(config)
	if want := "cut-off is by default 50 Hz; 0 to 40 Hz are possible"; err == nil || !strings.Contains(err.Error(), want) {
		t.Errorf("%v, want %q", err, want)
	}
	config.Cutoff = 41
	_, err = live.New(config)
	if want := "cut-off of 41 Hz; 0 to 40 Hz are possible"; err == nil || !strings.Contains(err.Error(), want) {
		t.Errorf("%v, want %q", err, want)
	}
}
