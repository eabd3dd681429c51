package cop

import (
	"errors"
	"math"
	"math/rand"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"example.com/momentarm/grf"
)

func TestShare(t *testing.T) {
	fz := func(z float64) grf.Wrench { return grf.Wrench{Force: r3.Vec{X: 3, Y: -8, Z: z}} }
	for _, c := range []struct{ lead, trail, want float64 }{
		{400, 400, 0.5},
		{600, 200, 0.75},
		{800, 0, 1},
		{0, 800, 0},
		{-2, 800, -2.0 / 798}, // noise of the plate in the air is not clipped
		{12, 8, 0.6},          // at the threshold
		{12, 7.9, math.NaN()},
		{5, -5, math.NaN()},
		{-400, -400, math.NaN()}, // forces on the plate
		{math.NaN(), 800, math.NaN()},
		{800, math.NaN(), math.NaN()},
		{math.Inf(1), 800, math.NaN()},
	} {
		got := Share(fz(c.lead), fz(c.trail))
		if math.IsNaN(c.want) != math.IsNaN(got) || !math.IsNaN(got) && math.Abs(got-c.want) > 1e-15 {
			t.Errorf("Share(%g N, %g N) = %g, want %g", c.lead, c.trail, got, c.want)
		}
	}
	got, err := ShareSeries(nil, []grf.Wrench{fz(12), fz(120)}, []grf.Wrench{fz(7), fz(40)}, 10)
	if err != nil || len(got) != 2 || got[0] != 12.0/19 || got[1] != 0.75 {
		t.Errorf("ShareSeries: %v, %v", got, err)
	}
}

func TestSeries(t *testing.T) {
	rnd := rand.New(rand.NewSource(6))
	var lead, trail []grf.Wrench
	for range 50 {
		a, _, _ := someWrench(rnd)
		b, _, _ := someWrench(rnd)
		lead, trail = append(lead, a), append(trail, b)
	}
	lead[7], trail[9] = grf.Wrench{}, grf.NaN()
	through, normal := r3.Vec{Z: 0.02}, r3.Vec{X: 0.1, Z: 1}

	p, free := Series(nil, nil, lead, 0.01, 20)
	q, free2 := PlaneSeries(nil, nil, lead, through, normal, 20)
	a, couple := AxisSeries(nil, nil, lead, 0.01, 20)
	n, net, err := NetSeries(nil, nil, lead, trail, 0.01, 20)
	if err != nil {
		t.Fatal(err)
	}
	share, err := ShareSeries(nil, lead, trail, 20)
	if err != nil {
		t.Fatal(err)
	}
	same := func(x, y float64) bool { return x == y || math.IsNaN(x) && math.IsNaN(y) }
	same3 := func(x, y r3.Vec) bool { return same(x.X, y.X) && same(x.Y, y.Y) && same(x.Z, y.Z) }
	for i := range lead {
		wp, wf := Of(lead[i], 0.01, 20)
		vp, vf := OnPlane(lead[i], through, normal, 20)
		ap, ac := WrenchAxisPoint(lead[i], 0.01, 20)
		np, nf := Net(lead[i], trail[i], 0.01, 20)
		if !same3(p[i], wp) || !same(free[i], wf) || !same3(q[i], vp) || !same(free2[i], vf) ||
			!same3(a[i], ap) || !same3(couple[i], ac) || !same3(n[i], np) || !same(net[i], nf) ||
			!same(share[i], Share(lead[i], trail[i])) {
			t.Fatalf("sample %d differs from the single call", i)
		}
	}

	// dst is reused when long enough and grown when not.
	big := make([]r3.Vec, 100)
	got, _ := Series(big, nil, lead, 0, 20)
	if len(got) != 50 || &got[0] != &big[0] {
		t.Error("a long enough dst is not reused")
	}
	if got, f := Series(make([]r3.Vec, 3), make([]float64, 2), lead, 0, 20); len(got) != 50 || len(f) != 50 {
		t.Error("a short dst is not grown")
	}
	if got, f := Series(nil, nil, nil, 0, 20); len(got) != 0 || len(f) != 0 {
		t.Error("no samples in, no samples out")
	}
}

func TestSeriesLengths(t *testing.T) {
	a, b := make([]grf.Wrench, 3), make([]grf.Wrench, 2)
	p := []r3.Vec{{X: 9}, {X: 9}, {X: 9}}
	_, _, err := NetSeries(p, nil, a, b, 0, 20)
	var le *grf.LengthError
	if !errors.Is(err, grf.ErrLength) || !errors.As(err, &le) || le.Want != 3 || le.Got != 2 {
		t.Errorf("NetSeries: %v", err)
	}
	if p[0].X != 9 {
		t.Error("NetSeries wrote in spite of the error")
	}
	if _, err := ShareSeries(nil, a, b, 20); !errors.Is(err, grf.ErrLength) {
		t.Errorf("ShareSeries: %v", err)
	}
}
