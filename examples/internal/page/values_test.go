package page

import (
	"math"
	"testing"
)

func TestNumbers(t *testing.T) {
	nan := math.NaN()
	for _, c := range []struct{ got, want string }{
		{number(-0.04, 1), "0.0"},
		{number(-12.34, 1), "−12.3"},
		{number(nan, 1), "n/a"},
		{number(math.Inf(1), 1), "n/a"},
		{si(933.4, "N"), "933\u00a0N"},
		{si(nan, "N"), "n/a"},
		{si(6.52, "deg"), "6.5°"},
		{us(nan, "N"), ""},
		{us(0.5, "s"), ""},
		// Exact factors: 1 lbf = 4.4482216152605 N, 1 in = 0.0254 m (NIST SP 811).
		{us(4448.2216, "N"), "1000\u00a0lbf"},
		{us(0.254, "m"), "10.0\u00a0in"},
		{us(135.58179, "N·m"), "100\u00a0lbf·ft"},
		{both(444.82216, "N"), "445\u00a0N (100\u00a0lbf)"},
		{si(1.25, "furlong"), "1.250\u00a0furlong"},
		{withSD(0.2079, 0.0111, "m"), "0.208\u00a0±\u00a00.011\u00a0m"},
		{withSD(0.2079, nan, "m"), "0.208\u00a0m"},
		{withSD(0.2079, 0, "m"), "0.208\u00a0m"},
		{withSD(nan, 0.1, "m"), "n/a"},
		{withSD(52.16, 0.14, "%"), "52.2\u00a0±\u00a00.1\u00a0%"},
		{withSD(52.16, 0.004, "%"), "52\u00a0±\u00a0under\u00a01\u00a0%"},
		{spread(0.3, "%"), "±\u00a00.3\u00a0%"}, // not 0, and no "< 1 %"
		{spread(0.01, "%"), "±\u00a0under\u00a00.1\u00a0%"},
		{spread(3, "%"), "±\u00a03\u00a0%"},
		{milliSD(0.00086), "±\u00a00.9\u00a0ms"},
		{milliSD(nan), ""},
	} {
		if c.got != c.want {
			t.Errorf("%q, want %q", c.got, c.want)
		}
	}
}
