package study

import (
	"fmt"
	"io"
	"math"
	"math/rand/v2"
	"text/tabwriter"

	"gonum.org/v1/gonum/spatial/r3"
	"gonum.org/v1/gonum/stat"

	"example.com/momentarm/grf"
	"example.com/momentarm/phase"
	"example.com/momentarm/phase/swing"
	"example.com/momentarm/validation/synth"
)

// MeasureRow is what became of one measure over all swings.
type MeasureRow struct {
	Name string
	Unit string
	N    int // times it was given
	// Bias is the mean error, RMS the root mean square error, and Stated the
	// root mean square of the stated standard deviations, in Unit.
	Bias, RMS, Stated float64
	// Covered is the part of the errors within 1.96 stated standard deviations,
	// and WorstZ the largest error in standard deviations.
	Covered, WorstZ float64
}

// MeasureTable is the outcome of [Measures].
type MeasureTable struct {
	Rows    []MeasureRow
	Swings  int
	Refused []string // swings that were not analysed, with the reason
}

// truth is a measure as a function of what is true.
type truth struct {
	name string
	// at returns the true value, NaN when the swing has none.
	at func(g *golfer) float64
}

// measures are those that are held against the truth: the peaks at the true
// instants of the events, so that the error of their time counts.
var measures = []truth{
	{"frontal_torque_peak", atEvent(phase.FrontalTorquePeak, func(s synth.State) float64 { return s.Moment.X })},
	{"frontal_arm_at_peak", atEvent(phase.FrontalTorquePeak, func(s synth.State) float64 {
		return s.Moment.X / math.Hypot(s.Net.Force.Y, s.Net.Force.Z)
	})},
	{"vertical_torque_peak", atEvent(phase.VerticalTorquePeak, func(s synth.State) float64 { return s.Moment.Z })},
	{"com_shift_at_frontal_torque_peak", shiftAt(phase.FrontalTorquePeak)},
	{"com_shift_at_lead_vertical_peak", shiftAt(phase.LeadVerticalPeak)},
	{"lead_share_at_lowest_vertical", atEvent(phase.LowestVertical, func(s synth.State) float64 { return 100 * s.Share })},
	{"lead_vertical_peak", atEvent(phase.LeadVerticalPeak, func(s synth.State) float64 { return s.Lead.Force.Z })},
	{"lateral_peak", atEvent(phase.LateralPeak, func(s synth.State) float64 { return s.Net.Force.Y })},
}

func atEvent(name phase.Name, value func(synth.State) float64) func(*golfer) float64 {
	return func(g *golfer) float64 {
		t := g.swing.EventTime(string(name))
		if math.IsNaN(t) {
			return t
		}
		return value(g.at(t))
	}
}

func shiftAt(name phase.Name) func(*golfer) float64 {
	return func(g *golfer) float64 {
		// From address: where the analysis takes it to end.
		return atEvent(name, func(s synth.State) float64 { return s.Position.Y - g.at(g.address).Position.Y })(g)
	}
}

// curves are series that are held against the truth at the true instants of the
// events up to impact.
var curves = []struct {
	name, unit string
	value, sd  func(swing.Instant) float64
	true       func(synth.State) float64
}{
	{"centre of mass x", "m", func(i swing.Instant) float64 { return i.COM.X }, func(i swing.Instant) float64 { return i.COMSD.X }, func(s synth.State) float64 { return s.Position.X }},
	{"centre of mass y", "m", func(i swing.Instant) float64 { return i.COM.Y }, func(i swing.Instant) float64 { return i.COMSD.Y }, func(s synth.State) float64 { return s.Position.Y }},
	{"centre of mass z", "m", func(i swing.Instant) float64 { return i.COM.Z }, func(i swing.Instant) float64 { return i.COMSD.Z }, func(s synth.State) float64 { return s.Position.Z }},
	{"frontal torque", "N·m", func(i swing.Instant) float64 { return i.Moment.Frontal }, func(i swing.Instant) float64 { return i.MomentSD.Frontal }, func(s synth.State) float64 { return s.Moment.X }},
	{"sagittal torque", "N·m", func(i swing.Instant) float64 { return i.Moment.Sagittal }, func(i swing.Instant) float64 { return i.MomentSD.Sagittal }, func(s synth.State) float64 { return s.Moment.Y }},
	{"vertical-axis torque", "N·m", func(i swing.Instant) float64 { return i.Moment.Horizontal }, func(i swing.Instant) float64 { return i.MomentSD.Horizontal }, func(s synth.State) float64 { return s.Moment.Z }},
	{"frontal arm", "m", func(i swing.Instant) float64 { return i.Arm.Frontal }, func(i swing.Instant) float64 { return i.ArmSD.Frontal }, func(s synth.State) float64 {
		return s.Moment.X / math.Hypot(s.Net.Force.Y, s.Net.Force.Z)
	}},
}

