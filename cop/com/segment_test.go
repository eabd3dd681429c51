package com

import (
	"errors"
	"math"
	"math/rand"
	"strings"
	"testing"

	"example.com/momentarm/grf"
	"gonum.org/v1/gonum/spatial/r3"
)

// The worked limb of the open notebook 'BodySegmentParameters' (M. Duarte,
// BMClab/BMC, CC BY 4.0), with Dempster's parameters: markers and centres of
// mass as printed there, to a millimetre.
func TestWorkedLimb(t *testing.T) {
	labels := []string{"MT2", "ankle", "knee", "hip"}
	points := []r3.Vec{{X: 1.011, Y: 0.013}, {X: 0.849, Y: 0.110}, {X: 0.864, Y: 0.549}, {X: 0.721, Y: 0.928}}
	row := func(name string) TableRow {
		for _, r := range Dempster.Rows() {
			if r.Name == name {
				return r
			}
		}
		t.Fatalf("no row %q", name)
		return TableRow{}
	}
	segment := func(name, proximal, distal string) Segment {
		r := row(name)
		return Segment{Name: name, Proximal: Landmark{proximal}, Distal: Landmark{distal}, Mass: r.Mass, Centre: r.Centre}
	}
	all := []Segment{segment("foot", "ankle", "MT2"), segment("shank", "knee", "ankle"), segment("thigh", "hip", "knee")}
	for _, c := range []struct {
		segments []Segment
		x, y     float64
	}{
		{all[:1], 0.930, 0.062}, {all[1:2], 0.858, 0.359}, {all[2:], 0.783, 0.764}, {all, 0.818, 0.584},
	} {
		b, err := Model{Segments: c.segments}.Bind(labels)
		if err != nil {
			t.Fatal(err)
		}
		if p := b.At(points); math.Abs(p.X-c.x) > 5.1e-4 || math.Abs(p.Y-c.y) > 5.1e-4 {
			t.Errorf("%d segments from %s: (%.4f, %.4f), want (%g, %g)", len(c.segments), c.segments[0].Name, p.X, p.Y, c.x, c.y)
		}
	}
}

// Masses of the tables add up as their sources say, and all rows for one part
// of the body have one mass.
func TestTableSums(t *testing.T) {
	whole := func(table Table, names ...string) float64 {
		var sum float64
		for _, name := range names {
			for _, r := range table.Rows() {
				if r.Name == name {
					sum += r.Mass
					if r.Paired {
						sum += r.Mass
					}
					break
				}
			}
		}
		return sum
	}
	limbs := []string{"upper arm", "forearm", "hand", "thigh", "shank", "foot"}
	for _, c := range []struct {
		table Table
		names []string
		want  float64
	}{
		{DeLevaMen, append([]string{"head", "trunk"}, limbs...), 1},
		{DeLevaWomen, append([]string{"head", "trunk"}, limbs...), 0.9999},
		{DeLevaMen, []string{"upper trunk", "middle trunk", "lower trunk"}, 0.4346},
		{DeLevaWomen, []string{"upper trunk", "middle trunk", "lower trunk"}, 0.4257},
		{Dempster, append([]string{"head and neck", "trunk"}, limbs...), 1},
		{Dempster, append([]string{"trunk, head and neck"}, limbs...), 1},
		{Dempster, []string{"head, arms and trunk", "total leg"}, 1},
		{Dempster, []string{"thorax", "abdomen", "pelvis"}, 0.497},
		{Dempster, []string{"thorax and abdomen", "pelvis"}, 0.497},
		{Dempster, []string{"thorax", "abdomen and pelvis"}, 0.497},
		{Dempster, []string{"upper arm", "forearm and hand"}, 0.1},
		{Dempster, []string{"foot and shank", "thigh"}, 0.322},
	} {
		if got := whole(c.table, c.names...); math.Abs(got-c.want) > 1e-9 {
			t.Errorf("%v %v: %.5f, want %g", c.table, c.names, got, c.want)
		}
	}
	for _, table := range []Table{DeLevaMen, DeLevaWomen} {
		mass := map[string]float64{}
		for _, r := range table.Rows() {
			if m, ok := mass[r.Name]; ok && m != r.Mass {
				t.Errorf("%v: %s has masses %g and %g", table, r.Name, m, r.Mass)
			}
			mass[r.Name] = r.Mass
		}
	}
}

