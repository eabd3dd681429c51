package input_test

import (
	"bytes"
	"errors"
	"fmt"
	"maps"
	"math"
	"slices"
	"strings"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"example.com/momentarm/cop/com"
	"example.com/momentarm/examples/internal/input"
	"example.com/momentarm/grf"
	"example.com/momentarm/grf/c3d"
	"example.com/momentarm/grf/capture"
	"example.com/momentarm/validation/synth"
)

// The names that setups know are those that the segment tables know.
func TestNamesOfTables(t *testing.T) {
	want := []string{"pelvis", "club_grip", "club_head"}
	var models []string
	for _, table := range []com.Table{com.DeLevaMen, com.DeLevaWomen, com.Dempster} {
		models = append(models, table.String())
		for _, row := range table.Rows() {
			for _, end := range []string{row.Proximal, row.Distal} {
				if row.Paired {
					want = append(want, end+"_left", end+"_right")
				} else {
					want = append(want, end)
				}
			}
		}
	}
	slices.Sort(want)
	want = slices.Compact(want)
	got := capture.LandmarkNames()
	slices.Sort(got)
	if !slices.Equal(got, want) {
		t.Errorf("setups know %v\ntables know %v", got, want)
	}
	if m := capture.ModelNames(); !slices.Equal(m, append(models, "pelvis")) {
		t.Errorf("setups know %v, tables are %v", m, models)
	}
}

// posture is a golfer as landmarks, in swing axes, m: x forward, the left side
// toward the target.
func posture() map[string]r3.Vec {
	p := map[string]r3.Vec{
		"vertex": {X: 0.25, Z: 1.65}, "mid_gonion": {X: 0.22, Z: 1.45},
		"suprasternale": {X: 0.15, Z: 1.35}, "pelvis": {X: -0.02, Z: 0.95},
		"club_grip": {X: 0.45, Z: 0.75}, "club_head": {X: 0.95, Z: 0.02},
	}
	for name, v := range map[string]r3.Vec{
		"shoulder": {X: 0.15, Y: 0.18, Z: 1.33}, "elbow": {X: 0.3, Y: 0.15, Z: 1.05}, "wrist": {X: 0.42, Y: 0.04, Z: 0.85},
		"knuckle3": {X: 0.44, Y: 0.03, Z: 0.78}, "hip": {X: -0.03, Y: 0.09, Z: 0.92}, "knee": {X: 0.05, Y: 0.15, Z: 0.5},
		"ankle": {X: -0.02, Y: 0.2, Z: 0.08}, "heel": {X: -0.08, Y: 0.2, Z: 0.03}, "toe_tip": {X: 0.17, Y: 0.24, Z: 0.02},
	} {
		p[name+"_left"] = v
		v.Y = -v.Y
		p[name+"_right"] = v
	}
	return p
}

// mean is the centre of mass of a posture by the printed table for men, worked
// out here by hand from its rows: de Leva, J. Biomech. 29:1223–1230 (1996).
func mean(p map[string]r3.Vec) r3.Vec {
	var sum r3.Vec
	var all float64
	add := func(mass, centre float64, from, to r3.Vec) {
		sum = r3.Add(sum, r3.Scale(mass, r3.Add(from, r3.Scale(centre, r3.Sub(to, from)))))
		all += mass
	}
	add(0.0694, 0.5976, p["vertex"], p["mid_gonion"])
	add(0.4346, 0.4486, p["suprasternale"], r3.Scale(0.5, r3.Add(p["hip_left"], p["hip_right"])))
	for _, side := range []string{"_left", "_right"} {
		add(0.0271, 0.5772, p["shoulder"+side], p["elbow"+side])
		add(0.0162, 0.4574, p["elbow"+side], p["wrist"+side])
		add(0.0061, 0.7900, p["wrist"+side], p["knuckle3"+side])
		add(0.1416, 0.4095, p["hip"+side], p["knee"+side])
		add(0.0433, 0.4395, p["knee"+side], p["ankle"+side])
		add(0.0137, 0.4415, p["heel"+side], p["toe_tip"+side])
	}
	return r3.Scale(1/all, sum)
}

