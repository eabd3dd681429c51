package batch_test

import (
	"slices"
	"testing"
)

// The vector kernel gives the digits of its twin, for every number of samples that
// a round, a block or neither divides, and writes nothing beside them.
func TestVectorsSameDigits(t *testing.T) {
	c, in := rig(t, 1100, 7)
	if !c.HasVectors() {
		t.Skip("there is no vector kernel for this machine or build")
	}
	plain := c.Plain()
	for n := 16; n < 1100; n += 1 + n/40 {
		in := in
		in.Channels = slices.Clone(in.Channels)
		cut(&in, n)
		identical(t, run(t, c, in), run(t, plain, in))
	}
}
