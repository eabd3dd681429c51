package validation

import (
	"encoding/json"
	"fmt"
	"io/fs"
	"math"

	"gonum.org/v1/gonum/spatial/r3"
)

// trialOf is what com/walk and com/run say about their recordings.
type trialOf struct {
	Mass    float64     `json:"mass_kg"`
	Gravity float64     `json:"g"`
	Rate    float64     `json:"com_rate_hz"` // of positions and estimates
	Forces  float64     `json:"force_rate_hz"`
	Flights [][]float64 `json:"flight_intervals_s"` // begin and end of each
}

func readJSON(folder fs.FS, name string, v any) error {
	data, err := fs.ReadFile(folder, name)
	if err != nil {
		return err
	}
	if err := json.Unmarshal(data, v); err != nil {
		return fmt.Errorf("%s: %w", name, err)
	}
	return nil
}

// vectors returns the vectors of three columns each.
func (c *columns) vectors(name string, heads ...string) ([]r3.Vec, error) {
	v, err := c.of(name, heads...)
	if err != nil {
		return nil, err
	}
	return rowsOf(v[0], v[1], v[2]).Vecs(), nil
}

// three puts a prefix before x, y, z.
func three(prefix string) []string { return []string{prefix + "x", prefix + "y", prefix + "z"} }

// halfOfNine is how far a number up to size may be off when it was rounded to
// nine digits.
func halfOfNine(size float64) float64 {
	return 0.5 * math.Pow(10, math.Ceil(math.Log10(size))-9)
}

const generated = "testdata/gen/com_values.py"

// walkCases and runCases hold what SciPy and the published procedure make of
// two recordings of forces with a kinematic centre of mass.
func walkCases(folder fs.FS) ([]Case, error) {
	return motionCases(folder, "walk", "examples/example_data.mat of the repository center_of_mass (github.com/charlotte-lemouel/center_of_mass)", three("F"))
}

func runCases(folder fs.FS) ([]Case, error) {
	const of = "data/opensim/grf_run.mot and motion_capture_run.trc of the Notes on Scientific Computing for Biomechanics and Motor Control"
	cases, err := motionCases(folder, "run", of, three("RF"), three("LF"))
	if err != nil {
		return cases, err
	}
	more, err := runMomentCases(folder, of)
	return append(cases, more...), err
}

