package batch_test

import (
	"errors"
	"math"
	"slices"
	"sync"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
	"gonum.org/v1/gonum/spatial/r3"

	"example.com/momentarm/cop/com"
	"example.com/momentarm/grf"
	"example.com/momentarm/grf/filter"
	"example.com/momentarm/phase/batch"
)

func TestBadConfig(t *testing.T) {
	good := func() batch.Config { return batch.Config{Rate: rate, Plates: twoPlates(t), Axes: lab(t)} }
	if _, err := batch.New(good()); err != nil {
		t.Fatal(err)
	}
	for name, c := range map[string]struct {
		spoil func(*batch.Config)
		also  error
	}{
		"no rate":         {func(c *batch.Config) { c.Rate = 0 }, grf.ErrRate},
		"NaN rate":        {func(c *batch.Config) { c.Rate = math.NaN() }, grf.ErrRate},
		"no plates":       {func(c *batch.Config) { c.Plates = nil }, nil},
		"nil plate":       {func(c *batch.Config) { c.Plates[1] = nil }, nil},
		"unknown sense":   {func(c *batch.Config) { c.Plates[1] = c.Plates[1].WithSense(grf.AsMeasured) }, nil},
		"no axes":         {func(c *batch.Config) { c.Axes = grf.Axes{} }, grf.ErrAxes},
		"cut-off":         {func(c *batch.Config) { c.Cutoff = 500 }, filter.ErrCutoff},
		"NaN cut-off":     {func(c *batch.Config) { c.Cutoff = math.NaN() }, filter.ErrCutoff},
		"order":           {func(c *batch.Config) { c.Order = 3 }, filter.ErrOrder},
		"policy":          {func(c *batch.Config) { c.NaN = 7 }, filter.ErrOption},
		"two filters":     {func(c *batch.Config) { c.Filter, c.Cutoff = scipyFilter(t), 30 }, nil},
		"least vertical":  {func(c *batch.Config) { c.MinVertical = -1 }, nil},
		"NaN least force": {func(c *batch.Config) { c.MinForce = math.NaN() }, nil},
		"gravity":         {func(c *batch.Config) { c.Gravity = math.Inf(1) }, nil},
	} {
		cfg := good()
		c.spoil(&cfg)
		_, err := batch.New(cfg)
		if !errors.Is(err, batch.ErrConfig) || c.also != nil && !errors.Is(err, c.also) {
			t.Errorf("%s: %v", name, err)
		}
	}
}