// Measures analyses random swings on plates with every error that the analysis
// allows for, at the size that it takes for granted: noise, a lasting error of
// each channel, a plate that measures the pressure in the wrong place, a gain that
// is off, a golfer who sways and whose height is known by a tape measure. It
// compares measures and curves with the truth. Events are found, not given.
func Measures(opt Options) MeasureTable {
	opt = opt.withDefaults()
	outcomes := each(opt, func(seed uint64) measured { return measureOne(seed, opt) })
	table := MeasureTable{Swings: opt.Swings}
	var order []string
	units := map[string]string{}
	all := map[string][]pair{}
	for _, o := range outcomes {
		if o.refused != "" {
			table.Refused = append(table.Refused, o.name+": "+o.refused)
		}
		for _, p := range o.pairs {
			if _, ok := all[p.name]; !ok {
				order = append(order, p.name)
			}
			all[p.name], units[p.name] = append(all[p.name], p), p.unit
		}
	}
	for _, name := range order {
		table.Rows = append(table.Rows, row(name, units[name], all[name]))
	}
	return table
}

// pair is a value with its error and the standard deviation that it states.
type pair struct {
	name, unit string
	err, sd    float64
}

type measured struct {
	name    string
	refused string
	pairs   []pair
}

func row(name, unit string, ps []pair) MeasureRow {
	r := MeasureRow{Name: name, Unit: unit, N: len(ps)}
	errs := make([]float64, len(ps))
	for i, p := range ps {
		errs[i] = p.err
		r.RMS += p.err * p.err / float64(len(ps))
		r.Stated += p.sd * p.sd / float64(len(ps))
		z := math.Abs(p.err) / p.sd
		if z <= 1.96 {
			r.Covered += 1 / float64(len(ps))
		}
		r.WorstZ = math.Max(r.WorstZ, z)
	}
	r.Bias = stat.Mean(errs, nil)
	r.RMS, r.Stated = math.Sqrt(r.RMS), math.Sqrt(r.Stated)
	return r
}

func measureOne(seed uint64, opt Options) measured {
	cfg := synth.Random(seed)
	o := measured{name: fmt.Sprintf("seed %d, %v", seed, cfg.Style)}
	g, err := newGolfer(cfg, seed, opt)
	if err != nil {
		o.refused = err.Error()
		return o
	}
	height := g.at(g.swing.Aboard()).Position.Z + opt.HeightSD*g.rng.NormFloat64()
	a, err := swing.Analyse(g.recording(), swing.Options{COMHeight: height, COMHeightSD: opt.HeightSD})
	if err != nil {
		o.refused = err.Error()
		return o
	}
	g.address = a.Quiet.To
	for _, m := range measures {
		got, ok := a.Measure(m.name)
		want := m.at(g)
		if !ok || math.IsNaN(got.Value) || math.IsNaN(want) {
			continue
		}
		o.pairs = append(o.pairs, pair{m.name, got.Unit, got.Value - want, got.SD})
	}
	for _, e := range g.swing.Events() {
		if e.Time > g.swing.EventTime(string(phase.Impact)) {
			break
		}
		i, truth := a.At(e.Time), g.at(e.Time)
		for _, c := range curves {
			o.pairs = append(o.pairs, pair{c.name, c.unit, c.value(i) - c.true(truth), c.sd(i)})
		}
	}
	return o
}

// golfer is a made-up swing by somebody who sways, on plates that err.
type golfer struct {
	swing   *synth.Swing
	rng     *rand.Rand
	seed    uint64
	opt     Options
	waves   [2][3]wave // along X and Y
	address float64    // instant from which shifts count, s
}