// motionCases are those of one folder; feet name the columns of the forces.
func motionCases(folder fs.FS, name, of string, feet ...[]string) ([]Case, error) {
	dir := "com/" + name + "/"
	var trial trialOf
	if err := readJSON(folder, dir+"trial.json", &trial); err != nil {
		return nil, err
	}
	block := int(math.Round(trial.Forces / trial.Rate))
	if block < 1 || !(trial.Mass > 0) || !(trial.Gravity > 0) {
		return nil, fmt.Errorf("%strial.json: rates %g and %g Hz, mass %g kg, gravity %g m/s²", dir, trial.Forces, trial.Rate, trial.Mass, trial.Gravity)
	}
	grf, err := readColumns(folder, dir+"grf.csv", ',')
	if err != nil {
		return nil, err
	}
	kinematic, err := readColumns(folder, dir+"com_kinematic.csv", ',')
	if err != nil {
		return nil, err
	}
	estimates := dir + "oracle/" + name + "_estimates.csv"
	want, err := readColumns(folder, estimates, ',')
	if err != nil {
		return nil, err
	}
	n := want.rows
	position, err := kinematic.vectors(dir+"com_kinematic.csv", three("")...)
	if err != nil {
		return nil, err
	}
	if len(position) < n || grf.rows < n*block {
		return nil, fmt.Errorf("%s: %d rows for %d positions and %d forces", estimates, n, len(position), grf.rows)
	}
	position = position[:n]
	// The force of a period is the mean of its samples.
	force := make([]r3.Vec, n)
	for _, heads := range feet {
		f, err := grf.vectors(dir+"grf.csv", heads...)
		if err != nil {
			return nil, err
		}
		for i := range n * block {
			force[i/block] = r3.Add(force[i/block], r3.Scale(1/float64(block), f[i]))
		}
	}
	var estimated [3][]r3.Vec // rts_pos_, rts_vel_, fb_pos_
	for i, prefix := range []string{"rts_pos_", "rts_vel_", "fb_pos_"} {
		if estimated[i], err = want.vectors(estimates, three(prefix)...); err != nil {
			return nil, err
		}
	}
	sd, err := want.of(estimates, "rts_sdpos_x")
	if err != nil {
		return nil, err
	}

	const forceSD, positionSD = 2, 0.002
	noise := fmt.Sprintf("force %g N, position %g mm, %.8g kg, %g Hz", float64(forceSD), 1e3*positionSD, trial.Mass, trial.Rate)
	given := Values{"mass": Number("kg", trial.Mass), "rate": Number("Hz", trial.Rate), "force_sd": Number("N", forceSD), "position_sd": Number("m", positionSD)}
	path := Values{"forces": Vectors("N", force...), "positions": Vectors("m", position...), "gravity": Number("m/s²", trial.Gravity)}
	for k, v := range given {
		path[k] = v
	}
	from := func(what string) Source { return sciPy.at("%s, %s, on %s", what, generated, of) }
	cases := []Case{
		caseOf("datasets/com/"+name+"/path", "path of the centre of mass", "fused_path", ReferenceLibrary,
			from("linalg.qr, least squares over the whole record"), "forces averaged over each period, kinematic positions; noise: "+noise, path,
			exact("positions", Vectors("m", estimated[0]...)).within(1e-6, "nine printed digits of up to 10 m, and a force that jumps put as steps of 0.2 ms"),
			exact("velocities", Vectors("m/s", estimated[1]...)).within(1e-3, "the velocity turns a corner where the force jumps, which steps of 0.2 ms cut by up to 0.05 ms of the jump"),
			exact("position_sd", List("m", sd[0]...)).within(1e-7, "noise that holds for a period, put as noise of each step")).
			note("the smoother is recursive; the reference solves all equations at once"),
	}
	gains, err := gainWants(folder, dir+"oracle/summary.json", trial.Mass)
	if err != nil {
		return cases, err
	}
	cases = append(cases, caseOf("datasets/com/"+name+"/gains", "estimator gains", "steady_gains", ReferenceLibrary,
		from("linalg.solve_discrete_are, steady Kalman gain"), noise, given, gains...))
	if len(trial.Flights) == 0 {
		return cases, nil
	}
	// The published measure on the markers alone and on what the published
	// procedure makes of them.
	for _, p := range []struct {
		name, what, key string
		path            []r3.Vec
	}{
		{"kinematic", "the kinematic centre of mass", "kin", position},
		{"published", "forces and positions by the procedure of Le Mouel (2025)", "fb", estimated[2]},
		{"smoothed", "forces and positions by least squares", "rts", estimated[0]},
	} {
		share, err := flightShare(folder, dir+"oracle/summary.json", trial.Mass, p.key)
		if err != nil {
			return cases, err
		}
		cases = append(cases, caseOf("datasets/com/"+name+"/flight-"+p.name, "acceleration in flight", "flight_error", ReferenceLibrary,
			from("numpy.diff, numpy.median"), p.what+", against gravity in flight",
			Values{"positions": Vectors("m", p.path...), "rate": path["rate"], "gravity": path["gravity"], "flights": Table("s", trial.Flights...)},
			exact("error", Number("1", share)).within(5e-5, "positions have eight decimals, whose rounding the second difference at 150 Hz multiplies by 9·10⁴: 5·10⁻⁴ m/s²")).
			note("Le Mouel (2025) reports 14 to 36 % for markers alone and 1.1 to 3.1 % with the forces, on other trials"))
	}
	return cases, nil
}

// summaryOf returns the figures of a mass in a summary, which may hold several.
func summaryOf(folder fs.FS, name string, mass float64) (json.RawMessage, error) {
	var byMass map[string]json.RawMessage
	if err := readJSON(folder, name, &byMass); err != nil {
		return nil, err
	}
	if v, ok := byMass[fmt.Sprintf("mass_%g", mass)]; ok {
		return v, nil
	}
	return json.Marshal(byMass)
}

func gainWants(folder fs.FS, name string, mass float64) ([]Want, error) {
	data, err := summaryOf(folder, name, mass)
	if err != nil {
		return nil, err
	}
	var s struct {
		Gains [][]float64 `json:"gains_l1_l2_per_axis"`
	}
	if err := json.Unmarshal(data, &s); err != nil || len(s.Gains) == 0 || len(s.Gains[0]) != 2 {
		return nil, fmt.Errorf("%s: no pair of gains (%v)", name, err)
	}
	const reason = "rounding, enlarged by a difference of nearly equal numbers"
	return []Want{
		exact("position_gain", Number("1", s.Gains[0][0])).relative(1e-11, reason),
		exact("velocity_gain", Number("1", s.Gains[0][1])).relative(1e-11, reason),
	}, nil
}

