package main

import (
	"bytes"
	"encoding/json"
	"errors"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"example.com/momentarm/examples/internal/demo"
	"example.com/momentarm/examples/internal/input"
	"example.com/momentarm/phase"
	"example.com/momentarm/phase/swing"
	"example.com/momentarm/torque"
	"example.com/momentarm/validation/synth"
)

func near(t *testing.T, what string, got, want, tol float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tol) {
		t.Errorf("%s is %.9g, want %.9g", what, got, want)
	}
}

// By hand, from the side that faces the golfer:
//
//	Z          F = (−50, 100, 800) N, 0.1 m on the target side of the mass
//	|    ^     and 1 m below it, 0.02 m nearer to the ball, free moment 30 N·m,
//	o   /      of which the feet push 20 N·m against each other
//	|  /
//	+-x---- Y  frontal 0.1·800 + 1·100 = 180, vertical axis 0.02·100 + 0.1·50 + 30 = 37
func byHand(plane torque.Plane) instant {
	i := instant{
		plane: plane,
		state: torque.State{
			Force:    r3.Vec{X: -50, Y: 100, Z: 800},
			Pressure: r3.Vec{X: 0.12, Y: 0.35},
			Mass:     r3.Vec{X: 0.1, Y: 0.25, Z: 1},
			Free:     30,
		},
		massSD:   r3.Vec{X: 0.003, Y: 0.01, Z: 0.02},
		pivoting: 20,
	}
	i.answer(900, usual)
	return i
}

func TestByHand(t *testing.T) {
	type row struct{ change, sd, elasticity float64 }
	for _, c := range []struct {
		plane      torque.Plane
		moment     float64
		force, arm float64
		slope      [3]float64 // to the forces forward, lateral, vertical
		rows       []row
		four       float64
	}{
		{
			torque.Frontal, 180, math.Hypot(100, 800), 180 / math.Hypot(100, 800), [3]float64{0, 1, 0.1},
			[]row{
				{10, 10 * 0.02, 100. / 180},
				{0.05 * math.Hypot(100, 800), 0, 1},
				{-90 * 0.1, 90 * 0.01, 80. / 180}, // 10 % of 900 N on a lever of 0.1 m
			},
			720,
		},
		{
			torque.Horizontal, 37, math.Hypot(50, 100), 7 / math.Hypot(50, 100), [3]float64{-0.1, 0.02, 0},
			[]row{
				{0.1 * 2, 10 * 0.003, 2. / 37},
				{0.05 * math.Hypot(50, 100), 0, 7. / 37},
				{0, 0, 0},
				{2, 0, 20. / 37},
			},
			28,
		},
	} {
		i := byHand(c.plane)
		name := c.plane.String()
		near(t, name, of(c.plane, i.state.Moment()), c.moment, 1e-12)
		near(t, name+" force", i.force, c.force, 1e-12)
		near(t, name+" arm", i.arm, c.arm, 1e-12)
		near(t, name+" per N forward", of(c.plane, i.slopes.Forward), c.slope[0], 1e-12)
		near(t, name+" per N lateral", of(c.plane, i.slopes.Lateral), c.slope[1], 1e-12)
		near(t, name+" per N vertical", of(c.plane, i.slopes.Vertical), c.slope[2], 1e-12)
		if len(i.answers) != len(c.rows) {
			t.Fatalf("%s: %d answers, want %d", name, len(i.answers), len(c.rows))
		}
		for k, want := range c.rows {
			a := i.answers[k]
			what := name + ": " + a.label
			near(t, what, of(c.plane, a.moved()), want.change, 1e-12)
			near(t, what+", by its parts", of(c.plane, a.change.Total()), want.change, 1e-12)
			near(t, what+", SD", of(c.plane, a.sd), want.sd, 1e-12)
			near(t, what+", elasticity", a.elasticity, want.elasticity, 1e-12)
		}
		near(t, name+" four times the force", i.four.force, c.four, 1e-12)
		near(t, name+" four times the arm", i.four.arm, c.four, 1e-12)
		near(t, name+" once", 4*i.four.once, c.four, 1e-12)
	}
}