func TestBadInput(t *testing.T) {
	c, good := rig(t, 200, 3)
	nan, inf := math.NaN(), math.Inf(1)
	set := func(in *batch.Input, ch, i int, v float64) {
		in.Channels[ch] = slices.Clone(in.Channels[ch])
		in.Channels[ch][i] = v
	}
	var r batch.Result
	for name, b := range map[string]struct {
		spoil func(*batch.Input)
		want  error
	}{
		"no channels":        {func(in *batch.Input) { in.Channels = nil }, grf.ErrChannels},
		"a channel missing":  {func(in *batch.Input) { in.Channels = in.Channels[:11] }, grf.ErrChannels},
		"lengths":            {func(in *batch.Input) { in.Channels[7] = in.Channels[7][:199] }, grf.ErrLength},
		"no samples":         {func(in *batch.Input) { in.Channels = make([][]float64, 12) }, grf.ErrNoData},
		"too short":          {func(in *batch.Input) { cut(in, 15) }, filter.ErrTooShort},
		"NaN":                {func(in *batch.Input) { set(in, 3, 9, nan) }, filter.ErrNotFinite},
		"infinite":           {func(in *batch.Input) { set(in, 3, 9, inf) }, filter.ErrNotFinite},
		"huge":               {func(in *batch.Input) { set(in, 3, 9, 1e300) }, filter.ErrNotFinite},
		"zeros":              {func(in *batch.Input) { in.Zero = in.Zero[:6] }, grf.ErrChannels},
		"NaN zero":           {func(in *batch.Input) { in.Zero = slices.Repeat([]float64{nan}, 12) }, nil},
		"no mass":            {func(in *batch.Input) { in.Start.Mass = 0 }, nil},
		"negative mass":      {func(in *batch.Input) { in.Start.Mass = -80 }, nil},
		"NaN start":          {func(in *batch.Input) { in.Start.Velocity.Y = nan }, nil},
		"start and path":     {func(in *batch.Input) { in.COM = make([]r3.Vec, 200) }, nil},
		"start and rest":     {func(in *batch.Input) { in.Rest = com.Window{To: 0.1} }, nil},
		"short path":         {func(in *batch.Input) { in.Start = batch.Start{}; in.COM = make([]r3.Vec, 199) }, grf.ErrLength},
		"empty path":         {func(in *batch.Input) { in.Start = batch.Start{}; in.COM = []r3.Vec{} }, grf.ErrLength},
		"rest after the end": {func(in *batch.Input) { in.Start = batch.Start{}; in.Rest = com.Window{From: 0.1, To: 0.2} }, grf.ErrWindow},
		"rest before":        {func(in *batch.Input) { in.Start = batch.Start{}; in.Rest = com.Window{From: -0.1, To: 0.1} }, grf.ErrWindow},
		"rest turned round":  {func(in *batch.Input) { in.Start = batch.Start{}; in.Rest = com.Window{From: 0.1, To: 0.05} }, grf.ErrWindow},
		"NaN rest":           {func(in *batch.Input) { in.Start = batch.Start{}; in.Rest = com.Window{From: nan, To: 0.05} }, grf.ErrWindow},
		"huge rest":          {func(in *batch.Input) { in.Start = batch.Start{}; in.Rest = com.Window{From: 0, To: 1e300} }, grf.ErrWindow},
		"NaN height":         {func(in *batch.Input) { in.Start = batch.Start{}; in.Rest, in.Height = com.Window{To: 0.1}, nan }, nil},
		"nobody at rest": {func(in *batch.Input) {
			in.Start, in.Rest = batch.Start{}, com.Window{To: 0.1}
			for i := range in.Channels {
				in.Channels[i] = slices.Repeat([]float64{in.Zero[i]}, 200)
			}
		}, grf.ErrNoQuiet},
	} {
		if err := c.Run(&r, good); err != nil {
			t.Fatal(err)
		}
		in := good
		in.Channels = slices.Clone(good.Channels)
		b.spoil(&in)
		err := c.Run(&r, in)
		if !errors.Is(err, batch.ErrInput) || b.want != nil && !errors.Is(err, b.want) {
			t.Errorf("%s: %v", name, err)
		}
		if len(r.Plates) != 2 || len(r.Plates[0].Wrenches(nil))+len(r.Plates[1].COP)+len(r.Net.Free)+len(r.COM)+len(r.Moment)+len(r.Net.Crossings) != 0 || r.ForceExtremes[0].MaxAt != -1 {
			t.Errorf("%s: something is left in the result", name)
		}
	}
	if err := c.Run(nil, good); !errors.Is(err, batch.ErrInput) {
		t.Error(err)
	}
}

func cut(in *batch.Input, n int) {
	for i := range in.Channels {
		in.Channels[i] = in.Channels[i][:n]
	}
}

// The reading at fault is named, not the wrench that it spoilt.
func TestSampleError(t *testing.T) {
	c, in := rig(t, 200, 3)
	in.Channels[8] = slices.Clone(in.Channels[8])
	in.Channels[1] = slices.Clone(in.Channels[1])
	in.Channels[8][150] = math.NaN()
	var r batch.Result
	var e *batch.SampleError
	if err := c.Run(&r, in); !errors.As(err, &e) || e.Plate != 1 || e.Channel != 2 || e.Index != 150 || !math.IsNaN(e.Value) {
		t.Errorf("%v", err)
	}
	in.Channels[1][150] = math.Inf(-1) // the worse fault
	if err := c.Run(&r, in); !errors.As(err, &e) || e.Plate != 0 || e.Channel != 1 || !math.IsInf(e.Value, -1) {
		t.Errorf("%v", err)
	}
}