func flightShare(folder fs.FS, name string, mass float64, key string) (float64, error) {
	data, err := summaryOf(folder, name, mass)
	if err != nil {
		return 0, err
	}
	var s struct {
		Flight map[string]struct {
			Percent *float64 `json:"median_error_amplitude_pct_g"`
		}
	}
	if err := json.Unmarshal(data, &s); err != nil {
		return 0, fmt.Errorf("%s: %w", name, err)
	}
	p := s.Flight[key].Percent
	if p == nil {
		return 0, fmt.Errorf("%s: no flight figure for %s", name, key)
	}
	return *p / 100, nil
}

// runMomentCases hold the moment of the ground about two centres of mass.
func runMomentCases(folder fs.FS, of string) ([]Case, error) {
	const dir, oracle = "com/run/", "com/run/oracle/cop_and_moment.csv"
	want, err := readColumns(folder, oracle, ',')
	if err != nil {
		return nil, err
	}
	tables := map[string]*columns{}
	for _, name := range []string{"grf.csv", "com_kinematic.csv", "oracle/run_estimates.csv"} {
		if tables[name], err = readColumns(folder, dir+name, ','); err != nil {
			return nil, err
		}
	}
	// at returns the rows of a table nearest to the wanted instants.
	at := func(name string, heads ...string) ([]r3.Vec, error) {
		t, err := tables[name].of(dir+name, append([]string{"t"}, heads...)...)
		if err != nil {
			return nil, err
		}
		out := make([]r3.Vec, want.rows)
		for i, x := range want.numbers["t"] {
			k := 0
			for j := range t[0] {
				if math.Abs(t[0][j]-x) < math.Abs(t[0][k]-x) {
					k = j
				}
			}
			if math.Abs(t[0][k]-x) > 1e-6 {
				return nil, fmt.Errorf("%s%s: no row at %g s", dir, name, x)
			}
			out[i].X = t[1][k]
			if len(heads) == 3 {
				out[i].Y, out[i].Z = t[2][k], t[3][k]
			}
		}
		return out, nil
	}
	in := Values{"min_vertical": Number("N", 50)}
	for side, letter := range map[string]string{"right": "R", "left": "L"} {
		for what, unit := range map[string]string{"F": "N", "P": "m"} {
			v, err := at("grf.csv", three(letter+what)...)
			if err != nil {
				return nil, err
			}
			in[side+map[string]string{"F": "_forces", "P": "_points"}[what]] = Vectors(unit, v...)
		}
		free, err := at("grf.csv", letter+"Tz")
		if err != nil {
			return nil, err
		}
		var frees []float64
		for _, v := range free {
			frees = append(frees, v.X)
		}
		in[side+"_frees"] = List("N·m", frees...)
	}
	net, err := want.of(oracle, "Fx", "Fy", "Fz", "copx", "copy", "Tz")
	if err != nil {
		return nil, err
	}
	var cases []Case
	for _, c := range []struct{ name, given, table, heads, tau string }{
		{"moment-kinematic", "the kinematic centre of mass", "com_kinematic.csv", "", "tau_kin_"},
		{"moment-smoothed", "the centre of mass from forces and positions", "oracle/run_estimates.csv", "rts_pos_", "tau_rts_"},
	} {
		centres, err := at(c.table, three(c.heads)...)
		if err != nil {
			return cases, err
		}
		tau, err := want.vectors(oracle, three(c.tau)...)
		if err != nil {
			return cases, err
		}
		inputs := Values{"centres": Vectors("m", centres...)}
		for k, v := range in {
			inputs[k] = v
		}
		digits := func(w Want) Want {
			return w.within(halfOfNine(2000)+1e-9, "nine printed digits of up to 2000 N")
		}
		cases = append(cases, caseOf("datasets/com/run/"+c.name, "moment about the centre of mass", "two_plate_moments", ReferenceLibrary,
			sciPy.at("numpy.cross, %s, on %s", generated, of), "a run over two plates, "+c.given, inputs,
			digits(exact("forces", rowsOf(net[0], net[1], net[2]).in("N"))),
			exact("points", rowsOf(net[3], net[4], make([]float64, want.rows)).in("m")).within(2*halfOfNine(10), "nine printed digits of up to 10 m"),
			exact("free_moments", List("N·m", net[5]...)).within(2000*2*halfOfNine(1), "nine printed digits of points, times up to 2000 N"),
			exact("moments", Vectors("N·m", tau...)).within(2000*2*halfOfNine(10), "nine printed digits of positions up to 10 m, times up to 2000 N")))
	}
	return cases, nil
}