// The de Leva rows against an independent transcription in percent (data file
// BSP_ZdeLeva.txt of BMClab/BMC, CC BY 4.0): mass and centre, women | men.
func TestDeLevaPercent(t *testing.T) {
	for _, c := range []struct {
		name, proximal, distal string
		massF, massM, cmF, cmM float64
	}{
		{"head", "vertex", "mid_gonion", 6.68, 6.94, 58.94, 59.76},
		{"head", "vertex", "cervicale", 6.68, 6.94, 48.41, 50.02},
		{"trunk", "suprasternale", "mid_hip", 42.57, 43.46, 41.51, 44.86},
		{"trunk", "cervicale", "mid_hip", 42.57, 43.46, 49.64, 51.38},
		{"trunk", "mid_shoulder", "mid_hip", 42.57, 43.46, 37.82, 43.1},
		{"upper trunk", "suprasternale", "xiphion", 15.45, 15.96, 20.77, 29.99},
		{"upper trunk", "cervicale", "xiphion", 15.45, 15.96, 50.5, 50.66},
		{"middle trunk", "xiphion", "omphalion", 14.65, 16.33, 45.12, 45.02},
		{"lower trunk", "omphalion", "mid_hip", 12.47, 11.17, 49.2, 61.15},
		{"upper arm", "shoulder", "elbow", 2.55, 2.71, 57.54, 57.72},
		{"forearm", "elbow", "wrist", 1.38, 1.62, 45.59, 45.74},
		{"forearm", "elbow", "stylion", 1.38, 1.62, 45.92, 46.08},
		{"hand", "wrist", "knuckle3", 0.56, 0.61, 74.74, 79},
		{"hand", "wrist", "fingertip3", 0.56, 0.61, 34.27, 36.24},
		{"hand", "stylion", "fingertip3", 0.56, 0.61, 35.02, 36.91},
		{"hand", "stylion", "knuckle3", 0.56, 0.61, 75.34, 79.48},
		{"thigh", "hip", "knee", 14.78, 14.16, 36.12, 40.95},
		{"shank", "knee", "ankle", 4.81, 4.33, 43.52, 43.95},
		{"shank", "knee", "lateral_malleolus", 4.81, 4.33, 44.16, 44.59},
		{"shank", "knee", "sphyrion", 4.81, 4.33, 44.81, 45.24},
		{"foot", "heel", "toe_tip", 1.29, 1.37, 40.14, 44.15},
	} {
		for i, table := range []Table{DeLevaWomen, DeLevaMen} {
			mass, centre := []float64{c.massF, c.massM}[i]/100, []float64{c.cmF, c.cmM}[i]/100
			found := false
			for _, r := range table.Rows() {
				if r.Name == c.name && r.Proximal == c.proximal && r.Distal == c.distal {
					found = true
					if math.Abs(r.Mass-mass) > 1e-9 || math.Abs(r.Centre-centre) > 1e-9 {
						t.Errorf("%v %s: %g %g, want %g %g", table, c.name, r.Mass, r.Centre, mass, centre)
					}
				}
			}
			if !found {
				t.Errorf("%v: no %s from %s to %s", table, c.name, c.proximal, c.distal)
			}
		}
	}
}

