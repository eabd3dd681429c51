package capture

import (
	"encoding/json"
	"errors"
	"math"
	"os"
	"reflect"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"example.com/momentarm/units"
)

func readSetup(t testing.TB, text string) *Setup {
	t.Helper()
	s, err := ReadSetup(strings.NewReader(text))
	if err != nil {
		t.Fatal(err)
	}
	return s
}

func TestReadSetup(t *testing.T) {
	data, err := os.ReadFile("testdata/full.json")
	if err != nil {
		t.Fatal(err)
	}
	s := readSetup(t, string(data))
	if s.Golfer.Handed != "left" || s.Golfer.Mass != 78 || s.Golfer.Stature != 1.82 {
		t.Errorf("golfer %+v", s.Golfer)
	}
	if s.Lab.Up != (Direction{Z: 1}) || s.Lab.Target != (Direction{X: 0.1, Y: -1}) || *s.Lab.Origin != (Position{1, 0.5, -0.01}) {
		t.Errorf("lab %+v", s.Lab)
	}
	if s.Zero.method() != "window" || s.Zero.To != 0.4 || s.Filter.Cutoff != 50 || s.LoadThreshold != 20 {
		t.Errorf("zero %+v, filter %+v", s.Zero, s.Filter)
	}
	if d := float64(s.SwingPlane) - 0.872664625997; d > 1e-9 || d < -1e-9 { // 50°
		t.Errorf("swing plane %v", s.SwingPlane)
	}
	c := s.Plates.Change[0]
	if c.Plate != 1 || c.Type != 2 || c.Corners[2][1] != -0.3 || c.TopCover != units.Length(0.012) || c.Channels[1] != "8" {
		t.Errorf("change %+v", c)
	}
	if s.Feet.Lead.Heel.Label != "LHEE" || s.Feet.Trail.Toe.At != (Position{0.14, -0.25, 0}) {
		t.Errorf("feet %+v %+v", s.Feet.Lead, s.Feet.Trail)
	}
	if l := s.Points.Landmarks["knee_left"]; len(l) != 2 || l[1] != "LKNM" || s.Points.Landmarks["ankle_left"][0] != "LANK" || s.Points.SD != 0.005 {
		t.Errorf("points %+v", s.Points)
	}
	for _, v := range [][2]float64{{float64(s.COM.SlowSD), 0.03}, {float64(s.COM.SlowTime), 0.5}, {float64(s.COM.SeekDelay), 0.05}, {float64(s.COM.Height), 0.95}, {float64(s.COM.HeightSD), 0.02}} {
		if math.Abs(v[0]-v[1]) > 1e-12 {
			t.Errorf("com %+v", s.COM)
		}
	}
	if s.Table.Plates[0].COP[2] != "0 m" || s.Table.Units["Fx"] != "N" || s.COM.Delay != 0.015 {
		t.Errorf("table %+v, com %+v", s.Table, s.COM)
	}
}

// What a program makes can be written and read back.
func TestSetupRoundTrip(t *testing.T) {
	data, err := os.ReadFile("testdata/full.json")
	if err != nil {
		t.Fatal(err)
	}
	for _, text := range []string{string(data), `{"version": 1}`, `{"version": 1, "zero": "file", "filter": "none"}`,
		`{"version": 1, "events": {}, "marks": {}, "plates": {"lead": []}, "points": {"landmarks": {}}}`,
		`{"version": 1, "points": {"landmarks": {"pelvis": ["a", "b"], "club_grip": "c", "club_head": "d"}}, "com": {"model": "dempster", "club": {"mass": "320 g", "balance": 0.7}}}`} {
		s := readSetup(t, text)
		out, err := json.Marshal(s)
		if err != nil {
			t.Fatal(err)
		}
		if d := cmp.Diff(s, readSetup(t, string(out))); d != "" {
			t.Errorf("%s\n%s", out, d)
		}
	}
}

