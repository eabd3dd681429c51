package swing

import (
	"fmt"
	"math"

	"example.com/momentarm/phase"
	"example.com/momentarm/torque"
)

// quantity is something that has a value and a standard deviation at any instant
// of the swing.
type quantity struct {
	value, sd func(Instant) float64
}

// times returns k times q.
func (q quantity) times(k float64) quantity {
	return quantity{
		func(i Instant) float64 { return k * q.value(i) },
		func(i Instant) float64 { return math.Abs(k) * q.sd(i) },
	}
}

// bodyWeights returns a force in percent of body weight, whose own error counts.
// The plates' gain, which is in both, counts with the force alone.
func (a *Analysis) bodyWeights(force quantity) quantity {
	weightSD := math.Hypot(a.Quiet.WeightSE, a.bothFeet(a.Settings.Errors.Force))
	return quantity{
		func(i Instant) float64 { return 100 * force.value(i) / a.BodyWeight },
		func(i Instant) float64 {
			return 100 / a.BodyWeight * math.Hypot(force.sd(i), force.value(i)*weightSD/a.BodyWeight)
		},
	}
}

// measure fills in the measures.
func (a *Analysis) measure(opt Options) {
	a.measureLoad()
	a.measureForce()
	a.needsHorizontal(a.measureTorque)
	a.needsHorizontal(a.measureMass)
	a.measureFeet(opt.Feet)
	a.measureShins(opt.Points)
	a.measureTime()
	a.judgeUncertainty()
}

// put appends a measure; one that is undefined needs a note that says why.
func (a *Analysis) put(m Measure) {
	if math.IsNaN(m.Value) {
		m.SD = math.NaN()
		switch {
		case m.Note != "":
		case a.why != "":
			m.Note = a.why
		default:
			m.Note = "not defined here"
		}
	}
	a.Measures = append(a.Measures, m)
}

// putAt appends the value of q at an event. That the event's time is not sharp
// counts by how much q changes within it; a given time is taken as exact.
func (a *Analysis) putAt(name, label string, event phase.Name, unit string, q quantity) {
	e, ok := a.Events.Get(event)
	if !ok {
		a.put(Measure{Name: name, Label: label, Value: math.NaN(), Unit: unit, Time: math.NaN(), Note: a.whyMissing(event)})
		return
	}
	a.putTime(name, label, e.Time, e.SD, unit, q)
}

// putTime appends the value of q at an instant that is known to within tSD, which
// may be NaN.
func (a *Analysis) putTime(name, label string, t, tSD float64, unit string, q quantity) {
	if math.IsNaN(t) {
		a.put(Measure{Name: name, Label: label, Value: math.NaN(), Unit: unit, Time: t})
		return
	}
	i := a.At(t)
	m := Measure{Name: name, Label: label, Value: q.value(i), SD: q.sd(i), Unit: unit, Time: t}
	if d := (q.value(a.At(t+tSD)) - q.value(a.At(t-tSD))) / 2; !math.IsNaN(d) {
		m.SD = math.Hypot(m.SD, d)
	}
	if math.IsNaN(m.Value) {
		m.Note = a.whyLost(t, t)
	}
	a.put(m)
}

// whyLost says where samples are lost from t0 to t1 and next to them; "" when none
// is, or when another reason is known already.
func (a *Analysis) whyLost(t0, t1 float64) string {
	if a.why != "" {
		return ""
	}
	last := min(a.Recording.Index(t1)+1, a.Recording.Len()-1)
	for i := max(a.Recording.Index(t0)-1, 0); i <= last; i++ {
		if math.IsNaN(a.Series.Net[i].Force.Z) {
			return fmt.Sprintf("samples are lost at %.3f s", a.Recording.Time(i))
		}
	}
	return ""
}

// whyMissing says why an event is not known.
func (a *Analysis) whyMissing(event phase.Name) string {
	for _, m := range a.Events.Missing {
		if m.Name == event {
			return fmt.Sprintf("the time of %s is not known: %s", Words(event), m.Reason)
		}
	}
	return fmt.Sprintf("the time of %s is not known: nobody gave it", Words(event))
}

// putBetween appends the time from one event to another.
func (a *Analysis) putBetween(name, label string, from, to phase.Name) {
	m := Measure{Name: name, Label: label, Unit: "s", Time: math.NaN()}
	m.Value, m.SD = a.span(from, to)
	if math.IsNaN(m.Value) {
		for _, e := range []phase.Name{from, to} {
			if _, ok := a.Events.Get(e); !ok {
				m.Note = a.whyMissing(e)
				break
			}
		}
	}
	a.put(m)
}