// The Dempster rows against the distal column of Winter's table 4.1, which this
// package does not hold: centre from the distal end, as printed there (data
// file BSP_DempsterWinter.txt of BMClab/BMC, CC BY 4.0).
func TestDempsterDistal(t *testing.T) {
	want := map[string][2]float64{
		"hand": {0.006, 0.494}, "forearm": {0.016, 0.57}, "upper arm": {0.028, 0.564},
		"forearm and hand": {0.022, 0.318}, "total arm": {0.05, 0.47},
		"foot": {0.0145, 0.5}, "shank": {0.0465, 0.567}, "thigh": {0.1, 0.567},
		"foot and shank": {0.061, 0.394}, "total leg": {0.161, 0.553},
		"head and neck": {0.081, 0}, "thorax": {0.216, 0.18}, "abdomen": {0.139, 0.56}, "pelvis": {0.142, 0.895},
		"trunk": {0.497, 0.5}, "trunk, head and neck": {0.578, 0.34}, "head, arms and trunk": {0.678, 0.374},
		"thorax and abdomen": {0.355, 0.37}, "abdomen and pelvis": {0.281, 0.73},
	}
	rows := Dempster.Rows()
	if len(rows) != len(want) {
		t.Errorf("%d rows, want %d", len(rows), len(want))
	}
	for _, r := range rows {
		if w := want[r.Name]; math.Abs(r.Mass-w[0]) > 1e-9 || math.Abs(1-r.Centre-w[1]) > 1e-9 {
			t.Errorf("%s: mass %g, distal %g; want %v", r.Name, r.Mass, 1-r.Centre, w)
		}
	}
}

// figure returns joint centres of a stick figure 1 m tall, standing or with
// hips and knees bent, hands hanging. Segment lengths as parts of stature are
// those of Drillis and Contini (1966) as Winter prints them (from memory).
func figure(hips, knees float64) map[string]r3.Vec {
	at := map[string]r3.Vec{}
	// In the sagittal plane: X forward, Z up. The shank leans forward by half the
	// bend of the knees, the thigh back by the other half, so that the hips stay
	// above the heels or so.
	ankle := r3.Vec{Z: 0.039}
	step := func(from r3.Vec, length, lean float64) r3.Vec {
		return r3.Add(from, r3.Vec{X: length * math.Sin(lean), Z: length * math.Cos(lean)})
	}
	knee := step(ankle, 0.246, knees/2)
	hip := step(knee, 0.245, -knees/2)
	shoulder := step(hip, 0.288, hips)
	neck := step(hip, 0.300, hips)
	for _, side := range []string{"_left", "_right"} {
		at["ankle"+side], at["knee"+side], at["hip"+side], at["shoulder"+side] = ankle, knee, hip, shoulder
		at["metatarsal2"+side] = r3.Vec{X: 0.11}
		elbow := r3.Sub(shoulder, r3.Vec{Z: 0.186})
		at["elbow"+side] = elbow
		at["wrist"+side] = r3.Sub(elbow, r3.Vec{Z: 0.146})
		at["knuckle2"+side] = r3.Sub(elbow, r3.Vec{Z: 0.146 + 0.06})
	}
	at["c7_t1"], at["ear"] = neck, step(neck, 0.11, hips)
	return at
}

// centreOf returns the centre of mass of a figure by a table.
func centreOf(t *testing.T, table Table, at map[string]r3.Vec) r3.Vec {
	t.Helper()
	marks := map[string]Landmark{}
	var labels []string
	var points []r3.Vec
	for name, p := range at {
		marks[name] = Landmark{"p_" + name}
		labels, points = append(labels, "p_"+name), append(points, p)
	}
	m, _, err := NewModel(table, marks)
	if err != nil {
		t.Fatal(err)
	}
	b, err := m.Bind(labels)
	if err != nil {
		t.Fatal(err)
	}
	return b.At(points)
}

