package swing

import (
	"math"
	"slices"
	"strings"

	"example.com/momentarm/phase"
)

// peaks are the force and torque peaks of the downswing whose order the trade
// talks about.
var peaks = []phase.Name{phase.LateralPeak, phase.FrontalTorquePeak, phase.LeadVerticalPeak, phase.VerticalTorquePeak}

// PeakOrder returns the peaks of the lateral force, the frontal torque, the lead
// foot's vertical force and the vertical-axis torque that were found, by time.
func (a *Analysis) PeakOrder() []phase.Event {
	var order []phase.Event
	for _, e := range a.Events.Found { // by time
		if slices.Contains(peaks, e.Name) {
			order = append(order, e)
		}
	}
	return order
}

// measureTime: order and spacing of the peaks, and tempo.
func (a *Analysis) measureTime() {
	for _, f := range append([]phase.Name{phase.EvenLoad}, peaks...) {
		a.putBetween(string(f)+"_before_impact", "time from "+Words(f)+" to impact", f, phase.Impact)
	}
	order := a.PeakOrder()
	for i := 1; i < len(order); i++ {
		from, to := order[i-1].Name, order[i].Name
		a.putBetween(string(from)+"_to_"+string(to), "time from "+Words(from)+" to "+Words(to)+", the next peak", from, to)
	}
	for _, p := range a.Phases {
		a.putBetween(p.Name+"_time", phaseWords(p.Name)+": from "+Words(p.From.Name)+" to "+Words(p.To.Name), p.From.Name, p.To.Name)
	}
	a.putTempo()
}

// phaseWords is a phase's name for people: "P4 to P5", "follow through".
func phaseWords(name string) string {
	from, to, _ := strings.Cut(name, "_")
	p, err1 := phase.ParsePosition(from)
	q, err2 := phase.ParsePosition(to)
	if err1 == nil && err2 == nil {
		return p.String() + " to " + q.String()
	}
	return strings.ReplaceAll(name, "_", " ")
}

// putTempo: backswing time by downswing time.
func (a *Analysis) putTempo() {
	m := Measure{Name: "tempo", Label: "tempo: backswing time by downswing time", Unit: "1", Time: math.NaN()}
	back, backSD := a.span(phase.Onset, phase.Top)
	down, downSD := a.span(phase.Top, phase.Impact)
	m.Value = back / down
	m.SD = math.Hypot(backSD, m.Value*downSD) / down
	if _, ok := a.Events.Get(phase.Top); !ok {
		m.Note = a.whyMissing(phase.Top)
	}
	a.put(m)
}
