package cop

import (
	"errors"
	"math"
	"math/rand"
	"strings"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"example.com/momentarm/grf"
)

// Two feet 0.5 m apart, heels 0.1 m behind the origin, toes turned out by 30°.
func turnedOut(t *testing.T) (lead, trail Foot) {
	t.Helper()
	const length, width = 0.28, 0.10
	sin, cos := math.Sincos(30 * math.Pi / 180)
	heel := r3.Vec{X: -0.1, Y: 0.25}
	lead, err := NewFoot(Lead, heel, r3.Add(heel, r3.Vec{X: length * cos, Y: length * sin}), width)
	if err != nil {
		t.Fatal(err)
	}
	heel.Y = -heel.Y
	trail, err = NewFoot(Trail, heel, r3.Add(heel, r3.Vec{X: length * cos, Y: -length * sin}), width)
	if err != nil {
		t.Fatal(err)
	}
	return lead, trail
}

func TestFootPlace(t *testing.T) {
	lead, trail := turnedOut(t)
	for _, f := range []Foot{lead, trail} {
		near(t, "length", f.Length(), 0.28, 1e-15)
		near(t, "width", f.Width(), 0.10, 1e-15)
		near(t, "toe-out", f.ToeOut(), math.Pi/6, 1e-15)
		if f.Approximate() {
			t.Error("a measured foot calls itself approximate")
		}
	}
	// In the frame of a foot that points 30° to its outer side, with the
	// lateral direction turned with it: cos 30° toward the outside of the
	// stance and sin 30° backward.
	s, c := math.Sincos(math.Pi / 6)
	for _, k := range []struct {
		name          string
		ahead, out    float64 // m from the heel along the foot and to its outside
		along, across float64
		inside        bool
	}{
		{"heel", 0.001, 0, 0.001 / 0.28, 0, true},
		{"behind the heel", -0.014, 0, -0.05, 0, false},
		{"middle", 0.14, 0, 0.5, 0, true},
		{"outer edge", 0.14, 0.049, 0.5, 0.98, true},
		{"inner edge", 0.14, -0.049, 0.5, -0.98, true},
		{"beyond the outer edge", 0.14, 0.06, 0.5, 1.2, false},
		{"toes", 0.2799, 0, 0.2799 / 0.28, 0, true},
		{"round corner of the toes", 0.275, 0.045, 0.275 / 0.28, 0.9, false},
		{"in front of the toes", 0.29, 0, 0.29 / 0.28, 0, false},
	} {
		for _, f := range []Foot{lead, trail} {
			outward := 1.0
			if f.Side() == Trail {
				outward = -1
			}
			p := r3.Vec{
				X: -0.1 + k.ahead*c - k.out*s,
				Y: outward * (0.25 + k.ahead*s + k.out*c),
				Z: 0.03, // heights do not count
			}
			got := f.Place(p)
			near(t, f.Side().String()+" "+k.name+" along", got.Along, k.along, 1e-14)
			near(t, f.Side().String()+" "+k.name+" across", got.Across, k.across, 1e-14)
			if got.Inside != k.inside {
				t.Errorf("%v %s: inside %v, want %v", f.Side(), k.name, got.Inside, k.inside)
			}
			p.Z = 0
			nearVec(t, "Point is the inverse of Place", f.Point(got.Along, got.Across), p, 1e-15)
		}
	}
}

// Medial of the lead foot is toward −Y, of the trail foot toward +Y.
func TestMedialIsTowardTheOtherFoot(t *testing.T) {
	rnd := rand.New(rand.NewSource(7))
	for range 200 {
		turn := (rnd.Float64() - 0.5) * math.Pi * 0.9
		sin, cos := math.Sincos(turn)
		heel := r3.Vec{X: rnd.NormFloat64(), Y: rnd.NormFloat64()}
		toe := r3.Add(heel, r3.Vec{X: 0.27 * cos, Y: 0.27 * sin})
		mid := r3.Scale(0.5, r3.Add(heel, toe))
		for _, side := range []Side{Lead, Trail} {
			f, err := NewFoot(side, heel, toe, 0.1)
			if err != nil {
				t.Fatal(err)
			}
			got := f.Place(r3.Add(mid, r3.Vec{Y: 0.02})).Across // toward the target
			if side == Lead && !(got > 0) || side == Trail && !(got < 0) {
				t.Fatalf("%v foot turned by %.2f rad: toward the target is %g across", side, turn, got)
			}
		}
	}
}

