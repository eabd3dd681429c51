package c3d

import (
	"testing"
)

// TestDecodeHeader reads the first block alone, in every format, also when the
// parameters are out of reach.
func TestDecodeHeader(t *testing.T) {
	for _, p := range []Processor{Intel, DEC, MIPS} {
		f := small()
		f.Processor = p
		b := encode(t, f)
		for _, data := range [][]byte{b, b[:512], edit(b, 0, 250)} {
			h, err := DecodeHeader(data)
			if err != nil {
				t.Fatal(p, err)
			}
			if h.Processor != p || h.Points != 3 || h.AnalogPerFrame != 48 || h.SamplesPerFrame != 4 || h.FirstFrame != 1 || h.LastFrame != 12 ||
				h.Rate != 100 || h.Scale != -0.0625 || len(h.Events) != 2 || h.Events[1].Label != "IMP" || !h.Events[1].Off {
				t.Errorf("%v: %+v", p, h)
			}
		}
	}
	for _, b := range [][]byte{nil, make([]byte, 512), make([]byte, 2000)} {
		if h, err := DecodeHeader(b); h != nil || err == nil {
			t.Errorf("%d zero bytes: %+v, %v", len(b), h, err)
		}
	}
}

// TestPublicHeader: a file that is nothing but a header still tells it.
func TestPublicHeader(t *testing.T) {
	h, err := DecodeHeader(dataset(t, "synthetic/syn_header_only.c3d"))
	if err != nil {
		t.Fatal(err)
	}
	if h.Rate != 100 || h.Points != 3 {
		t.Errorf("%d points at %g", h.Points, h.Rate)
	}
}

// TestChoices: every fact of the layout names the place that it was taken from.
func TestChoices(t *testing.T) {
	sources := func(b []byte) map[string]string {
		m := map[string]string{}
		for _, c := range decode(t, b, Options{}).Layout.Choices {
			m[c.Fact] = c.Source
		}
		return m
	}
	b := encode(t, small())
	s := sources(b)
	for fact, want := range map[string]string{
		"frame rate": "POINT:RATE", "data block": "header word 9", "points": "header word 2",
		"analog values per frame": "header word 3", "frames": "POINT:FRAMES", "bytes per number": "POINT:SCALE",
	} {
		if s[fact] != want {
			t.Errorf("%s from %q, want %q", fact, s[fact], want)
		}
	}
	s = sources(word(float(stripped(t, "POINT:FRAMES", "POINT:RATE"), 7, 1), 2, 9))
	for fact, want := range map[string]string{"frame rate": "header words 11–12", "points": "POINT:USED", "frames": "header words 4–5"} {
		if s[fact] != want {
			t.Errorf("%s from %q, want %q", fact, s[fact], want)
		}
	}
}

// TestStrings: what prints itself does so in the words of the format.
func TestStrings(t *testing.T) {
	for _, c := range []struct{ got, want string }{
		{Intel.String(), "intel"}, {DEC.String(), "dec"}, {MIPS.String(), "mips"}, {Processor(7).String(), "unknown"},
		{Real.String(), "real"}, {Integer.String(), "integer"},
		{Position.String(), "position"}, {Angle.String(), "angle"}, {Scalar.String(), "scalar"}, {Kind(9).String(), "Kind(9)"},
		{(&FormatError{"POINT:SCALE", 12, "0", ErrScale}).Error(), "c3d: POINT:SCALE (byte 12): unusable point scale: 0"},
		{(&FormatError{"data", -1, "", ErrLayout}).Error(), "c3d: data: stated sizes do not fit the file"},
		{(&WriteError{"Rate", -1, "0", ErrRate}).Error(), "c3d: writing Rate: no usable frame rate: 0"},
		{(&UnsupportedError{"x"}).Error(), "c3d: not supported: x"},
	} {
		if c.got != c.want {
			t.Errorf("got %q, want %q", c.got, c.want)
		}
	}
}

// TestNames: groups and parameters are found whatever the case of their ASCII
// letters.
func TestNames(t *testing.T) {
	for _, c := range []struct {
		a, b string
		same bool
	}{
		{"abcxyz", "ABCXYZ", true}, {" azAZ_09 ", "AZaz_09", true}, {"A\x00\x00", "a", true}, {"", " ", true},
		{"a", "b", false}, {"A[", "a{", false}, {"@", "`", false}, {"ä", "Ä", false}, {"K", "\u212a", false},
	} {
		if sameName(c.a, c.b) != c.same {
			t.Errorf("%q and %q: same is %v", c.a, c.b, !c.same)
		}
	}
}
