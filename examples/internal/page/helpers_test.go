package page

import (
	"math"
	"os"
	"path/filepath"
	"testing"

	"example.com/momentarm/cop"
	"example.com/momentarm/examples/internal/demo"
	"example.com/momentarm/examples/internal/input"
	"example.com/momentarm/grf"
	"example.com/momentarm/phase/swing"
	"example.com/momentarm/validation/synth"
)

// demoSubject is the analysed demonstration.
func demoSubject(t *testing.T) *Subject {
	t.Helper()
	s, err := New(demo.Source())
	if err != nil {
		t.Fatal(err)
	}
	s.Demo = true
	return s
}

// made is an analysed made-up swing.
func made(t *testing.T, cfg synth.Config, opt swing.Options, change func(*grf.Recording)) *Subject {
	t.Helper()
	sw, err := synth.New(cfg)
	if err != nil {
		t.Fatal(err)
	}
	rec := sw.Recording()
	if change != nil {
		change(rec)
	}
	a, err := swing.Analyse(rec, opt)
	if err != nil {
		t.Fatal(err)
	}
	return &Subject{Swing: &input.Swing{Analysis: a, Capture: "made.c3d", Feet: opt.Feet, Steps: a.Steps, Warnings: a.Warnings}}
}

// onePlate adds the feet up.
func onePlate(rec *grf.Recording) {
	rec.Net, _ = rec.NetWrenches(nil)
	rec.Lead, rec.Trail = nil, nil
}

func noMarks(rec *grf.Recording) { rec.Marks = nil }

// soles are the outlines of the feet of a made-up golfer.
func soles(t *testing.T, cfg synth.Config) swing.Feet {
	t.Helper()
	sw, err := synth.New(cfg)
	if err != nil {
		t.Fatal(err)
	}
	lead, trail := sw.Feet()
	l, err1 := cop.NewFoot(cop.Lead, lead.Heel, lead.Toe, lead.Width)
	r, err2 := cop.NewFoot(cop.Trail, trail.Heel, trail.Toe, trail.Width)
	if err1 != nil || err2 != nil {
		t.Fatal(err1, err2)
	}
	return swing.Feet{Lead: &l, Trail: &r}
}

func write(t *testing.T, name string, data []byte) string {
	t.Helper()
	path := filepath.Join(t.TempDir(), name)
	if err := os.WriteFile(path, data, 0o644); err != nil {
		t.Fatal(err)
	}
	return path
}

func same(a, b float64) bool { return a == b || math.IsNaN(a) && math.IsNaN(b) }
