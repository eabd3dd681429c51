package swing_test

import (
	"encoding/binary"
	"errors"
	"fmt"
	"hash/fnv"
	"math"
	"reflect"
	"slices"
	"sync"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"example.com/momentarm/cop"
	"example.com/momentarm/cop/com"
	"example.com/momentarm/grf"
	"example.com/momentarm/grf/filter"
	"example.com/momentarm/phase"
	"example.com/momentarm/phase/swing"
	"example.com/momentarm/validation/synth"
)

// The fuzzer works on small recordings, so that it gets far: swings at low rates
// which it edits, and samples that are all its own.
var fuzzSwings = [4]func() *synth.Swing{
	sync.OnceValue(func() *synth.Swing { return mustSwing(synth.Config{Rate: 120}) }),
	sync.OnceValue(func() *synth.Swing { return mustSwing(synth.Config{Rate: 100, Unloaded: 1, Waggles: 1}) }),
	sync.OnceValue(func() *synth.Swing { return mustSwing(synth.Config{Rate: 100, Style: synth.LeadLift}) }),
	sync.OnceValue(func() *synth.Swing { return mustSwing(synth.Config{Rate: 250, Style: synth.HalfSwing, Address: 1}) }),
}

func mustSwing(c synth.Config) *synth.Swing {
	s, err := synth.New(c)
	if err != nil {
		panic(err)
	}
	return s
}

// odd values that an edit can put into a recording.
var oddValues = [...]float64{
	math.NaN(), math.Inf(1), math.Inf(-1), 0, math.Copysign(0, -1), 5e-324, 1e-9, 1, 20, -20, 99, 101, 700, -700, 1e4, 1e6, 1e149, -1e149, 1e300, math.MaxFloat64,
}

// edit applies what a byte string says to a recording: eight bytes an edit, at most
// forty of them. The recording's series are its own.
func edit(rec *grf.Recording, data []byte) {
	for n := 0; len(data) >= 8 && n < 40; data, n = data[8:], n+1 {
		kind, what := data[0], int(data[1])
		at, length := int(binary.LittleEndian.Uint16(data[2:])), int(binary.LittleEndian.Uint16(data[4:]))
		value := oddValues[int(data[6])%len(oddValues)] * float64(1+data[7]/64)
		series := rec.Net
		if rec.Split() {
			series = rec.Lead
			if what&8 != 0 {
				series = rec.Trail
			}
		}
		if len(series) == 0 {
			return
		}
		at %= len(series)
		part := series[at:min(at+length, len(series))]
		each := func(f func(v, first float64) float64) {
			var first [6]float64
			for i := range part {
				for c := range 6 {
					if what&7 != 7 && what&7%6 != c { // one channel, or all
						continue
					}
					x := channel(&part[i], c)
					if i == 0 {
						first[c] = *x
					}
					*x = f(*x, first[c])
				}
			}
		}
		switch kind % 10 {
		case 0:
			each(func(_, _ float64) float64 { return value })
		case 1:
			each(func(v, _ float64) float64 { return v + value })
		case 2:
			each(func(v, _ float64) float64 { return v * value })
		case 3:
			each(func(_, first float64) float64 { return first })
		case 4:
			for i := range part {
				part[i] = grf.NaN()
			}
		case 5:
			slices.Reverse(part)
		case 6:
			copy(series[length%len(series):], slices.Clone(part))
		case 7:
			rec.Lead, rec.Trail = rec.Trail, rec.Lead
		case 8:
			each(func(v, _ float64) float64 { return -v })
		case 9: // cut
			end := min(at+length, len(series))
			if rec.Split() {
				rec.Lead, rec.Trail = rec.Lead[at:end], rec.Trail[at:end]
			} else {
				rec.Net = rec.Net[at:end]
			}
		}
	}
}

func channel(w *grf.Wrench, c int) *float64 {
	return [6]*float64{&w.Force.X, &w.Force.Y, &w.Force.Z, &w.Moment.X, &w.Moment.Y, &w.Moment.Z}[c]
}

// fuzzCase is one recording with options.
type fuzzCase struct {
	rec *grf.Recording
	opt swing.Options
}

