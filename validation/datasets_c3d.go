package validation

import (
	"fmt"
	"io/fs"
	"math"
	"path"
	"strconv"
	"strings"

	"gonum.org/v1/gonum/spatial/r3"
)

// gappy returns the named columns, with NaN for empty cells.
func (c *columns) gappy(name string, heads ...string) ([][]float64, error) {
	out := make([][]float64, len(heads))
	for i, h := range heads {
		if x, ok := c.numbers[h]; ok {
			out[i] = x
			continue
		}
		words, ok := c.words[h]
		if !ok {
			return nil, fmt.Errorf("%s: no column %s", name, h)
		}
		for k, w := range words {
			x := math.NaN()
			if w = strings.TrimSpace(w); w != "" {
				var err error
				if x, err = strconv.ParseFloat(w, 64); err != nil {
					return nil, fmt.Errorf("%s: column %s, row %d: %q is no number", name, h, k+1, w)
				}
			}
			out[i] = append(out[i], x)
		}
	}
	return out, nil
}

// Files of the public collection that py-c3d stops at, because header and
// parameters contradict each other: their values were worked out only.
var unreadByPyC3D = map[string]bool{
	"sample15/FP1.C3D": true, "sample18/bad_parameter_section.c3d": true, "sample24/MotionMonitorC3D.c3d": true,
}

// Files whose POINT:UNITS are metres; those of the others are millimetres.
var inMetres = map[string]bool{"sample15/FP1.C3D": true, "sample24/MotionMonitorC3D.c3d": true}

const c3dGenerated = "testdata/gen/c3d_values.py"

// c3dCases hold what other readers find in public C3D files: c3d/oracle has up
// to three tables for each.
func c3dCases(folder fs.FS) ([]Case, error) {
	var cases []Case
	for _, kind := range []struct {
		suffix string
		cases  func(fs.FS, string, string, Value) ([]Case, error)
	}{
		{".points.csv", c3dPointCases}, {".analog.csv", c3dChannelCases}, {".plates.csv", c3dPlateCases},
	} {
		names, err := fs.Glob(folder, "c3d/oracle/*"+kind.suffix)
		if err != nil {
			return cases, err
		}
		for _, table := range names {
			name := strings.Replace(strings.TrimSuffix(path.Base(table), kind.suffix), "__", "/", 1)
			if strings.HasPrefix(name, "synthetic/") {
				continue // not public
			}
			content, err := fs.ReadFile(folder, "c3d/"+name)
			if err != nil {
				continue // the files that are there will do
			}
			cs, err := kind.cases(folder, table, name, File("c3d/"+name, content))
			if err != nil {
				return cases, err
			}
			cases = append(cases, cs...)
		}
	}
	if len(cases) == 0 {
		return nil, fmt.Errorf("c3d/oracle: no table with its file: %w", fs.ErrNotExist)
	}
	return cases, nil
}

// readerOf returns where values of a file come from.
func readerOf(name, what string) (Level, Source) {
	if unreadByPyC3D[name] {
		return ClosedForm, c3dGuide.at("%s of %s, read as the guide says by %s", what, name, c3dGenerated)
	}
	return ReferenceLibrary, pyC3D.at("%s of %s; without its rounding to 32 bits by %s", what, name, c3dGenerated)
}

func c3dPointCases(folder fs.FS, table, name string, file Value) ([]Case, error) {
	t, err := readColumns(folder, table, ',')
	if err != nil {
		return nil, err
	}
	v, err := t.gappy(table, "n_valid", "first_valid_frame0", "last_valid_frame0", "x", "y", "z", "x_last", "y_last", "z_last", "mean_x", "mean_y", "mean_z")
	if err != nil {
		return nil, err
	}
	metre, unit := 1e-3, "mm"
	if inMetres[name] {
		metre, unit = 1, "m"
	}
	const never = "the point is never valid"
	place := func(output string, k int) Want {
		p := rowsOf(scaled(metre, v[k]), scaled(metre, v[k+1]), scaled(metre, v[k+2])).undefinedIn(never)
		return exact(output, p).within(1e-10, "rounding of float64, of up to 10 m and of sums over all frames")
	}
	count := func(output string, k int) Want {
		return exact(output, List("1", v[k]...).undefinedIn(never)).within(1e-9, "whole numbers")
	}
	level, source := readerOf(name, "points")
	return []Case{caseOf("datasets/c3d/"+name+"/points", "points of a file", "c3d_points", level, source,
		fmt.Sprintf("%d points in %s", t.rows, unit), Values{"file": file},
		count("valid", 0), count("first_frame", 1), count("last_frame", 2), place("first", 3), place("last", 6), place("mean", 9)).
		note("py-c3d multiplies in 32 bits: up to 1.3e-4 mm away where points are stored as whole numbers")}, nil
}

