package batch_test

import (
	"fmt"
	"log"
	"math"
	"sync"

	"gonum.org/v1/gonum/spatial/r3"

	"example.com/momentarm/cop/com"
	"example.com/momentarm/grf"
	"example.com/momentarm/phase/batch"
)

// examplePlate is a plate whose six channels are in N and N·m, that lies with its
// z down as plates do, and reports how it is pushed.
func examplePlate(middle float64) *grf.Plate {
	p, err := grf.NewPlate(grf.PlateConfig{
		Type: grf.TypeMoment,
		Corners: [4]r3.Vec{
			{X: 0.3, Y: middle + 0.25}, {X: 0.3, Y: middle - 0.25}, {X: -0.3, Y: middle - 0.25}, {X: -0.3, Y: middle + 0.25},
		},
		Sense: grf.Action,
	})
	if err != nil {
		log.Fatal(err)
	}
	return p
}

func exampleChain() *batch.Chain {
	axes, err := grf.NewAxes(r3.Vec{Z: 1}, r3.Vec{Y: 1}, r3.Vec{}, grf.RightHanded)
	if err != nil {
		log.Fatal(err)
	}
	c, err := batch.New(batch.Config{
		Rate:   1000,
		Plates: []*grf.Plate{examplePlate(-0.25), examplePlate(0.25)}, // trail, lead
		Axes:   axes,
	})
	if err != nil {
		log.Fatal(err)
	}
	return c
}

// exampleChannels are two seconds: half a second of rest, then the golfer pushes
// sideways, away from the target, with up to newtons on the lead plate. The
// plates' first axis points toward the target, their third one down.
func exampleChannels(newtons float64) [][]float64 {
	channels := make([][]float64, 12)
	for i := range channels {
		channels[i] = make([]float64, 2000)
	}
	for i := range 2000 {
		push := 0.0
		if i > 500 && i < 1500 {
			push = newtons * math.Pow(math.Sin(math.Pi*float64(i-500)/1000), 2)
		}
		channels[2][i], channels[8][i] = 392, 392 // golfer on plate: down
		channels[6][i] = -push                    // away from the target
	}
	return channels
}

// A golfer of 79.9 kg pushes with 100 N toward the trail side, which pushes the
// centre of mass toward the target; about it that force turns with the height of
// the centre of mass as its arm, and the weight with the way that it has moved.
func ExampleChain_Run() {
	c := exampleChain()
	var r batch.Result // reused for the next recording
	err := c.Run(&r, batch.Input{
		Channels: exampleChannels(100),
		Rest:     com.Window{From: 0, To: 0.4}, // s; tells mass and where they stand
		Height:   0.9,                          // of the centre of mass, m
	})
	if err != nil {
		log.Fatal(err)
	}
	force, turn := r.ForceExtremes[1], r.MomentExtremes[0]
	fmt.Printf("mass %.1f kg\n", r.Start.Mass)
	fmt.Printf("most lateral force %.1f N at %.2f s\n", force.Max, float64(force.MaxAt)/1000)
	fmt.Printf("most frontal torque %.1f N·m at %.2f s\n", turn.Max, float64(turn.MaxAt)/1000)
	i := force.MaxAt
	fmt.Printf("at the peak of force: arm %.4f m, centre of mass %.3f m toward the target\n", r.Arm[i].Frontal, r.COM[i].Y)
	// Output:
	// mass 79.9 kg
	// most lateral force 100.0 N at 1.00 s
	// most frontal torque 64.7 N·m at 0.91 s
	// at the peak of force: arm 0.0678 m, centre of mass 0.046 m toward the target
}

// Several cores: as many workers as wanted, each with a Result of its own, take
// the next recording that nobody works on yet. The chain is one for all.
func Example_pool() {
	c := exampleChain()
	var recordings [][][]float64
	for k := range 20 {
		recordings = append(recordings, exampleChannels(float64(10*k)))
	}

	peaks := make([]float64, len(recordings))
	errs := make([]error, len(recordings))
	next := make(chan int)
	var workers sync.WaitGroup
	for range 2 {
		workers.Add(1)
		go func() {
			defer workers.Done()
			var r batch.Result
			for k := range next {
				errs[k] = c.Run(&r, batch.Input{Channels: recordings[k], Rest: com.Window{To: 0.4}, Height: 0.9})
				if errs[k] == nil {
					peaks[k] = r.MomentExtremes[0].Max // copy what is kept
				}
			}
		}()
	}
	for k := range recordings {
		next <- k
	}
	close(next)
	workers.Wait()

	for k, err := range errs {
		if err != nil {
			log.Fatalf("recording %d: %v", k, err)
		}
	}
	fmt.Printf("%.1f %.1f %.1f N·m\n", peaks[0], peaks[1], peaks[19])
	// Output: 0.0 6.5 122.9 N·m
}