// A small part of a change, by finite difference, is what the elasticity says.
func TestElasticityIsTheSmallChange(t *testing.T) {
	for _, plane := range []torque.Plane{torque.Frontal, torque.Horizontal} {
		i := byHand(plane)
		m := of(plane, i.state.Moment())
		small := i
		small.answers = nil
		// A thousandth of the lateral force, of the arm and of the vertical force,
		// which is 800 of 900 N.
		small.answer(900, ask{Lateral: 0.1, Arm: 0.001 * i.arm, Lighten: -0.1 * 800 / 900})
		for k, a := range small.answers {
			near(t, plane.String()+": "+a.label, of(plane, a.moved())/m/0.001, i.answers[k].elasticity, 1e-9)
		}
	}
}

// Asking for less gives the opposite.
func TestLess(t *testing.T) {
	i := byHand(torque.Frontal)
	less := i
	less.answers = nil
	less.answer(900, ask{Lateral: -usual.Lateral, Arm: -usual.Arm, Lighten: -usual.Lighten})
	labels := []string{"10 % less lateral force", "5 cm less arm", "10 %BW more vertical force"}
	for k, a := range less.answers {
		if a.label != labels[k] {
			t.Errorf("label %q, want %q", a.label, labels[k])
		}
		near(t, a.label, a.moved().Frontal, -i.answers[k].moved().Frontal, 1e-12)
	}
}

// The answers of a made-up swing against what is true of it, in closed form, to
// within what the answers say themselves.
func TestAgainstTruth(t *testing.T) {
	for _, cfg := range []synth.Config{{}, {Style: synth.Squat, Mass: 62, Individual: 3}, {Style: synth.SmallArm, Mass: 95}} {
		sw, err := synth.New(cfg)
		if err != nil {
			t.Fatal(err)
		}
		rec := sw.Recording()
		rec.Stature = sw.Config().Stature
		a, err := swing.Analyse(rec, swing.Options{COMHeight: sw.At(sw.EventTime("address")).Position.Z, COMHeightSD: 0.002})
		if err != nil {
			t.Fatal(err)
		}
		found, err := answerAll(&input.Swing{Analysis: a}, usual)
		if err != nil || len(found.instants) != 2 {
			t.Fatal(err)
		}
		weight := sw.Config().Mass * synth.Gravity
		for _, i := range found.instants {
			// At the instant found: how well that is found is tested elsewhere.
			is := sw.At(i.event.Time)
			lever := r3.Sub(is.NetPressure, is.Position)
			f := is.Net.Force
			size := math.Hypot(f.Y, f.Z)
			want := []float64{-0.1 * lever.Z * f.Y, 0.05 * size, -0.1 * weight * lever.Y}
			true := is.Moment.X
			if i.plane == torque.Horizontal {
				size = math.Hypot(f.X, f.Y)
				couple := r3.Cross(r3.Sub(is.LeadPressure, is.NetPressure), is.Lead.Force).Z +
					r3.Cross(r3.Sub(is.TrailPressure, is.NetPressure), is.Trail.Force).Z
				want = []float64{0.1 * lever.X * f.Y, 0.05 * size, 0, 0.1 * couple}
				true = is.Moment.Z
			}
			// The low-pass takes some per cent of a sharp peak.
			near(t, i.plane.String()+" torque", of(i.plane, i.state.Moment()), true, 2*of(i.plane, i.sd)+0.02*math.Abs(true))
			for k, q := range i.answers {
				near(t, i.plane.String()+": "+q.label, of(i.plane, q.moved()), want[k], 3*of(i.plane, q.sd)+0.03*math.Abs(want[k])+0.05)
			}
			near(t, "four times", i.four.force, i.four.arm, 1e-9*math.Abs(i.four.arm))
			e := i.elasticity
			sum := of(i.plane, e.Forward.Add(e.Lateral).Add(e.Vertical).Add(e.Free))
			near(t, "elasticities", sum, 1, 1e-9)
		}
	}
}

func invoke(t *testing.T, args ...string) (status int, stdout, stderr string) {
	t.Helper()
	var out, err bytes.Buffer
	status = run(args, &out, &err)
	return status, out.String(), err.String()
}

