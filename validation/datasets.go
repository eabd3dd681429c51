package validation

import (
	"encoding/csv"
	"errors"
	"fmt"
	"io/fs"
	"path"
	"strconv"
	"strings"

	"gonum.org/v1/gonum/spatial/r3"
)

// DatasetsVariable is the environment variable by which the tests and the
// programs of this module find the folder with the public data sets.
const DatasetsVariable = "GRF_DATASETS"

// DatasetCases returns the cases on measured data for the data sets that are in
// the folder; see the package documentation for what it holds and where that
// can be had. Data sets that are not there are named in skipped. A file that is
// there and can not be read is an error; the cases of the others are returned.
func DatasetCases(folder fs.FS) (cases []Case, skipped []string, err error) {
	var errs []error
	for _, d := range []struct {
		name  string
		from  Source
		cases func(fs.FS) ([]Case, error)
	}{
		{"bds", bds, bdsCases},
		{"pds", pds, pdsCases},
		{"jump", duarteNotes, jumpCases},
		{"c3d/sample10", c3dSamples, spreadsheetCases},
		{"com/walk", walkData, walkCases},
		{"com/run", duarteNotes, runCases},
		{"c3d/oracle", c3dFiles, c3dCases},
	} {
		cs, err := d.cases(folder)
		switch {
		case errors.Is(err, fs.ErrNotExist):
			skipped = append(skipped, fmt.Sprintf("data set %s: set %s to a folder that holds it (%s, %s; the documentation of package validation says how)", d.name, DatasetsVariable, d.from.Title, d.from.Link))
		case err != nil:
			errs = append(errs, fmt.Errorf("data set %s: %w", d.name, err))
		}
		cases = append(cases, cs...)
	}
	return cases, skipped, errors.Join(errs...)
}

// columns is a text table by the names of its columns; words are those of
// columns that are not numbers.
type columns struct {
	rows    int
	words   map[string][]string
	numbers map[string][]float64
}

// readColumns reads a table with one header line.
func readColumns(folder fs.FS, name string, comma rune) (*columns, error) {
	f, err := folder.Open(name)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	r := csv.NewReader(f)
	r.Comma = comma
	r.TrimLeadingSpace = comma == ','
	records, err := r.ReadAll()
	if err != nil {
		return nil, fmt.Errorf("%s: %w", name, err)
	}
	if len(records) < 2 {
		return nil, fmt.Errorf("%s: no rows", name)
	}
	c := &columns{rows: len(records) - 1, words: map[string][]string{}, numbers: map[string][]float64{}}
	for j, head := range records[0] {
		head = strings.TrimSpace(head)
		xs := make([]float64, c.rows)
		for i, rec := range records[1:] {
			word := strings.TrimSpace(rec[j])
			x, err := strconv.ParseFloat(word, 64)
			if err != nil {
				xs = nil
				break
			}
			xs[i] = x
		}
		if xs != nil {
			c.numbers[head] = xs
			continue
		}
		for _, rec := range records[1:] {
			c.words[head] = append(c.words[head], rec[j])
		}
	}
	return c, nil
}

// of returns the named columns of numbers.
func (c *columns) of(name string, heads ...string) ([][]float64, error) {
	out := make([][]float64, len(heads))
	for i, h := range heads {
		x, ok := c.numbers[h]
		if !ok {
			return nil, fmt.Errorf("%s: no column %s of numbers", name, h)
		}
		out[i] = x
	}
	return out, nil
}

func scaled(k float64, xs []float64) []float64 {
	out := make([]float64, len(xs))
	for i, x := range xs {
		out[i] = k * x
	}
	return out
}

// rowsOf joins columns to vectors.
func rowsOf(x, y, z []float64) Value {
	vs := make([]r3.Vec, len(x))
	for i := range vs {
		vs[i] = r3.Vec{X: x[i], Y: y[i], Z: z[i]}
	}
	return Vectors("m", vs...).in("m")
}

// in returns v with another unit.
func (v Value) in(unit string) Value {
	v.Unit = unit
	return v
}

// publishedSway returns what a standing trial's authors published, in SI, for n
// samples: their velocity is the length over n/rate, ours over (n−1)/rate.
func publishedSway(table *columns, i, n int, rel float64, reason string) ([]Want, error) {
	v, err := table.of("published_metrics.csv", "COParea_cm2", "COPvelo_cm_s", "COPmfreq_Hz")
	if err != nil {
		return nil, err
	}
	want := func(output, unit string, x float64, printed string) Want {
		w := exact(output, Number(unit, x)).relative(rel, reason)
		w.Printed = printed
		return w
	}
	f := func(x float64) string { return strconv.FormatFloat(x, 'g', 10, 64) }
	return []Want{
		want("ellipse_area", "m²", v[0][i]*1e-4, f(v[0][i])+" cm²"),
		want("mean_velocity", "m/s", v[1][i]*1e-2*float64(n)/float64(n-1), f(v[1][i])+" cm/s over N/rate"),
		want("spectral_frequency", "Hz", v[2][i], f(v[2][i])+" Hz"),
	}, nil
}