func TestSetupErrors(t *testing.T) {
	tests := []struct{ name, text, path, says string }{
		{"nothing", ``, "", "ends too early"},
		{"no object", `[1]`, "", "want an object"},
		{"not JSON", "{\n  \"version\": 1,\n  golfer: 2}", "", "line 3, column 3"},
		{"cut off", `{"version": 1, "golfer": {`, "", "ends too early"},
		{"more behind it", `{"version": 1} {}`, "", "more text"},
		{"no version", `{}`, "version", `"version": 1`},
		{"later version", `{"version": 2, "new": 3}`, "version", "version 2"},
		{"version as text", `{"version": "1"}`, "version", "whole number"},
		{"unknown field", `{"version": 1, "golfre": {}}`, "golfre", `"golfer"`},
		{"unknown field far from all", `{"version": 1, "quux_flurb": {}}`, "quux_flurb", "known are"},
		{"unknown field inside", `{"version": 1, "golfer": {"wieght": "78 kg", "mas": "78 kg"}}`, "golfer.wieght", "handed, mass, stature"},
		{"unknown field in a list", `{"version": 1, "plates": {"change": [{"plate": 1, "corner": []}]}}`, "plates.change[0].corner", `"corners"`},
		{"upper case", `{"version": 1, "Golfer": {}}`, "Golfer", `"golfer"`},
		{"given twice", `{"version": 1, "golfer": {"mass": "78 kg", "mass": "79 kg"}}`, "golfer.mass", "twice"},
		{"null", `{"version": 1, "golfer": null}`, "golfer", "leave the field out"},
		{"no unit", `{"version": 1, "golfer": {"mass": 78}}`, "golfer.mass", "kg"},
		{"no unit in a text", `{"version": 1, "golfer": {"mass": "78"}}`, "golfer.mass", "accepted"},
		{"another unit", `{"version": 1, "golfer": {"mass": "78 N"}}`, "golfer.mass", "unit of force"},
		{"a list for a mass", `{"version": 1, "golfer": {"mass": ["78 kg"]}}`, "golfer.mass", "a list of 1"},
		{"a mass in the wrong unit", `{"version": 1, "golfer": {"mass": "750 kg"}}`, "golfer.mass", "2 to 400 kg"},
		{"stature", `{"version": 1, "golfer": {"stature": "1.82 mm"}}`, "golfer.stature", "0.4 to 2.8 m"},
		{"hand", `{"version": 1, "golfer": {"handed": "lefty"}}`, "golfer.handed", `"left"`},
		{"a number for a hand", `{"version": 1, "golfer": {"handed": 1}}`, "golfer.handed", "quotes"},
		{"up", `{"version": 1, "lab": {"up": "up"}}`, "lab.up", `"+z"`},
		{"two numbers", `{"version": 1, "lab": {"up": [0, 1]}}`, "lab.up", "three numbers"},
		{"no direction", `{"version": 1, "lab": {"target": [0, 0, 0]}}`, "lab.target", "no direction"},
		{"texts for numbers", `{"version": 1, "lab": {"target": [0, "1", 0]}}`, "lab.target[1]", "no number"},
		{"a true direction", `{"version": 1, "lab": {"target": true}}`, "lab.target", "an axis"},
		{"target along up", `{"version": 1, "lab": {"up": "+z", "target": "-z"}}`, "lab.target", "along up"},
		{"origin without unit", `{"version": 1, "lab": {"origin": ["1 m", 2, "0 m"]}}`, "lab.origin[1]", "mm"},
		{"origin of two", `{"version": 1, "lab": {"origin": ["1 m", "2 m"]}}`, "lab.origin", "list of 3"},
		{"origin far out", `{"version": 1, "lab": {"origin": ["1 m", "2e9 m", "0 m"]}}`, "lab.origin[1]", "10 km"},
		{"plate 0", `{"version": 1, "plates": {"both": [0]}}`, "plates.both[0]", "from 1"},
		{"half a plate", `{"version": 1, "plates": {"both": [1.5]}}`, "plates.both[0]", "whole number"},
		{"a plate twice", `{"version": 1, "plates": {"lead": [1], "trail": [2, 1]}}`, "plates.trail[1]", "plates.lead already"},
		{"both and lead", `{"version": 1, "plates": {"lead": [1], "both": [2]}}`, "plates.both", "either"},
		{"lead alone", `{"version": 1, "plates": {"lead": [1]}}`, "plates.trail", "missing"},
		{"trail alone", `{"version": 1, "plates": {"trail": [1]}}`, "plates.lead", "missing"},
		{"change without plate", `{"version": 1, "plates": {"change": [{"type": 2}]}}`, "plates.change[0].plate", "from 1"},
		{"change twice", `{"version": 1, "plates": {"change": [{"plate": 2}, {"plate": 2}]}}`, "plates.change[1].plate", "twice"},
		{"plate type", `{"version": 1, "plates": {"change": [{"plate": 1, "type": 21}]}}`, "plates.change[0].type", "1 to 7"},
		{"three corners", `{"version": 1, "plates": {"change": [{"plate": 1, "corners": [["0 m","0 m","0 m"],["0 m","0 m","0 m"],["0 m","0 m","0 m"]]}]}}`, "plates.change[0].corners", "list of 4"},
		{"corner", `{"version": 1, "plates": {"change": [{"plate": 1, "corners": [["0 m","0 m","0 m"],["0 m","0 m"],["0 m","0 m","0 m"],["0 m","0 m","0 m"]]}]}}`, "plates.change[0].corners[1]", "list of 3"},
		{"cover", `{"version": 1, "plates": {"change": [{"plate": 1, "top_cover": "20 cm"}, {"plate": 2, "top_cover": "20 m"}]}}`, "plates.change[1].top_cover", "0.5 m"},
		{"sign", `{"version": 1, "plates": {"change": [{"plate": 1, "origin_sign": "revers"}]}}`, "plates.change[0].origin_sign", `"reversed"`},
		{"moment unit", `{"version": 1, "plates": {"change": [{"plate": 1, "moment_unit": "N"}]}}`, "plates.change[0].moment_unit", "N·m"},
		{"scale", `{"version": 1, "plates": {"change": [{"plate": 1, "channel_scale": [1, 0]}]}}`, "plates.change[0].channel_scale[1]", "scale of 0"},
		{"correction", `{"version": 1, "plates": {"change": [{"plate": 1, "point_correction": [1, 0]}]}}`, "plates.change[0].point_correction", "12"},
		{"channel", `{"version": 1, "plates": {"change": [{"plate": 1, "channels": [1.5]}]}}`, "plates.change[0].channels[0]", "label"},
		{"sense", `{"version": 1, "sense": "reacton"}`, "sense", `"reaction"`},
		{"zero method", `{"version": 1, "zero": "windows"}`, "zero.method", `"window"`},
		{"zero backwards", `{"version": 1, "zero": {"from": "1 s", "to": "0.5 s"}}`, "zero.to", "not after"},
		{"zero without window", `{"version": 1, "zero": "window"}`, "zero.to", "not after"},
		{"zero with two methods", `{"version": 1, "zero": {"method": "file", "to": "0.5 s"}}`, "zero", "window is given"},
		{"zero in frames", `{"version": 1, "zero": {"from": 0, "to": 200}}`, "zero.from", "accepted: s"},
		{"filter", `{"version": 1, "filter": {"cutof": "50 Hz"}}`, "filter.cutof", `"cutoff"`},
		{"filter method", `{"version": 1, "filter": "no"}`, "filter.method", `"none"`},
		{"odd order", `{"version": 1, "filter": {"order": 3}}`, "filter.order", "even"},
		{"no filter with a cut-off", `{"version": 1, "filter": {"method": "none", "cutoff": "50 Hz"}}`, "filter", "none"},
		{"cut-off", `{"version": 1, "filter": {"cutoff": "-50 Hz"}}`, "filter.cutoff", "0.1"},
		{"threshold", `{"version": 1, "load_threshold": "-20 N"}`, "load_threshold", "0.1"},
		{"gravity", `{"version": 1, "gravity": "1.62 m/s²"}`, "gravity", "Earth"},
		{"plane", `{"version": 1, "swing_plane": "50 rad"}`, "swing_plane", "5° to 85°"},
		{"quiet stance", `{"version": 1, "quiet_stance": {"from": "2 s"}}`, "quiet_stance.to", "not after"},
		{"mark", `{"version": 1, "marks": {"imapct": "1 s"}}`, "marks.imapct", `"impact"`},
		{"mark of no position", `{"version": 1, "marks": {"P11": "1 s"}}`, "marks.P11", "no such event"},
		{"mark given twice", `{"version": 1, "marks": {"P7": "1 s", "impact": "1 s"}}`, "marks.impact", "marks.P7"},
		{"mark without unit", `{"version": 1, "marks": {"impact": 1}}`, "marks.impact", "accepted: s"},
		{"event", `{"version": 1, "events": {"Ball": "impct"}}`, "events.Ball", `"impact"`},
		{"landmark", `{"version": 1, "points": {"landmarks": {"knee_letf": "LKNE"}}}`, "points.landmarks.knee_letf", `"knee_left"`},
		{"landmark without side", `{"version": 1, "points": {"landmarks": {"wholly": "LKNE"}}}`, "points.landmarks.wholly", "known are vertex"},
		{"landmark without label", `{"version": 1, "points": {"landmarks": {"knee_left": []}}}`, "points.landmarks.knee_left", "no label"},
		{"landmark with an empty label", `{"version": 1, "points": {"landmarks": {"knee_left": " "}}}`, "points.landmarks.knee_left", "empty"},
		{"landmark with one empty label", `{"version": 1, "points": {"landmarks": {"knee_left": ["a", ""]}}}`, "points.landmarks.knee_left[1]", "empty"},
		{"landmark with a label twice", `{"version": 1, "points": {"landmarks": {"knee_left": ["a", "a"]}}}`, "points.landmarks.knee_left[1]", "already"},
		{"landmark of a number", `{"version": 1, "points": {"landmarks": {"knee_left": 3}}}`, "points.landmarks.knee_left", "label"},
		{"landmark of numbers", `{"version": 1, "points": {"landmarks": {"knee_left": ["a", 3]}}}`, "points.landmarks.knee_left[1]", "label"},
		{"points without landmarks", `{"version": 1, "points": {"sd": "5 mm"}}`, "points.landmarks", "missing"},
		{"points without unit", `{"version": 1, "points": {"sd": 5}}`, "points.sd", "accepted: m"},
		{"points in the wrong unit", `{"version": 1, "points": {"sd": "5 m", "landmarks": {"ear": "E"}}}`, "points.sd", "1 m"},
		{"unknown table", `{"version": 1, "com": {"model": "de_leva_man"}}`, "com.model", `"de_leva_men"`},
		{"table without landmarks", `{"version": 1, "com": {"model": "dempster"}}`, "points.landmarks", "missing"},
		{"pelvis without landmark", `{"version": 1, "com": {"model": "pelvis"}, "points": {"landmarks": {"ear": "E"}}}`, "points.landmarks.pelvis", "missing"},
		{"two sources", `{"version": 1, "com": {"model": "pelvis", "file": "a.csv", "axes": "lab"}}`, "com.model", "one source"},
		{"columns for a model", `{"version": 1, "com": {"model": "pelvis", "columns": ["x", "y", "z"]}}`, "com.file", "do not go with com.model"},
		{"rate for a model", `{"version": 1, "com": {"model": "pelvis", "rate": "60 Hz"}}`, "com.file", "do not go with com.model"},
		{"club without a model", `{"version": 1, "com": {"height": "1 m", "club": {"mass": "320 g", "balance": 0.7}}}`, "com.club", "table of body segments"},
		{"club on a proxy", `{"version": 1, "com": {"model": "pelvis", "club": {"mass": "320 g", "balance": 0.7}}, "points": {"landmarks": {"pelvis": "SACR"}}}`, "com.club", "table of body segments"},
		{"club of 320 kg", `{"version": 1, "com": {"model": "dempster", "club": {"mass": "320 kg", "balance": 0.7}}, "points": {"landmarks": {"ear": "E"}}}`, "com.club.mass", "2 kg"},
		{"club without balance", `{"version": 1, "com": {"model": "dempster", "club": {"mass": "320 g"}}, "points": {"landmarks": {"ear": "E"}}}`, "com.club.balance", "from grip to head"},
		{"club without landmarks", `{"version": 1, "com": {"model": "dempster", "club": {"mass": "320 g", "balance": 0.7}}, "points": {"landmarks": {"club_grip": "E"}}}`, "points.landmarks.club_head", "missing"},
		{"com without file", `{"version": 1, "com": {"axes": "lab"}}`, "com.file", "missing"},
		{"sd of nothing", `{"version": 1, "com": {"sd": "5 mm"}}`, "com.sd", "com.file or com.model"},
		{"sd of a height", `{"version": 1, "com": {"sd": "5 mm", "height": "1 m"}}`, "com.sd", "height_sd"},
		{"slow sd of nothing", `{"version": 1, "com": {"slow_sd": "5 mm"}}`, "com.slow_sd", "com.file or com.model"},
		{"delay of nothing", `{"version": 1, "com": {"delay": "5 ms"}}`, "com.delay", "com.file or com.model"},
		{"delay to find of nothing", `{"version": 1, "com": {"seek_delay": "5 ms"}}`, "com.seek_delay", "com.file or com.model"},
		{"delay to find without unit", `{"version": 1, "com": {"seek_delay": 0.05}}`, "com.seek_delay", "accepted: s"},
		{"delay to find too far", `{"version": 1, "com": {"seek_delay": "5 s", "file": "a.csv", "axes": "lab"}}`, "com.seek_delay", "1 s"},
		{"slow time alone", `{"version": 1, "com": {"slow_time": "1 s", "file": "a.csv", "axes": "lab"}}`, "com.slow_sd", "missing"},
		{"height sd alone", `{"version": 1, "com": {"height_sd": "1 cm"}}`, "com.height", "missing"},
		{"com without axes", `{"version": 1, "com": {"file": "a.csv"}}`, "com.axes", "swing"},
		{"com columns", `{"version": 1, "com": {"file": "a.csv", "axes": "lab", "columns": ["x", "y"]}}`, "com.columns", "x, y and z"},
		{"com height", `{"version": 1, "com": {"height": "100 m"}}`, "com.height", "2.5 m"},
		{"feet without width", `{"version": 1, "feet": {"lead": {"heel": "LHEE", "toe": "LTOE"}}}`, "feet.lead.width", "0.02"},
		{"one place", `{"version": 1, "feet": {"lead": {"heel": "LHEE", "toe": "LHEE", "width": "9 cm"}}}`, "feet.lead", "same place"},
		{"no place", `{"version": 1, "feet": {"lead": {"heel": 3, "toe": "LHEE", "width": "9 cm"}}}`, "feet.lead.heel", "label"},
		{"empty place", `{"version": 1, "feet": {"lead": {"heel": " ", "toe": "LHEE", "width": "9 cm"}}}`, "feet.lead.heel", "empty"},
		{"place without unit", `{"version": 1, "feet": {"lead": {"heel": [1, 2, 3], "toe": "LHEE", "width": "9 cm"}}}`, "feet.lead.heel[0]", "accepted: m"},
		{"length unit", `{"version": 1, "c3d": {"length_unit": "mmm"}}`, "c3d.length_unit", "mm"},
		{"separator", `{"version": 1, "table": {"separator": ";"}}`, "table.separator", "semicolon"},
		{"comma twice", `{"version": 1, "table": {"separator": "comma", "decimal": "comma"}}`, "table.decimal", "separator"},
		{"table plate without force", `{"version": 1, "table": {"plates": [{"moment": ["a", "b", "c"]}]}}`, "table.plates[0].force", "missing"},
		{"force alone", `{"version": 1, "table": {"plates": [{"force": ["a", "b", "c"]}]}}`, "table.plates[0].moment", "where it acts"},
		{"no free moment", `{"version": 1, "table": {"plates": [{"force": ["a", "b", "c"], "cop": ["d", "e", "f"]}]}}`, "table.plates[0].free", "0 N·m"},
		{"moment and cop", `{"version": 1, "table": {"plates": [{"force": ["a", "b", "c"], "moment": ["a", "b", "c"], "cop": ["d", "e", "f"]}]}}`, "table.plates[0].cop", "either"},
		{"vertical alone", `{"version": 1, "table": {"plates": [{"force": ["a"], "moment": ["a", "b", "c"]}]}}`, "table.plates[0].force", "want 3"},
		{"channels without type", `{"version": 1, "table": {"plates": [{"channels": ["a"]}]}}`, "table.plates[0].type", "missing"},
		{"deep", `{"version": 1, "marks": ` + strings.Repeat(`{"a":`, 40) + `1` + strings.Repeat(`}`, 41), "marks.a.a.a.a.a.a.a.a.a.a.a.a.a.a.a.a", "deep"},
		{"many", `{"version": 1, "plates": {"lead": [` + strings.Repeat("1,", 2000) + `1]}}`, "plates.lead", "at most 1000"},
		{"long", `{"version": 1, "` + strings.Repeat("x", 2<<20) + `": 1}`, "", "larger than"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			s, err := ReadSetup(strings.NewReader(tt.text))
			if s != nil {
				t.Error("a setup beside an error")
			}
			var e *SetupError
			if !errors.As(err, &e) || !errors.Is(err, ErrSetup) {
				t.Fatalf("got %T %v", err, err)
			}
			if e.Path != tt.path || !strings.Contains(err.Error(), tt.says) || !strings.HasPrefix(err.Error(), "setup: "+tt.path) {
				t.Errorf("got %q at %q; want %q at %q", err, e.Path, tt.says, tt.path)
			}
		})
	}
}

