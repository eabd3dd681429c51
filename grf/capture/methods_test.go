package capture_test

import (
	"strings"
	"testing"

	"example.com/momentarm/grf/c3d"
	"example.com/momentarm/grf/capture"
	"example.com/momentarm/validation/synth"
)

// What is said follows file and setup.
func TestMethods(t *testing.T) {
	s, err := synth.New(synth.Config{Unloaded: 1})
	if err != nil {
		t.Fatal(err)
	}
	file, err := s.C3D(synth.CaptureOptions{})
	if err != nil {
		t.Fatal(err)
	}
	data, err := c3d.Append(nil, file)
	if err != nil {
		t.Fatal(err)
	}
	const lab = `"lab": {"target": "-x"}`
	table := []byte("rate: 100 Hz\nlead_Fx [N],lead_Fy [N],lead_Fz [N],lead_Mx [N·m],lead_My [N·m],lead_Mz [N·m],trail_Fx [N],trail_Fy [N],trail_Fz [N],trail_Mx [N·m],trail_My [N·m],trail_Mz [N·m]\n" +
		strings.Repeat("5,-20,400,160,-40,3,5,-20,400,-160,-40,3\n", 5))
	for _, c := range []struct {
		name, file, setup string
		data              []byte
		says              []string
		not               string
	}{
		{"file", "swing.c3d", lab, data, []string{"a C3D file, measured by plate 2 under the lead foot (C3D type 2, ", "and plate 1 under the trail foot", "all signs turned", "Not zeroed: plate 2 and plate 1.", "target along -x, up along +z and the origin at ("}, "subtracted"},
		{"zeroed", "swing.c3d", lab + `, "zero": {"from": "0.1 s", "to": "0.8 s"}`, data, []string{"plate 2 from 0.100 to 0.800 s (subtracted force (0.0, 0.0, 0.0) N, drift (", "laboratory axes) and plate 1 from 0.100"}, "Not zeroed"},
		{"change", "swing.c3d", lab + `, "plates": {"change": [{"plate": 1, "top_cover": "5 mm"}]}`, data, []string{"Of plate 1 the setup corrected: top cover."}, "no such"},
		{"marks", "swing.c3d", lab + `, "marks": {"lead_arm_parallel_down": "4.9 s", "P6": "4.95 s"}`, data, []string{"Times that the setup states: shaft parallel down and lead arm parallel down."}, "no such"},
		{"both", "swing.c3d", lab + `, "plates": {"both": [1, 2]}`, data, []string{"plate 1 under both feet", "and plate 2 under both feet"}, "lead foot"},
		{"table", "swing.csv", `"golfer": {}`, table, []string{"from a table, measured by plate 1 under the lead foot (force and moment about", "signs kept) and plate 2 under the trail foot", "in swing axes already"}, "Laboratory axes"},
		{"landmark", "swing.c3d", lab + `, "points": {"landmarks": {"pelvis": "L.HEEL"}}, "com": {"model": "pelvis"}`, data, []string{"1 landmarks on the body were followed by 1 points of the file at 100 Hz.", "followed from them by the pelvis as a proxy"}, "no such"},
	} {
		setup, err := capture.ReadSetup(strings.NewReader(`{"version": 1, ` + c.setup + `}`))
		if err != nil {
			t.Fatal(c.name, err)
		}
		r, err := capture.Read(c.file, c.data, setup, nil)
		if err != nil {
			t.Fatal(c.name, err)
		}
		text := strings.Join(r.Methods(), "\n")
		for _, s := range c.says {
			if !strings.Contains(text, s) || strings.Contains(text, c.not) || strings.Contains(text, "%!") {
				t.Errorf("%s: want %q and not %q in\n%s", c.name, s, c.not, text)
			}
		}
	}
}
