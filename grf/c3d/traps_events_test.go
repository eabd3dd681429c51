package c3d

import (
	"fmt"
	"math"
	"slices"
	"testing"
)

// groupEvents returns the events that are not in the header.
func groupEvents(f *File) []Event {
	return slices.DeleteFunc(slices.Clone(f.Events), func(e Event) bool { return e.InHeader })
}

var eventTraps = []trap{
	{41, "events of the header", func(t *testing.T) {
		b := encode(t, small())
		for key, want := range map[int]struct{ label, code string }{
			12345: {"TOP", ""}, 57: {"TOP", CodeEventKey}, // only the low byte of the key
			0: {"TO", CodeEventKey}, 12288: {"TO", CodeEventKey}, 1000: {"TO", CodeEventKey},
		} {
			f := decode(t, word(b, 150, key), Options{})
			if want.code == "" {
				warned(t, f)
			} else {
				warned(t, f, want.code)
			}
			if f.Events[0].Label != want.label || f.Events[0].Time != 0.0625 || len(f.Header.Events) != 2 {
				t.Errorf("key %d: %+v", key, f.Events[0])
			}
			rewrite(t, f)
		}
		f := decode(t, word(b, 151, 25), Options{})
		if !slices.Contains(codes(f), CodeEventCount) || len(f.Header.Events) != 18 {
			t.Errorf("25 events announced: %d read, warned of %v", len(f.Header.Events), codes(f))
		}
		f = decode(t, float(b, 153, 8), Options{}) // later than the last frame
		warned(t, f, CodeEventRange)
		if !f.Events[0].OutOfRange || f.Events[0].Time != 8 || f.Events[1].OutOfRange {
			t.Errorf("%+v", f.Events[:2])
		}
		f = decode(t, float(b, 153, math.NaN()), Options{})
		warned(t, f, CodeEventTime)
		if !math.IsNaN(f.Events[0].Time) || !f.Events[0].OutOfRange || f.EventsByTime()[3].Label != "TOP" {
			t.Errorf("%+v", f.Events)
		}
	}, ""},
	{42, "the EVENT group", func(t *testing.T) {
		f := long(200_000) // 200 s: minutes matter
		f.Events = []Event{{Label: "late", Context: "General", Time: 185.5}, {Label: "early", Context: "General", Time: 59.5}}
		b := encode(t, f)
		g := decode(t, b, Options{Strict: true})
		if !sameEvents(g.Events, f.Events) {
			t.Errorf("got %+v", g.Events)
		}
		if v := g.Groups.Floats("EVENT", "TIMES"); !slices.Equal(v, []float64{3, 5.5, 0, 59.5}) {
			t.Errorf("stored %v", v)
		}
		if e := g.EventsByTime(); e[0].Label != "early" || g.Events[0].Label != "late" {
			t.Errorf("sorted %v, stored %v", e, g.Events)
		}
		// Flattened, too many announced, texts missing.
		g = decode(t, with(t, "EVENT", NewFloats("TIMES", []int{4}, 0, 0.03125, 0, 0.109375)), Options{Strict: true})
		sameData(t, g)
		g = decode(t, with(t, "EVENT", NewInts("USED", nil, 12)), Options{})
		warned(t, g, CodeEventCount)
		sameData(t, g)
		g = decode(t, stripped(t, "EVENT:CONTEXTS", "EVENT:LABELS"), Options{})
		warned(t, g, CodeEventText)
		if e := groupEvents(g); len(e) != 2 || e[0].Label != "" || e[1].Context != "General" {
			t.Errorf("without texts: %+v", e)
		}
		g = decode(t, with(t, "EVENT", NewFloats("TIMES", []int{1, 2}, 0.03125, 0.109375)), Options{})
		warned(t, g, CodeEventTime)
		sameData(t, g)
		g = decode(t, stripped(t, "EVENT:USED"), Options{Strict: true})
		sameData(t, g)
	}, ""},
	{43, "two clocks", func(t *testing.T) {
		f := small()
		f.FirstFrame = 142
		b := encode(t, f)
		g := decode(t, b, Options{Strict: true})
		for i, e := range g.Events { // both places come out on one clock
			if math.Abs(e.Time-small().Events[i].Time) > 1e-7 { // single precision at 1.5 s
				t.Errorf("%s at %g s, want %g", e.Label, e.Time, small().Events[i].Time)
			}
		}
		// Frame = round(t · rate) + 1 of the capture: 0.03125 s after frame 142 is
		// 1.44125 s on the group's clock.
		if v := g.Groups.Floats("EVENT", "TIMES")[1]; math.Abs(v-1.44125) > 1e-7 {
			t.Errorf("stored %g s", v)
		}
		rewrite(t, g)
		// Times that only make sense from the first stored frame.
		relative := assemble(t, g, func(w *writer) {
			w.groups.Set("EVENT", NewFloats("TIMES", []int{2, 2}, 0, 0.03125, 0, 0.109375))
		})
		h := decode(t, relative, Options{})
		warned(t, h, CodeEventClock)
		if e := groupEvents(h); e[0].Time != 0.03125 || e[1].Time != 0.109375 {
			t.Errorf("relative: %+v", e)
		}
		rewrite(t, h)
		// One event inside is enough to keep the group's own clock.
		mixed := assemble(t, g, func(w *writer) {
			w.groups.Set("EVENT", NewFloats("TIMES", []int{2, 2}, 0, 0.03125, 0, 1.5))
		})
		h = decode(t, mixed, Options{})
		warned(t, h, CodeEventRange)
		if e := groupEvents(h); math.Abs(e[1].Time-0.09) > 1e-7 || !e[0].OutOfRange {
			t.Errorf("mixed: %+v", e)
		}
		// The caller may know.
		if e := groupEvents(decode(t, b, Options{Origin: OriginFirstFrame})); math.Abs(e[0].Time-1.44125) > 1e-7 {
			t.Errorf("from the first frame: %+v", e)
		}
		if e := groupEvents(decode(t, relative, Options{Origin: OriginCapture})); math.Abs(e[0].Time+1.37875) > 1e-7 {
			t.Errorf("from the capture: %+v", e)
		}
	}, ""},
	{44, "frames of instants are rounded", func(t *testing.T) {
		for _, rate := range []float64{30, 50, 59.94, 60, 100, 120, 200, 239.76, 250, 300, 1000} {
			f := &File{Rate: rate}
			for k := range 20000 {
				stored := single(float64(k) / rate)
				if got, ok := f.FrameAt(stored); !ok || got != k {
					t.Fatalf("%g Hz: frame %d at %g s became %d", rate, k, stored, got)
				}
			}
		}
	}, ""},
	{45, "free text", func(t *testing.T) {
		f := small()
		f.Events[2].Label, f.Events[2].Context = "Fußaufsatz", "droite"
		g := decode(t, encode(t, f), Options{Strict: true})
		if e := groupEvents(g); e[0].Label != "Fußaufsatz" || e[0].Context != "droite" {
			t.Errorf("%+v", e)
		}
		for i := range 300 {
			f.Events = append(f.Events, Event{Label: fmt.Sprint(i)})
		}
		_, err := Append(nil, f)
		checkError(t, err, ErrTooLarge)
	}, ""},
}