func bdsCases(folder fs.FS) ([]Case, error) {
	table, err := readColumns(folder, "bds/published_metrics.csv", ',')
	if err != nil {
		return nil, err
	}
	var cases []Case
	for i, trial := range table.words["Trial"] {
		name := path.Join("bds", trial+".txt")
		c, err := readColumns(folder, name, '\t')
		if errors.Is(err, fs.ErrNotExist) {
			continue // the trials that are there will do
		}
		if err != nil {
			return cases, err
		}
		v, err := c.of(name, "COPx[cm]", "COPy[cm]", "Fx[N]", "Fy[N]", "Fz[N]", "Mx[Nm]", "My[Nm]", "Mz[Nm]")
		if err != nil {
			return cases, err
		}
		const rate = 100
		given, err := publishedSway(table, i, c.rows, 1e-9, "the same formulas on the same numbers")
		if err != nil {
			return cases, err
		}
		own, err := publishedSway(table, i, c.rows, 2e-6, "forces and moments are given to six decimals")
		if err != nil {
			return cases, err
		}
		src := bds.at("file %s, table BDSinfoCOP", trial)
		cases = append(cases,
			caseOf("datasets/bds/"+trial, "centre-of-pressure path", "path_measures", OpenDataset, src,
				"the centre of pressure as given, one minute at 100 Hz",
				Values{"x": List("m", scaled(0.01, v[0])...), "y": List("m", scaled(0.01, v[1])...), "rate": Number("Hz", rate)}, given...),
			caseOf("datasets/bds/"+trial+"/from-forces", "centre of pressure of a plate", "wrench_path", OpenDataset, src,
				"forces and moments about the surface, one minute at 100 Hz",
				Values{"forces": rowsOf(v[2], v[3], v[4]).in("N"), "moments": rowsOf(v[5], v[6], v[7]).in("N·m"), "rate": Number("Hz", rate)}, own...))
	}
	if len(cases) == 0 {
		return nil, fmt.Errorf("bds: no trial of the table: %w", fs.ErrNotExist)
	}
	return cases, nil
}

func pdsCases(folder fs.FS) ([]Case, error) {
	table, err := readColumns(folder, "pds/published_metrics.csv", ',')
	if err != nil {
		return nil, err
	}
	var cases []Case
	for i, trial := range table.words["Trial"] {
		name := path.Join("pds", trial+"grf.txt")
		c, err := readColumns(folder, name, '\t')
		if err != nil {
			return cases, err
		}
		v, err := c.of(name, "RGRF_X", "RGRF_Y", "RGRF_Z", "LGRF_X", "LGRF_Y", "LGRF_Z",
			"RCOP_X", "RCOP_Y", "RCOP_Z", "LCOP_X", "LCOP_Y", "LCOP_Z", "COPNET_X", "COPNET_Z")
		if err != nil {
			return cases, err
		}
		// Their y is up and z to the right; ours are z up and y to the left.
		turned := func(k int, unit string) Value { return rowsOf(v[k], scaled(-1, v[k+2]), v[k+1]).in(unit) }
		const rate = 100
		sway, err := publishedSway(table, i, c.rows, 1e-9, "the same formulas on the same numbers")
		if err != nil {
			return cases, err
		}
		src := pds.at("file %sgrf, table of the centre-of-pressure measures", trial)
		zero := make([]float64, c.rows)
		cases = append(cases,
			caseOf("datasets/pds/"+trial, "net centre of pressure", "two_plate_path", OpenDataset, src,
				"force and centre of pressure of each plate; the net centre of pressure is given",
				Values{"right_forces": turned(0, "N"), "right_points": turned(6, "m"), "left_forces": turned(3, "N"), "left_points": turned(9, "m")},
				exact("points", rowsOf(v[12], scaled(-1, v[13]), zero)).within(1e-5, "the authors rounded to five decimals before resampling")),
			caseOf("datasets/pds/"+trial+"/sway", "centre-of-pressure path", "path_measures", OpenDataset, src,
				"the net centre of pressure as given, one minute at 100 Hz",
				Values{"x": List("m", v[12]...), "y": List("m", scaled(-1, v[13])...), "rate": Number("Hz", rate)}, sway...))
	}
	return cases, nil
}

