package filter_test

import (
	"fmt"
	"log"
	"math"
	"math/rand"

	"example.com/momentarm/grf"
	"example.com/momentarm/grf/filter"
	"gonum.org/v1/gonum/spatial/r3"
)

// A recording is filtered forward and backward: nothing moves in time, and the
// result has −3 dB at the cut-off that was asked for.
func ExampleZeroPhase() {
	lowpass, err := filter.NewZeroPhase(filter.ZeroPhaseOptions{Cutoff: 50, Rate: 1000})
	if err != nil {
		log.Fatal(err)
	}
	// A golfer of 80 kg standing still, with mains hum in the vertical force.
	recording := make([]grf.Wrench, 1000)
	for i := range recording {
		hum := 20 * math.Sin(2*math.Pi*200*float64(i)/1000)
		recording[i] = grf.At(r3.Vec{Z: 784.5 + hum}, r3.Vec{X: 0.05, Y: 0.2}, r3.Vec{})
	}
	recording, err = lowpass.Wrenches(recording, recording)
	if err != nil {
		log.Fatal(err)
	}
	fmt.Println(lowpass)
	fmt.Printf("gain at 50 Hz %.4f, at 200 Hz %.4f\n", lowpass.Gain(50), lowpass.Gain(200))
	fmt.Printf("vertical force %.1f N\n", recording[500].Force.Z)
	// Output:
	// Butterworth low-pass, order 2 in two passes (order 4, zero lag), −3 dB at 50 Hz (one pass at 62.05 Hz), 1000 Hz sampling, pad 51 samples
	// gain at 50 Hz 0.7071, at 200 Hz 0.0054
	// vertical force 784.5 N
}

// The same passes as another implementation, for comparing results.
func ExampleNewZeroPhaseSections() {
	sections, err := filter.Butterworth(4, 50, 1000)
	if err != nil {
		log.Fatal(err)
	}
	z, err := filter.NewZeroPhaseSections(sections, filter.ZeroPhaseOptions{
		Rate: 1000,
		Pad:  filter.ReferencePad(sections),
	})
	if err != nil {
		log.Fatal(err)
	}
	fmt.Printf("pad %d samples; without correction the pair has %.2f at 50 Hz\n", z.Pad(), z.Gain(50))
	// Output:
	// pad 15 samples; without correction the pair has 0.50 at 50 Hz
}

// Live, one wrench after the other. What comes out is late, and says by how
// much.
func ExampleCausal() {
	live, err := filter.NewCausal(filter.CausalOptions{Cutoff: 50, Rate: 1000, Channels: 6})
	if err != nil {
		log.Fatal(err)
	}
	for i := range 4 {
		w := grf.Wrench{Force: r3.Vec{Z: 700 + 100*float64(i)}}
		fmt.Printf("%.0f → %.1f N\n", w.Force.Z, live.PushWrench(w).Force.Z)
	}
	fmt.Printf("late by %.1f ms\n", 1000*live.Delay())
	// Output:
	// 700 → 700.0 N
	// 800 → 702.0 N
	// 900 → 711.2 N
	// 1000 → 732.2 N
	// late by 4.5 ms
}

// From the readings of a plate to its filtered wrench in one step.
func ExampleFrontEnd() {
	// A plate of four vertical sensors at its corners, 0.4 m by 0.6 m, in volts at
	// 100 N/V. Its rows are Fx, Fy, Fz, Mx, My and Mz.
	corners, err := filter.NewMix(6, []float64{
		0, 0, 0, 0,
		0, 0, 0, 0,
		100, 100, 100, 100,
		30, 30, -30, -30,
		-20, 20, 20, -20,
		0, 0, 0, 0,
	})
	if err != nil {
		log.Fatal(err)
	}
	low, err := filter.NewCausal(filter.CausalOptions{Cutoff: 50, Rate: 1000, Channels: 6, NaN: filter.NaNSegments})
	if err != nil {
		log.Fatal(err)
	}
	front, err := filter.NewFrontEnd(corners, low, 1e6)
	if err != nil {
		log.Fatal(err)
	}
	front.SetZero([]float64{0.1, 0.1, 0.1, 0.1})
	var filtered, mixed grf.Wrench
	for _, volts := range [][]float64{{2.1, 2.1, 1.1, 1.1}, {2.3, 2.3, 1.1, 1.1}, {2.1, math.NaN(), 1.1, 1.1}} {
		measured := front.PushTo(&filtered, &mixed, volts)
		fmt.Printf("%t: %.0f → %.1f N, %.0f → %.1f N·m\n", measured, mixed.Force.Z, filtered.Force.Z, mixed.Moment.X, filtered.Moment.X)
	}
	// Output:
	// true: 600 → 600.0 N, 60 → 60.0 N·m
	// true: 640 → 600.8 N, 72 → 60.2 N·m
	// false: NaN → NaN N, NaN → NaN N·m
}