// Standing, the model has the 0.56 of stature of the literature; bent as at
// address, the 0.52 that AddressHeight says.
func TestAddressHeight(t *testing.T) {
	standing := centreOf(t, Dempster, figure(0, 0)).Z
	if math.Abs(standing-StandingHeight) > 0.02 { // figures of the literature: 0.55 to 0.57
		t.Errorf("standing: %.3f of stature, literature %g", standing, StandingHeight)
	}
	address := centreOf(t, Dempster, figure(40*math.Pi/180, 25*math.Pi/180)).Z
	t.Logf("standing %.3f, at address %.3f of stature", standing, address)
	if drop := standing - address; math.Abs(drop-(StandingHeight-AddressHeight)) > 0.01 {
		t.Errorf("bending lowers the centre of mass by %.3f of stature, AddressHeight says %.3f", drop, StandingHeight-AddressHeight)
	}
}

// deLevaFigure has all landmarks of the main rows.
func deLevaFigure(rnd *rand.Rand) map[string]r3.Vec {
	at := map[string]r3.Vec{}
	for _, r := range DeLevaMen.Rows() {
		for _, end := range []string{r.Proximal, r.Distal} {
			p := r3.Vec{X: rnd.Float64(), Y: rnd.Float64(), Z: 2 * rnd.Float64()}
			if !r.Paired {
				at[end] = p
			} else {
				at[end+"_left"], at[end+"_right"] = p, r3.Vec{X: rnd.Float64(), Y: rnd.Float64(), Z: 2 * rnd.Float64()}
			}
		}
	}
	return at
}

// The centre of mass moves and turns with the points, and is where all points
// are when they coincide.
func TestModelInvariance(t *testing.T) {
	at := deLevaFigure(rand.New(rand.NewSource(19)))
	for _, table := range []Table{DeLevaMen, DeLevaWomen} {
		c := centreOf(t, table, at)
		rot := r3.NewRotation(1.1, r3.Vec{X: 1, Y: 2, Z: -1})
		shift := r3.Vec{X: 3, Y: -2, Z: 0.5}
		moved, same := map[string]r3.Vec{}, map[string]r3.Vec{}
		for k, p := range at {
			moved[k] = r3.Add(rot.Rotate(p), shift)
			same[k] = shift
		}
		if d := r3.Norm(r3.Sub(centreOf(t, table, moved), r3.Add(rot.Rotate(c), shift))); d > 1e-12 {
			t.Errorf("%v: moved figure off by %g", table, d)
		}
		if d := r3.Norm(r3.Sub(centreOf(t, table, same), shift)); d > 1e-12 {
			t.Errorf("%v: figure in one point off by %g", table, d)
		}
	}
}

func marks(names ...string) map[string]Landmark {
	m := map[string]Landmark{}
	for _, n := range names {
		if joint, ok := strings.CutSuffix(n, "_"); ok {
			m[joint+"_left"], m[joint+"_right"] = Landmark{"L" + joint}, Landmark{"R" + joint}
		} else {
			m[n] = Landmark{n}
		}
	}
	return m
}