// A NaN that the policy covers is missing in all plates, and the path ends there;
// an infinite reading is an error even where two of them make a NaN.
func TestMissing(t *testing.T) {
	axes, plates := lab(t), twoPlates(t)
	_, in := rig(t, 1000, 4)
	c := chain(t, batch.Config{Rate: rate, Plates: plates, Axes: axes, NaN: filter.NaNInterpolate})
	in.Channels[2] = slices.Clone(in.Channels[2])
	in.Channels[2][400], in.Channels[2][401] = math.NaN(), math.NaN()
	r := run(t, c, in)
	for i := range 1000 {
		lost := i == 400 || i == 401
		if r.Plates[0].Wrench(i).IsNaN() != lost || r.Plates[1].Wrench(i).IsNaN() != lost || r.Net.Wrench(i).IsNaN() != lost ||
			math.IsNaN(r.Plates[1].Free[i]) != lost && r.Plates[1].Wrench(i).Force.Z > 20 {
			t.Errorf("sample %d: %v, %v", i, r.Plates[0].Wrench(i), r.Plates[1].Wrench(i))
		}
		if math.IsNaN(r.COM[i].X) != (i >= 400) || math.IsNaN(r.Moment[i].Frontal) != (i >= 400) {
			t.Errorf("sample %d: centre of mass %v, moment %v", i, r.COM[i], r.Moment[i])
		}
	}
	if !slices.Contains(r.Net.Crossings, 400) || !slices.Contains(r.Net.Crossings, 402) {
		t.Errorf("crossings at %v", r.Net.Crossings)
	}
	in.Rest, in.Start = com.Window{From: 0.41, To: 0.6}, batch.Start{}
	if err := c.Run(r, in); !errors.Is(err, grf.ErrNoQuiet) {
		t.Errorf("rest behind a gap: %v", err)
	}
	in.Rest = com.Window{}
	in.Channels[0], in.Channels[3] = slices.Clone(in.Channels[0]), slices.Clone(in.Channels[3])
	in.Channels[0][400], in.Channels[3][400] = math.Inf(1), math.Inf(-1)
	var e *batch.SampleError
	if err := c.Run(r, in); !errors.As(err, &e) || e.Index != 400 || e.Plate != 0 || e.Channel != 0 {
		t.Errorf("two infinite readings: %v", err)
	}
}

// Where the laboratory stands and how it is turned does not matter, nor does the
// order of the plates or from which side the plates report.
func TestInvariance(t *testing.T) {
	_, in := rig(t, 2000, 9)
	base := chain(t, batch.Config{Rate: rate, Plates: twoPlates(t), Axes: lab(t)})
	want := of(run(t, base, in))

	turned := make([]*grf.Plate, 2)
	turn := r3.NewRotation(0.7, r3.Vec{X: 0.2, Y: -0.4, Z: 1})
	shift := r3.Vec{X: -3, Y: 1, Z: 0.5}
	for p, pl := range twoPlates(t) {
		f := pl.Frame()
		x, y := pl.Size()
		var corners [4]r3.Vec
		for i, s := range [4][2]float64{{1, 1}, {-1, 1}, {-1, -1}, {1, -1}} {
			corners[i] = r3.Add(shift, turn.Rotate(f.PointOut(r3.Vec{X: s[0] * x / 2, Y: s[1] * y / 2})))
		}
		turned[p] = plate(t, grf.PlateConfig{Type: grf.TypeMomentCalibrated, Corners: corners, Origin: r3.Vec{X: 0.001, Y: -0.002, Z: -0.04},
			Calibration: calibration(p), Sense: grf.Action})
	}
	axes, err := grf.NewAxes(turn.Rotate(r3.Vec{Z: 1}), turn.Rotate(r3.Vec{X: -1}), r3.Add(shift, turn.Rotate(r3.Vec{X: 1, Y: 2})), grf.RightHanded)
	if err != nil {
		t.Fatal(err)
	}
	same(t, of(run(t, chain(t, batch.Config{Rate: rate, Plates: turned, Axes: axes}), in)), want)

	// The other plate first.
	plates := twoPlates(t)
	slices.Reverse(plates)
	swapped := in
	swapped.Channels = append(slices.Clone(in.Channels[6:]), in.Channels[:6]...)
	swapped.Zero = append(slices.Clone(in.Zero[6:]), in.Zero[:6]...)
	got := of(run(t, chain(t, batch.Config{Rate: rate, Plates: plates, Axes: lab(t)}), swapped))
	slices.Reverse(got.plates)
	same(t, got, want)

	// Channels that report the reaction, of the other sign.
	plates = twoPlates(t)
	flipped := in
	flipped.Channels, flipped.Zero = make([][]float64, 12), make([]float64, 12)
	for i := range plates {
		plates[i] = plates[i].WithSense(grf.Reaction)
	}
	for k, ch := range in.Channels {
		for _, v := range ch {
			flipped.Channels[k] = append(flipped.Channels[k], -v)
		}
		flipped.Zero[k] = -in.Zero[k]
	}
	same(t, of(run(t, chain(t, batch.Config{Rate: rate, Plates: plates, Axes: lab(t)}), flipped)), want)
}