// makeCase turns the fuzzer's choice into a recording and options.
func makeCase(choice uint32, rate, start float64, data []byte) fuzzCase {
	bits := func(n int) uint32 {
		v := choice & (1<<n - 1)
		choice >>= n
		return v
	}
	s := fuzzSwings[bits(2)]()
	rec := s.Recording()
	rec.Lead, rec.Trail = slices.Clone(rec.Lead), slices.Clone(rec.Trail)
	c := fuzzCase{rec: rec}
	if bits(1) == 0 {
		rec.Marks = nil
	}
	switch bits(2) { // what was measured
	case 1:
		rec.Net, _ = rec.NetWrenches(nil)
		rec.Lead, rec.Trail = nil, nil
	case 2:
		for i := range rec.Lead {
			rec.Lead[i], rec.Trail[i] = rec.Lead[i].WithoutHorizontal(), rec.Trail[i].WithoutHorizontal()
		}
	case 3: // the bytes themselves
		rec.Lead, rec.Trail, rec.Net, rec.Marks = nil, nil, []grf.Wrench{}, nil
		for ; len(data) >= 8*6; data = data[8*6:] {
			var w grf.Wrench
			for k := range 6 {
				*channel(&w, k) = math.Float64frombits(binary.LittleEndian.Uint64(data[8*k:]))
			}
			rec.Net = append(rec.Net, w)
		}
	}
	edit(rec, data)
	if bits(1) == 1 {
		rec.Rate = rate
	}
	if bits(1) == 1 {
		rec.Start = start
	}
	c.opt.Cutoff = [4]float64{20, swing.Unfiltered, 3, 0}[bits(2)]
	c.opt.Plane = [2]float64{0, 1.2}[bits(1)]
	rec.Mass = [4]float64{rec.Mass, 0, 1e-3, 1e200}[bits(2)]
	rec.Stature = [2]float64{rec.Stature, 0}[bits(1)]
	if bits(1) == 1 {
		track := grf.Track{}
		for i := 0; i < s.Len(); i += 3 {
			t := s.Start() + float64(i)/s.Config().Rate
			track.Time, track.Position = append(track.Time, t), append(track.Position, s.At(t).Position)
		}
		src := com.Source{Name: "video", Track: track}
		if bits(1) == 1 {
			src.SeekDelay = 0.1
		}
		c.opt.COM = []com.Source{src}
	}
	if bits(1) == 1 {
		lead, err := cop.NewFoot(cop.Lead, r3.Vec{X: -0.1, Y: 0.22}, r3.Vec{X: 0.18, Y: 0.28}, 0.1)
		trail, err2 := cop.NewFoot(cop.Trail, r3.Vec{X: -0.1, Y: -0.22}, r3.Vec{X: 0.18, Y: -0.26}, 0.1)
		if err == nil && err2 == nil {
			c.opt.Feet = swing.Feet{Lead: &lead, Trail: &trail}
		}
	}
	return c
}

// FuzzAnalyse: whatever was recorded, there is an analysis or an error of those that
// are documented, never a panic. What the analysis tells is finite, or NaN with a
// reason; it is the same in a laboratory that lies another way, for a golfer of the
// other hand, and a second time.
func FuzzAnalyse(f *testing.F) {
	edits := func(e ...byte) []byte { return e }
	for base := range uint32(16) {
		f.Add(base, 100.0, 0.0, edits())
	}
	f.Add(uint32(0x0000), 100.0, 0.0, edits(4, 7, 200, 0, 30, 0, 0, 0))                          // lost
	f.Add(uint32(0x0100), 100.0, 0.0, edits(0, 2, 200, 0, 3, 0, 1, 0))                           // infinite
	f.Add(uint32(0x0081), 100.0, 0.0, edits(0, 2, 200, 0, 3, 0, 1, 0))                           // infinite, not filtered
	f.Add(uint32(0x0002), 100.0, 0.0, edits(0, 7, 0, 0, 255, 255, 3, 0))                         // zeros
	f.Add(uint32(0x0003), 100.0, 0.0, edits(0, 10, 44, 1, 255, 255, 16, 0, 3, 7, 9, 0, 9, 0, 0)) // huge, held
	f.Add(uint32(0x0060), 1e300, 1e300, edits())
	f.Add(uint32(0x0061), 1e-300, -1e300, edits())
	f.Add(uint32(0x0021), 1e7, 0.0, edits())
	f.Add(uint32(0x0018), 100.0, 0.0, make([]byte, 48*120))
	f.Fuzz(func(t *testing.T, choice uint32, rate, start float64, data []byte) {
		if len(data) > 1<<14 {
			return
		}
		checkCase(t, makeCase(choice, rate, start, data))
	})
}

