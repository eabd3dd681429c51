package input_test

import (
	"bytes"
	"fmt"
	"math"
	"strings"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"example.com/momentarm/examples/internal/input"
	"example.com/momentarm/grf"
	"example.com/momentarm/grf/c3d"
	"example.com/momentarm/validation/synth"
)

// goodSetup belongs to the files of mistaken.
const goodSetup = `{
  "version": 1,
  "golfer": {"handed": "right", "mass": "78 kg", "stature": "1.78 m"},
  "lab": {"up": "+z", "target": "-x"},
  "plates": {"lead": [2], "trail": [1]},
  "sense": "action",
  "zero": {"from": "0.1 s", "to": "0.9 s"}
}`

// tableSetup belongs to a table in swing axes.
const tableSetup = `{"version": 1, "golfer": {"handed": "right", "mass": "78 kg", "stature": "1.78 m"}, "table": {"axes": "swing"}, "sense": "reaction"}`

// bench makes captures of one swing, with and without mistakes.
type bench struct {
	t    *testing.T
	made *synth.Swing
	rec  *grf.Recording
	file *c3d.File
}

func newBench(t *testing.T, cfg synth.Config) *bench {
	t.Helper()
	made, err := synth.New(cfg)
	if err != nil {
		t.Fatal(err)
	}
	noise := synth.Disturbance{Seed: 9, ForceNoise: 1.5, MomentNoise: 0.3}
	file, err := made.C3D(synth.CaptureOptions{Disturbance: noise})
	if err != nil {
		t.Fatal(err)
	}
	return &bench{t, made, noise.Apply(made.Recording()), file}
}

// c3d returns the C3D file after a change to it, which starts from a fresh copy.
func (b *bench) c3d(change func(*c3d.File)) []byte {
	b.t.Helper()
	data, err := c3d.Append(nil, b.file)
	if err != nil {
		b.t.Fatal(err)
	}
	if change == nil {
		return data
	}
	f, err := c3d.Decode(data, c3d.Options{})
	if err != nil {
		b.t.Fatal(err)
	}
	change(f)
	if data, err = c3d.Append(nil, f); err != nil {
		b.t.Fatal(err)
	}
	return data
}

// table returns the swing as a table, after a change to its text.
func (b *bench) table(change func(string) string) []byte {
	b.t.Helper()
	// The last second of the stance is enough of it.
	text := b.cut(b.made.EventTime("address")-1.2, b.made.End())
	if change == nil {
		return text
	}
	return []byte(change(string(text)))
}

// swap returns a function that replaces text.
func swap(pairs ...string) func(string) string { return strings.NewReplacer(pairs...).Replace }

// says is what a message must tell: what is wrong, where, and what to do.
type says struct{ what, where, do string }

