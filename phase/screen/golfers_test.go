package screen_test

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"example.com/momentarm/cop"
	"example.com/momentarm/grf"
	"example.com/momentarm/phase/screen"
	"example.com/momentarm/phase/swing"
	"example.com/momentarm/validation/synth"
)

// golfer is a made-up golfer with a planted fault and the measures that may tell
// of it.
type golfer struct {
	style synth.Style
	fault string
	tells []string
}

func golfers() []golfer {
	return []golfer{
		{synth.LateWide, "late and wide shift to the outer border", []string{"trail_pressure_outermost", "trail_load_peak_in_backswing"}},
		{synth.Squat, "squat that unloads the lead side", []string{"lead_share_at_lead_arm_parallel_down", "lead_share_at_lowest_vertical"}},
		{synth.EarlyDrift, "early drift of the mass to the lead side", []string{"com_shift_at_lowest_vertical_stance", "com_shift_at_trail_load_peak_stance"}},
		{synth.SmallArm, "small arm with big force", []string{"frontal_arm_at_peak"}},
		{synth.Balanced, "none", nil},
	}
}

// analysed swings a golfer on plates with noise and works the swing out.
func analysed(t testing.TB, cfg synth.Config, seed uint64, marks bool) *swing.Analysis {
	t.Helper()
	s, err := synth.New(cfg)
	if err != nil {
		t.Fatal(err)
	}
	rec := synth.Disturbance{Seed: seed, ForceNoise: 3, MomentNoise: 1}.Apply(s.Recording())
	if marks {
		rec.Marks = s.Marks()
	}
	lead, trail := s.Feet()
	a, err := swing.Analyse(rec, swing.Options{Feet: swing.Feet{Lead: outline(t, lead, cop.Lead), Trail: outline(t, trail, cop.Trail)}})
	if err != nil {
		t.Fatal(err)
	}
	return a
}

func outline(t testing.TB, f synth.Foot, side cop.Side) *cop.Foot {
	t.Helper()
	foot, err := cop.NewFoot(side, f.Heel, f.Toe, f.Width)
	if err != nil {
		t.Fatal(err)
	}
	return &foot
}

// Five golfers, each with one planted fault or none: the fault is the first
// finding, nothing else is claimed, and nothing looks implausible. The second time
// they are left-handed and nobody knows more of the club than impact. (With -v the
// findings are printed.)
func TestPlantedFaults(t *testing.T) {
	for _, g := range golfers() {
		for seed := range uint64(2) {
			cfg := synth.Config{Style: g.style}
			if seed == 1 {
				cfg.Handed = grf.LeftHanded
			}
			marks := seed == 0
			r, err := screen.Swing(analysed(t, cfg, seed, marks), screen.Options{})
			if err != nil {
				t.Fatal(err)
			}
			if (len(r.Findings) == 0) != (g.tells == nil) {
				t.Errorf("%v, seed %d: %d findings", g.style, seed, len(r.Findings))
			}
			for i, f := range r.Findings {
				if !slices.Contains(g.tells, f.Band.Measure) {
					t.Errorf("%v, seed %d: claims %s", g.style, seed, f.Sentence)
				}
				if i > 0 && f.Steps > r.Findings[i-1].Steps {
					t.Errorf("%v, seed %d: finding %d is more serious than the one before", g.style, seed, i)
				}
			}
			for _, w := range r.Warnings {
				t.Errorf("%v, seed %d: %v", g.style, seed, w)
			}
			// Two of the bands need marks of the club.
			if got, want := len(r.Unmeasured), map[bool]int{true: 0, false: 2}[marks]; got != want {
				t.Errorf("%v, seed %d: %d bands had nothing to hold, want %d", g.style, seed, got, want)
			}
			if n := len(r.Findings) + len(r.Undecided) + len(r.Within) + len(r.Unmeasured); n != len(screen.Starter().Bands) {
				t.Errorf("%v, seed %d: %d bands accounted for", g.style, seed, n)
			}
			if seed == 0 {
				t.Logf("%v: %s\n%s", g.style, g.fault, printed(r))
			}
		}
	}
}

func printed(r *screen.Report) string {
	var b strings.Builder
	for i, f := range r.Findings {
		fmt.Fprintf(&b, "%d. %s [%s]\n", i+1, f.Sentence, f.Band.Cite())
		for _, c := range f.Cautions {
			fmt.Fprintf(&b, "   %s\n", c)
		}
	}
	for _, f := range r.Undecided {
		fmt.Fprintf(&b, "?  %s\n", f.Sentence)
	}
	fmt.Fprintf(&b, "%d bands within, %d without a value\n", len(r.Within), len(r.Unmeasured))
	return b.String()
}
