//go:build !race

package batch_test

import (
	"testing"

	"example.com/momentarm/cop/com"
	"example.com/momentarm/phase/batch"
)

// The race detector drops pooled memory on purpose, so this runs without it.
func TestSteadyStateAllocatesNothing(t *testing.T) {
	c, in := rig(t, 2000, 1)
	_, shorter := rig(t, 1500, 1)
	rest := in
	rest.Start, rest.Rest, rest.Height = batch.Start{}, com.Window{To: 0.3}, 0.9
	var r batch.Result
	if n := testing.AllocsPerRun(50, func() {
		for _, in := range []batch.Input{in, shorter, rest} {
			if err := c.Run(&r, in); err != nil {
				t.Fatal(err)
			}
		}
	}); n != 0 {
		t.Errorf("%g allocations", n)
	}
}
