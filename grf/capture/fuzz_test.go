package capture

import (
	"bytes"
	"encoding/json"
	"errors"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"unicode/utf8"

	"github.com/google/go-cmp/cmp"
)

// FuzzReadSetup checks that no text makes ReadSetup panic, that it returns a
// setup or a short error with a path, and that a setup comes back when it is
// written and read again.
func FuzzReadSetup(f *testing.F) {
	seeds, err := filepath.Glob("testdata/*.json")
	if err != nil || len(seeds) == 0 {
		f.Fatal("no seeds", err)
	}
	for _, name := range seeds {
		data, err := os.ReadFile(name)
		if err != nil {
			f.Fatal(err)
		}
		f.Add(data)
	}
	f.Add([]byte(`{"version": 1, "golfer": {"mass": 78}}`))
	f.Add([]byte(`{"version": 1, "lab": {"up": [0, 0, 1e300]}, "zero": "file", "filter": "none"}`))
	f.Fuzz(func(t *testing.T, data []byte) {
		s, err := ReadSetup(bytes.NewReader(data))
		if (s == nil) == (err == nil) {
			t.Fatalf("setup %v and error %v", s, err)
		}
		if err != nil {
			var e *SetupError
			if !errors.As(err, &e) || !errors.Is(err, ErrSetup) || !strings.HasPrefix(err.Error(), "setup: ") || len(err.Error()) > 8000 || !utf8.ValidString(err.Error()) {
				t.Fatalf("%T %q", err, err)
			}
			return
		}
		out, err := json.Marshal(s)
		if err != nil {
			t.Fatal(err)
		}
		again, err := ReadSetup(bytes.NewReader(out))
		if err != nil {
			t.Fatalf("%s: %v", out, err)
		}
		if d := cmp.Diff(s, again); d != "" {
			t.Fatal(d)
		}
	})
}

// FuzzReadTable checks that no table and no setup for it make Read panic, and
// that it returns a whole recording or an error.
func FuzzReadTable(f *testing.F) {
	six := "t[s],Fx[N],Fy[N],Fz[N],Mx[Nm],My[Nm],Mz[Nm]\n0,0,0,500,0,0,0\n0.01,0,0,500,0,0,0\n"
	point := "rate: 100 Hz\nlead_fx_N,lead_fy_N,lead_fz_N,lead_copx_m,lead_copy_m,lead_free_Nm,trail_fx_N,trail_fy_N,trail_fz_N,trail_copx_m,trail_copy_m,trail_free_Nm\n0,0,500,0,0,0,0,0,500,0,0,0\n0,0,5,,,,0,0,500,0,0,0\n"
	f.Add(six, `{"version": 1, "lab": {"up": "+z", "target": "+y"}}`)
	f.Add(point, `{"version": 1}`)
	f.Add(point, `{"version": 1, "table": {"axes": "swing", "plates": [{"force": ["lead_fx", "-lead_fy", "0 N"], "cop": ["lead_copx", "lead_copy", "1 mm"], "free": "0 N·m"}]}, "sense": "action"}`)
	f.Add(six, `{"version": 1, "lab": {"target": "+y"}, "table": {"axes": "plate", "plates": [{"force": ["Fx", "Fy", "Fz"], "moment": ["Mx", "My", "Mz"], "corners": [["1 m","1 m","0 m"],["0 m","1 m","0 m"],["0 m","0 m","0 m"],["1 m","0 m","0 m"]], "top_cover": "1 cm"}]}}`)
	f.Fuzz(func(t *testing.T, data, setup string) {
		s, err := ReadSetup(strings.NewReader(setup))
		if err != nil {
			return
		}
		open := func(string) ([]byte, error) { return []byte(data), nil }
		r, err := Read("a.csv", []byte(data), s, open)
		if (r == nil) == (err == nil) {
			t.Fatalf("result %v and error %v", r, err)
		}
		if err != nil {
			if !strings.HasPrefix(err.Error(), "a.csv: ") {
				t.Fatalf("%q", err)
			}
			return
		}
		if err := r.Recording.Check(); err != nil {
			t.Fatal(err)
		}
		if len(r.Steps) == 0 || len(r.Plates) == 0 {
			t.Fatal("no steps or plates")
		}
	})
}