// The jump as testdata/gen/jump.py computes it with SciPy.
const (
	jumpOffset  = 5.9108 // N, mean of the record in flight
	jumpQuiet   = 0.165  // s, the first 100 samples
	jumpInstant = 0.905  // s, take-off
)

var jumpWants = []Want{
	si("mass", "63.42810397553517", "kg").relative(1e-9, "rounding of float64"),
	si("velocity.z", "2.1886419420673744", "m/s").relative(1e-9, "rounding of float64"),
	si("rise.z", "0.14439666013450628", "m").relative(1e-9, "rounding of float64"),
	si("highest", "0.3885431204085352", "m").relative(1e-9, "rounding of float64"),
}

func jumpCases(folder fs.FS) ([]Case, error) {
	data, err := fs.ReadFile(folder, "jump/GRFZjump.txt")
	if err != nil {
		return nil, err
	}
	var force []float64
	lowest := 0.0
	for i, word := range strings.Fields(string(data)) {
		x, err := strconv.ParseFloat(word, 64)
		if err != nil {
			return nil, fmt.Errorf("jump/GRFZjump.txt: value %d: %w", i+1, err)
		}
		force = append(force, x)
		lowest = min(lowest, x)
	}
	lifted := make([]float64, len(force))
	vectors := make([]r3.Vec, len(force))
	for i, f := range force {
		lifted[i] = f - lowest
		vectors[i].Z = f - jumpOffset
	}
	const rate = 600
	src := duarteNotes.at("notebook VerticalJump, data/GRFZjump.txt")
	return []Case{
		caseOf("datasets/jump/flight", "jump from time in the air", "flight", OpenDataset, src,
			"the record less its lowest value, 600 Hz, threshold 10 N, g = 9.8",
			Values{"vertical": List("N", lifted...), "rate": Number("Hz", rate), "gravity": Number("m/s²", gBook), "min_vertical": Number("N", 10)},
			si("take_off", "0.907", "s"), si("landing", "1.323", "s"), si("rise", "0.213", "m")),
		caseOf("datasets/jump/impulse", "motion from forces", "motion", ReferenceLibrary, sciPy.at("interpolate.BSpline.antiderivative, testdata/gen/jump.py, on data/GRFZjump.txt of the Notes on Scientific Computing for Biomechanics and Motor Control"),
			"the record less 5.9108 N (its mean in flight), quiet for the first 0.165 s, at take-off 0.905 s, g = 9.81",
			Values{"forces": Vectors("N", vectors...), "rate": Number("Hz", rate), "gravity": Number("m/s²", 9.81),
				"quiet": Number("s", jumpQuiet), "height": Number("m", 0.95), "instant": Number("s", jumpInstant)},
			jumpWants...),
	}, nil
}

func spreadsheetCases(folder fs.FS) ([]Case, error) {
	const name = "c3d/sample10/TYPE-4_published_results.csv"
	c, err := readColumns(folder, name, ',')
	if err != nil {
		return nil, err
	}
	heads := func(prefix string) []string {
		var hs []string
		for _, s := range []string{"FX1", "FY1", "FZ1", "MX1", "MY1", "MZ1"} {
			hs = append(hs, prefix+s)
		}
		return hs
	}
	raw, err := c.of(name, heads("raw_")...)
	if err != nil {
		return nil, err
	}
	counts := make([][]float64, c.rows)
	for i := range counts {
		for _, channel := range raw {
			counts[i] = append(counts[i], channel[i]-2047)
		}
	}
	var cases []Case
	for _, kind := range []int{4, 2} {
		out, err := c.of(name, heads(fmt.Sprintf("type%d_", kind))...)
		if err != nil {
			return cases, err
		}
		in := Values{"type": Number("1", float64(kind)), "corners": square(0.25), "origin": Vector("m", r3.Vec{}), "channels": Table("1", counts...)}
		if kind == 4 {
			in["scale"], in["calibration"] = sample10Inputs4()
		} else {
			in["scale"] = sample10Inputs2()
		}
		cases = append(cases, caseOf(fmt.Sprintf("datasets/sample10/type-%d", kind), "calibration matrix", "plate_series", OpenDataset,
			c3dSamples.at("all %d rows, type %d", c.rows, kind), "raw counts less 2047, scaled, through the printed parameters", in,
			exact("forces", rowsOf(out[0], out[1], out[2]).in("N")).within(1e-8, "sixteen printed digits of up to 1500 N"),
			exact("moments", rowsOf(scaled(1e-3, out[3]), scaled(1e-3, out[4]), scaled(1e-3, out[5])).in("N·m")).within(1e-8, "sixteen printed digits of up to 190 N·m")))
	}
	return cases, nil
}