func TestText(t *testing.T) {
	status, stdout, stderr := invoke(t)
	if status != exitOK || stderr != "" {
		t.Fatalf("status %d, %s", status, stderr)
	}
	for _, want := range []string{
		demo.Player, "made up", "everything else\nheld fixed", "no advice",
		"peak of the frontal torque", "peak of the torque about the vertical axis", "s before impact",
		"10 % more lateral force", "5 cm more arm", "10 %BW less vertical force", "5 cm: 2.0 in; 10 %BW: 73 N, 16 lbf",
		// 100 lbf · 1 ft = 135.58 N·m (NIST SP 811: 1 lbf·ft = 1.355 818 N·m)
		"100 lbf at 1 ft               445   100     0.305    1.00     135.6    100.0",
		"four times the force         1779   400     0.305    1.00     542.3    400.0",
		"four times the arm            445   100     1.219    4.00     542.3    400.0",
	} {
		if !strings.Contains(stdout, want) {
			t.Errorf("%q is not in\n%s", want, stdout)
		}
	}
	for l := range strings.Lines(stdout) {
		if n := len([]rune(strings.TrimSuffix(l, "\n"))); n > 79 {
			t.Errorf("%d columns: %s", n, l)
		}
		if strings.HasSuffix(l, " \n") {
			t.Errorf("spaces at the end of %q", l)
		}
	}
	if strings.Contains(stdout, "n/a") || strings.Contains(stdout, "NaN") {
		t.Errorf("undefined numbers in\n%s", stdout)
	}
}

// The tables of the text hold the numbers of the JSON, in both systems of units.
func TestJSON(t *testing.T) {
	status, stdout, stderr := invoke(t, "-json", "-")
	if status != exitOK || stderr != "" {
		t.Fatalf("status %d, %s", status, stderr)
	}
	d := json.NewDecoder(strings.NewReader(stdout))
	d.DisallowUnknownFields()
	var r report
	if err := d.Decode(&r); err != nil {
		t.Fatal(err)
	}
	if d.More() {
		t.Error("more than one object")
	}
	if r.Schema != schema || r.Caution != caution || r.Player != demo.Player || r.Capture != "swing.c3d" || len(r.Instants) != 2 || r.Missing == nil || r.Asked.Lateral != 10 {
		t.Errorf("%+v", r)
	}
	s, err := demo.Source().Analyse()
	if err != nil {
		t.Fatal(err)
	}
	_, text, _ := invoke(t)
	for k, name := range []string{"frontal_torque_peak", "vertical_torque_peak"} {
		i := r.Instants[k]
		m, _ := s.Measure(name)
		value := i.Moment.Frontal
		if i.Torque == "horizontal" {
			value = i.Moment.Horizontal
		}
		if i.Event.Name != name || float64(i.Event.Time) != m.Time {
			t.Errorf("%+v, want %s at %g", i.Event, name, m.Time)
		}
		// The measure is taken on a straight line between two samples' products.
		near(t, name, float64(value), m.Value, 1e-3)
		if len(i.Answers) < 3 || i.Answers[0].Name != "lateral_force" || i.Answers[1].Name != "arm" || i.Answers[2].Name != "vertical_force" {
			t.Errorf("answers %+v", i.Answers)
		}
		for _, a := range i.Answers {
			change, to, percent := a.Change.Frontal, a.Moment.Frontal, a.Percent.Frontal
			if i.Torque == "horizontal" {
				change, to, percent = a.Change.Horizontal, a.Moment.Horizontal, a.Percent.Horizontal
			}
			near(t, a.Label, float64(to-value), float64(change), 1e-9)
			near(t, a.Label+" %", float64(100*change/value), float64(percent), 1e-9)
			found := false
			for l := range strings.Lines(text) {
				if strings.Contains(l, a.Label) {
					cells := strings.Fields(l[strings.Index(l, a.Label)+len(a.Label):])
					want := []string{fixed(float64(to), 0), fixed(float64(to)/1.3558179483314004, 0), signed(float64(change), 1)}
					found = found || len(cells) == 6 && strings.Join(cells[:3], " ") == strings.Join(want, " ") &&
						cells[4] == signed(float64(change)/1.3558179483314004, 1) && cells[5] == signed(float64(percent), 1)
				}
			}
			if !found {
				t.Errorf("the text has no line with %s of %s:\n%s", a.Label, name, text)
			}
		}
	}
}

