package swing

import (
	"fmt"
	"math"
	"slices"

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
		a.add(string(f)+"_before_impact", "time from "+words(f)+" to impact", a.between(f, phase.Impact), "s", math.NaN())
	}
	order := a.PeakOrder()
	for i := 1; i < len(order); i++ {
		from, to := order[i-1], order[i]
		a.add(string(from.Name)+"_to_"+string(to.Name), "time from "+words(from.Name)+" to "+words(to.Name)+", the next peak", to.Time-from.Time, "s", math.NaN())
	}
	for _, p := range a.Phases {
		a.add(p.Name+"_time", fmt.Sprintf("%s: from %s to %s", p.Name, words(p.From.Name), words(p.To.Name)), p.Duration(), "s", math.NaN())
	}
	back, down := a.between(phase.Onset, phase.Top), a.between(phase.Top, phase.Impact)
	if !math.IsNaN(back) && !math.IsNaN(down) {
		a.add("tempo", "backswing time by downswing time", back/down, "1", math.NaN())
	}
}