// Mistakes of newcomers: each brings an error or a warning that says what is wrong,
// where it is, and what to do about it.
func TestMistakes(t *testing.T) {
	b := newBench(t, synth.Config{Unloaded: 1})
	left := newBench(t, synth.Config{Unloaded: 1, Handed: grf.LeftHanded})
	good, table := b.c3d(nil), b.table(nil)
	setup := func(pairs ...string) string {
		text := swap(pairs...)(goodSetup)
		if text == goodSetup {
			t.Fatalf("nothing changed by %q", pairs)
		}
		return text
	}
	more := func(field string) string { return setup(`"sense"`, field+`, "sense"`) }
	columns := func(pairs ...string) []byte { return b.table(swap(pairs...)) }
	automatic := []string{`"plates": {"lead": [2], "trail": [1]},`, ""}
	for _, c := range []struct {
		name, file string
		data       []byte
		setup      string
		says       says
	}{
		// Axes, plates and feet.
		{"lead and trail exchanged", "swing.c3d", good, setup(`"lead": [2], "trail": [1]`, `"lead": [1], "trail": [2]`), says{"farther from the target than the trail foot's", "the lead foot's plates", "Exchange plates.lead and plates.trail"}},
		{"target the wrong way", "swing.c3d", good, setup(`"-x"`, `"+x"`), says{"no swing found", "the lead foot's plates lie", "turn lab.target"}},
		{"target across the feet", "swing.c3d", good, setup(`"-x"`, `"+y"`), says{"no swing found", "lie only 0 mm apart along the target direction", "is lab.target right?"}},
		{"target across the feet, plates automatic", "swing.c3d", good, setup(append([]string{`"-x"`, `"+y"`}, automatic...)...), says{"0 mm apart", "setup.json: plates", "Otherwise say which is whose"}},
		{"target upward", "swing.c3d", good, setup(`"-x"`, `"+z"`), says{"along up", "setup.json: lab.target", "write the level direction"}},
		{"no target", "swing.c3d", good, setup(`, "target": "-x"`, ""), says{"missing", "setup.json: lab.target", "say where the target is"}},
		{"another axis for up", "swing.c3d", good, setup(`"+z"`, `"+y"`), says{"90° off the upright of plate 2", "setup.json: lab.up", "along +z or -z; write the one"}},
		{"up is down", "swing.c3d", good, setup(`"+z"`, `"-z"`), says{"nobody on the plates", "plate 2: its z axis points up", "lab.up points down"}},
		{"feet exchanged in a table", "swing.csv", columns("lead_", "trail_", "trail_", "lead_"), tableSetup, says{"farther from the target than the trail foot", "in the quiet stance the lead foot", "Exchange the feet"}},
		{"left-handed, not declared", "swing.c3d", left.c3d(nil), goodSetup, says{"turns the golfer away from the target", "in the downswing", "is the golfer's hand"}},
		{"left-handed, not declared, with feet", "swing.c3d", left.c3d(nil), more(`"feet": {"lead": {"heel": "R.HEEL", "toe": "R.TOE", "width": "0.1 m"}}`), says{"toes point away from the ball", "feet.lead", "golfer.handed"}},
		{"a plate that is not there", "swing.c3d", good, setup("[2]", "[3]"), says{"the capture has 2", "plates.lead[0]", "write the number of one of them"}},
		{"one plate for both feet, twice", "swing.c3d", good, setup("[2]", "[1]"), says{"plate 1 is in plates.lead already", "plates.trail[0]", "goes into plates.both"}},
		{"corners the other way round", "swing.c3d", b.c3d(func(f *c3d.File) {
			c := &f.Plates[0].Corners
			c[0], c[1], c[2], c[3] = c[3], c[2], c[1], c[0]
		}), goodSetup, says{"its z axis points up", "plate 1", "correct whichever"}},
		{"corners crosswise", "swing.c3d", b.c3d(func(f *c3d.File) {
			c := &f.Plates[0].Corners
			c[1], c[2] = c[2], c[1]
		}), goodSetup, says{"no rectangle", "plate 1 corners", "list the corners in order"}},
		{"sense of force", "swing.c3d", good, setup(`"action"`, `"reaction"`), says{"looks like the opposite", "plate 2: reaction is stated", "signs and units right?"}},

		// Units and numbers.
		{"mm for m in the file", "swing.c3d", b.c3d(func(f *c3d.File) { f.Units = "m" }), goodSetup, says{"plate 2 would be 500 × 600 m large", "setup.json: c3d.length_unit", `state the right one, such as "mm"`}},
		{"moments in N·mm, said to be N·m", "swing.c3d", b.c3d(func(f *c3d.File) {
			for i := range f.Channels {
				if strings.HasPrefix(f.Channels[i].Unit, "Nm") {
					f.Channels[i].Unit = "Nm"
				}
			}
		}), goodSetup, says{"are they in N·mm", "plate 1: the moments", "State moment_unit"}},
		{"mass of somebody else", "swing.c3d", good, setup("78 kg", "60 kg"), says{"the plates show 78.0 kg", "against the stated 60.0 kg", "Likely causes: wrong statement"}},
		{"pounds for kilograms", "swing.c3d", good, setup("78 kg", "172 kg"), says{"-54.7 %", "against the stated 172.0 kg", "172 lb are 78.0 kg"}},
		{"negative mass", "swing.c3d", good, setup("78 kg", "-78 kg"), says{"-78 kg", "golfer.mass", "want 2 to 400 kg"}},
		{"mass without unit", "swing.c3d", good, setup(`"78 kg"`, `78`), says{"no unit", "golfer.mass", "accepted: kg, g, lb"}},
		{"cm for m", "swing.c3d", good, setup(`1.78 m`, `178 m`), says{"178 m", "golfer.stature", "want 0.4 to 2.8 m"}},
		{"feet and inches", "swing.c3d", good, setup(`1.78 m`, `5 ft 10 in`), says{"unknown unit", "golfer.stature", "write one number with one unit"}},
		{"degrees for radians", "swing.c3d", good, more(`"swing_plane": "50 rad"`), says{"50 rad", "swing_plane", `as in "50 deg"`}},
		{"seconds for hertz", "swing.c3d", good, more(`"filter": {"cutoff": "0.02 s"}`), says{"a unit of time, not of frequency", "filter.cutoff", "accepted: Hz, kHz"}},
		{"cut-off above half the rate", "swing.c3d", good, more(`"filter": {"cutoff": "800 Hz"}`), says{"not below half the sampling rate", "filter.cutoff", "choose less than 500 Hz"}},
		{"height of the mass in cm", "swing.c3d", good, more(`"com": {"height": "92 m"}`), says{"92 m", "com.height", "want 0.2 to 2.5 m"}},
		{"all forces in kN", "swing.csv", columns("[N]", "[kN]", "[N·m]", "[kN·m]"), tableSetup, says{"more than any golfer weighs", "the vertical force is 7.65e+05 N", "is the unit of force right?"}},
		{"one force in kN", "swing.csv", columns("lead_fz [N]", "lead_fz [kN]"), tableSetup, says{"more than any golfer weighs", "the vertical force", "is the unit of force right?"}},
		{"time in ms", "swing.csv", columns("time [s]", "time [ms]"), tableSetup, says{"sampled at 1e+06 Hz", "no swing found", "is the unit of time or of the rate right?"}},
		{"no unit in the header", "swing.csv", columns("lead_fz [N]", "lead_fz"), tableSetup, says{"no unit", "line 1, column 4 (lead_fz)", "write it behind the name"}},
		{"decimal commas", "swing.csv", b.table(func(s string) string {
			head, rows, _ := strings.Cut(s, "\n")
			return head + "\n" + strings.ReplaceAll(rows, ".", ",")
		}), tableSetup, says{"26 cells, the header has 13 columns", "line 2", "part the cells by semicolons or tabs"}},

		// Files and columns.
		{"half a C3D file", "swing.c3d", good[:len(good)*2/5], goodSetup, says{"916 frames declared, 364 complete ones present", "swing.c3d: ", "was the file copied whole?"}},
		{"the beginning of a C3D file", "swing.c3d", good[:600], goodSetup, says{"ends within its parameters", "swing.c3d: file too short", "was it copied whole?"}},
		{"half a table", "swing.csv", table[:len(table)/4], tableSetup, says{"the header has 13 columns", "table: line 13", "may have been cut off"}},
		{"a column is missing", "swing.csv", columns("lead_my [N·m]", "lead_nn [N·m]"), tableSetup, says{"has of its moments only lead_mx, lead_mz", "the force lead_fx, lead_fy, lead_fz", "are the names and units of the others right?"}},
		{"a moment in newtons", "swing.csv", columns("lead_mx [N·m]", "lead_mx [N]"), tableSetup, says{"has of its moments only lead_my, lead_mz", "the force lead_fx, lead_fy, lead_fz", "names and units"}},
		{"a column that is not there", "swing.csv", table, swap(`{"axes": "swing"}`, `{"axes": "swing", "plates": [{"force": ["lead_fx", "lead_fy", "lead_fz"], "moment": ["lead_mx", "lead_my", "lead_mzz"]}]}`)(tableSetup), says{`no column "lead_mzz"`, "table.plates[0].moment[2]", `did you mean "lead_mz"?`}},
		{"a column twice", "swing.csv", columns("lead_my [N·m]", "lead_mx [N·m]"), tableSetup, says{"column 5 has the same name", "line 1, column 6 (lead_mx)", "rename one of them"}},
		{"rows left out", "swing.csv", b.table(func(s string) string {
			lines := strings.Split(s, "\n")
			return strings.Join(append(lines[:200:200], lines[700:]...), "\n")
		}), tableSetup, says{"not evenly spaced", "line 201, column 1 (time)", "resample them to one rate"}},
		{"no plates in the file", "swing.c3d", b.c3d(func(f *c3d.File) { f.Plates = nil }), goodSetup, says{"no usable force plate", "FORCE_PLATFORM:USED", "export it with its plates"}},
		{"a web page", "swing.csv", []byte("<html><body>Log in</body></html>"), tableSetup, says{"no row of numbers follows", "line 1", "want a line with the names of the columns"}},
		{"a spreadsheet", "swing.csv", []byte("PK\x03\x04\x14\x00\x00\x00\x08\x00"), tableSetup, says{"neither a C3D file nor a table", "swing.csv", "export the capture as C3D, CSV or TSV"}},

		// The setup's text.
		{"typo", "swing.c3d", good, setup("handed", "handedness"), says{"no such field", "golfer.handedness", "known are name, handed, mass, stature"}},
		{"hand", "swing.c3d", good, setup(`"right"`, `"RH"`), says{"is no choice", "golfer.handed", "known are right, left"}},
		{"field twice", "swing.c3d", good, setup(`"sense": "action"`, `"sense": "action", "sense": "reaction"`), says{"given twice", "setup.json: sense", "keep one of them"}},
		{"a comma too many", "swing.c3d", good, setup(`"0.9 s"}`, `"0.9 s"},`), says{"not JSON", "line 8, column 1", "is there a comma too many"}},
		{"no version", "swing.c3d", good, setup(`"version": 1,`, ``), says{"missing", "version", `write "version": 1`}},
		{"capture and setup exchanged", "setup.json", []byte(goodSetup), string(good), says{"not JSON", "line 1, column 1", "is this the setup and not the capture?"}},
		{"an empty setup", "swing.c3d", good, "", says{"the text ends too early", "line 1, column 1", "is it the whole setup?"}},
		{"a model that is not known", "swing.c3d", good, more(`"points": {"landmarks": {"pelvis": "SACRUM"}}, "com": {"model": "dempstar"}`), says{"is no choice", "com.model", `did you mean "dempster"?`}},
		{"a label that is not known", "swing.c3d", good, more(`"points": {"landmarks": {"pelvis": "SACR"}}, "com": {"model": "pelvis"}`), says{"no point", "points.landmarks.pelvis", `did you mean "SACRUM"?`}},

		// Times.
		{"a mark outside", "swing.c3d", good, more(`"marks": {"impact": "31.8 s"}`), says{"outside the recording", "marks.impact", "0.000 to 9.159 s"}},
		{"a mark without unit", "swing.c3d", good, more(`"marks": {"impact": 3.18}`), says{"no unit", "marks.impact", "accepted: s, ms"}},
		{"a mark that is none", "swing.c3d", good, more(`"marks": {"strike": "3.18 s"}`), says{"no such event", "marks.strike", "known are address"}},
		{"impact of another swing", "swing.c3d", good, more(fmt.Sprintf(`"marks": {"impact": "%.3f s"}`, b.made.EventTime("impact")-1.2)), says{"no swing found", "the given impact at 4.980 s", "is that mark right?"}},
		{"zeroed with the golfer on", "swing.c3d", good, setup(`"0.1 s", "to": "0.9 s"`, `"3.5 s", "to": "4.0 s"`), says{"the window is loaded", "setup.json: zero: plate 2", "choose a window in which nobody stands on it"}},
		{"zero outside", "swing.c3d", good, setup(`"0.1 s", "to": "0.9 s"`, `"100 s", "to": "900 s"`), says{"outside the recording", "setup.json: zero", "0.000 to 9.159 s"}},
		{"not zeroed", "swing.c3d", b.biased(), setup(`{"from": "0.1 s", "to": "0.9 s"}`, `"none"`), says{"where it should be 0", "quiet stance: mean horizontal force", "Likely causes: plate not zeroed"}},
		{"quiet stance outside", "swing.c3d", good, more(`"quiet_stance": {"from": "20 s", "to": "21 s"}`), says{"outside the recording", "quiet_stance", "0.000 to 9.159 s"}},

		{"a table called a C3D file", "swing.c3d", table, tableSetup, says{"holds text and is no C3D file", "swing.c3d", "let its name end in .csv"}},
		{"the setup of a table for a C3D file", "swing.c3d", good, more(`"table": {"axes": "swing"}`), says{"is a C3D file, not a table", "setup.json: table", "leave table out for it"}},

		// What was recorded.
		{"no quiet stance", "swing.csv", b.cut(b.made.EventTime("onset")+0.05, b.made.End()), tableSetup, says{"no quiet stance", "the stillest 0.5 s (from 5.402 s)", "record the golfer standing still before the swing"}},
		{"no swing", "swing.csv", b.cut(b.made.EventTime("address")-1.2, b.made.EventTime("address")), tableSetup, says{"no swing found", "the load never moves", "are lead and trail, the target direction and the handedness right?"}},
		{"nobody", "swing.csv", b.cut(0, 0.9), tableSetup, says{"never exceeds 100 N", "the vertical force", "are the plates, their signs and units right?"}},
		{"somebody walks over the plates", "swing.csv", b.walk(), tableSetup, says{"no quiet stance", "the stillest 0.5 s", "record the golfer standing still"}},
	} {
		src := input.Source{Name: c.file, Data: c.data, SetupName: "setup.json", Setup: []byte(c.setup)}
		var messages []string
		s, err := src.Analyse()
		if err != nil {
			messages = append(messages, err.Error())
		} else {
			for _, w := range s.Warnings {
				messages = append(messages, w.String())
			}
		}
		told := false
		for _, m := range messages {
			told = told || strings.Contains(m, c.says.what) && strings.Contains(m, c.says.where) && strings.Contains(m, c.says.do)
		}
		if !told {
			t.Errorf("%s: want a message with %q, %q and %q, got\n\t%s", c.name, c.says.what, c.says.where, c.says.do, strings.Join(messages, "\n\t"))
		}
	}
}