func TestFiles(t *testing.T) {
	t.Chdir(t.TempDir())
	for name, data := range map[string][]byte{"swing.c3d": demo.Capture, "lab.json": bytes.Replace(demo.Setup, []byte(demo.Player), []byte("A. Nother"), 1), "cut.c3d": demo.Capture[:300], "folder/x": nil} {
		os.MkdirAll(filepath.Dir(name), 0o755)
		if err := os.WriteFile(name, data, 0o644); err != nil {
			t.Fatal(err)
		}
	}
	status, text, stderr := invoke(t, "-capture", "swing.c3d", "-setup", "lab.json", "-json", "out.json", "-lateral", "-20", "-arm", "1 in", "-lighten", "5")
	if status != exitOK || stderr != "" {
		t.Fatalf("status %d, %s", status, stderr)
	}
	for _, want := range []string{"A. Nother, swing.c3d\n", "20 % less lateral force", "2.54 cm more arm", "5 %BW less vertical force", "2.54 cm: 1.0 in", "wrote out.json\n"} {
		if !strings.Contains(text, want) {
			t.Errorf("%q is not in\n%s", want, text)
		}
	}
	if strings.Contains(text, demo.Player) {
		t.Error("somebody's capture is given the demonstration's name")
	}
	data, err := os.ReadFile("out.json")
	if err != nil || !json.Valid(data) || !strings.Contains(string(data), `"player": "A. Nother"`) {
		t.Errorf("%v, %s", err, data)
	}
	for _, c := range []struct {
		args   string
		status int
		want   []string
	}{
		{"-capture none.c3d", exitWork, []string{"none.c3d: can not be opened"}},
		{"-capture folder", exitWork, []string{"folder: is a folder"}},
		{"-capture cut.c3d -setup lab.json", exitWork, []string{"cut.c3d: ", "byte"}},
		{"-capture swing.c3d", exitWork, []string{"swing.c3d: needs a setup", "lab.target"}},
		{"-json folder", exitWork, []string{"folder: is a folder"}},
		{"-json nowhere/out.json", exitWork, []string{"nowhere/out.json: can not be written"}},
		{"-nonsense", exitUsage, []string{"-nonsense"}},
		{"swing.c3d", exitUsage, []string{"-capture swing.c3d"}},
		{"-setup lab.json", exitUsage, []string{"-capture"}},
		{"-capture -", exitUsage, []string{"standard input"}},
		{"-json=", exitUsage, []string{"-json needs"}},
		{"-capture swing.c3d -json ./swing.c3d", exitUsage, []string{"write over"}},
		{"-capture swing.c3d -setup lab.json -json lab.json", exitUsage, []string{"write over"}},
		{"-arm 5", exitUsage, []string{"-arm", "unit"}},
		{"-arm 5kg", exitUsage, []string{"-arm"}},
		{"-arm 2m", exitUsage, []string{"-arm", "between"}},
		{"-lateral NaN", exitUsage, []string{"-lateral", "between"}},
		{"-lateral 101", exitUsage, []string{"-lateral", "between"}},
		{"-lighten -1e9", exitUsage, []string{"-lighten", "between"}},
	} {
		status, stdout, stderr := invoke(t, strings.Fields(c.args)...)
		if status != c.status || stdout != "" {
			t.Errorf("%s: status %d, stdout %q", c.args, status, stdout)
		}
		for _, w := range c.want {
			if !strings.Contains(stderr, w) {
				t.Errorf("%s: %q is not in %q", c.args, w, stderr)
			}
		}
	}
	if got, _ := os.ReadFile("swing.c3d"); !bytes.Equal(got, demo.Capture) {
		t.Error("the capture was written over")
	}
	if status, stdout, stderr := invoke(t, "-help"); status != exitOK || stdout != "" || !strings.Contains(stderr, "-lighten") {
		t.Errorf("-help: status %d, stdout %q, stderr %q", status, stdout, stderr)
	}
}

