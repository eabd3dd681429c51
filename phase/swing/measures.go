package swing

import (
	"fmt"
	"math"

	"example.com/momentarm/phase"
	"example.com/momentarm/torque"
)

// add appends a measure without a standard deviation.
func (a *Analysis) add(name, label string, value float64, unit string, t float64) {
	m := Measure{Name: name, Label: label, Value: value, SD: math.NaN(), Unit: unit, Time: t}
	if math.IsNaN(value) {
		m.Note = "not defined here"
	}
	a.Measures = append(a.Measures, m)
}

// addAt appends a measure that belongs to an event, undefined with the reason
// if the event was not found.
func (a *Analysis) addAt(name, label string, event phase.Name, unit string, value func(Instant) float64) {
	t := a.Events.Time(event)
	if math.IsNaN(t) {
		m := Measure{Name: name, Label: label, Value: math.NaN(), SD: math.NaN(), Unit: unit, Time: math.NaN()}
		m.Note = fmt.Sprintf("the time of %s is not known", words(event))
		for _, miss := range a.Events.Missing {
			if miss.Name == event {
				m.Note += ": " + miss.Reason
			}
		}
		a.Measures = append(a.Measures, m)
		return
	}
	a.add(name, label, value(a.At(t)), unit, t)
}

// bodyWeights turns newtons into percent of body weight.
func (a *Analysis) bodyWeights(n float64) float64 { return 100 * n / a.BodyWeight }

// measure fills in the measures.
func (a *Analysis) measure(opt Options) {
	a.measureLoad()
	a.measureForce()
	a.measureTorque()
	a.measureMass()
	a.measureFeet(opt.Feet)
	a.measureShins(opt.Points)
	a.measureTime()
}

// words says an event's name for people.
func words(n phase.Name) string {
	w, ok := map[phase.Name]string{
		phase.Address:               "address",
		phase.Onset:                 "onset",
		phase.TrailLoadPeak:         "trail load peak",
		phase.LateralTurn:           "lateral force turning to the target",
		phase.LowestVertical:        "lowest vertical force",
		phase.EvenLoad:              "50–50 load",
		phase.LateralPeak:           "lateral force peak",
		phase.FrontalTorquePeak:     "frontal torque peak",
		phase.LeadVerticalPeak:      "lead vertical peak",
		phase.VerticalTorquePeak:    "vertical-axis torque peak",
		phase.Impact:                "impact",
		phase.Finish:                "finish",
		phase.ShaftParallelBack:     "shaft parallel back",
		phase.LeadArmParallelBack:   "lead arm parallel back",
		phase.Top:                   "top",
		phase.LeadArmParallelDown:   "lead arm parallel down",
		phase.ShaftParallelDown:     "shaft parallel down",
		phase.ShaftParallelThrough:  "shaft parallel through",
		phase.TrailArmParallelAfter: "trail arm parallel through",
	}[n]
	if !ok {
		return string(n)
	}
	return w
}

// Words returns an event's name as people say it.
func Words(n phase.Name) string { return words(n) }

// between returns the time from one event to another, NaN if either is unknown.
func (a *Analysis) between(from, to phase.Name) float64 {
	return a.Events.Time(to) - a.Events.Time(from)
}

// after is the time of an event, and a second later: long enough for everything
// that a downswing does.
func (a *Analysis) after(from phase.Name) (t0, t1 float64) {
	t := a.Events.Time(from)
	return t, t + 1
}

// extreme returns the time and value of the highest sample from t0 to t1; NaN
// when there is no such time.
func (a *Analysis) extreme(t0, t1 float64, x func(i int) float64) (t, v float64) {
	t, v = math.NaN(), math.NaN()
	if math.IsNaN(t0) || math.IsNaN(t1) {
		return t, v
	}
	for i := max(a.From, a.Recording.Index(t0)); i <= min(a.To, a.Recording.Index(t1)); i++ {
		if y := x(i); !math.IsNaN(y) && !(y <= v) {
			t, v = a.Series.Time[i], y
		}
	}
	return t, v
}

// integral returns the time integral of x between two events, NaN if either is
// unknown, they are not in order, or x is undefined between them.
func (a *Analysis) integral(from, to phase.Name, x func(i int) float64) float64 {
	t0, t1 := a.Events.Time(from), a.Events.Time(to)
	if !(t0 < t1) {
		return math.NaN()
	}
	v := make([]float64, a.Recording.Len())
	for i := range v {
		v[i] = x(i)
	}
	sum, err := torque.Integral(v, a.Recording.Start, a.Recording.Rate, t0, t1)
	if err != nil {
		return math.NaN()
	}
	return sum
}