func TestSetupErrorWraps(t *testing.T) {
	_, err := ReadSetup(strings.NewReader(`{"version": 1, "golfer": {"mass": "78"}}`))
	if !errors.Is(err, units.ErrNoUnit) {
		t.Errorf("%v does not wrap units.ErrNoUnit", err)
	}
}

// The package comment must list every field of the setup.
func TestDocListsEveryField(t *testing.T) {
	doc, err := os.ReadFile("doc.go")
	if err != nil {
		t.Fatal(err)
	}
	var walk func(t reflect.Type)
	seen := map[string]bool{}
	walk = func(typ reflect.Type) {
		switch typ.Kind() {
		case reflect.Pointer, reflect.Slice, reflect.Array:
			walk(typ.Elem())
		case reflect.Struct:
			for i := range typ.NumField() {
				f := typ.Field(i)
				name, _, _ := strings.Cut(f.Tag.Get("json"), ",")
				if name != "" {
					seen[name] = true
				}
				if f.Type.PkgPath() != "gonum.org/v1/gonum/spatial/r3" {
					walk(f.Type)
				}
			}
		}
	}
	walk(reflect.TypeFor[Setup]())
	if len(seen) < 50 {
		t.Errorf("only %d fields were found", len(seen))
	}
	words := map[string]bool{}
	for _, w := range strings.FieldsFunc(string(doc), func(r rune) bool { return !(r == '_' || 'a' <= r && r <= 'z' || '0' <= r && r <= '9') }) {
		words[w] = true
	}
	for name := range seen {
		if !words[name] {
			t.Errorf("doc.go does not mention %s", name)
		}
	}
}