func c3dChannelCases(folder fs.FS, table, name string, file Value) ([]Case, error) {
	t, err := readColumns(folder, table, ',')
	if err != nil {
		return nil, err
	}
	outputs := []string{"stored_first", "stored_last", "first", "second", "last", "mean", "lowest", "highest"}
	v, err := t.gappy(table, "raw_first", "raw_last", "first", "second", "last", "mean", "min", "max")
	if err != nil {
		return nil, err
	}
	var wants []Want
	for i, o := range outputs {
		size := 1.0
		for _, x := range v[i] {
			size = math.Max(size, math.Abs(x))
		}
		wants = append(wants, exact(o, List("1", v[i]...).undefinedIn("the scale of the channel is unusable")).
			within(1e-12*size, "rounding of float64, in products and in sums over all samples"))
	}
	level, source := readerOf(name, "analog channels")
	return []Case{caseOf("datasets/c3d/"+name+"/channels", "channels of a file", "c3d_channels", level, source,
		fmt.Sprintf("%d channels", t.rows), Values{"file": file}, wants...)}, nil
}

func c3dPlateCases(folder fs.FS, table, name string, file Value) ([]Case, error) {
	t, err := readColumns(folder, table, ',')
	if err != nil {
		return nil, err
	}
	v, err := t.gappy(table, "plate", "analog_sample0", "Fx_lab", "Fy_lab", "Fz_lab", "COPx_lab", "COPy_lab", "COPz_lab", "Tz_plate_axis",
		"type", "Mx_surface", "My_surface", "Mz_surface")
	if err != nil {
		return nil, err
	}
	baseline := t.words["baseline"]
	if len(baseline) != t.rows {
		return nil, fmt.Errorf("%s: no column baseline", table)
	}
	metre := 1e-3
	if inMetres[name] {
		metre = 1
	}
	type rows struct {
		kind                  float64
		samples, frees        []float64
		forces, points, about []r3.Vec
	}
	byPlate := map[int]*rows{}
	last := 0
	for i := range t.rows {
		if baseline[i] != "none" {
			continue // zeroed: the file's own choice of an unloaded stretch
		}
		n := int(v[0][i])
		r := byPlate[n]
		if r == nil {
			r = &rows{kind: v[9][i]}
			byPlate[n] = r
		}
		vec := func(k int) r3.Vec { return r3.Vec{X: v[k][i], Y: v[k+1][i], Z: v[k+2][i]} }
		r.samples = append(r.samples, v[1][i])
		r.forces = append(r.forces, vec(2))
		r.points = append(r.points, r3.Scale(metre, vec(5)))
		r.frees = append(r.frees, metre*v[8][i])
		r.about = append(r.about, vec(10))
		last = max(last, n)
	}
	const light = "under the load threshold"
	var cases []Case
	for n := 1; n <= last; n++ {
		r := byPlate[n]
		if r == nil {
			continue
		}
		size := 1.0
		var moments float64
		for i, f := range r.forces {
			size = math.Max(size, r3.Norm(f))
			moments += r3.Norm(r.about[i])
		}
		wants := []Want{exact("forces", Vectors("N", r.forces...)).within(1e-11*size, "rounding of float64")}
		text := ""
		if r.kind == 3 && moments == 0 {
			text = "the file does not state the distances of the sensors: moments, and with them points, are not known"
		} else {
			wants = append(wants,
				exact("points", Vectors("m", r.points...).undefinedIn(light)).within(1e-9, "rounding of float64 in moments of up to 1000 N·m, over 20 N and more"),
				exact("free_moments", List("N·m", r.frees...).undefinedIn(light)).within(1e-9*math.Max(1, size/1000), "rounding of float64"))
		}
		cases = append(cases, caseOf(fmt.Sprintf("datasets/c3d/%s/plate-%d", name, n), "plates of a file", "c3d_plate", ClosedForm,
			c3dGuide.at("group FORCE_PLATFORM of %s, evaluated as the guide says by %s", name, c3dGenerated),
			fmt.Sprintf("type %g, %d samples, not zeroed", r.kind, len(r.samples)),
			Values{"file": file, "plate": Number("1", float64(n)), "samples": List("1", r.samples...)}, wants...).note(text))
	}
	return cases, nil
}
