package phase_test

import (
	"encoding/json"
	"errors"
	"fmt"
	"math"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"example.com/momentarm/phase"
	"example.com/momentarm/validation/synth"
)

// The ten positions in words, as the trade counts them (common practice, no published
// source).
func TestPositions(t *testing.T) {
	words := "address, shaft parallel back, lead arm parallel back, top, lead arm parallel down, shaft parallel down, impact, shaft parallel through, trail arm parallel through, finish"
	var names []phase.Name
	for i, w := range strings.Split(words, ", ") {
		p := phase.Position(i + 1)
		if got := strings.ReplaceAll(string(p.Name()), "_", " "); got != w {
			t.Errorf("%v is %q, want %q", p, got, w)
		}
		if q, ok := phase.PositionOf(p.Name()); !ok || q != p {
			t.Errorf("%s is at %v", p.Name(), q)
		}
		for _, text := range []string{p.String(), strings.ToLower(p.String())} {
			if q, err := phase.ParsePosition(text); err != nil || q != p {
				t.Errorf("%q is %v, %v", text, q, err)
			}
		}
		names = append(names, p.Name())
	}
	var inOrder []phase.Name // as they come in a swing
	for _, n := range phase.Names() {
		if _, ok := phase.PositionOf(n); ok {
			inOrder = append(inOrder, n)
		}
	}
	if d := cmp.Diff(names, inOrder); d != "" {
		t.Error(d)
	}
	for _, text := range []string{"", "P", "P0", "P11", "P01", "P+4", "P-4", "4", "impact", "P4 ", "Ｐ4", "P99999999999999999999"} {
		if p, err := phase.ParsePosition(text); !errors.Is(err, phase.ErrPosition) || p != 0 {
			t.Errorf("%q is %v, %v", text, p, err)
		}
	}
	if p, ok := phase.PositionOf(phase.Onset); ok {
		t.Errorf("the onset is at %v", p)
	}
	for _, p := range []phase.Position{0, 11, -1} {
		if _, err := p.MarshalText(); p.Name() != "" || !strings.HasPrefix(p.String(), "Position(") || err == nil {
			t.Errorf("%d has a name", int(p))
		}
	}
}

func TestPositionInJSON(t *testing.T) {
	var got map[phase.Position]float64
	if err := json.Unmarshal([]byte(`{"P4": 2.9, "p10": 4.5}`), &got); err != nil {
		t.Fatal(err)
	}
	if want := map[phase.Position]float64{phase.P4: 2.9, phase.P10: 4.5}; !cmp.Equal(got, want) {
		t.Error(got)
	}
	if b, err := json.Marshal(got); err != nil || string(b) != `{"P10":4.5,"P4":2.9}` {
		t.Errorf("%s, %v", b, err)
	}
	if err := json.Unmarshal([]byte(`{"P0": 1}`), &got); err == nil {
		t.Error("P0 was taken")
	}
}

func TestNamedMarks(t *testing.T) {
	in := map[string]float64{"P7": 3.2, "p4": 2.9, "onset": 2, "P1": 1.9}
	want := map[string]float64{"impact": 3.2, "top": 2.9, "onset": 2, "address": 1.9}
	if got, err := phase.NamedMarks(in); err != nil || !cmp.Equal(got, want) {
		t.Errorf("%v, %v", got, err)
	}
	if len(in) != 4 || in["P7"] != 3.2 {
		t.Error("the marks were changed")
	}
	if got, err := phase.NamedMarks(nil); err != nil || got != nil {
		t.Errorf("%v, %v", got, err)
	}
	if got, err := phase.NamedMarks(map[string]float64{"P7": 3, "impact": 3}); err != nil || len(got) != 1 {
		t.Errorf("the same twice: %v, %v", got, err)
	}
	for name, c := range map[string]struct {
		marks map[string]float64
		want  error
	}{
		"unknown": {map[string]float64{"P12": 1}, phase.ErrUnknownMark},
		"twice":   {map[string]float64{"P7": 3, "impact": 3.1}, phase.ErrInput},
		"NaN":     {map[string]float64{"P7": math.NaN(), "p7": 3.1}, phase.ErrInput},
	} {
		if _, err := phase.NamedMarks(c.marks); !errors.Is(err, c.want) {
			t.Errorf("%s: %v", name, err)
		}
	}
}

// Marks by number bound the phases between positions and beat what the forces say; the
// phases say which it was.
func TestPhasesFromMarks(t *testing.T) {
	s, in := clean(t, synth.Config{})
	without, err := phase.Detect(in)
	if err != nil {
		t.Fatal(err)
	}
	sources := func(ev phase.Events) map[string]string {
		out := map[string]string{}
		for _, p := range ev.Phases() {
			out[p.Name] = p.Source().String()
		}
		return out
	}
	// The finish needs a stance after the swing, which this input does not have.
	want := map[string]string{"loading": "detected", "transition": "detected", "drive": "estimated"}
	if d := cmp.Diff(want, sources(without)); d != "" {
		t.Error(d)
	}
	in.Given = map[string]float64{}
	for p := phase.P2; p < phase.P10; p++ {
		in.Given[p.String()] = s.Marks()[string(p.Name())]
	}
	with, err := phase.Detect(in)
	if err != nil {
		t.Fatal(err)
	}
	want = map[string]string{
		"loading": "detected", "transition": "detected", "drive": "detected", "backswing": "detected", "downswing": "given",
		"p1_p2": "detected", "p2_p3": "given", "p3_p4": "given", "p4_p5": "given", "p5_p6": "given", "p6_p7": "given", "p7_p8": "given", "p8_p9": "given",
	}
	if d := cmp.Diff(want, sources(with)); d != "" {
		t.Error(d)
	}
	var sum, whole float64
	for _, p := range with.Phases() {
		if p.Duration() <= 0 {
			t.Errorf("%s lasts %g s", p.Name, p.Duration())
		}
		switch p.Name {
		case "p4_p5", "p5_p6", "p6_p7":
			sum += p.Duration()
		case "downswing":
			whole = p.Duration()
		}
	}
	if math.Abs(sum-whole) > 1e-12 {
		t.Errorf("parts of the downswing last %g s, the whole %g s", sum, whole)
	}
}

func ExamplePosition() {
	marks, err := phase.NamedMarks(map[string]float64{"P4": 2.91, "P7": 3.18})
	fmt.Println(marks, err)
	fmt.Println(phase.P5, "is", phase.P5.Name())
	// Output:
	// map[impact:3.18 top:2.91] <nil>
	// P5 is lead_arm_parallel_down
}