// A left-handed golfer's mirror image stands and presses in the same way.
func TestFootOfLeftHandedGolfer(t *testing.T) {
	up, target := r3.Vec{Z: 1}, r3.Vec{Y: 1}
	right, err := grf.NewAxes(up, target, r3.Vec{}, grf.RightHanded)
	if err != nil {
		t.Fatal(err)
	}
	left, err := grf.NewAxes(up, target, r3.Vec{}, grf.LeftHanded)
	if err != nil {
		t.Fatal(err)
	}
	heel, toe, p := r3.Vec{X: -0.1, Y: 0.2}, r3.Vec{X: 0.17, Y: 0.26}, r3.Vec{X: 0.05, Y: 0.27}
	mirror := func(v r3.Vec) r3.Vec { v.X = -v.X; return v } // faces the other way, same target
	a, err := NewFoot(Lead, right.Point(heel), right.Point(toe), 0.1)
	if err != nil {
		t.Fatal(err)
	}
	b, err := NewFoot(Lead, left.Point(mirror(heel)), left.Point(mirror(toe)), 0.1)
	if err != nil {
		t.Fatal(err)
	}
	pa, pb := a.Place(right.Point(p)), b.Place(left.Point(mirror(p)))
	near(t, "along", pb.Along, pa.Along, 1e-14)
	near(t, "across", pb.Across, pa.Across, 1e-14)
	if pa.Inside != pb.Inside || !(pa.Across > 0) {
		t.Errorf("right-handed %+v, left-handed %+v", pa, pb)
	}
}

// A rectangle has closed forms for everything.
func TestFootOutline(t *testing.T) {
	box := []r3.Vec{{X: 0, Y: 0.1}, {X: 0.3, Y: 0.1}, {X: 0.3, Y: 0.2}, {X: 0, Y: 0.2}, {X: 0, Y: 0.1}}
	reversed := []r3.Vec{box[3], box[2], box[1], box[0]}
	for name, pts := range map[string][]r3.Vec{"closed": box, "other way round": reversed} {
		f, err := NewFootOutline(Lead, pts, r3.Vec{})
		if err != nil {
			t.Fatalf("%s: %v", name, err)
		}
		near(t, name+" length", f.Length(), 0.3, 1e-15)
		near(t, name+" width", f.Width(), 0.1, 1e-15)
		near(t, name+" toe-out", f.ToeOut(), 0, 1e-12)
		got := f.Place(r3.Vec{X: 0.075, Y: 0.1125})
		near(t, name+" along", got.Along, 0.25, 1e-14)
		near(t, name+" across", got.Across, -0.75, 1e-12)
		if !got.Inside || f.Place(r3.Vec{X: 0.31, Y: 0.15}).Inside {
			t.Errorf("%s: inside is wrong", name)
		}
		if n := len(f.Outline(nil)); n != 4 {
			t.Errorf("%s: %d corners, want 4", name, n)
		}
	}
	// A stated direction wins, whatever its length.
	f, err := NewFootOutline(Trail, box, r3.Vec{X: -7})
	if err != nil {
		t.Fatal(err)
	}
	near(t, "toes the other way", f.Place(r3.Vec{X: 0.3, Y: 0.15}).Along, 0, 1e-15)

	// The caller's points are copied.
	box[0] = r3.Vec{X: 99}
	if f.Outline(nil)[0] == box[0] {
		t.Error("the outline is shared with the caller")
	}
}