func TestNewModel(t *testing.T) {
	limbs := []string{"shoulder_", "elbow_", "wrist_", "hip_", "knee_", "ankle_"}
	with := func(more ...string) map[string]Landmark { return marks(append(more, limbs...)...) }
	for _, c := range []struct {
		name     string
		table    Table
		marks    map[string]Landmark
		segments int
		fraction float64
		codes    []string
		err      error
	}{
		{"complete", DeLevaMen, with("vertex", "mid_gonion", "knuckle3_", "heel_", "toe_tip_", "suprasternale"), 14, 1, nil, nil},
		{"trunk from shoulders", DeLevaMen, with("vertex", "mid_gonion", "knuckle3_", "heel_", "toe_tip_"), 14, 1, nil, nil},
		{"no hands, no feet", DeLevaMen, with("vertex", "cervicale"), 10, 1 - 2*(0.0061+0.0137), []string{"segments-missing"}, nil},
		{"no head", DeLevaWomen, with("knuckle3_", "heel_", "toe_tip_"), 13, 0.9999 - 0.0668, []string{"segments-missing"}, nil},
		{"legs only", DeLevaMen, marks("hip_", "knee_", "ankle_"), 0, 0, nil, ErrSegment},
		{"nothing", DeLevaMen, nil, 0, 0, nil, ErrSegment},
		{"unknown landmark", DeLevaMen, marks("nose"), 0, 0, nil, ErrSegment},
		{"unknown table", Table(9), with(), 0, 0, nil, ErrSegment},
		// Eleven segments, as the public running trial was reduced.
		{"eleven", Dempster, with("metatarsal2_"), 11, 1, []string{"landmark-substituted"}, nil},
		{"no feet", Dempster, with(), 9, 1, []string{"landmark-substituted"}, nil},
		{"no arms", Dempster, marks("shoulder_", "hip_", "knee_", "ankle_", "metatarsal2_"), 7, 1, []string{"landmark-substituted"}, nil},
		{"with a head", Dempster, with("c7_t1", "ear", "metatarsal2_"), 12, 1, nil, nil},
		{"vertebrae", Dempster, marks("shoulder_", "elbow_", "stylion_", "wrist_", "knuckle2_", "trochanter_", "knee_", "medial_malleolus_", "lateral_malleolus_", "metatarsal2_", "c7_t1", "ear"), 14, 1, nil, nil},
	} {
		m, warnings, err := NewModel(c.table, c.marks)
		if !errors.Is(err, c.err) {
			t.Errorf("%s: %v, want %v", c.name, err, c.err)
		}
		if err != nil {
			continue
		}
		if len(m.Segments) != c.segments || math.Abs(m.Fraction()-c.fraction) > 1e-9 {
			t.Errorf("%s: %d segments, %.4f of the mass; want %d, %.4f: %v", c.name, len(m.Segments), m.Fraction(), c.segments, c.fraction, m.Segments)
		}
		for _, code := range c.codes {
			if !hasCode(warnings, code) {
				t.Errorf("%s: no warning %q in %v", c.name, code, warnings)
			}
		}
		if len(c.codes) == 0 && hasCode(warnings, "segments-missing") {
			t.Errorf("%s: %v", c.name, warnings)
		}
	}
}

// A mid point of two joints, one of which has two markers, lies between the
// joints, not at the mean of three markers.
func TestMidpoint(t *testing.T) {
	b := builder{landmarks: map[string]Landmark{"hip_left": {"a", "b"}, "hip_right": {"c"}}}
	m := Model{Segments: []Segment{{Mass: 1, Proximal: b.find("mid_hip", "").at, Distal: Landmark{"c"}}}}
	body, err := m.Bind([]string{"a", "b", "c"})
	if err != nil {
		t.Fatal(err)
	}
	if p := body.At([]r3.Vec{{X: 0}, {X: 2}, {X: 9}}); p.X != 5 {
		t.Errorf("mid hip at %g, want 5", p.X)
	}
	b.landmarks = map[string]Landmark{"hip_left": {"c"}, "hip_right": {"a", "b"}}
	m.Segments[0].Proximal = b.find("mid_hip", "").at
	if body, err = m.Bind([]string{"a", "b", "c"}); err != nil {
		t.Fatal(err)
	}
	if p := body.At([]r3.Vec{{X: 0}, {X: 2}, {X: 9}}); p.X != 5 {
		t.Errorf("mid hip at %g, want 5", p.X)
	}
}