// golfer is a made-up swing whose markers stand stiffly around the true centre
// of mass, called as the landmarks are but in capitals.
type golfer struct {
	swing *synth.Swing
	src   input.Source
	names []string
}

// newGolfer makes one; late is by how many frames the markers are late.
func newGolfer(t *testing.T, hand grf.Handedness, late int, centre func(map[string]r3.Vec) r3.Vec) golfer {
	t.Helper()
	s, err := synth.New(synth.Config{Handed: hand, Rate: 500})
	if err != nil {
		t.Fatal(err)
	}
	f, err := s.C3D(synth.CaptureOptions{})
	if err != nil {
		t.Fatal(err)
	}
	g := golfer{swing: s}
	body := posture()
	g.names = slices.Sorted(maps.Keys(body))
	at := centre(body)
	for _, name := range g.names {
		p := c3d.Point{Label: strings.ToUpper(name), Position: make([]r3.Vec, f.Frames)}
		rel := r3.Sub(body[name], at)
		if hand == grf.LeftHanded { // the right side is toward the target
			rel.Y = -rel.Y
		}
		for i := range p.Position {
			st := s.At(s.Start() + float64(i-late)/f.Rate)
			p.Position[i] = r3.Scale(1000, s.LabAxes().LabPoint(r3.Add(st.Position, rel)))
		}
		f.Points = append(f.Points, p)
	}
	var b bytes.Buffer
	if err := c3d.Encode(&b, f); err != nil {
		t.Fatal(err)
	}
	g.src = input.Source{Name: "swing.c3d", Data: b.Bytes(), SetupName: "lab.json"}
	return g
}

// setup returns a setup with these landmarks, and more fields.
func (g golfer) setup(landmarks []string, more string) []byte {
	var list []string
	for _, l := range landmarks {
		list = append(list, fmt.Sprintf("%q: %q", l, strings.ToUpper(l)))
	}
	return []byte(fmt.Sprintf(`{"version": 1, "golfer": {"handed": %q}, "lab": {"up": "+z", "target": "-x"}, "plates": {"trail": [1], "lead": [2]}, "sense": "action",
		"points": {"landmarks": {%s}, "sd": "5 mm"}, %s}`, g.swing.Config().Handed, strings.Join(list, ", "), more))
}

// off is how far the centre of mass is from the truth, at most up to impact, m.
func (g golfer) off(s *input.Swing) float64 {
	worst := 0.0
	for i, at := range s.Series.Time {
		if at > g.swing.EventTime("impact") {
			break
		}
		if d := r3.Norm(r3.Sub(s.Series.COM[i], g.swing.At(at).Position)); !(d <= worst) {
			worst = d
		}
	}
	return worst
}

func said(s *input.Swing, words string) bool {
	return strings.Contains(strings.Join(s.Steps, "\n"), words)
}

// Markers of the whole body give the centre of mass back, for either hand, and
// the lean of the shins.
func TestMarkers(t *testing.T) {
	for _, hand := range []grf.Handedness{grf.RightHanded, grf.LeftHanded} {
		g := newGolfer(t, hand, 0, mean)
		body := slices.DeleteFunc(slices.Clone(g.names), func(n string) bool { return n == "pelvis" || strings.HasPrefix(n, "club") })
		g.src.Setup = g.setup(body, `"com": {"model": "de_leva_men", "sd": "2 mm", "slow_sd": "1 mm"}`)
		s, err := g.src.Analyse()
		if err != nil {
			t.Fatal(err)
		}
		if d := g.off(s); d > 0.002 {
			t.Errorf("%v: centre of mass up to %.1f mm off", hand, 1000*d)
		}
		if !strings.Contains(s.Settings.COM, "segment model de leva men") || !said(s, "body of 14 segments after de_leva_men, 100.0 % of the mass") || said(s, "nothing else is stated") {
			t.Errorf("%v: %q, %q", hand, s.Settings.COM, s.Steps)
		}
		// Knee and ankle move together, so the lean is that of the posture: the
		// lead knee is 5 cm nearer the middle than the ankle, 42 cm higher.
		want := math.Atan2(-0.05, 0.42) * 180 / math.Pi
		for leg, sign := range map[string]float64{"lead": 1, "trail": -1} {
			if m, ok := s.Measure(leg + "_shin_lean_at_impact"); !ok || math.Abs(m.Value-sign*want) > 0.01 || !(m.SD > 0.5 && m.SD < 2) {
				t.Errorf("%v: %s shin %+v, want %g", hand, leg, m, sign*want)
			}
		}
	}
}