// A shoe-like, bent outline turned by any angle keeps its places, and its long
// axis is found within a few degrees.
func TestFootOutlineTurned(t *testing.T) {
	shoe := []r3.Vec{
		{X: 0, Y: 0.03}, {X: 0.02, Y: 0}, {X: 0.12, Y: 0.02}, {X: 0.2, Y: -0.01}, {X: 0.27, Y: 0.01},
		{X: 0.29, Y: 0.04}, {X: 0.26, Y: 0.08}, {X: 0.18, Y: 0.1}, {X: 0.08, Y: 0.08}, {X: 0.01, Y: 0.06},
	}
	inside := r3.Vec{X: 0.2, Y: 0.08}
	ref, err := NewFootOutline(Lead, shoe, r3.Vec{X: 1})
	if err != nil {
		t.Fatal(err)
	}
	want := ref.Place(inside)
	for _, deg := range []float64{-70, -30, 10, 45, 75} {
		rot := r3.NewRotation(deg*math.Pi/180, r3.Vec{Z: 1})
		shift := r3.Vec{X: 3, Y: -2}
		var pts []r3.Vec
		for _, p := range shoe {
			pts = append(pts, r3.Add(shift, rot.Rotate(p)))
		}
		at := r3.Add(shift, rot.Rotate(inside))
		f, err := NewFootOutline(Lead, pts, rot.Rotate(r3.Vec{X: 1}))
		if err != nil {
			t.Fatal(err)
		}
		got := f.Place(at)
		near(t, "along", got.Along, want.Along, 1e-13)
		near(t, "across", got.Across, want.Across, 1e-13)
		if got.Inside != want.Inside {
			t.Errorf("%g°: inside %v, want %v", deg, got.Inside, want.Inside)
		}
		f, err = NewFootOutline(Lead, pts, r3.Vec{})
		if err != nil {
			t.Fatalf("%g°: %v", deg, err)
		}
		near(t, "long axis", f.ToeOut(), deg*math.Pi/180, 8*math.Pi/180)
	}
}

func TestFootErrors(t *testing.T) {
	nan := math.NaN()
	v := func(x, y float64) r3.Vec { return r3.Vec{X: x, Y: y} }
	for _, c := range []struct {
		name string
		make func() (Foot, error)
		says string
	}{
		{"heel is toe", func() (Foot, error) { return NewFoot(Lead, v(1, 1), r3.Vec{X: 1, Y: 1, Z: 0.3}, 0.1) }, "coincide"},
		{"NaN heel", func() (Foot, error) { return NewFoot(Lead, v(nan, 1), v(1, 1), 0.1) }, "finite"},
		{"no width", func() (Foot, error) { return NewFoot(Lead, v(0, 0), v(0.3, 0), 0) }, "wide"},
		{"negative width", func() (Foot, error) { return NewFoot(Lead, v(0, 0), v(0.3, 0), -0.1) }, "wide"},
		{"wider than long", func() (Foot, error) { return NewFoot(Lead, v(0, 0), v(0.08, 0), 0.1) }, "wide"},
		{"millimetres", func() (Foot, error) { return NewFoot(Lead, v(0, 0), v(280, 0), 100) }, "metres"},
		{"no side", func() (Foot, error) { return NewFoot(Side(7), v(0, 0), v(0.3, 0), 0.1) }, "Side(7)"},
		{"no points", func() (Foot, error) { return NewFootOutline(Lead, nil, v(1, 0)) }, "at least 3"},
		{"two points", func() (Foot, error) {
			return NewFootOutline(Lead, []r3.Vec{v(0, 0), v(0.3, 0), v(0.3, 0), v(0, 0)}, v(1, 0))
		}, "at least 3"},
		{"a line", func() (Foot, error) {
			return NewFootOutline(Lead, []r3.Vec{v(0, 0), v(0.1, 0), v(0.3, 0)}, v(1, 0))
		}, "encloses"},
		{"infinite point", func() (Foot, error) {
			return NewFootOutline(Lead, []r3.Vec{v(0, 0), v(math.Inf(1), 0), v(0.3, 0.1)}, v(1, 0))
		}, "point 1"},
		{"crossing sides", func() (Foot, error) {
			return NewFootOutline(Lead, []r3.Vec{v(0, 0), v(0.3, 0.1), v(0.3, 0), v(0, 0.1)}, v(1, 0))
		}, "cross"},
		{"a spike", func() (Foot, error) {
			return NewFootOutline(Lead, []r3.Vec{v(0, 0), v(0.4, 0), v(0.3, 0), v(0.3, 0.1), v(0, 0.1)}, v(1, 0))
		}, "touch"},
		{"too many points", func() (Foot, error) { return NewFootOutline(Lead, make([]r3.Vec, 1001), v(1, 0)) }, "at most"},
		{"NaN direction", func() (Foot, error) {
			return NewFootOutline(Lead, []r3.Vec{v(0, 0), v(0.3, 0), v(0.3, 0.1)}, v(nan, 0))
		}, "direction"},
		{"no long axis", func() (Foot, error) {
			return NewFootOutline(Lead, []r3.Vec{v(0, 0), v(0.1, 0), v(0.1, 0.1), v(0, 0.1)}, v(0, 0))
		}, "state the direction"},
		{"along the target line", func() (Foot, error) {
			return NewFootOutline(Lead, []r3.Vec{v(0, 0), v(0.1, 0), v(0.1, 0.3), v(0, 0.3)}, v(0, 0))
		}, "state the direction"},
	} {
		f, err := c.make()
		if !errors.Is(err, ErrFoot) || !strings.Contains(err.Error(), c.says) {
			t.Errorf("%s: error %v, want ErrFoot that says %q", c.name, err, c.says)
		}
		if f.Length() != 0 {
			t.Errorf("%s: a foot together with an error", c.name)
		}
	}
}