// Without a mistake none of it is said.
func TestNoMistake(t *testing.T) {
	b := newBench(t, synth.Config{Unloaded: 1})
	left := newBench(t, synth.Config{Unloaded: 1, Handed: grf.LeftHanded})
	leftSetup := swap(`"right"`, `"left"`)(goodSetup)
	for _, src := range []input.Source{
		{Name: "swing.c3d", Data: b.c3d(nil), Setup: []byte(goodSetup)},
		{Name: "swing.c3d", Data: left.c3d(nil), Setup: []byte(leftSetup)},
		{Name: "swing.csv", Data: b.table(nil), Setup: []byte(tableSetup)},
	} {
		src.SetupName = "setup.json"
		s, err := src.Analyse()
		if err != nil {
			t.Fatal(err)
		}
		for _, w := range s.Warnings {
			switch w.Code {
			case "height-from-stature", "feet-automatic", "uncertain-measures": // what is so
			default:
				t.Errorf("%s: %v", src.Name, w)
			}
		}
	}
}

// cut returns the samples from one instant to another as a table.
func (b *bench) cut(from, to float64) []byte {
	b.t.Helper()
	rec := *b.rec
	i, j := b.rec.Index(from), b.rec.Index(to)
	rec.Start, rec.Marks = b.rec.Time(i), nil
	rec.Lead, rec.Trail = b.rec.Lead[i:j], b.rec.Trail[i:j]
	return b.written(&rec)
}