// span returns the time from one event to another and its standard deviation, in
// which a given time counts as exact; between two given times it is NaN, because
// nobody said how sure they are. Both are NaN if an event is not known.
func (a *Analysis) span(from, to phase.Name) (t, sd float64) {
	e0, ok0 := a.Events.Get(from)
	e1, ok1 := a.Events.Get(to)
	if !ok0 || !ok1 {
		return math.NaN(), math.NaN()
	}
	for _, e := range []phase.Event{e0, e1} {
		if !math.IsNaN(e.SD) {
			sd = math.Hypot(sd, e.SD)
		}
	}
	if sd == 0 {
		sd = math.NaN()
	}
	return e1.Time - e0.Time, sd
}

// putIntegral appends the time integral of x between two events. Its standard
// deviation takes the errors of x as lasting, which is what the centre of mass and
// the plates' zero do; noise would average out. The ends count with the value
// there.
func (a *Analysis) putIntegral(name, label string, from, to phase.Name, unit string, x quantity) {
	m := Measure{Name: name, Label: label, Value: math.NaN(), Unit: unit, Time: math.NaN()}
	e0, ok0 := a.Events.Get(from)
	e1, ok1 := a.Events.Get(to)
	switch {
	case !ok0:
		m.Note = a.whyMissing(from)
	case !ok1:
		m.Note = a.whyMissing(to)
	case e0.Time < e1.Time:
		m.Value, m.SD = a.integral(x.value, e0.Time, e1.Time), a.integral(x.sd, e0.Time, e1.Time)
		for _, e := range []phase.Event{e0, e1} {
			if !math.IsNaN(e.SD) {
				m.SD = math.Hypot(m.SD, e.SD*x.value(a.At(e.Time)))
			}
		}
		if math.IsNaN(m.Value) {
			m.Note = a.whyLost(e0.Time, e1.Time)
		}
	default:
		m.Note = fmt.Sprintf("%s does not come before %s", Words(from), Words(to))
	}
	a.put(m)
}

// integral returns the time integral of x from t0 to t1, NaN where x is undefined
// between them.
func (a *Analysis) integral(x func(Instant) float64, t0, t1 float64) float64 {
	first, last := a.Recording.Index(t0)-1, a.Recording.Index(t1)+1
	first, last = max(0, first), min(last, a.Recording.Len()-1)
	v := make([]float64, last-first+1)
	for k := range v {
		v[k] = x(a.Sample(first + k))
	}
	sum, err := torque.Integral(v, a.Recording.Time(first), a.Recording.Rate, t0, t1)
	if err != nil {
		return math.NaN()
	}
	return sum
}

// highest returns when, by sample, q is highest from t0 to t1; NaN when there is
// no such time.
func (a *Analysis) highest(t0, t1 float64, q quantity) float64 {
	t, best := math.NaN(), math.NaN()
	if math.IsNaN(t0) || math.IsNaN(t1) {
		return t
	}
	for i := max(a.From, a.Recording.Index(t0)); i <= min(a.To, a.Recording.Index(t1)); i++ {
		if v := q.value(a.values(i)); !math.IsNaN(v) && !(v <= best) {
			t, best = a.Recording.Time(i), v
		}
	}
	return t
}

// downswingTime bounds what follows the trail foot's load peak, s: longer than any
// downswing.
const downswingTime = 1.0

// actOn is the difference that somebody would act on, by unit (common practice,
// no published source). Measures in other units are not judged.
var actOn = map[string]float64{
	"%": 5, "%BW": 5, "m": 0.02, "N·m": 15, "N·m/kg": 0.2, "s": 0.02, "deg": 3,
}

// judgeUncertainty says so where a measure is less sure than the difference that
// somebody would act on.
func (a *Analysis) judgeUncertainty() {
	var names []string
	for i := range a.Measures {
		m := &a.Measures[i]
		if act, ok := actOn[m.Unit]; ok && m.SD > act {
			m.Note = fmt.Sprintf("± %.2g %s is more than the %g %s that one would act on", m.SD, m.Unit, act, m.Unit)
			names = append(names, m.Label)
		}
	}
	if len(names) > 0 {
		a.warn("uncertain-measures", "measures", "%d of %d measures are less sure than the difference that one would act on; each says so. The first: %s",
			len(names), len(a.Measures), names[0])
	}
}
