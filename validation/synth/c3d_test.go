package synth

import (
	"bytes"
	"math"
	"testing"

	"example.com/momentarm/grf"
	"example.com/momentarm/grf/c3d"
	"example.com/momentarm/grf/table"
	"gonum.org/v1/gonum/spatial/r3"
)

// plate builds a plate of the file as any reader would, in SI units.
func plate(t *testing.T, f *c3d.File, k int) (*grf.Plate, [][]float64) {
	t.Helper()
	info := f.Plates[k]
	var cfg grf.PlateConfig
	cfg.Type = grf.PlateType(info.Type)
	for i, c := range info.Corners {
		cfg.Corners[i] = r3.Scale(1e-3, c)
	}
	cfg.Origin = r3.Scale(1e-3, info.Origin)
	cfg.Sense = grf.Action
	cfg.ChannelScale = []float64{1, 1, 1, 1e-3, 1e-3, 1e-3}
	p, err := grf.NewPlate(cfg)
	if err != nil {
		t.Fatal(err)
	}
	if w := p.Warnings(); len(w) != 0 {
		t.Errorf("plate %d: %v", k, w)
	}
	var channels [][]float64
	for _, c := range info.Channels {
		channels = append(channels, f.Channels[c].Values)
	}
	return p, channels
}

// TestC3D reads the capture back through the plates and the axes and compares
// with the truth, for both kinds of golfer.
func TestC3D(t *testing.T) {
	for _, hand := range []grf.Handedness{grf.RightHanded, grf.LeftHanded} {
		s, err := New(Config{Handed: hand, Unloaded: 1})
		if err != nil {
			t.Fatal(err)
		}
		f, err := s.C3D(CaptureOptions{})
		if err != nil {
			t.Fatal(err)
		}
		if f.Rate != 100 || f.SamplesPerFrame != 10 || f.Frames*10 > s.Len() || f.Frames*10 < s.Len()-10 {
			t.Errorf("%d frames at %g Hz with %d samples", f.Frames, f.Rate, f.SamplesPerFrame)
		}
		axes, err := grf.NewAxes(r3.Vec{Z: 1}, r3.Vec{X: -1}, r3.Vec{X: labX / 1000, Y: labY / 1000}, hand)
		if err != nil {
			t.Fatal(err)
		}
		for k := range f.Plates {
			p, channels := plate(t, f, k)
			lab, err := p.Wrenches(nil, channels)
			if err != nil {
				t.Fatal(err)
			}
			for i, w := range lab {
				w = axes.Wrench(w)
				st := s.At(float64(i) / s.Config().Rate)
				want := st.Trail
				if k == leadPlate {
					want = st.Lead
				}
				d := w.Sub(want)
				if r3.Norm(d.Force) > 1e-9 || r3.Norm(d.Moment) > 1e-9 {
					t.Fatalf("%v-handed, plate %d, sample %d: %+v, want %+v", hand, k+1, i, w, want)
				}
			}
			// A standing golfer loads the plate downward, that is along its z.
			if v := channels[2][4000]; !(v > 100) {
				t.Errorf("plate %d: Fz is %g N while standing", k+1, v)
			}
		}
		// The feet stand on their plates, and the markers are where they are.
		lead, _ := s.Feet()
		names := map[string]r3.Vec{}
		for _, p := range f.Points {
			names[p.Label] = axes.Point(r3.Scale(1e-3, p.Position[0]))
		}
		side := "L"
		if hand == grf.LeftHanded {
			side = "R"
		}
		want := lead.Toe
		want.Z = 0.03
		if d := r3.Norm(r3.Sub(names[side+".TOE"], want)); d > 1e-9 {
			t.Errorf("%v-handed: lead toe at %v, want %v", hand, names[side+".TOE"], want)
		}
		for label, p := range names {
			if label[2:] == "HEEL" || label[2:] == "TOE" {
				if y := math.Abs(p.Y); y < 0.005 || y > 0.505 || math.Abs(p.X) > 0.3 {
					t.Errorf("%s at %v is off the plates", label, p)
				}
			}
		}
		for _, e := range f.Events {
			if math.Abs(e.Time-(s.EventTime("impact")-s.Start())) > 1e-12 {
				t.Errorf("event %q at %g s", e.Label, e.Time)
			}
		}
	}
}