// A club, a proxy and what is assumed where the setup says nothing.
func TestModels(t *testing.T) {
	// The club of 2 % of the golfer's mass lies at three quarters of its way.
	withClub := func(p map[string]r3.Vec) r3.Vec {
		club := r3.Add(p["club_grip"], r3.Scale(0.75, r3.Sub(p["club_head"], p["club_grip"])))
		return r3.Scale(1/1.02, r3.Add(mean(p), r3.Scale(0.02, club)))
	}
	g := newGolfer(t, grf.RightHanded, 0, withClub)
	body := slices.DeleteFunc(slices.Clone(g.names), func(n string) bool { return n == "pelvis" })
	mass := g.swing.Config().Mass / 1.02 * 0.02
	for _, stated := range []string{"", `, "golfer": {"mass": "78 kg"}`} {
		setup := string(g.setup(body, fmt.Sprintf(`"com": {"model": "de_leva_men", "sd": "2 mm", "club": {"mass": "%g kg", "balance": 0.75}}`, mass)))
		if stated != "" {
			setup = strings.Replace(setup, `"handed": "right"`, `"handed": "right", "mass": "78 kg"`, 1)
		}
		g.src.Setup = []byte(setup)
		s, err := g.src.Analyse()
		if err != nil {
			t.Fatal(err)
		}
		if d := g.off(s); d > 0.002 {
			t.Errorf("club: centre of mass up to %.1f mm off", 1000*d)
		}
		if !said(s, "club of 1.53 kg in the hands of a golfer of 76.5 kg") || !said(s, "lasting error of that centre of mass: 0.015 m") {
			t.Errorf("%q", s.Steps)
		}
	}

	g = newGolfer(t, grf.RightHanded, 0, func(p map[string]r3.Vec) r3.Vec { return p["pelvis"] })
	g.src.Setup = g.setup([]string{"pelvis"}, `"com": {"model": "pelvis", "height": "0.93 m", "height_sd": "5 cm"}`)
	s, err := g.src.Analyse()
	if err != nil {
		t.Fatal(err)
	}
	if d := g.off(s); d > 0.02 {
		t.Errorf("pelvis: centre of mass up to %.1f mm off", 1000*d)
	}
	if !strings.Contains(s.Settings.COM, "proxy") || !said(s, "0.03 m") || !slices.ContainsFunc(s.Warnings, func(w grf.Warning) bool { return w.Code == "pelvis-proxy" }) {
		t.Errorf("%q %v", s.Settings.COM, s.Warnings)
	}
}

// Markers that are 30 ms late: told, or found.
func TestLateMarkers(t *testing.T) {
	g := newGolfer(t, grf.RightHanded, 3, mean)
	body := slices.DeleteFunc(slices.Clone(g.names), func(n string) bool { return n == "pelvis" || strings.HasPrefix(n, "club") })
	for _, c := range []struct {
		delay string
		most  float64
		words string
	}{
		{`"delay": "30 ms"`, 0.002, "segment model de leva men: 30.0 ms late (standard deviation 0.0 ms), as stated"},
		{`"delay": "20 ms", "seek_delay": "80 ms"`, 0.002, "segment model de leva men: 30."},
	} {
		g.src.Setup = g.setup(body, `"com": {"model": "de_leva_men", "sd": "2 mm", "slow_sd": "1 mm", `+c.delay+`}`)
		s, err := g.src.Analyse()
		if err != nil {
			t.Fatal(err)
		}
		t.Logf("%s: up to %.2f mm off", c.delay, 1000*g.off(s))
		if d := g.off(s); d > c.most || !said(s, c.words) {
			t.Errorf("%s: up to %.1f mm off, %q", c.delay, 1000*d, s.Steps)
		}
	}
	g.src.Setup = g.setup(body, `"com": {"model": "de_leva_men", "sd": "2 mm", "slow_sd": "1 mm"}`)
	if s, err := g.src.Analyse(); err != nil || g.off(s) < 0.003 {
		t.Errorf("the delay makes no difference: %v, %g m", err, g.off(s))
	}
}

