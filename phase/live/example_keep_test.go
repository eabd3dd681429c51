package live_test

import (
	"fmt"
	"log"
	"math"
	"strings"

	"gonum.org/v1/gonum/spatial/r3"

	"example.com/momentarm/grf"
	"example.com/momentarm/grf/filter"
	"example.com/momentarm/phase"
	"example.com/momentarm/phase/live"
	"example.com/momentarm/phase/swing"
	"example.com/momentarm/validation/synth"
)

// What was measured while it happened is worked out again afterwards, when both
// directions of time are known: package swing has more measures than a live chain,
// and says how sure each is. A recording begins once the plates are zeroed, and a
// lost sample keeps its place as NaN.
func ExampleFrame() {
	// The made-up device sends forces and moments about the middle of each plate's
	// surface; nobody is on the plates for two seconds.
	const rate = 1000
	golfer, err := synth.New(synth.Config{Unloaded: 2, Rate: rate})
	if err != nil {
		log.Fatal(err)
	}
	config := live.Config{Rate: rate, Stature: golfer.Config().Stature}
	if config.Axes, err = grf.NewAxes(r3.Vec{Z: 1}, r3.Vec{Y: 1}, r3.Vec{}, grf.RightHanded); err != nil {
		log.Fatal(err)
	}
	for foot, y := range []float64{live.Lead: 0.255, live.Trail: -0.255} {
		plate, err := grf.NewPlate(grf.PlateConfig{
			Type:    grf.TypeMoment,
			Corners: [4]r3.Vec{{X: 0.3, Y: y - 0.25}, {X: -0.3, Y: y - 0.25}, {X: -0.3, Y: y + 0.25}, {X: 0.3, Y: y + 0.25}},
			Sense:   grf.Action,
		})
		if err != nil {
			log.Fatal(err)
		}
		config.Inputs = append(config.Inputs, live.Input{Plate: plate, Foot: live.Foot(foot)})
	}
	truth := golfer.Recording()
	channels := func(i int) (c []float64) {
		for _, in := range config.Inputs {
			w := map[live.Foot]grf.Wrench{live.Lead: truth.Lead[i], live.Trail: truth.Trail[i]}[in.Foot]
			w = in.Plate.Frame().WrenchIn(config.Axes.LabWrench(w)).Scale(-1)
			c = append(c, w.Force.X, w.Force.Y, w.Force.Z, w.Moment.X, w.Moment.Y, w.Moment.Z)
		}
		return c
	}

	chain, err := live.New(config)
	if err != nil {
		log.Fatal(err)
	}
	chain.Zero()
	rec := &grf.Recording{Rate: rate, Stature: config.Stature}
	for i := range truth.Len() {
		if i >= 6500 && i < 6510 {
			continue // a packet that never arrived
		}
		f, err := chain.Push(live.Sample{Sequence: uint64(i), Channels: channels(i)})
		if err != nil {
			log.Fatal(err)
		}
		if f.State < live.Zeroed {
			continue
		}
		if rec.Len() == 0 {
			rec.Start = f.Time
		} else {
			for range f.Lost {
				rec.Lead, rec.Trail = append(rec.Lead, grf.NaN()), append(rec.Trail, grf.NaN())
			}
		}
		rec.Lead, rec.Trail = append(rec.Lead, f.MeasuredLead), append(rec.Trail, f.MeasuredTrail)
	}

	a, err := swing.Analyse(rec, swing.Options{})
	if err != nil {
		log.Fatal(err)
	}
	for _, name := range []string{"body_weight", "lead_vertical_peak_bw", "vertical_torque_peak", "lateral_impulse"} {
		m, _ := a.Measure(name)
		fmt.Println(strings.TrimSpace(fmt.Sprintf("%s: %.0f %s %s", m.Name, m.Value, m.Unit, m.Note)))
	}
	for _, w := range a.Warnings {
		fmt.Println(w.Code)
	}

	// Output:
	// body_weight: 765 N
	// lead_vertical_peak_bw: 116 %BW
	// vertical_torque_peak: 60 N·m
	// lateral_impulse: NaN N·s samples are lost at 6.500 s
	// lost-samples
	// lost-samples
	// gap
	// height-from-stature
	// uncertain-measures
}

// A pressure mat has no [live.Chain], because there is no torque without horizontal
// force. Its live events come from the parts: a filter for what the mat measures of
// both feet, and [phase.Online].
func Example_mat() {
	const rate = 100 // frames a second
	golfer, err := synth.New(synth.Config{Rate: rate})
	if err != nil {
		log.Fatal(err)
	}
	mat := golfer.Recording() // stands in for cop.Grid.Feet

	lowPass, err := filter.NewCausal(filter.CausalOptions{Cutoff: 15, Rate: rate, Channels: 6, NaN: filter.NaNSegments})
	if err != nil {
		log.Fatal(err)
	}
	online, err := phase.NewOnline(phase.OnlineOptions{Rate: rate})
	if err != nil {
		log.Fatal(err)
	}
	row := make([]float64, 6)
	for i := range mat.Lead {
		for k, w := range []grf.Wrench{mat.Lead[i], mat.Trail[i]} {
			row[3*k], row[3*k+1], row[3*k+2] = w.Force.Z, w.Moment.X, w.Moment.Y
		}
		row = lowPass.Push(row, row)
		foot := func(v []float64) grf.Wrench {
			return grf.Wrench{
				Force:  r3.Vec{X: math.NaN(), Y: math.NaN(), Z: v[0]},
				Moment: r3.Vec{X: v[1], Y: v[2], Z: math.NaN()},
			}
		}
		for _, e := range online.Push(phase.Sample{Lead: foot(row[:3]), Trail: foot(row[3:])}) {
			fmt.Printf("%s %v at %.2f s\n", e.Name, e.Source, e.Time-lowPass.Delay())
		}
	}
	if err := lowPass.Err(); err != nil {
		log.Fatal(err)
	}
	for _, m := range online.Events().Missing {
		fmt.Printf("%s: %s\n", m.Name, m.Reason)
	}

	// Output:
	// address detected at 2.09 s
	// onset detected at 2.09 s
	// trail_load_peak detected at 2.64 s
	// lowest_vertical detected at 2.95 s
	// even_load detected at 3.00 s
	// lead_vertical_peak detected at 3.13 s
	// impact estimated at 3.19 s
	// finish detected at 3.65 s
	// lateral_peak: horizontal forces were not measured
	// lateral_turn: horizontal forces were not measured
	// frontal_torque_peak: horizontal forces were not measured
	// vertical_torque_peak: horizontal forces were not measured
}