// TestC3DFile writes the capture, reads the bytes and compares.
func TestC3DFile(t *testing.T) {
	s, err := New(Config{Unloaded: 1, Individual: 2})
	if err != nil {
		t.Fatal(err)
	}
	for _, storage := range []c3d.Storage{c3d.Real, c3d.Integer} {
		f, err := s.C3D(CaptureOptions{Storage: storage, PointRate: 200})
		if err != nil {
			t.Fatal(err)
		}
		var b bytes.Buffer
		if err := c3d.Encode(&b, f); err != nil {
			t.Fatal(err)
		}
		got, err := c3d.Decode(b.Bytes(), c3d.Options{Strict: true})
		if err != nil {
			t.Fatal(err)
		}
		if len(got.Plates) != 2 || got.Rate != 200 || len(got.Points) != len(f.Points) || got.Frames != f.Frames {
			t.Errorf("%v: %d plates, %g Hz, %d points, %d frames", storage, len(got.Plates), got.Rate, len(got.Points), got.Frames)
		}
		for k, c := range f.Channels {
			tolerance := 1e-6 * channelRange[k%6] // single precision
			if storage == c3d.Integer {
				tolerance = 0.51 * channelRange[k%6] / 32768
			}
			for i, v := range c.Values {
				if math.Abs(got.Channels[k].Values[i]-v) > tolerance {
					t.Fatalf("%v: %s[%d] is %g, want %g", storage, c.Label, i, got.Channels[k].Values[i], v)
				}
			}
		}
		impact := 0
		for _, e := range got.Events {
			if math.Abs(e.Time-s.EventTime("impact")) < 1e-3 {
				impact++
			}
		}
		if impact != 2 {
			t.Errorf("%v: events %+v", storage, got.Events)
		}
	}
}

func TestC3DFaults(t *testing.T) {
	s, err := New(Config{Unloaded: 1})
	if err != nil {
		t.Fatal(err)
	}
	if _, err := s.C3D(CaptureOptions{PointRate: 333}); err == nil {
		t.Error("333 Hz is no part of 1000 Hz")
	}
	if _, err := s.C3D(CaptureOptions{PointRate: -1}); err == nil {
		t.Error("-1 Hz is no rate")
	}
	d := Disturbance{Seed: 5, ForceBias: 20, ForceNoise: 1, Dropped: 0.01, MassError: 0.01}
	a, err := s.C3D(CaptureOptions{Disturbance: d})
	if err != nil {
		t.Fatal(err)
	}
	b, err := s.C3D(CaptureOptions{Disturbance: d})
	if err != nil {
		t.Fatal(err)
	}
	// Zeroing on the unloaded start takes the bias away: 0.9 s of white noise
	// leave 1/√900 N.
	for k := range a.Plates {
		p, channels := plate(t, a, k)
		_, same := plate(t, b, k)
		for c := range channels {
			for i := range channels[c] {
				if math.IsNaN(channels[c][i]) || channels[c][i] != same[c][i] {
					t.Fatalf("plate %d, channel %d, sample %d: %g, then %g", k+1, c, i, channels[c][i], same[c][i])
				}
			}
		}
		zero, err := grf.MeasureBaseline(p, channels, 0, 900, grf.BaselineOptions{MaxLoad: 100})
		if err != nil {
			t.Fatal(err)
		}
		zeroed, err := zero.Subtract(nil, channels)
		if err != nil {
			t.Fatal(err)
		}
		ws, err := p.Wrenches(nil, zeroed)
		if err != nil {
			t.Fatal(err)
		}
		var sum float64
		at := int(s.Aboard() * 1000)
		for _, w := range ws[at : at+1000] {
			sum += w.Force.Z
		}
		st := s.At(s.Aboard())
		want := st.Trail.Force.Z
		if k == leadPlate {
			want = st.Lead.Force.Z
		}
		if d := sum/1000 - want; math.Abs(d) > 0.3 {
			t.Errorf("plate %d is %g N off after zeroing", k+1, d)
		}
	}
}

func TestWriteTable(t *testing.T) {
	s, err := New(Config{})
	if err != nil {
		t.Fatal(err)
	}
	rec := Disturbance{Dropped: 0.001, Seed: 1}.Apply(s.Recording())
	var b bytes.Buffer
	if err := WriteTable(&b, rec); err != nil {
		t.Fatal(err)
	}
	got, err := table.Decode(b.Bytes(), table.Options{})
	if err != nil {
		t.Fatal(err)
	}
	if math.Abs(got.Rate-1000) > 1e-6 {
		t.Errorf("rate %g", got.Rate)
	}
	for name, pick := range map[string]func(i int) float64{
		"lead_fz":  func(i int) float64 { return rec.Lead[i].Force.Z },
		"trail_my": func(i int) float64 { return rec.Trail[i].Moment.Y },
	} {
		c, ok := got.Column(name)
		if !ok {
			t.Errorf("no column %s in %v", name, got.Names())
			continue
		}
		for i, v := range c.Values {
			want := pick(i)
			if math.IsNaN(v) != math.IsNaN(want) || math.Abs(v-want) > 0.6e-4 {
				t.Fatalf("%s[%d] is %g, want %g", name, i, v, want)
			}
		}
	}
	if err := WriteTable(&b, &grf.Recording{}); err == nil {
		t.Error("wrote an empty recording")
	}
	net, err := rec.NetWrenches(nil)
	if err != nil {
		t.Fatal(err)
	}
	b.Reset()
	if err := WriteTable(&b, &grf.Recording{Rate: 1000, Net: net}); err != nil || !bytes.Contains(b.Bytes(), []byte("net_fx [N]")) {
		t.Errorf("net table: %v", err)
	}
}