// A result can be used again for whatever comes, by any chain, and one chain by
// several goroutines.
func TestReuse(t *testing.T) {
	one := batch.Config{Rate: rate, Plates: twoPlates(t)[:1], Axes: lab(t)}
	single := chain(t, one)
	pair, long := rig(t, 3000, 1)
	_, short := rig(t, 400, 2)
	half := short
	half.Channels, half.Zero = short.Channels[:6], short.Zero[:6]
	var r batch.Result
	for _, step := range []struct {
		c  *batch.Chain
		in batch.Input
	}{{single, half}, {pair, long}, {pair, short}, {single, half}, {pair, long}} {
		if err := step.c.Run(&r, step.in); err != nil {
			t.Fatal(err)
		}
		identical(t, &r, run(t, step.c, step.in))
	}

	var wg sync.WaitGroup
	for range 4 {
		wg.Add(1)
		go func() {
			defer wg.Done()
			var mine batch.Result
			for range 3 {
				if err := pair.Run(&mine, long); err != nil {
					t.Error(err)
				}
				identical(t, &mine, run(t, pair, long))
			}
		}()
	}
	wg.Wait()
}

// identical compares two results digit by digit.
func identical(t *testing.T, got, want *batch.Result) {
	t.Helper()
	g, w := of(got).rows(), of(want).rows()
	for k := range w {
		if !slices.EqualFunc(g[k].values, w[k].values, func(a, b float64) bool { return math.Float64bits(a) == math.Float64bits(b) }) {
			t.Errorf("%s differs", w[k].name)
		}
	}
	// What is left are single values.
	single := func(r batch.Result) batch.Result {
		r.Plates = slices.Clone(r.Plates)
		for i := range r.Plates {
			r.Plates[i].COP, r.Plates[i].Free = nil, nil
		}
		r.Net.COP, r.Net.Free = nil, nil
		r.COM, r.Moment, r.Arm = nil, nil, nil
		return r
	}
	if d := cmp.Diff(single(*want), single(*got), cmpopts.IgnoreUnexported(batch.Result{}, batch.Load{}), cmpopts.EquateNaNs(), cmpopts.EquateEmpty()); d != "" {
		t.Errorf("-want +got\n%s", d)
	}
}

// A load that is exactly the threshold counts, and of equal values the first is
// the extreme. The filter leaves a constant of 20 N exactly as it is.
func TestThresholdAndTies(t *testing.T) {
	c := exampleChain()
	var in batch.Input
	for range 12 {
		in.Channels = append(in.Channels, make([]float64, 300))
	}
	for i := range 300 {
		in.Channels[2][i] = 20
	}
	in.COM = make([]r3.Vec, 300)
	r := run(t, c, in)
	for i := range 300 {
		if z := r.Net.Wrench(i).Force.Z; z != 20 {
			t.Skipf("sample %d: %g N: rounded otherwise on this machine", i, z)
		}
		if math.IsNaN(r.Net.COP[i].X) || math.IsNaN(r.Arm[i].Frontal) || !math.IsNaN(r.Arm[i].Horizontal) {
			t.Fatalf("sample %d: %v, %v", i, r.Net.COP[i], r.Arm[i])
		}
	}
	if !math.IsNaN(r.Plates[1].COP[0].X) || len(r.Net.Crossings) != 0 {
		t.Errorf("%v, crossings %v", r.Plates[1].COP[0], r.Net.Crossings)
	}
	want := batch.Extremes{Min: 20, Max: 20}
	if r.Net.Vertical != want || r.ForceExtremes[2] != want {
		t.Errorf("%+v, %+v", r.Net.Vertical, r.ForceExtremes[2])
	}
}