// checkCase holds the properties of FuzzAnalyse.
func checkCase(t *testing.T, c fuzzCase) {
	t.Helper()
	before := digest(c.rec.Lead, c.rec.Trail, c.rec.Net)
	a, err := swing.Analyse(c.rec, c.opt)
	if digest(c.rec.Lead, c.rec.Trail, c.rec.Net) != before {
		t.Fatal("the recording was changed")
	}
	if (a == nil) == (err == nil) {
		t.Fatalf("analysis %v and error %v", a != nil, err)
	}
	if _, _, err := swing.Split(c.rec, c.opt); err != nil && !documented(err) {
		t.Fatalf("Split: %v", err)
	}
	if err != nil {
		if !documented(err) {
			t.Fatalf("undocumented error: %v", err)
		}
	} else {
		checkAnalysis(t, a, c.rec)
	}
	again, err2 := swing.Analyse(elsewhere(t, c.rec), c.opt)
	if fmt.Sprint(err) != fmt.Sprint(err2) {
		t.Fatalf("%v, but in another laboratory %v", err, err2)
	}
	if a != nil && numbers(a) != numbers(again) {
		t.Fatal("in another laboratory the analysis differs")
	}
	if a != nil {
		checkFollowers(t, a)
	}
}

// documented reports whether an error is one that Analyse promises.
func documented(err error) bool {
	for _, want := range []error{
		swing.ErrOptions, swing.ErrNobody, phase.ErrNoSwing, phase.ErrInput, phase.ErrUnknownMark,
		grf.ErrRate, grf.ErrNoData, grf.ErrLength, grf.ErrNoQuiet, grf.ErrWindow, grf.ErrRecording,
		filter.ErrNotFinite, filter.ErrCutoff, filter.ErrOverflow, com.ErrOption, com.ErrTrack,
	} {
		if errors.Is(err, want) {
			return true
		}
	}
	return false
}

// numbers is a digest of all that an analysis tells but the recording itself.
func numbers(a *swing.Analysis) uint64 {
	return digest(a.Quiet, a.Still, a.BodyWeight, a.Mass, a.From, a.To, a.Series, a.Events, a.Phases, a.Measures, a.Warnings, a.Steps)
}

// digest is a number that differs when values do. All NaN are alike.
func digest(values ...any) uint64 {
	h := fnv.New64a()
	var walk func(v reflect.Value)
	walk = func(v reflect.Value) {
		switch v.Kind() {
		case reflect.Float64:
			bits := math.Float64bits(v.Float())
			if v.Float() != v.Float() {
				bits = 1
			}
			var b [8]byte
			binary.LittleEndian.PutUint64(b[:], bits)
			h.Write(b[:])
		case reflect.Struct:
			for i := range v.NumField() {
				walk(v.Field(i))
			}
		case reflect.Slice, reflect.Array:
			for i := range v.Len() {
				walk(v.Index(i))
			}
		case reflect.Pointer:
			if !v.IsNil() {
				walk(v.Elem())
			}
		default:
			fmt.Fprint(h, v)
		}
		h.Write([]byte{'/'})
	}
	for _, v := range values {
		walk(reflect.ValueOf(v))
	}
	return h.Sum64()
}

// elsewhere is the recording as it comes out of a laboratory that lies the other way
// round, with a golfer of the other hand. All directions are along axes, so that no
// number is rounded; infinite values would become undefined on the way and stay as
// they are.
func elsewhere(t *testing.T, rec *grf.Recording) *grf.Recording {
	axes, err := grf.NewAxes(r3.Vec{Z: 1}, r3.Vec{X: -1}, r3.Vec{}, grf.LeftHanded)
	if err != nil {
		t.Fatal(err)
	}
	moved := func(ws []grf.Wrench) []grf.Wrench {
		if ws == nil {
			return nil
		}
		out := make([]grf.Wrench, len(ws))
		for i, w := range ws {
			if out[i] = w; finiteWrench(w) {
				out[i] = axes.Wrench(axes.LabWrench(w))
			}
		}
		return out
	}
	r := *rec
	r.Lead, r.Trail, r.Net, r.Handed = moved(rec.Lead), moved(rec.Trail), moved(rec.Net), grf.LeftHanded
	return &r
}

func finiteWrench(w grf.Wrench) bool {
	for c := range 6 {
		if v := *channel(&w, c); v-v != 0 || v == 0 { // a zero may come back with the other sign
			return false
		}
	}
	return true
}

