package com

import (
	"encoding/csv"
	"math"
	"os"
	"path/filepath"
	"strconv"
	"testing"

	"example.com/momentarm/grf"
	"gonum.org/v1/gonum/spatial/r3"
)

// The public data sets behind these tests:
//
//   - walk: C. Le Mouel, center_of_mass, examples/example_data.mat (commit
//     be3a7131, MIT), converted to CSV; belongs to Le Mouel, Peer Community J.
//     5:e10 (2025).
//   - run: BMClab/BMC, data/opensim/grf_run.mot and motion_capture_run.trc
//     (commit fa666861, CC BY 4.0), with a centre of mass from 11 segments.
//   - synth: a bouncing gait in closed form, with noise.
//
// Their 'estimates' were computed by an independent program in another
// language: fb is the published procedure, which was checked against its
// author's code to 1e-14; rts a plain Rauch–Tung–Striebel smoother.

// table is a CSV file of numbers.
type table map[string][]float64

func dataset(t *testing.T, name ...string) string {
	t.Helper()
	dir := os.Getenv("GRF_DATASETS")
	if dir == "" {
		t.Skip("set GRF_DATASETS to a folder with the public data sets; see validation/doc.go")
	}
	return filepath.Join(append([]string{dir, "com"}, name...)...)
}

func readTable(t *testing.T, name ...string) table {
	t.Helper()
	f, err := os.Open(dataset(t, name...))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	rows, err := csv.NewReader(f).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	tab := table{}
	for c, name := range rows[0] {
		col := make([]float64, len(rows)-1)
		for i, row := range rows[1:] {
			if col[i], err = strconv.ParseFloat(row[c], 64); err != nil {
				t.Fatal(err)
			}
		}
		tab[name] = col
	}
	return tab
}

// vectors returns the three columns with these names.
func (tab table) vectors(x, y, z string) []r3.Vec {
	v := make([]r3.Vec, len(tab[x]))
	for i := range v {
		v[i] = r3.Vec{X: tab[x][i], Y: tab[y][i], Z: tab[z][i]}
	}
	return v
}

// forces turns vectors into wrenches without moments.
func forces(f []r3.Vec) []grf.Wrench {
	ws := make([]grf.Wrench, len(f))
	for i := range f {
		ws[i].Force = f[i]
	}
	return ws
}

// blocks returns the means of n vectors each.
func blocks(v []r3.Vec, n int) []r3.Vec {
	out := make([]r3.Vec, len(v)/n)
	for i := range out {
		out[i] = meanForce(v[n*i : n*(i+1)])
	}
	return out
}

// rms returns the root mean square of a − b per axis.
func rms(a, b []r3.Vec) r3.Vec {
	var q r3.Vec
	for i := range b {
		d := r3.Sub(a[i], b[i])
		q = r3.Add(q, r3.Vec{X: d.X * d.X, Y: d.Y * d.Y, Z: d.Z * d.Z})
	}
	n := float64(len(b))
	return r3.Vec{X: math.Sqrt(q.X / n), Y: math.Sqrt(q.Y / n), Z: math.Sqrt(q.Z / n)}
}

// apart returns the largest component of a − b.
func apart(a, b []r3.Vec) float64 {
	far := 0.0
	for i := range b {
		if d := largest(r3.Sub(a[i], b[i])); !(d <= far) {
			far = d
		}
	}
	return far
}

// trial is one recording of a data set with its published estimates.
type trial struct {
	name       string
	mass       float64
	rate       float64 // of positions and estimates
	forceRate  float64
	force, com []r3.Vec
	want       table
	fullForce  []r3.Vec // at forceRate
}

func trials(t *testing.T) []trial {
	walk := trial{name: "walk", mass: 60.80092605592879, rate: 200, forceRate: 1000,
		fullForce: readTable(t, "walk", "grf.csv").vectors("Fx", "Fy", "Fz"),
		com:       readTable(t, "walk", "com_kinematic.csv").vectors("x", "y", "z"),
		want:      readTable(t, "walk", "oracle", "walk_estimates.csv")}
	run := trial{name: "run", mass: 69.5, rate: 150, forceRate: 300,
		com:  readTable(t, "run", "com_kinematic.csv").vectors("x", "y", "z"),
		want: readTable(t, "run", "oracle", "run_estimates.csv")}
	g := readTable(t, "run", "grf.csv")
	right, left := g.vectors("RFx", "RFy", "RFz"), g.vectors("LFx", "LFy", "LFz")
	for i := range right {
		run.fullForce = append(run.fullForce, r3.Add(right[i], left[i]))
	}
	synth := trial{name: "synth", mass: 70, rate: 200, forceRate: 1000,
		fullForce: readTable(t, "synth", "run_noisy_grf.csv").vectors("Fx", "Fy", "Fz"),
		com:       readTable(t, "synth", "run_noisy_com.csv").vectors("x", "y", "z"),
		want:      readTable(t, "synth", "oracle", "run_noisy_estimates.csv")}
	all := []trial{walk, run, synth}
	for i := range all {
		c := &all[i]
		c.force = blocks(c.fullForce, int(c.forceRate/c.rate))
	}
	return all
}

// track returns the positions as a track.
func (c *trial) track(n int, sd float64) grf.Track {
	tr := grf.Track{SD: r3.Vec{X: sd, Y: sd, Z: sd}}
	for i := range n {
		tr.Time = append(tr.Time, float64(i)/c.rate)
		tr.Position = append(tr.Position, c.com[i])
	}
	return tr
}

// The published smoother in its own configuration: forces averaged down to the
// common rate and held, no bias, no mass error, 2 N and 2 mm.
func TestAgainstIndependentSmoother(t *testing.T) {
	none := math.NaN()
	for _, c := range trials(t) {
		n := len(c.want["t"])
		s, err := newSmoother(forces(c.force[:n]), 0, c.rate, Options{
			Gravity: 9.81, Mass: c.mass, Quiet: Window{From: none}, Still: Window{From: none},
			Noise:   Noise{BiasSD: none, MassSD: none},
			Sources: []Source{{Track: c.track(n, 0.002)}},
		})
		if err != nil {
			t.Fatal(err)
		}
		s.d.held = true
		net := forces(c.force[:n])
		if err := s.stances(net); err != nil {
			t.Fatal(err)
		}
		if err := s.sources(); err != nil {
			t.Fatal(err)
		}
		s.run(s.known)
		s.keep()
		for _, v := range []struct {
			name string
			got  []r3.Vec
			tol  float64 // nine digits are printed
		}{
			{"pos", s.path.Position, 1e-6}, {"vel", s.path.Velocity, 1e-6},
			{"sdpos", s.path.PositionSD, 1e-9}, {"sdvel", s.path.VelocitySD, 1e-9},
		} {
			want := c.want.vectors("rts_"+v.name+"_x", "rts_"+v.name+"_y", "rts_"+v.name+"_z")
			d := apart(v.got, want)
			t.Logf("%s %s: %.2g apart", c.name, v.name, d)
			if !(d <= v.tol) {
				t.Errorf("%s %s: up to %g apart, want %g", c.name, v.name, d, v.tol)
			}
		}
	}
}