// Residual analysis proposes a cut-off and tells the noise.
func ExampleChooseCutoff() {
	// A slow movement with white noise of 2 N.
	random := rand.New(rand.NewSource(1))
	x := make([]float64, 4000)
	for i := range x {
		x[i] = 800 + 300*math.Sin(2*math.Pi*1.5*float64(i)/1000) + 2*random.NormFloat64()
	}
	r, err := filter.ChooseCutoff(x, 1000, filter.ResidualOptions{})
	if err != nil {
		log.Fatal(err)
	}
	fmt.Printf("noise %.1f N, cut-off %.0f Hz\n", r.Noise, r.Cutoff)
	// Output:
	// noise 2.0 N, cut-off 9 Hz
}

// Positions from video at 60 Hz, one of them lost, on the clock of the forces.
func ExampleResampleVectors() {
	video := filter.Clock{Rate: 60, N: 31}
	path := make([]r3.Vec, video.N)
	for i := range path {
		path[i] = r3.Vec{Z: 0.9 + 0.1*video.Time(i)}
	}
	path[12] = r3.Vec{X: math.NaN(), Y: math.NaN(), Z: math.NaN()} // at 0.2 s

	forces, err := filter.NewClock(0, 0.5, 1000)
	if err != nil {
		log.Fatal(err)
	}
	opt := filter.ResampleOptions{Kind: filter.Cubic}
	strict, err := filter.ResampleVectors(nil, forces, video.Times(nil), path, opt)
	if err != nil {
		log.Fatal(err)
	}
	opt.MaxGap = 0.05 // s
	bridged, err := filter.ResampleVectors(nil, forces, video.Times(nil), path, opt)
	if err != nil {
		log.Fatal(err)
	}
	fmt.Println(len(strict), "samples")
	fmt.Printf("at 0.1 s %.3f m, at 0.2 s %.3f m, bridged %.3f m\n", strict[100].Z, strict[200].Z, bridged[200].Z)
	// Output:
	// 501 samples
	// at 0.1 s 0.910 m, at 0.2 s NaN m, bridged 0.920 m
}

// plate are the outputs of a plate, V, that are turned into forces on the way.
type plate struct {
	mix     *filter.Mix
	outputs [][]float64
}

func (p plate) Samples(block []float64, at int) {
	n := p.mix.Channels()
	p.mix.Apply(block, n, p.outputs, nil, at, at+len(block)/n)
}

// Outputs that have to be converted first need no memory for what lies between.
func ExampleZeroPhase_InterleavedFrom() {
	z, err := filter.NewZeroPhase(filter.ZeroPhaseOptions{Cutoff: 50, Rate: 1000})
	if err != nil {
		log.Fatal(err)
	}
	mix, err := filter.NewMix(3, []float64{ // N/V, with some cross-talk
		50, 0, 1,
		0, 50, 0,
		0, 0, 100,
	})
	if err != nil {
		log.Fatal(err)
	}
	p := plate{mix, [][]float64{make([]float64, 200), make([]float64, 200), make([]float64, 200)}}
	for i := range p.outputs[2] {
		p.outputs[2][i] = 8
	}
	forces, err := z.InterleavedFrom(nil, p, 200, 3)
	if err != nil {
		log.Fatal(err)
	}
	fmt.Printf("%.1f N\n", forces[3*100:][:3])
	// Output: [8.0 0.0 800.0] N
}
