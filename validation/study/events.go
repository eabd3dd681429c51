package study

import (
	"fmt"
	"io"
	"math"
	"math/rand/v2"
	"runtime"
	"slices"
	"sync"
	"text/tabwriter"

	"gonum.org/v1/gonum/stat"

	"example.com/momentarm/phase"
	"example.com/momentarm/phase/swing"
	"example.com/momentarm/validation/synth"
)

// Options of a study. The zero value means the defaults.
type Options struct {
	Swings int    // default 1000
	Seed   uint64 // of the first swing
	// ForceNoise and MomentNoise are the white noise of each plate's channels, N
	// and N·m; default 3 N and 0.5 N·m.
	ForceNoise, MomentNoise float64
	// Lasting errors, as standard deviations: of each plate's force and moment
	// channels, default 1 N and 0.3 N·m, of where it measures the pressure,
	// default 2 mm, and of its gains, default 0.3 %; the drift of its forces,
	// default 0.25 N/s. Only for [Measures].
	ForceBias, MomentBias, Place, Gain, ForceDrift float64
	// Sway is by how much the golfer sways, m: the standard deviation of the size
	// of each of three slow waves along either axis. Default 5 mm, which makes 10
	// mm/s. Only for [Measures].
	Sway float64
	// HeightSD is how well the height of the centre of mass at address is known,
	// m; default 0.015.
	HeightSD float64
}

func (o Options) withDefaults() Options {
	if o.Swings == 0 {
		o.Swings = 1000
	}
	for _, f := range []struct {
		v     *float64
		usual float64
	}{
		{&o.ForceNoise, 3}, {&o.MomentNoise, 0.5}, {&o.ForceBias, 1}, {&o.MomentBias, 0.3},
		{&o.Place, 0.002}, {&o.Gain, 0.003}, {&o.ForceDrift, 0.25}, {&o.Sway, 0.005}, {&o.HeightSD, 0.015},
	} {
		if *f.v == 0 {
			*f.v = f.usual
		}
	}
	return o
}

// EventRow is what became of one event over all swings.
type EventRow struct {
	Event   phase.Name
	There   int // swings that have it
	Found   int // of those
	Made    int // times it was reported for a swing that has none
	Median  float64
	P95     float64 // of the absolute error, s
	Max     float64
	Covered float64 // part of the errors within 1.96 stated standard deviations
}

// EventTable is the outcome of [Events].
type EventTable struct {
	Rows []EventRow
	// Sharp is all extrema and crossings together: every event that the forces
	// define sharply, which leaves out address, impact and finish.
	Sharp  EventRow
	Swings int
	// Refused lists swings that were not analysed, with the reason.
	Refused []string
	// Late lists single events that are more than 30 ms off, for a closer look.
	Late []string
}

// Events analyses random swings of every style, tempo, strength and hand, with
// noise and without marks, and compares the events that the forces define.
func Events(opt Options) EventTable {
	opt = opt.withDefaults()
	outcomes := each(opt, func(seed uint64) eventOutcome { return oneSwing(seed, opt) })
	table := EventTable{Swings: opt.Swings, Sharp: EventRow{Event: "all sharp ones"}}
	var allErrs, allZ []float64
	for _, name := range phase.Names() {
		var errs, z []float64
		row := EventRow{Event: name}
		for _, o := range outcomes {
			truth, there := o.truth[name]
			found, ok := o.found[name]
			switch {
			case there:
				row.There++
				if ok {
					row.Found++
					e := math.Abs(found.Time - truth)
					errs, z = append(errs, e), append(z, e/found.SD)
					if e > 0.03 && found.Source == phase.Detected && name != phase.Address && name != phase.Finish {
						table.Late = append(table.Late, fmt.Sprintf("%s: %s at %.3f s, found %.3f s", o.name, name, truth, found.Time))
					}
				}
			case ok && o.truth != nil:
				row.Made++
				table.Late = append(table.Late, fmt.Sprintf("%s: %s made up at %.3f s", o.name, name, found.Time))
			}
		}
		if row.There == 0 && row.Made == 0 || row.Found == 0 && row.Made == 0 {
			continue
		}
		row.judge(errs, z)
		if name != phase.Address && name != phase.Impact && name != phase.Finish {
			table.Sharp.There += row.There
			table.Sharp.Found += row.Found
			table.Sharp.Made += row.Made
			allErrs, allZ = append(allErrs, errs...), append(allZ, z...)
		}
		table.Rows = append(table.Rows, row)
	}
	table.Sharp.judge(allErrs, allZ)
	for _, o := range outcomes {
		if o.refused != "" {
			table.Refused = append(table.Refused, o.name+": "+o.refused)
		}
	}
	return table
}