// What a swing does not have is said.
func TestMissing(t *testing.T) {
	without := func(names ...phase.Name) *input.Swing {
		s, err := demo.Source().Analyse()
		if err != nil {
			t.Fatal(err)
		}
		var kept []phase.Event
		for _, e := range s.Events.Found {
			missing := false
			for _, n := range names {
				missing = missing || e.Name == n
			}
			if !missing {
				kept = append(kept, e)
			}
		}
		s.Events.Found = kept
		for _, n := range names {
			s.Events.Missing = append(s.Events.Missing, phase.Missing{Name: n, Reason: "it is flat"})
		}
		return s
	}
	a, err := answerAll(without(phase.FrontalTorquePeak, phase.Impact), usual)
	if err != nil || len(a.instants) != 1 || len(a.missing) != 1 {
		t.Fatalf("%v, %+v", err, a)
	}
	text := a.text()
	for _, want := range []string{"No answer at the peak of the frontal torque (turning seen face-on): it is flat", "s on the recording's clock:", "this swing, force alone"} {
		if !strings.Contains(text, want) {
			t.Errorf("%q is not in\n%s", want, text)
		}
	}
	if strings.Contains(text, "before impact") {
		t.Error("impact is not known")
	}
	data, err := a.json()
	if err != nil || !strings.Contains(string(data), `"reason": "it is flat"`) {
		t.Errorf("%v, %s", err, data)
	}
	if a, err := answerAll(without(phase.FrontalTorquePeak, phase.VerticalTorquePeak), usual); err == nil || a != nil ||
		!strings.Contains(err.Error(), "frontal_torque_peak: it is flat") || !strings.Contains(err.Error(), "vertical_torque_peak: it is flat") {
		t.Errorf("%v, %+v", err, a)
	}
}

// One plate under both feet: the same answers, but for what only two can tell.
func TestOnePlate(t *testing.T) {
	sw, err := synth.New(synth.Config{})
	if err != nil {
		t.Fatal(err)
	}
	rec := sw.Recording()
	rec.Stature = 1.78
	two, err := swing.Analyse(rec, swing.Options{})
	if err != nil {
		t.Fatal(err)
	}
	single := *rec
	single.Net, _ = rec.NetWrenches(nil)
	single.Lead, single.Trail = nil, nil
	one, err := swing.Analyse(&single, swing.Options{})
	if err != nil {
		t.Fatal(err)
	}
	a, err1 := answerAll(&input.Swing{Analysis: two, Capture: "two"}, usual)
	b, err2 := answerAll(&input.Swing{Analysis: one, Capture: "one"}, usual)
	if err1 != nil || err2 != nil {
		t.Fatal(err1, err2)
	}
	for k := range b.instants {
		if n := len(b.instants[k].answers); n != 3 {
			t.Errorf("%d answers", n)
		}
		for q, x := range b.instants[k].answers {
			plane := b.instants[k].plane
			near(t, x.label, of(plane, x.moved()), of(plane, a.instants[k].answers[q].moved()), 0.05)
		}
	}
	text := b.text()
	if !strings.Contains(text, "free moment ") || strings.Contains(text, "opposite ways") || strings.Contains(text, "n/a") {
		t.Errorf("%s", text)
	}
	data, err := b.json()
	if err != nil || strings.Count(string(data), `"foot_against_foot_Nm": null`) != 2 {
		t.Errorf("%v, %s", err, data)
	}
}

type fullDisk struct{}

func (fullDisk) Write([]byte) (int, error) { return 0, errors.New("no space left") }

func TestStandardOutputFails(t *testing.T) {
	for _, args := range [][]string{nil, {"-json", "-"}} {
		var stderr strings.Builder
		if status := run(args, fullDisk{}, &stderr); status != exitWork || !strings.Contains(stderr.String(), "standard output: ") {
			t.Errorf("%v: status %d, stderr %q", args, status, stderr.String())
		}
	}
}
