package synth

import (
	"errors"
	"math"
	"strings"
	"testing"

	"example.com/momentarm/grf"
)

func TestConfigErrors(t *testing.T) {
	nan := math.NaN()
	for _, c := range []struct {
		field string
		cfg   Config
	}{
		{"Mass", Config{Mass: -1}},
		{"Mass", Config{Mass: nan}},
		{"Mass", Config{Mass: 75000}}, // grams
		{"Stature", Config{Stature: 178}},
		{"StanceWidth", Config{StanceWidth: 2}},
		{"Handed", Config{Handed: 7}},
		{"Style", Config{Style: -1}},
		{"Style", Config{Style: Style(styles)}},
		{"Strength", Config{Strength: 9}},
		{"Downswing", Config{Downswing: math.Inf(1)}},
		{"Tempo", Config{Tempo: -3}},
		{"Follow", Config{Follow: 0.1}},
		{"Unloaded", Config{Unloaded: -1}},
		{"Waggles", Config{Waggles: 1000}},
		{"WaggleSize", Config{WaggleSize: 50}},
		{"Address", Config{Address: 0.01}},
		{"Hold", Config{Hold: -1}},
		{"Rate", Config{Rate: nan}},
		{"Rate", Config{Rate: -1000}},
		{"Start", Config{Start: nan}},
		// Each field for itself is fine, together the feet cannot make it.
		{"Style", Config{Style: Squat, Strength: 1.5, StanceWidth: 0.9, Downswing: 0.15, Tempo: 1.5}},
	} {
		_, err := New(c.cfg)
		var bad *ConfigError
		if !errors.Is(err, ErrConfig) || !errors.As(err, &bad) || bad.Field != c.field {
			t.Errorf("%+v: error %v, want one about %s", c.cfg, err, c.field)
		}
		if err != nil && !strings.Contains(err.Error(), "want") {
			t.Errorf("%q does not say what to do", err)
		}
	}
}

func TestDefaults(t *testing.T) {
	s, err := New(Config{})
	if err != nil {
		t.Fatal(err)
	}
	stature := 1.78
	want := Config{Mass: 78, Stature: stature, StanceWidth: 0.26 * stature, Strength: 1, Downswing: 0.28, Tempo: 3,
		Follow: 1.3, WaggleSize: 1, Address: 2, Hold: 1.5, Rate: 1000}
	if got := s.Config(); got != want {
		t.Errorf("defaults %+v, want %+v", got, want)
	}
	again, err := New(s.Config())
	if err != nil {
		t.Fatal(err)
	}
	if again.At(2.9) != s.At(2.9) {
		t.Error("the configuration of a swing makes another swing")
	}
	if s, err := New(Config{Style: HalfSwing}); err != nil || s.Config().Downswing != 0.36 {
		t.Errorf("half swing: %v", err)
	}
}

func TestStyleString(t *testing.T) {
	seen := map[string]bool{}
	for s := range Style(styles) {
		if seen[s.String()] || s.String() == "" {
			t.Errorf("style %d is called %q", int(s), s)
		}
		seen[s.String()] = true
	}
	if got := Style(99).String(); got != "Style(99)" {
		t.Errorf("unknown style is %q", got)
	}
}

// TestMirror checks that a left-handed golfer makes the same data in swing
// axes.
func TestMirror(t *testing.T) {
	right, err := New(Config{Waggles: 1, Individual: 5})
	if err != nil {
		t.Fatal(err)
	}
	left, err := New(Config{Waggles: 1, Individual: 5, Handed: grf.LeftHanded})
	if err != nil {
		t.Fatal(err)
	}
	a, b := right.Recording(), left.Recording()
	if a.Handed != grf.RightHanded || b.Handed != grf.LeftHanded {
		t.Error("the recordings do not say whose they are")
	}
	for i := range a.Lead {
		if a.Lead[i] != b.Lead[i] || a.Trail[i] != b.Trail[i] {
			t.Fatalf("sample %d differs", i)
		}
	}
}

func TestRandom(t *testing.T) {
	handed, style, waggles := map[grf.Handedness]int{}, map[Style]int{}, map[int]int{}
	for seed := range uint64(40) {
		cfg := Random(seed)
		if seed < 5 && cfg != Random(seed) {
			t.Fatalf("seed %d gives two golfers", seed)
		}
		s, err := New(cfg)
		if err != nil {
			t.Fatalf("seed %d: %v", seed, err)
		}
		handed[cfg.Handed]++
		style[cfg.Style]++
		waggles[cfg.Waggles]++
		want := 10
		if cfg.Style == HangBack {
			want-- // no even load
		}
		if n := len(s.Events()) - len(s.Marks()); n != want+1 { // and address
			t.Errorf("seed %d, %v: %d events of the forces: %v", seed, cfg.Style, n, s.Events())
		}
	}
	if len(handed) != 2 || len(style) != int(Still) || len(waggles) != 3 {
		t.Errorf("golfers lack variety: %v %v %v", handed, style, waggles)
	}
}

func TestUnloadedStart(t *testing.T) {
	s, err := New(Config{Unloaded: 1.2, Start: 5, Waggles: 1})
	if err != nil {
		t.Fatal(err)
	}
	weight := s.Config().Mass * Gravity
	for x := 5.0; x <= 6.2; x += 0.05 {
		if st := s.At(x); st.Lead != (grf.Wrench{}) || st.Trail != (grf.Wrench{}) || st.Net != (grf.Wrench{}) {
			t.Fatalf("loaded at %g s: %+v", x, st.Net)
		}
	}
	if a := s.Aboard(); math.Abs(a-8.2) > 1e-12 || math.Abs(s.At(a).Net.Force.Z-weight) > 1e-9 {
		t.Errorf("aboard at %g s with %g N", a, s.At(a).Net.Force.Z)
	}
	alone := s.At(6.2 + 0.65)
	if alone.Lead.Force.Z != 0 || alone.Trail.Force.Z <= 0.4*weight {
		t.Errorf("the trail foot does not come first: %+v", alone)
	}
	for x := 6.2; x < 8.2; x += 0.01 {
		if v := s.At(x).Net.Force.Z; v < -1e-12 || v > weight+1e-9 {
			t.Errorf("%g N at %g s while stepping on", v, x)
		}
	}
}

func TestAtAllocates(t *testing.T) {
	s, err := New(Config{Unloaded: 1})
	if err != nil {
		t.Fatal(err)
	}
	x := 0.0
	if n := testing.AllocsPerRun(1000, func() { s.At(x); x += 0.005 }); n != 0 {
		t.Errorf("At allocates %g times", n)
	}
	if st := s.At(math.NaN()); !math.IsNaN(st.Net.Force.Z) {
		t.Errorf("at no instant the force is %g", st.Net.Force.Z)
	}
}