// judge fills in what absolute errors, and their sizes in stated standard
// deviations, come to.
func (r *EventRow) judge(errs, z []float64) {
	if len(errs) == 0 {
		return
	}
	slices.Sort(errs)
	r.Median = stat.Quantile(0.5, stat.Empirical, errs, nil)
	r.P95 = stat.Quantile(0.95, stat.Empirical, errs, nil)
	r.Max = errs[len(errs)-1]
	for _, v := range z {
		if v <= 1.96 {
			r.Covered++
		}
	}
	r.Covered /= float64(len(z))
}

type eventOutcome struct {
	name    string
	truth   map[phase.Name]float64
	found   map[phase.Name]phase.Event
	refused string
}

func oneSwing(seed uint64, opt Options) eventOutcome {
	cfg := synth.Random(seed)
	o := eventOutcome{name: fmt.Sprintf("seed %d, %v", seed, cfg.Style)}
	s, err := synth.New(cfg)
	if err != nil {
		o.refused = err.Error()
		return o
	}
	o.truth = map[phase.Name]float64{}
	for _, e := range s.Events() {
		o.truth[phase.Name(e.Name)] = e.Time
	}
	rec := synth.Disturbance{Seed: seed, ForceNoise: opt.ForceNoise, MomentNoise: opt.MomentNoise}.Apply(s.Recording())
	rec.Marks = nil
	// A tape measure knows the height of the centre of mass to a centimetre or two.
	rng := rand.New(rand.NewPCG(seed, 7))
	height := s.At(rec.Start).Position.Z + opt.HeightSD*rng.NormFloat64()
	a, err := swing.Analyse(rec, swing.Options{COMHeight: height, COMHeightSD: opt.HeightSD})
	if err != nil {
		o.refused = err.Error()
		return o
	}
	o.found = map[phase.Name]phase.Event{}
	for _, e := range a.Events.Found {
		o.found[e.Name] = e
	}
	return o
}

// each calls f for every seed of the study on all processors and returns the
// outcomes in order.
func each[T any](opt Options, f func(seed uint64) T) []T {
	out := make([]T, opt.Swings)
	var wg sync.WaitGroup
	next := make(chan int)
	for range runtime.GOMAXPROCS(0) {
		wg.Add(1)
		go func() {
			defer wg.Done()
			for i := range next {
				out[i] = f(opt.Seed + uint64(i) + 1)
			}
		}()
	}
	for i := range out {
		next <- i
	}
	close(next)
	wg.Wait()
	return out
}

// Write prints the table.
func (t EventTable) Write(w io.Writer) error {
	tw := tabwriter.NewWriter(w, 0, 0, 2, ' ', tabwriter.AlignRight)
	fmt.Fprintln(tw, "event\tthere\tfound\tmade up\tmedian ms\t95 % ms\tmost ms\twithin 1.96 SD\t")
	for _, r := range append(slices.Clone(t.Rows), t.Sharp) {
		fmt.Fprintf(tw, "%s\t%d\t%d\t%d\t%.2f\t%.2f\t%.2f\t%.1f %%\t\n", r.Event, r.There, r.Found, r.Made, 1000*r.Median, 1000*r.P95, 1000*r.Max, 100*r.Covered)
	}
	if err := tw.Flush(); err != nil {
		return err
	}
	_, err := fmt.Fprintf(w, "%d swings, %d of them not analysed\n", t.Swings, len(t.Refused))
	return err
}