func (b *bench) written(rec *grf.Recording) []byte {
	b.t.Helper()
	var w bytes.Buffer
	if err := synth.WriteTable(&w, rec); err != nil {
		b.t.Fatal(err)
	}
	return w.Bytes()
}

// walk returns two steps over the plates: one foot after the other for 0.7 s, with
// two humps of vertical force.
func (b *bench) walk() []byte {
	rec := &grf.Recording{Rate: 500}
	step := func(t, from, y float64) grf.Wrench {
		x := (t - from) / 0.7
		if x <= 0 || x >= 1 {
			return grf.Wrench{}
		}
		z := 780 * (math.Sin(math.Pi*x) + 0.35*math.Sin(3*math.Pi*x))
		return grf.At(r3.Vec{Y: -0.2 * z * math.Cos(math.Pi*x), Z: z}, r3.Vec{Y: y + 0.2*x}, r3.Vec{})
	}
	for i := range 1500 {
		t := float64(i) / rec.Rate
		rec.Trail, rec.Lead = append(rec.Trail, step(t, 0.5, -0.3)), append(rec.Lead, step(t, 1.1, 0.1))
	}
	return b.written(rec)
}

// biased returns the swing on plates that were never zeroed.
func (b *bench) biased() []byte {
	b.t.Helper()
	f, err := b.made.C3D(synth.CaptureOptions{Disturbance: synth.Disturbance{Seed: 3, ForceNoise: 1.5, MomentNoise: 0.3, ForceBias: 30}})
	if err != nil {
		b.t.Fatal(err)
	}
	data, err := c3d.Append(nil, f)
	if err != nil {
		b.t.Fatal(err)
	}
	return data
}
