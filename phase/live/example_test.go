package live_test

import (
	"fmt"
	"log"

	"gonum.org/v1/gonum/spatial/r3"

	"example.com/momentarm/cop/com"
	"example.com/momentarm/grf"
	"example.com/momentarm/phase/live"
)

// Two plates side by side, whose channels are forces and moments already. The
// target is along +y of the laboratory.
func Example() {
	plate := func(y float64) *grf.Plate {
		corner := func(dx, dy float64) r3.Vec { return r3.Vec{X: dx, Y: y + dy} }
		p, err := grf.NewPlate(grf.PlateConfig{
			Type:    grf.TypeMoment,
			Corners: [4]r3.Vec{corner(0.3, -0.25), corner(-0.3, -0.25), corner(-0.3, 0.25), corner(0.3, 0.25)},
			Sense:   grf.Action, // what the golfer does to the plate, z down
		})
		if err != nil {
			log.Fatal(err)
		}
		return p
	}
	axes, err := grf.NewAxes(r3.Vec{Z: 1}, r3.Vec{Y: 1}, r3.Vec{}, grf.RightHanded)
	if err != nil {
		log.Fatal(err)
	}
	chain, err := live.New(live.Config{
		Rate: 1000, Axes: axes, Stature: 1.80,
		Inputs: []live.Input{{Plate: plate(0.255), Foot: live.Lead}, {Plate: plate(-0.255), Foot: live.Trail}},
	})
	if err != nil {
		log.Fatal(err)
	}

	weight := 80 * com.StandardGravity
	channels := make([]float64, 12)
	chain.Zero()
	for i := range uint64(3000) {
		switch i {
		case 1500: // 60 % on the lead foot, each foot in the middle of its plate
			channels[2], channels[8] = 0.6*weight, 0.4*weight
		case 1600:
			if err := chain.Weigh(); err != nil {
				log.Fatal(err)
			}
		case 2980: // the lead foot pushes away from the target, 0.936 m under the mass
			channels[1] = 100
		}
		f, err := chain.Push(live.Sample{Sequence: i, Channels: channels})
		if err != nil {
			log.Fatal(err)
		}
		if i%500 == 499 {
			fmt.Printf("%.3f s  %-8v lead %3.0f %%  torque %4.0f N·m  %v\n", f.Time, f.State, 100*f.LeadShare, f.Moment.Frontal, f.Health)
		}
	}
	fmt.Printf("late by %.1f ms\n", 1000*chain.Delay())

	// Output:
	// 0.499 s  zeroing  lead NaN %  torque  NaN N·m  good
	// 0.999 s  zeroed   lead NaN %  torque  NaN N·m  settling
	// 1.499 s  zeroed   lead NaN %  torque  NaN N·m  good
	// 1.999 s  weighing lead  60 %  torque  NaN N·m  good
	// 2.499 s  weighing lead  60 %  torque  NaN N·m  good
	// 2.999 s  ready    lead  60 %  torque   95 N·m  good
	// late by 4.5 ms
}