// A table of positions with a slow error and an unknown delay.
func TestTableOfPositions(t *testing.T) {
	g := newGolfer(t, grf.RightHanded, 0, mean)
	var b strings.Builder
	b.WriteString("time [s],x [m],y [m],z [m]\n")
	track := g.swing.Track(synth.TrackOptions{Rate: 60, SD: 0.005, Delay: 0.025, Seed: 1})
	for i, at := range track.Time {
		p := track.Position[i]
		fmt.Fprintf(&b, "%.6f,%.5f,%.5f,%.5f\n", at, p.X, p.Y, p.Z)
	}
	g.src.Open = func(string) ([]byte, error) { return []byte(b.String()), nil }
	g.src.Setup = []byte(`{"version": 1, "lab": {"up": "+z", "target": "-x"}, "com": {"file": "com.csv", "axes": "swing", "sd": "5 mm", "slow_sd": "5 mm", "seek_delay": "60 ms"}}`)
	s, err := g.src.Analyse()
	if err != nil {
		t.Fatal(err)
	}
	if d := g.off(s); d > 0.01 || !strings.Contains(s.Settings.COM, "table com.csv") || !said(s, "table com.csv: 2") {
		t.Errorf("up to %.1f mm off, %q, %q", 1000*d, s.Settings.COM, s.Steps)
	}
}

// Each bad combination has one clear error that names the field.
func TestBadSources(t *testing.T) {
	g := newGolfer(t, grf.RightHanded, 0, mean)
	whole := slices.DeleteFunc(slices.Clone(g.names), func(n string) bool { return n == "pelvis" || strings.HasPrefix(n, "club") })
	without := func(part string) []string {
		return slices.DeleteFunc(slices.Clone(whole), func(n string) bool { return strings.HasPrefix(n, part) })
	}
	for _, c := range []struct {
		landmarks []string
		more      string
		path      string
		says      string
	}{
		{without("hip"), `"com": {"model": "de_leva_men"}`, "points.landmarks", "less than 90 %"},
		{[]string{"ear"}, `"com": {"model": "dempster"}`, "points.landmarks.ear", "no point"},
		{[]string{"pelvis"}, `"com": {"model": "dempster"}`, "points.landmarks", "0.0 %"},
		{whole, `"com": {"model": "de_leva_men", "file": "a.csv", "axes": "lab"}`, "com.model", "one source"},
		{whole, `"com": {"model": "winter"}`, "com.model", "dempster"},
		{whole, `"com": {"model": "pelvis"}`, "points.landmarks.pelvis", "missing"},
		{whole, `"com": {"sd": "1 cm"}`, "com.sd", "com.model"},
	} {
		g.src.Setup = g.setup(c.landmarks, c.more)
		_, err := g.src.Analyse()
		var e *capture.SetupError
		if !errors.As(err, &e) || e.Path != c.path || !strings.HasPrefix(err.Error(), "lab.json: "+c.path+": ") || !strings.Contains(err.Error(), c.says) {
			t.Errorf("%s: %v", c.more, err)
		}
		t.Log(err)
	}
	// A landmark that may be missing is.
	g.src.Setup = g.setup(without("toe"), `"com": {"model": "de_leva_men"}`)
	s, err := g.src.Analyse()
	if err != nil || !slices.ContainsFunc(s.Warnings, func(w grf.Warning) bool { return w.Code == "segments-missing" }) {
		t.Errorf("without feet: %v", err)
	}
}
