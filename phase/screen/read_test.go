package screen_test

import (
	"encoding/json"
	"errors"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"testing/iotest"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"

	"example.com/momentarm/phase/screen"
)

const good = `{"version": 1, "name": "mine", "bands": [{"measure": "tempo", "unit": "1", "min": 2, "max": 4}]}`

func TestReadBands(t *testing.T) {
	s, err := screen.ReadBands(strings.NewReader(good))
	if err != nil {
		t.Fatal(err)
	}
	want := &screen.Bands{Version: 1, Name: "mine", Bands: []screen.Band{{Measure: "tempo", Unit: "1", Min: at(2), Max: at(4)}}}
	if d := cmp.Diff(want, s); d != "" {
		t.Error(d)
	}
	if c := s.Bands[0].Cite(); c != "the band's writer" {
		t.Error(c)
	}
}

// Every message names the place and what to do.
func TestReadBandsRefuses(t *testing.T) {
	band := func(fields string) string {
		return `{"version": 1, "name": "mine", "bands": [{"measure": "tempo", "unit": "1", ` + fields + `}]}`
	}
	for name, c := range map[string]struct{ text, path, says string }{
		"nothing":             {"", "", "line 1"},
		"not JSON":            {"{\n \"version\": 1,,}", "", "line 2, column 15"},
		"a list":              {"[]", "", "want an object"},
		"more text":           {good + "x", "", "not JSON at line 1"},
		"no version":          {`{"name": "x"}`, "version", "this is version 1"},
		"later version":       {`{"version": 2, "name": "x"}`, "version", "this is version 1"},
		"no name":             {`{"version": 1, "bands": []}`, "name", "no name"},
		"no bands":            {`{"version": 1, "name": "x"}`, "bands", "not one band"},
		"unknown field":       {`{"version": 1, "nmae": "x"}`, "nmae", `did you mean "name"?`},
		"unknown band field":  {band(`"mim": 2, "max": 4`), "bands[0].mim", `did you mean "min"?`},
		"upper case":          {band(`"Min": 2, "max": 4`), "bands[0].Min", `did you mean "min"?`},
		"far-off field":       {band(`"tolerance": 2`), "bands[0].tolerance", "known are measure, label, unit"},
		"given twice":         {band(`"min": 2, "min": 3, "max": 4`), "bands[0].min", "given twice"},
		"null":                {band(`"min": null, "max": 4`), "bands[0].min", "leave the field out"},
		"text for a number":   {band(`"min": "2", "max": 4`), "bands[0].min", "want a number"},
		"huge number":         {band(`"min": 1e999, "max": 4`), "bands[0].min", "want a number"},
		"number for a text":   {band(`"min": 2, "max": 4, "below": 3`), "bands[0].below", "want a text"},
		"bands no list":       {`{"version": 1, "name": "x", "bands": {}}`, "bands", "want a list"},
		"band no object":      {`{"version": 1, "name": "x", "bands": [3]}`, "bands[0]", "want an object"},
		"beside no list":      {band(`"min": 2, "max": 4, "beside": "x"`), "bands[0].beside", "want a list of texts"},
		"no edge":             {band(`"step": 2`), "bands[0]", "neither min nor max"},
		"upside down":         {band(`"min": 4, "max": 2`), "bands[0].min", "not less than max"},
		"empty band":          {band(`"min": 4, "max": 4`), "bands[0].min", "not less than max"},
		"no step":             {band(`"min": 4`), "bands[0].step", "needs a step"},
		"negative step":       {band(`"min": 4, "step": -1`), "bands[0].step", "above zero"},
		"too wide":            {band(`"min": -1.7e308, "max": 1.7e308`), "bands[0]", "too wide"},
		"reason without edge": {band(`"min": 4, "step": 1, "above": "x"`), "bands[0].above", "no max"},
		"unknown level":       {band(`"min": 2, "max": 4, "level": "secondhand"`), "bands[0].level", `did you mean "second_hand"?`},
		"level without text":  {band(`"min": 2, "max": 4, "level": "published"`), "bands[0].source", "names its source"},
		"practice misnamed":   {band(`"min": 2, "max": 4, "level": "common_practice", "source": "everybody"`), "bands[0].source", "no published source"},
		"long text":           {band(`"min": 2, "max": 4, "below": "` + strings.Repeat("x", 3000) + `"`), "bands[0].below", "longer than"},
		"no unit":             {`{"version": 1, "name": "x", "bands": [{"measure": "tempo", "min": 2, "max": 4}]}`, "bands[0].unit", "need a unit"},
		"no measure":          {`{"version": 1, "name": "x", "bands": [{"unit": "1", "min": 2, "max": 4}]}`, "bands[0].measure", "no name of a measure"},
		"measure with blank":  {`{"version": 1, "name": "x", "bands": [{"measure": "a b", "unit": "1", "min": 2, "max": 4}]}`, "bands[0].measure", "no name of a measure"},
		"too large":           {strings.Repeat(" ", 1<<20) + good, "", "more than"},
	} {
		s, err := screen.ReadBands(strings.NewReader(c.text))
		var at *screen.BandsError
		switch {
		case s != nil || !errors.Is(err, screen.ErrBands) || !errors.As(err, &at):
			t.Errorf("%s: %v, %v", name, s, err)
		case at.Path != c.path || !strings.Contains(at.Text, c.says):
			t.Errorf("%s: %q: %q, want %q: …%s…", name, at.Path, at.Text, c.path, c.says)
		}
	}
	broken := errors.New("broken")
	if _, err := screen.ReadBands(iotest.ErrReader(broken)); !errors.Is(err, broken) {
		t.Error(err)
	}
}

