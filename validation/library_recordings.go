package validation

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/spatial/r3"

	"example.com/momentarm/cop"
	"example.com/momentarm/cop/com"
	"example.com/momentarm/grf"
	"example.com/momentarm/torque"
)

// undefinedIn gives v a reason when it holds a NaN.
func (v Value) undefinedIn(reason string) Value {
	for _, x := range v.Numbers {
		if math.IsNaN(x) {
			v.Reason = reason
			break
		}
	}
	return v
}

func twoPlateMoments(in Values) (Values, error) {
	net := make([]grf.Wrench, len(in["centres"].Vecs()))
	for _, side := range []string{"right", "left"} {
		forces, points, frees := in[side+"_forces"].Vecs(), in[side+"_points"].Vecs(), in[side+"_frees"].Numbers
		if len(forces) != len(net) || len(points) != len(net) || len(frees) != len(net) {
			return nil, fmt.Errorf("%s: %d forces, %d points, %d free moments for %d centres", side, len(forces), len(points), len(frees), len(net))
		}
		for i := range net {
			net[i] = net[i].Add(grf.At(forces[i], points[i], r3.Vec{Z: frees[i]}))
		}
	}
	about, err := torque.AboutSeries(nil, net, in["centres"].Vecs())
	if err != nil {
		return nil, err
	}
	points, free := cop.Series(nil, nil, net, 0, in.or("min_vertical", cop.DefaultMinVertical))
	forces, moments := make([]r3.Vec, len(net)), make([]r3.Vec, len(net))
	for i := range net {
		forces[i], moments[i] = net[i].Force, about[i].Vec()
	}
	const unloaded = "under the load threshold"
	return Values{
		"forces": Vectors("N", forces...), "moments": Vectors("N·m", moments...),
		"points":       Vectors("m", points...).undefinedIn(unloaded),
		"free_moments": List("N·m", free...).undefinedIn(unloaded),
	}, nil
}

// fusedPath asks [com.Smooth], which joins the samples of the force by straight
// lines. A force that holds is put to it as steps: many samples to a period,
// and the mean of both sides where the force jumps. What a jump that takes two
// of these samples does to the position differs from what a sudden one does by
// h²/6 of the jump in acceleration, 2e-7 m for 30 m/s² and h = 0.2 ms.
func fusedPath(in Values) (Values, error) {
	force, position, rate := in["forces"].Vecs(), in["positions"].Vecs(), in["rate"].Float()
	n := len(force)
	if n < 2 || len(position) != n {
		return nil, fmt.Errorf("%d forces, %d positions; two or more of each are needed", n, len(position))
	}
	const finest = 0.2e-3                                            // s
	if span := float64(n) / rate; !(rate > 0 && span/finest < 3e5) { // a minute
		return nil, fmt.Errorf("%d samples at %g Hz last too long", n, rate)
	}
	steps := int(math.Ceil(1 / (rate * finest)))
	fine := make([]grf.Wrench, steps*(n-1)+1)
	for i := range fine {
		k := min(i/steps, n-2)
		fine[i].Force = force[k]
		if i%steps == 0 && k > 0 && i < len(fine)-1 {
			fine[i].Force = r3.Scale(0.5, r3.Add(force[k-1], force[k]))
		}
	}
	track := grf.Track{Position: position}
	for i := range n {
		track.Time = append(track.Time, float64(i)/rate)
	}
	none := math.NaN()
	// White noise that holds for a period is, over a part of it, larger.
	noise := in["force_sd"].Float() * math.Sqrt(float64(steps))
	sd := in["position_sd"].Float()
	path, err := com.Smooth(fine, 0, rate*float64(steps), com.Options{
		Gravity: in["gravity"].Float(), Mass: in["mass"].Float(),
		Quiet: com.Window{From: none}, Still: com.Window{From: none},
		Noise:   com.Noise{ForceSD: r3.Vec{X: noise, Y: noise, Z: noise}, BiasSD: none, MassSD: none},
		Sources: []com.Source{{Track: track, SD: r3.Vec{X: sd, Y: sd, Z: sd}}},
	})
	if err != nil {
		return nil, err
	}
	p, v, s := make([]r3.Vec, n), make([]r3.Vec, n), make([]float64, n)
	for i := range n {
		p[i], v[i], s[i] = path.Position[steps*i], path.Velocity[steps*i], path.PositionSD[steps*i].X
	}
	return Values{"positions": Vectors("m", p...), "velocities": Vectors("m/s", v...), "position_sd": List("m", s...)}, nil
}

func flightError(in Values) (Values, error) {
	var flights []com.Window
	for _, row := range in["flights"].Rows() {
		if len(row) != 2 {
			return nil, fmt.Errorf("a flight has a begin and an end, not %d instants", len(row))
		}
		flights = append(flights, com.Window{From: row[0], To: row[1]})
	}
	e := com.FlightError(in["positions"].Vecs(), 0, in["rate"].Float(), in["gravity"].Float(), flights)
	return Values{"error": Number("1", e).undefinedIn("no sample lies in a flight")}, nil
}