// checkAnalysis holds what the documentation says of an analysis.
func checkAnalysis(t *testing.T, a *swing.Analysis, rec *grf.Recording) {
	t.Helper()
	noInfinity(t, "Analysis", reflect.ValueOf(*a))
	n := rec.Len()
	v := reflect.ValueOf(a.Series)
	for i := range v.NumField() {
		if f := v.Field(i); f.Len() != 0 && f.Len() != n {
			t.Fatalf("Series.%s has %d values for %d samples", v.Type().Field(i).Name, f.Len(), n)
		}
	}
	if !(a.BodyWeight > 0) || !(a.Mass > 0) || a.From < 0 || a.To >= n || a.From > a.To {
		t.Fatalf("weight %g N, mass %g kg, on the plates from sample %d to %d of %d", a.BodyWeight, a.Mass, a.From, a.To, n)
	}
	known := map[phase.Name]bool{}
	for _, e := range a.Events.Found {
		known[e.Name] = true
		if slack := 1 / rec.Rate; !(e.Time >= rec.Start-slack && e.Time <= rec.End()+slack) || e.SD < 0 {
			t.Fatalf("%s at %g ± %g s, recorded from %g to %g s", e.Name, e.Time, e.SD, rec.Start, rec.End())
		}
	}
	for _, m := range a.Events.Missing {
		known[m.Name] = true
		if m.Reason == "" {
			t.Fatalf("%s is missing without a reason", m.Name)
		}
	}
	if len(known) < 12 || len(known) != len(a.Events.Found)+len(a.Events.Missing) {
		t.Fatalf("%d events are accounted for", len(known))
	}
	for _, m := range a.Measures {
		if math.IsNaN(m.Value) && m.Note == "" || m.SD < 0 || m.Name == "" || m.Unit == "" {
			t.Fatalf("measure %+v", m)
		}
	}
	for i := range a.Series.Time {
		// A foot whose plate shows a pull makes the other one carry more than all.
		if s := a.Sample(i).LeadShare; math.IsInf(s, 0) {
			t.Fatalf("share %g", s)
		}
	}
}

// noInfinity looks for infinite numbers in all exported fields. The recording is
// that of the caller.
func noInfinity(t *testing.T, what string, v reflect.Value) {
	t.Helper()
	if path := infinity(v); path != "" {
		t.Fatalf("%s%s", what, path)
	}
}

// infinity returns where an infinite number is, or nothing.
func infinity(v reflect.Value) string {
	switch v.Kind() {
	case reflect.Float64:
		if math.IsInf(v.Float(), 0) {
			return fmt.Sprintf(" is %g", v.Float())
		}
	case reflect.Pointer:
		if !v.IsNil() && v.Type() != reflect.TypeFor[*grf.Recording]() {
			return infinity(v.Elem())
		}
	case reflect.Struct:
		for i := range v.NumField() {
			if !v.Type().Field(i).IsExported() {
				continue
			}
			if path := infinity(v.Field(i)); path != "" {
				return "." + v.Type().Field(i).Name + path
			}
		}
	case reflect.Slice, reflect.Array:
		for i := range v.Len() {
			if path := infinity(v.Index(i)); path != "" {
				return fmt.Sprintf("[%d]%s", i, path)
			}
		}
	}
	return ""
}

// checkFollowers asks what is asked of analyses; nothing may panic.
func checkFollowers(t *testing.T, a *swing.Analysis) {
	t.Helper()
	for _, at := range []float64{a.Quiet.To, a.Recording.Start, a.Recording.End(), math.NaN(), math.Inf(1), -1e300} {
		noInfinityAt(t, a, at)
	}
	for _, s := range swing.Signals() {
		c, err := a.Curve(s, swing.Between(phase.Onset, phase.Impact))
		if err != nil {
			if !errors.Is(err, swing.ErrMark) {
				t.Fatal(err)
			}
			continue
		}
		if len(c.Value) != swing.DefaultPoints {
			t.Fatalf("%d points", len(c.Value))
		}
	}
	splits, err := swing.SplitPeaks(a, a)
	if err != nil {
		t.Fatal(err)
	}
	for _, s := range splits {
		if v := s.Value; math.IsNaN(v.Change) && s.Note == "" || v.Change != 0 && !math.IsNaN(v.Change) {
			t.Fatalf("a swing against itself: %+v", s)
		}
	}
	s, err := swing.NewSession([]*swing.Analysis{a, a})
	if err != nil {
		t.Fatal(err)
	}
	if _, err := swing.Compare(s, s, swing.ChangeOptions{}); err != nil {
		t.Fatal(err)
	}
}

func noInfinityAt(t *testing.T, a *swing.Analysis, at float64) {
	t.Helper()
	i := a.At(at)
	i.Time = 0
	noInfinity(t, fmt.Sprintf("At(%g)", at), reflect.ValueOf(i))
}