// wave is a part of the sway: size · sin(2π·rate·t + phase).
type wave struct{ size, rate, phase float64 }

func newGolfer(cfg synth.Config, seed uint64, opt Options) (*golfer, error) {
	s, err := synth.New(cfg)
	if err != nil {
		return nil, err
	}
	g := &golfer{swing: s, rng: rand.New(rand.NewPCG(seed, 11)), seed: seed, opt: opt}
	for k := range g.waves {
		for j := range g.waves[k] {
			g.waves[k][j] = wave{opt.Sway * g.rng.NormFloat64(), 0.05 + 0.35*g.rng.Float64(), 2 * math.Pi * g.rng.Float64()}
		}
	}
	return g, nil
}

// sway returns how far the golfer is out of place and the acceleration of that.
func (g *golfer) sway(t float64) (at, acceleration r3.Vec) {
	axes := [2][2]*float64{{&at.X, &acceleration.X}, {&at.Y, &acceleration.Y}}
	for k, to := range axes {
		for _, w := range g.waves[k] {
			omega := 2 * math.Pi * w.rate
			x := w.size * math.Sin(omega*t+w.phase)
			*to[0] += x
			*to[1] -= omega * omega * x
		}
	}
	return at, acceleration
}

// at returns the truth with the sway in it: the centre of mass moves by s, the
// force grows by m·s̈, the moment about the centre of mass stays what it was. The
// feet share what is added as they share the load.
func (g *golfer) at(t float64) synth.State {
	st := g.swing.At(t)
	s, a := g.sway(t)
	f := r3.Scale(g.swing.Config().Mass, a)
	more := grf.Wrench{
		Force:  f,
		Moment: r3.Add(r3.Cross(s, st.Net.Force), r3.Cross(r3.Add(st.Position, s), f)),
	}
	st.Position = r3.Add(st.Position, s)
	st.Acceleration = r3.Add(st.Acceleration, a)
	st.Lead = st.Lead.Add(more.Scale(st.Share))
	st.Trail = st.Trail.Add(more.Scale(1 - st.Share))
	st.Net = st.Net.Add(more)
	return st
}

// recording is what the plates make of it.
func (g *golfer) recording() *grf.Recording {
	rec := g.swing.Recording()
	for i := range rec.Lead {
		st := g.at(rec.Time(i))
		rec.Lead[i], rec.Trail[i] = st.Lead, st.Trail
	}
	for _, plate := range [][]grf.Wrench{rec.Lead, rec.Trail} {
		off := r3.Vec{X: g.opt.Place * g.rng.NormFloat64(), Y: g.opt.Place * g.rng.NormFloat64()}
		for i := range plate {
			plate[i].Moment = r3.Add(plate[i].Moment, r3.Cross(off, plate[i].Force))
		}
	}
	rec.Marks = nil
	return synth.Disturbance{
		Seed: g.seed, ForceNoise: g.opt.ForceNoise, MomentNoise: g.opt.MomentNoise,
		ForceBias: g.opt.ForceBias, MomentBias: g.opt.MomentBias, ForceDrift: g.opt.ForceDrift, Gain: g.opt.Gain, MassError: 0.01,
	}.Apply(rec)
}

// Write prints the table.
func (t MeasureTable) Write(w io.Writer) error {
	tw := tabwriter.NewWriter(w, 0, 0, 2, ' ', tabwriter.AlignRight)
	fmt.Fprintln(tw, "measure\tunit\tn\tmean error\tRMS error\tstated SD\twithin 1.96 SD\tmost, SD\t")
	for _, r := range t.Rows {
		fmt.Fprintf(tw, "%s\t%s\t%d\t%+.4g\t%.4g\t%.4g\t%.1f %%\t%.1f\t\n", r.Name, r.Unit, r.N, r.Bias, r.RMS, r.Stated, 100*r.Covered, r.WorstZ)
	}
	if err := tw.Flush(); err != nil {
		return err
	}
	_, err := fmt.Fprintf(w, "%d swings, %d of them not analysed\n", t.Swings, len(t.Refused))
	return err
}