// A club pulls the centre of mass toward itself by its share of the mass.
func TestClub(t *testing.T) {
	m := PelvisProxy(Landmark{"p"})
	m.Segments = append(m.Segments, Club(0.4, 79.6, 0.75, Landmark{"grip"}, Landmark{"head"}))
	b, err := m.Bind([]string{"p", "grip", "head"})
	if err != nil {
		t.Fatal(err)
	}
	got := b.At([]r3.Vec{{Z: 1}, {X: 0.4, Z: 0.8}, {X: 1.2, Z: 0}})
	want := r3.Vec{X: 0.4 / 80 * 1.0, Z: (79.6*1 + 0.4*0.2) / 80}
	if r3.Norm(r3.Sub(got, want)) > 1e-12 {
		t.Errorf("with a club: %v, want %v", got, want)
	}
	if f := m.Fraction(); f != 1 {
		t.Errorf("a club is no part of the body: %g, want 1", f)
	}
}

func TestModelTrack(t *testing.T) {
	m := Model{Segments: []Segment{{Name: "a", Mass: 0.5, Proximal: Landmark{"p"}, Distal: Landmark{"q"}, Centre: 0.5}}}
	labels := []string{"q", "unused", "p"}
	series := [][]r3.Vec{{{X: 2}, {X: 4}, nan3()}, {nan3(), nan3(), nan3()}, {{X: 0}, {X: 2}, {X: 9}}}
	track, warnings, err := m.Track(labels, []float64{0, 1, 2}, series, r3.Vec{X: 0.01})
	if err != nil {
		t.Fatal(err)
	}
	if track.Position[0].X != 1 || track.Position[1].X != 3 || finite(track.Position[2]) || track.SD.X != 0.01 {
		t.Errorf("track %v", track)
	}
	if !hasCode(warnings, "points-lost") || !strings.Contains(warnings[0].Text, `"q"`) {
		t.Errorf("warnings %v", warnings)
	}
	if l := m.Labels(); len(l) != 2 || l[0] != "p" || l[1] != "q" {
		t.Errorf("labels %v", l)
	}
	for _, c := range []struct {
		m      Model
		labels []string
		series [][]r3.Vec
		want   error
	}{
		{m, labels, series[:2], grf.ErrLength},
		{m, labels, [][]r3.Vec{series[0], series[1], series[2][:1]}, grf.ErrLength},
		{m, []string{"q", "x", "y"}, series, ErrSegment},
		{Model{}, labels, series, ErrSegment},
		{Model{Segments: []Segment{{Mass: 1}}}, labels, series, ErrSegment},
		{Model{Segments: []Segment{{Mass: -1}}}, labels, series, ErrSegment},
	} {
		if _, _, err := c.m.Track(c.labels, []float64{0, 1, 2}, c.series, r3.Vec{}); !errors.Is(err, c.want) {
			t.Errorf("%v: %v, want %v", c.m, err, c.want)
		}
	}
}

func TestBodyAllocatesNothing(t *testing.T) {
	m, _, err := NewModel(DeLevaMen, marks("vertex", "mid_gonion", "suprasternale", "shoulder_", "elbow_", "wrist_", "knuckle3_", "hip_", "knee_", "ankle_", "heel_", "toe_tip_"))
	if err != nil {
		t.Fatal(err)
	}
	labels := m.Labels()
	b, err := m.Bind(labels)
	if err != nil {
		t.Fatal(err)
	}
	points := make([]r3.Vec, len(labels))
	if n := testing.AllocsPerRun(100, func() { b.At(points) }); n != 0 {
		t.Errorf("%g allocations", n)
	}
}

func TestTableText(t *testing.T) {
	for _, table := range []Table{DeLevaMen, DeLevaWomen, Dempster} {
		b, err := table.MarshalText()
		if err != nil {
			t.Fatal(err)
		}
		var back Table
		if err := back.UnmarshalText(b); err != nil || back != table {
			t.Errorf("%s: %v %v", b, back, err)
		}
	}
	var x Table
	if err := x.UnmarshalText([]byte("zatsiorsky")); !errors.Is(err, ErrSegment) {
		t.Errorf("unknown name: %v", err)
	}
	if _, err := Table(7).MarshalText(); !errors.Is(err, ErrSegment) {
		t.Errorf("unknown table: %v", err)
	}
}
