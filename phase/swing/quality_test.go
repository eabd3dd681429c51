package swing_test

import (
	"math"
	"strings"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"example.com/momentarm/cop"
	"example.com/momentarm/cop/com"
	"example.com/momentarm/grf"
	"example.com/momentarm/phase/swing"
	"example.com/momentarm/validation/synth"
)

// Each fault that is put into a good recording is named once, and a good recording
// has none.
func TestQuality(t *testing.T) {
	s := synthetic(t, synth.Config{})
	lead, trail := s.Feet()
	foot := func(side cop.Side, f synth.Foot) *cop.Foot {
		out, err := cop.NewFoot(side, f.Heel, f.Toe, f.Width)
		if err != nil {
			t.Fatal(err)
		}
		return &out
	}
	feet := swing.Feet{Lead: foot(cop.Lead, lead), Trail: foot(cop.Trail, trail)}
	height := s.At(s.Start()).Position.Z
	for _, c := range []struct {
		name  string
		edit  func(rec *grf.Recording)
		track func(*grf.Track)
		late  float64 // s
		seek  float64
		want  string // codes of warnings
		words string
	}{
		{name: "good"},
		{name: "good, with a camera that is late by an unknown time", track: func(*grf.Track) {}, late: 0.05, seek: 0.1, want: "delay-estimated"},
		{name: "not zeroed", want: "horizontal-at-rest", words: "not zeroed", edit: func(rec *grf.Recording) {
			for i := range rec.Lead {
				rec.Lead[i].Force.Y += 6
			}
		}},
		{name: "wrong mass", want: "mass-mismatch", words: "stated 85.0 kg", edit: func(rec *grf.Recording) { rec.Mass = 85 }},
		{name: "a hand on something", want: "impulse", words: "a hand or club touched something", edit: func(rec *grf.Recording) {
			for i := range rec.Lead {
				if at := rec.Time(i); at > 3.4 && at < 3.9 {
					rec.Lead[i].Force.Z -= 40
				}
			}
		}},
		{name: "moments in another unit", want: "cop-outside-stance", words: "moments in another unit", edit: func(rec *grf.Recording) {
			for i := range rec.Lead {
				rec.Lead[i].Moment.X *= 10
			}
		}},
		{name: "axes of the camera exchanged", want: "newton-residual source-disagrees", words: "x and y exchanged", track: func(tr *grf.Track) {
			for i, p := range tr.Position {
				tr.Position[i] = r3.Vec{X: p.Y, Y: p.X, Z: p.Z}
			}
		}},
	} {
		rec := s.Recording()
		if c.edit != nil {
			c.edit(rec)
		}
		opt := swing.Options{COMHeight: height, COMHeightSD: 0.01, Feet: feet}
		if c.track != nil {
			track := s.Track(synth.TrackOptions{SD: 0.004, Seed: 1, Delay: c.late})
			c.track(&track)
			opt.COM = []com.Source{{Name: "camera", Track: track, SeekDelay: c.seek}}
		}
		a, err := swing.Analyse(rec, opt)
		if err != nil {
			t.Fatal(err)
		}
		count, text := map[string]int{}, ""
		for _, w := range a.Warnings {
			if w.Code != "uncertain-measures" {
				count[w.Code]++
				text += w.Text
			}
		}
		for _, code := range strings.Fields(c.want) {
			if count[code] != 1 {
				t.Errorf("%s: %d times %s: %v", c.name, count[code], code, a.Warnings)
			}
			delete(count, code)
		}
		if !strings.Contains(text, c.words) {
			t.Errorf("%s: nobody says %q: %v", c.name, c.words, a.Warnings)
		}
		q := a.Quality
		if math.IsNaN(q.Mass) || math.IsNaN(q.Impulse.Z) || math.IsNaN(q.Outside) || (q.Newton == nil) != (c.track == nil) {
			t.Errorf("%s: %+v", c.name, q)
		}
		if strings.HasPrefix(c.name, "good") {
			if len(count) > 0 {
				t.Errorf("%s: %v", c.name, a.Warnings)
			}
			if math.Abs(q.Mass-78) > 0.01 || r3.Norm(q.Impulse) > 0.5 || q.Outside != 0 || r3.Norm(q.HorizontalAtRest) > 0.05 {
				t.Errorf("%s: %+v", c.name, q)
			}
		}
	}
	// Without outlines there is no stance to look at.
	a, err := swing.Analyse(s.Recording(), swing.Options{COMHeight: height, Feet: swing.Feet{Lead: feet.Lead}})
	if err != nil || !math.IsNaN(a.Quality.Outside) {
		t.Errorf("%v %v", a.Quality, err)
	}
}