// The embedded sets are readable, say where every band comes from, and have a
// reason for every edge.
func TestEmbeddedSets(t *testing.T) {
	for name, s := range map[string]*screen.Bands{"starter": screen.Starter(), "published": screen.Published()} {
		if name == "published" != s.WarnOnly {
			t.Errorf("%s: warn only is %v", name, s.WarnOnly)
		}
		for _, b := range s.Bands {
			practice := b.Level == screen.CommonPractice && b.Source == screen.Practice
			cited := (b.Level == screen.SecondHand || b.Level == screen.ReadInSource) && b.Source != ""
			if s.WarnOnly && !cited || !s.WarnOnly && !practice {
				t.Errorf("%s, %s: level %q, source %q", name, b.Measure, b.Level, b.Source)
			}
			if (b.Min != nil) != (b.Below != "") || (b.Max != nil) != (b.Above != "") {
				t.Errorf("%s, %s: an edge without a reason", name, b.Measure)
			}
			if second := strings.HasSuffix(b.Cite(), "[second-hand]"); second != (b.Level == screen.SecondHand) {
				t.Errorf("%s, %s: cited as %q", name, b.Measure, b.Cite())
			}
		}
	}
}

// What is written as JSON reads as the same set.
func TestWriteAndRead(t *testing.T) {
	for _, s := range []*screen.Bands{screen.Starter(), screen.Published()} {
		again(t, s)
	}
}

func again(t *testing.T, s *screen.Bands) {
	t.Helper()
	text, err := json.Marshal(s)
	if err != nil {
		t.Fatal(err)
	}
	r, err := screen.ReadBands(strings.NewReader(string(text)))
	if err != nil {
		t.Fatalf("%s\n%v", text, err)
	}
	if d := cmp.Diff(s, r, cmpopts.EquateEmpty()); d != "" {
		t.Fatal(d)
	}
}

// FuzzReadBands checks that no text makes ReadBands panic, that it returns either
// a set or an error that says where, and that a set can be written, read again
// and used.
func FuzzReadBands(f *testing.F) {
	seeds, err := filepath.Glob("testdata/*.json")
	if err != nil || len(seeds) == 0 {
		f.Fatal("no seeds", err)
	}
	for _, name := range seeds {
		data, err := os.ReadFile(name)
		if err != nil {
			f.Fatal(err)
		}
		f.Add(string(data))
	}
	f.Fuzz(func(t *testing.T, text string) {
		s, err := screen.ReadBands(strings.NewReader(text))
		if (s == nil) == (err == nil) {
			t.Fatalf("set %v and error %v", s, err)
		}
		if err != nil {
			var at *screen.BandsError
			if !errors.As(err, &at) || len(err.Error()) > 4000 {
				t.Fatalf("message %q", err)
			}
			return
		}
		again(t, s)
		for _, v := range []float64{-1, 0, 0.102, 1e300} {
			m := measure(v, 0.01)
			m.Name, m.Unit = s.Bands[0].Measure, s.Bands[0].Unit
			if _, err := screen.Swing(with(m), screen.Options{Bands: []*screen.Bands{s}}); err != nil {
				t.Fatal(err)
			}
		}
	})
}