func TestNear(t *testing.T) {
	known := []string{"golfer", "lab", "plates"}
	for name, want := range map[string]string{"golfre": `did you mean "golfer"?`, "plate": `did you mean "plates"?`, "LAB": `did you mean "lab"?`, "wholly different": "known are golfer, lab, plates"} {
		if got := near(name, known); got != want {
			t.Errorf("%s: got %s, want %s", name, got, want)
		}
	}
	if got := near("a", nil); got != "there are none" {
		t.Error(got)
	}
}

// Setups that a program makes are checked as well.
func TestCheck(t *testing.T) {
	nan, inf := math.NaN(), math.Inf(1)
	tests := []struct {
		path  string
		setup Setup
	}{
		{"version", Setup{}},
		{"lab.up", Setup{Version: 1, Lab: Lab{Up: Direction{X: nan}}}},
		{"lab.target", Setup{Version: 1, Lab: Lab{Target: Direction{X: inf}}}},
		{"lab.origin[2]", Setup{Version: 1, Lab: Lab{Origin: &Position{0, 0, units.Length(nan)}}}},
		{"golfer.mass", Setup{Version: 1, Golfer: Golfer{Mass: units.Mass(nan)}}},
		{"marks.impact", Setup{Version: 1, Marks: map[string]units.Time{"impact": units.Time(nan)}}},
		{"zero.to", Setup{Version: 1, Zero: Zero{To: units.Time(nan)}}},
		{"feet.at", Setup{Version: 1, Feet: Feet{At: units.Time(inf)}}},
		{"plates.change[0].calibration[0][1]", Setup{Version: 1, Plates: Roles{Change: []PlateChange{{Plate: 1, Geometry: Geometry{Calibration: [][]float64{{0, nan}}}}}}}},
		{"table.plates[0].top_cover", Setup{Version: 1, Table: Table{Plates: []TablePlate{{Force: make([]string, 3), Moment: make([]string, 3), Geometry: Geometry{TopCover: -1}}}}}},
	}
	for _, tt := range tests {
		err := tt.setup.Check()
		var e *SetupError
		if !errors.As(err, &e) || e.Path != tt.path {
			t.Errorf("%s: got %v", tt.path, err)
		}
		if r, err := Read("a.csv", []byte("x[m]\n1\n"), &tt.setup, nil); r != nil || !errors.Is(err, ErrSetup) {
			t.Errorf("%s: Read does not check: %v", tt.path, err)
		}
	}
	if err := (&Setup{Version: 1}).Check(); err != nil {
		t.Error(err)
	}
}

func TestNames(t *testing.T) {
	for _, names := range []func() []string{LandmarkNames, ModelNames} {
		first := names()[0]
		names()[0] = "changed"
		if names()[0] != first {
			t.Error("the caller can change the list")
		}
	}
}

func TestMarkNames(t *testing.T) {
	names := MarkNames()
	if len(names) != 19 || names[0] != "address" || names[18] != "finish" {
		t.Errorf("got %v", names)
	}
	names[0] = "changed"
	if MarkNames()[0] != "address" {
		t.Error("the caller can change the list")
	}
}
