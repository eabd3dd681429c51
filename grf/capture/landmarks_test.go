package capture

import (
	"errors"
	"math"
	"slices"
	"strings"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"example.com/momentarm/grf"
	"example.com/momentarm/grf/c3d"
)

// marked is a trial with markers: two at a knee that moves, one at an ankle, and
// an angle among the points.
func marked(hand grf.Handedness) (trial, func(i int) (knee, ankle r3.Vec)) {
	tr := trial{hand: hand, target: r3.Vec{X: -1}, origin: r3.Vec{X: 1, Y: 2}}
	truth := func(i int) (knee, ankle r3.Vec) {
		return r3.Vec{X: 0.1, Y: 0.2 + 0.001*float64(i), Z: 0.5}, r3.Vec{X: 0, Y: 0.2, Z: 0.08}
	}
	tr.edit = func(f *c3d.File) {
		var axes grf.Axes
		axes, _ = grf.NewAxes(r3.Vec{Z: 1}, tr.target, tr.origin, hand)
		add := func(label string, at func(i int) r3.Vec) {
			p := c3d.Point{Label: label, Position: make([]r3.Vec, f.Frames)}
			for i := range p.Position {
				p.Position[i] = r3.Scale(1000, axes.LabPoint(at(i)))
			}
			f.Points = append(f.Points, p)
		}
		aside := r3.Vec{X: 0.01, Y: 0.06, Z: -0.005}
		add("KNEE.IN", func(i int) r3.Vec { k, _ := truth(i); return r3.Sub(k, aside) })
		add("KNEE.OUT", func(i int) r3.Vec { k, _ := truth(i); return r3.Add(k, aside) })
		add("ANKLE", func(i int) r3.Vec { _, a := truth(i); return a })
		add("GONE", func(int) r3.Vec { return r3.Vec{X: math.NaN()} })
		add("FAR", func(int) r3.Vec { return r3.Vec{X: 40} })
		f.Points[0].Position[7].X = math.NaN()
		f.Points = append(f.Points, c3d.Point{Label: "KneeAngles", Kind: c3d.Angle, Position: make([]r3.Vec, f.Frames)})
	}
	return tr, truth
}

const markedLab = `{"version": 1, "lab": {"target": "-x"}, "plates": {"lead": [1], "trail": [2]}`

func TestReadLandmarks(t *testing.T) {
	for _, hand := range []grf.Handedness{grf.RightHanded, grf.LeftHanded} {
		tr, truth := marked(hand)
		r := read(t, "swing.c3d", tr.c3d(t), markedLab+`, "golfer": {"handed": "`+hand.String()+`"}, "points": {"sd": "4 mm", "landmarks": {
			"knee_left": ["KNEE.IN", "knee.out"], "ankle_left": "ANKLE"}}, "com": {"model": "dempster", "sd": "8 mm", "slow_sd": "2 cm", "delay": "20 ms"}}`)
		knee, ankle := r.Points["knee_left"], r.Points["ankle_left"]
		if len(r.Points) != 2 || len(knee.Time) != 200 || knee.SD != (r3.Vec{X: 0.004, Y: 0.004, Z: 0.004}) {
			t.Fatalf("%d points, %d frames, SD %v", len(r.Points), len(knee.Time), knee.SD)
		}
		for i := range knee.Time {
			k, a := truth(i)
			if math.Abs(knee.Time[i]-float64(i)/100) > 1e-12 {
				t.Fatalf("frame %d at %g s", i, knee.Time[i])
			}
			if i == 7 {
				if p := knee.Position[i]; !math.IsNaN(p.X) || !math.IsNaN(p.Y) || !math.IsNaN(p.Z) {
					t.Errorf("half a knee gives %v", p)
				}
			} else if r3.Norm(r3.Sub(knee.Position[i], k)) > 1e-6 {
				t.Fatalf("%v: knee at %v, want %v", hand, knee.Position[i], k)
			}
			if r3.Norm(r3.Sub(ankle.Position[i], a)) > 1e-6 {
				t.Fatalf("%v: ankle at %v, want %v", hand, ankle.Position[i], a)
			}
		}
		hasStep(t, r, "2 landmarks from 3 labels, 200 frames at 100 Hz; knee_left is seen least, in 199",
			"centre of mass from the landmarks by dempster; its stamps are late by 0.02 s")
		if c := r.COM; c.Model != "dempster" || c.SD.X != 0.008 || c.SlowSD != 0.02 || c.Delay != 0.02 || c.ClubMass != 0 || len(c.Track.Time) != 0 {
			t.Errorf("source %+v", c)
		}
	}
}

func TestReadModels(t *testing.T) {
	tr, _ := marked(grf.RightHanded)
	r := read(t, "swing.c3d", tr.c3d(t), markedLab+`, "points": {"landmarks": {"club_grip": "KNEE.OUT", "club_head": "ANKLE"}},
		"com": {"model": "de_leva_women", "club": {"mass": "320 g", "balance": 0.75}, "height": "0.9 m", "height_sd": "1 cm"}}`)
	if c := r.COM; c.Model != "de_leva_women" || c.ClubMass != 0.32 || c.ClubBalance != 0.75 || r.Processing.COMHeight != 0.9 || r.Processing.COMHeightSD != 0.01 {
		t.Errorf("source %+v, %+v", c, r.Processing)
	}
	hasStep(t, r, "all seen in every frame", "by de leva women")
	r = read(t, "swing.c3d", tr.c3d(t), markedLab+`, "points": {"landmarks": {"ear": "FAR", "vertex": "ANKLE"}}}`)
	if r.COM != nil || !slices.ContainsFunc(r.Warnings, func(w grf.Warning) bool { return w.Code == "points-doubtful" && w.Where == "ear" }) {
		t.Errorf("%+v, %v", r.COM, r.Warnings)
	}
}

func TestReadLandmarkErrors(t *testing.T) {
	tr, _ := marked(grf.RightHanded)
	data := tr.c3d(t)
	for _, tt := range []struct{ landmark, path, says string }{
		{`"knee_left": "KNE.IN"`, "points.landmarks.knee_left", `"KNEE.IN"`},
		{`"knee_left": ["KNEE.IN", "LKNE2"]`, "points.landmarks.knee_left[1]", `no point "LKNE2" in the file; known are KNEE.IN, KNEE.OUT, ANKLE`},
		{`"ear": "GONE"`, "points.landmarks.ear", "not seen"},
		{`"ear": ["ANKLE", "GONE"]`, "points.landmarks.ear", "not seen"},
		{`"ear": "KneeAngles"`, "points.landmarks.ear", "angle"},
	} {
		r, err := Read("swing.c3d", data, readSetup(t, markedLab+`, "points": {"landmarks": {`+tt.landmark+`}}}`), nil)
		var e *SetupError
		if r != nil || !errors.As(err, &e) || e.Path != tt.path || !strings.Contains(err.Error(), tt.says) {
			t.Errorf("%s: got %v", tt.landmark, err)
		}
	}
	six := "t[s],Fx[N],Fy[N],Fz[N],Mx[Nm],My[Nm],Mz[Nm]\n0,0,0,500,0,0,0\n0.01,0,0,500,0,0,0\n"
	_, err := Read("swing.csv", []byte(six), readSetup(t, `{"version": 1, "lab": {"up": "+z", "target": "+y"}, "points": {"landmarks": {"ear": "E"}}}`), nil)
	var e *SetupError
	if !errors.As(err, &e) || e.Path != "points.landmarks" || !strings.Contains(err.Error(), "table") {
		t.Errorf("landmarks of a table: %v", err)
	}
}
