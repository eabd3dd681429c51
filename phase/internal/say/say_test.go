package say

import (
	"math"
	"testing"
)

func TestWriting(t *testing.T) {
	nan := math.NaN()
	for _, c := range []struct{ got, want string }{
		{Number(0.10196, "m"), "0.102 m"},
		{Number(873.57, "N"), "874 N"},
		{Number(-16.25, "%"), "−16.2 %"},
		{Number(-0.0001, "m"), "0.000 m"},
		{Number(2.8949, "1"), "2.89"},
		{Number(nan, "N"), "n/a"},
		{Number(12.3456, "furlong"), "12.35 furlong"},
		{WithSD(0.1019, 0.0107, "m"), "0.102 ± 0.011 m"},
		{WithSD(0.28, 0.00001, "s"), "0.280 ± less than 0.001 s"},
		{WithSD(0.28, nan, "s"), "0.280 s"},
		{P(0.0004), "p < 0.001"},
		{P(0.0312), "p = 0.031"},
		{P(nan), "p n/a"},
	} {
		if c.got != c.want {
			t.Errorf("%q, want %q", c.got, c.want)
		}
	}
}
