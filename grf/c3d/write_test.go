package c3d

import (
	"bytes"
	"testing"
)

// TestRewriteIsIdentical decodes and encodes every public file: all but those
// whose defects are repaired must come back byte by byte.
func TestRewriteIsIdentical(t *testing.T) {
	// These differ, by the given number of bytes.
	repaired := map[string]struct {
		bytes int
		why   string
	}{
		"sample08/TESTBPI.c3d":                     {4608, "nine blocks between header and parameters that nothing refers to become zeros"},
		"sample08/TESTDPI.c3d":                     {4608, "the same, behind the parameters"},
		"sample15/FP1.C3D":                         {1, "3 parameter blocks announced, 5 used"},
		"sample18/bad_parameter_section.c3d":       {59, "the record that runs into the data becomes empty and ends the section"},
		"sample24/MotionMonitorC3D.c3d":            {1, "header word 3 is 112, not 16"},
		"others/ADemo1_rewrite_c3d_pc_integer.c3d": {1, "33 parameter blocks announced, which reach into the data"},
		"others/parameterOverflow.c3d":             {1, "46 parameter blocks announced, 49 used"},
		"synthetic/syn_type2_truncated.c3d":        {-1, "198 frames, not 300"},
		"synthetic/syn_cut_in_parameters.c3d":      {-1, "no frames"},
	}
	same := 0
	for _, o := range oracle(t) {
		if o.Expect == "error" {
			continue
		}
		data := dataset(t, o.File)
		f, err := Decode(data, Options{})
		if err != nil {
			t.Fatal(o.File, err)
		}
		var b bytes.Buffer
		if err := Encode(&b, f); err != nil {
			t.Errorf("%s: %v", o.File, err)
			continue
		}
		if bytes.Equal(b.Bytes(), data) {
			same++
			continue
		}
		diff := 0
		first := -1
		for i := range min(len(data), b.Len()) {
			if data[i] != b.Bytes()[i] {
				diff++
				if first < 0 {
					first = i
				}
			}
		}
		if r := repaired[o.File]; r.why == "" || r.bytes >= 0 && (r.bytes != diff || b.Len() != len(data)) {
			t.Errorf("%s: %d bytes, want %d; %d differ, the first at %d (data at %d)", o.File, b.Len(), len(data), diff, first, f.Layout.DataStart)
		}
	}
	if same < 19 {
		t.Errorf("only %d files came back byte by byte", same)
	}
}

// TestRoundTrip writes files in every format and reads them back: the numbers
// of small survive each of them.
func TestRoundTrip(t *testing.T) {
	for _, p := range []Processor{Intel, DEC, MIPS} {
		for _, s := range []Storage{Real, Integer} {
			for _, unsigned := range []bool{false, true} {
				f := small()
				f.Processor, f.Storage, f.Unsigned = p, s, unsigned
				f.GenScale = 0.5
				for i := range f.Channels {
					f.Channels[i].Offset = 512
				}
				g := decode(t, encode(t, f), Options{})
				f.Frames = 12 // what the series say
				if d := differ(f, g); d != "" {
					t.Errorf("%v %v unsigned %v:\n%s", p, s, unsigned, d)
				}
				warned(t, g)
				// And from there to every other format.
				for _, to := range []Processor{Intel, DEC, MIPS} {
					h := decode(t, encode(t, g), Options{})
					h.Processor = to
					h = decode(t, encode(t, h), Options{})
					h.Processor = p
					if d := differ(g, h); d != "" {
						t.Errorf("%v to %v %v:\n%s", p, to, s, d)
					}
				}
				rewrite(t, g)
			}
		}
	}
}