func TestFootNowhere(t *testing.T) {
	lead, _ := turnedOut(t)
	for name, got := range map[string]Placement{
		"NaN point": lead.Place(r3.Vec{X: math.NaN()}),
		"infinite":  lead.Place(r3.Vec{Y: math.Inf(-1)}),
		"zero Foot": Foot{}.Place(r3.Vec{}),
	} {
		if !math.IsNaN(got.Along) || !math.IsNaN(got.Across) || got.Inside {
			t.Errorf("%s: %+v, want nowhere", name, got)
		}
	}
	ps := []r3.Vec{{X: 0.1, Y: 0.3}, nan3()}
	got := lead.Places(nil, ps)
	if len(got) != 2 || got[0] != lead.Place(ps[0]) || !math.IsNaN(got[1].Along) {
		t.Errorf("Places: %+v", got)
	}
}

func TestApproximateFoot(t *testing.T) {
	// A path that fills 0.2 × 0.06 m, at 20° toe-out, of the trail foot.
	const turn = 20 * math.Pi / 180
	sin, cos := math.Sincos(-turn)
	var path []r3.Vec
	for i := range 401 {
		s := 2 * math.Pi * float64(i) / 400
		a, l := 0.1*math.Cos(s), 0.03*math.Sin(3*s)
		path = append(path, r3.Vec{X: 1 + a*cos - l*sin, Y: -0.3 + a*sin + l*cos})
	}
	path = append(path, nan3(), r3.Vec{X: 50, Y: 50}) // lost, and an outlier that trimming removes
	f, err := ApproximateFoot(Trail, path, ApproximateOptions{ToeOut: turn})
	if err != nil {
		t.Fatal(err)
	}
	if !f.Approximate() {
		t.Error("an approximation must say so")
	}
	near(t, "length", f.Length(), 0.2, 0.002)
	near(t, "width", f.Width(), 0.06, 0.002)
	near(t, "toe-out", f.ToeOut(), turn, 1e-12)
	nearVec(t, "middle", f.Point(0.5, 0), r3.Vec{X: 1, Y: -0.3}, 0.001)

	f, err = ApproximateFoot(Trail, path, ApproximateOptions{ToeOut: turn, Length: 0.28, Width: 0.1})
	if err != nil {
		t.Fatal(err)
	}
	near(t, "given length", f.Length(), 0.28, 1e-12)
	near(t, "given width", f.Width(), 0.1, 1e-12)
	nearVec(t, "same middle", f.Point(0.5, 0), r3.Vec{X: 1, Y: -0.3}, 0.001)

	if _, err := ApproximateFoot(Trail, path, ApproximateOptions{Trim: math.NaN()}); !errors.Is(err, ErrFoot) {
		t.Errorf("an untrimmed outlier makes a foot of 50 m: %v", err)
	}
	if _, err := ApproximateFoot(Trail, path[:9], ApproximateOptions{}); !errors.Is(err, ErrTooShort) {
		t.Errorf("nine samples: %v", err)
	}
	spot := make([]r3.Vec, 100)
	if _, err := ApproximateFoot(Lead, spot, ApproximateOptions{}); !errors.Is(err, ErrFoot) {
		t.Errorf("a path that does not move: %v", err)
	}
	for _, o := range []ApproximateOptions{{Length: -1}, {Width: math.NaN()}, {Trim: 0.5}, {Trim: -0.1}, {ToeOut: math.Inf(1)}} {
		if _, err := ApproximateFoot(Lead, path, o); !errors.Is(err, ErrFoot) {
			t.Errorf("%+v: %v", o, err)
		}
	}
}
