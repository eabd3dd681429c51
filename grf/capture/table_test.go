package capture

import (
	"errors"
	"fmt"
	"io/fs"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"example.com/momentarm/grf"
	"example.com/momentarm/grf/table"
)

// sheet writes the trial as a table: row returns the cells of one sample.
func (tr trial) sheet(header string, row func(i int, lead, trail grf.Wrench) []float64) []byte {
	var b strings.Builder
	fmt.Fprintln(&b, header)
	for i := range trialSamples {
		lead, trail := tr.feet(i)
		fmt.Fprintf(&b, "%.3f", float64(i)/trialRate)
		for _, v := range row(i, lead, trail) {
			if math.IsNaN(v) {
				b.WriteString(",")
				continue
			}
			fmt.Fprintf(&b, ",%.9g", v)
		}
		b.WriteString("\n")
	}
	return []byte(b.String())
}

func six(w grf.Wrench) []float64 {
	return []float64{w.Force.X, w.Force.Y, w.Force.Z, w.Moment.X, w.Moment.Y, w.Moment.Z}
}

// pressure returns force, centre of pressure at height 0 and free moment.
func pressure(w grf.Wrench) []float64 {
	x, y := -w.Moment.Y/w.Force.Z, w.Moment.X/w.Force.Z
	return []float64{w.Force.X, w.Force.Y, w.Force.Z, x, y, w.Moment.Z - x*w.Force.Y + y*w.Force.X}
}

// The forms that a table can have give the same recording.
func TestReadTable(t *testing.T) {
	standard := func(_ int, lead, trail grf.Wrench) []float64 { return append(six(lead), six(trail)...) }
	tests := []struct {
		name   string
		trial  trial
		header string
		row    func(tr trial) func(i int, lead, trail grf.Wrench) []float64
		setup  string
		warn   string
		steps  []string
	}{
		{"swing axes by names", trial{}, "time_s,lead_fx_N,lead_fy_N,lead_fz_N,lead_mx_Nm,lead_my_Nm,lead_mz_Nm,trail_fx_N,trail_fy_N,trail_fz_N,trail_mx_Nm,trail_my_Nm,trail_mz_Nm",
			func(trial) func(int, grf.Wrench, grf.Wrench) []float64 { return standard }, `{"version": 1}`, "axes-automatic feet-automatic", []string{"swing axes"}},
		{"swing axes stated, left-handed", trial{}, "t[s],lead Fx[N],lead Fy[N],lead Fz[N],lead Mx[N·m],lead My[N·m],lead Mz[N·m],trail Fx[N],trail Fy[N],trail Fz[N],trail Mx[N·m],trail My[N·m],trail Mz[N·m]",
			func(trial) func(int, grf.Wrench, grf.Wrench) []float64 { return standard }, `{"version": 1, "golfer": {"handed": "left"}, "table": {"axes": "swing"}}`, "feet-automatic", nil},
		{"points by names, with a sum", trial{}, "time_s,lead_fx_N,lead_fy_N,lead_fz_N,lead_copx_m,lead_copy_m,lead_free_Nm,trail_fx_N,trail_fy_N,trail_fz_N,trail_copx_m,trail_copy_m,trail_free_Nm,net_fx_N,net_fy_N,net_fz_N,net_copx_m,net_copy_m,net_free_Nm",
			func(trial) func(int, grf.Wrench, grf.Wrench) []float64 {
				return func(_ int, lead, trail grf.Wrench) []float64 {
					return append(append(pressure(lead), pressure(trail)...), pressure(lead.Add(trail))...)
				}
			}, `{"version": 1}`, "axes-automatic feet-automatic", []string{"net_fx, net_fy, net_fz were not used"}},
		{"laboratory axes, left and right, left-handed", trial{hand: grf.LeftHanded, target: r3.Vec{X: -1}, origin: r3.Vec{X: 1, Y: 2}},
			"time[s],Left Fx[N],Left Fy[N],Left Fz[N],Left Mx[Nm],Left My[Nm],Left Mz[Nm],Right Fx[N],Right Fy[N],Right Fz[N],Right Mx[Nm],Right My[Nm],Right Mz[Nm]",
			func(tr trial) func(int, grf.Wrench, grf.Wrench) []float64 {
				axes, _ := grf.NewAxes(r3.Vec{Z: 1}, tr.target, tr.origin, tr.hand)
				return func(_ int, lead, trail grf.Wrench) []float64 { // a left-handed golfer leads with the right foot
					return append(six(axes.LabWrench(trail)), six(axes.LabWrench(lead))...)
				}
			}, `{"version": 1, "golfer": {"handed": "left"}, "lab": {"up": "+z", "target": "-x", "origin": ["1 m", "2 m", "0 m"]}}`, "feet-automatic", nil},
		{"y up, points, action, turned columns", trial{up: r3.Vec{Y: 1}, target: r3.Vec{Z: 1}, origin: r3.Vec{Y: 0.05}},
			"time[s],F1x[N],F1y[N],F1z[N],P1x[mm],P1z[mm],T1[N.mm],F2x[N],F2y[N],F2z[N],P2x[mm],P2z[mm],T2[N.mm]",
			func(tr trial) func(int, grf.Wrench, grf.Wrench) []float64 {
				axes, _ := grf.NewAxes(r3.Vec{Y: 1}, tr.target, tr.origin, tr.hand)
				one := func(w grf.Wrench) []float64 {
					p := pressure(w)
					f, at := axes.LabVector(w.Force), axes.LabPoint(r3.Vec{X: p[3], Y: p[4]})
					return []float64{-f.X, -f.Y, -f.Z, 1000 * at.X, -1000 * at.Z, -1000 * p[5]}
				}
				return func(_ int, lead, trail grf.Wrench) []float64 { return append(one(trail), one(lead)...) }
			}, `{"version": 1, "lab": {"up": "+y", "target": "+z", "origin": ["0 m", "5 cm", "0 m"]}, "sense": "action", "plates": {"lead": [2], "trail": [1]},
				"table": {"plates": [{"force": ["F1x", "F1y", "F1z"], "cop": ["P1x", "50 mm", "-P1z"], "free": "T1"}, {"force": ["F2x", "F2y", "F2z"], "cop": ["P2x", "0.05 m", "-P2z"], "free": "T2"}]}}`, "", nil},
		{"leaning up, points", trial{up: r3.Vec{X: 0.2, Y: 0.1, Z: 1}}, "time[s],Fx1[N],Fy1[N],Fz1[N],COPx1[m],COPy1[m],COPz1[m],Tz1[N.m],Fx2[N],Fy2[N],Fz2[N],COPx2[m],COPy2[m],COPz2[m],Tz2[N.m]",
			func(tr trial) func(int, grf.Wrench, grf.Wrench) []float64 {
				axes, _ := grf.NewAxes(tr.up, r3.Vec{Y: 1}, r3.Vec{}, grf.RightHanded)
				one := func(w grf.Wrench) []float64 {
					p := pressure(w)
					f, at := axes.LabVector(w.Force), axes.LabPoint(r3.Vec{X: p[3], Y: p[4]})
					return []float64{f.X, f.Y, f.Z, at.X, at.Y, at.Z, p[5]}
				}
				return func(_ int, lead, trail grf.Wrench) []float64 { return append(one(lead), one(trail)...) }
			}, `{"version": 1, "lab": {"up": [0.2, 0.1, 1], "target": "+y"}, "plates": {"lead": [1], "trail": [2]}}`, "origin-automatic", nil},
		{"moments about another point", trial{}, "time[s],Fx1[N],Fy1[N],Fz1[N],Mx1[Nm],My1[Nm],Mz1[Nm],Fx2[N],Fy2[N],Fz2[N],Mx2[Nm],My2[Nm],Mz2[Nm]",
			func(trial) func(int, grf.Wrench, grf.Wrench) []float64 {
				return func(_ int, lead, trail grf.Wrench) []float64 {
					return append(six(lead.MovedTo(r3.Vec{Y: 0.3, Z: -0.1})), six(trail)...)
				}
			}, `{"version": 1, "lab": {"up": "+z", "target": "+y"}, "plates": {"lead": [1], "trail": [2]}, "table": {"plates": [
				{"force": ["Fx1", "Fy1", "Fz1"], "moment": ["Mx1", "My1", "Mz1"], "about": ["0 m", "30 cm", "-10 cm"]}, {"force": ["Fx2", "Fy2", "Fz2"], "moment": ["Mx2", "My2", "Mz2"]}]}}`, "origin-automatic", nil},
		{"a sum", trial{}, "time[s],Fx[N],Fy[N],Fz[N],Mx[Nm],My[Nm],Mz[Nm]",
			func(trial) func(int, grf.Wrench, grf.Wrench) []float64 {
				return func(_ int, lead, trail grf.Wrench) []float64 { return six(lead.Add(trail)) }
			}, `{"version": 1, "lab": {"up": "+z", "target": "+y"}}`, "origin-automatic", []string{"one plate for both feet"}},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			r := read(t, "swing.csv", tt.trial.sheet(tt.header, tt.row(tt.trial)), tt.setup)
			tt.trial.check(t, r.Recording, 2e-5) // nine digits of 1e3
			if s := codes(r.Warnings); s != tt.warn {
				t.Errorf("warnings %q, want %q\n%v", s, tt.warn, r.Warnings)
			}
			hasStep(t, r, tt.steps...)
		})
	}
}

// Plate axes with corners: resolved forces, points, and raw channels.
func TestReadTablePlateAxes(t *testing.T) {
	tr := trial{target: r3.Vec{X: 1}, origin: r3.Vec{X: 2, Z: 0.1}}
	axes, sites := tr.axes(t), tr.sites(t)
	corner := func(p site) string {
		var s []string
		for _, c := range p.corners() {
			s = append(s, fmt.Sprintf(`["%.9g m", "%.9g m", "%.9g m"]`, c.X, c.Y, c.Z))
		}
		return "[" + strings.Join(s, ",") + "]"
	}
	local := func(p site, w grf.Wrench) grf.Wrench { return p.frame.WrenchIn(axes.LabWrench(w)) }
	forms := []struct {
		name   string
		header string
		row    func(p site, w grf.Wrench) []float64
		plate  string
	}{
		{"moments about the surface", "Fx%d[N],Fy%d[N],Fz%d[N],Mx%d[N·m],My%d[N·m],Mz%d[N·m]",
			func(p site, w grf.Wrench) []float64 { return six(local(p, w)) },
			`"force": ["Fx%d", "Fy%d", "Fz%d"], "moment": ["Mx%d", "My%d", "Mz%d"]`},
		{"moments about the sensors", "Fx%d[N],Fy%d[N],Fz%d[N],Mx%d[N·m],My%d[N·m],Mz%d[N·m]",
			func(p site, w grf.Wrench) []float64 { return six(local(p, w).MovedTo(r3.Vec{X: 0.01, Z: 0.05})) },
			`"force": ["Fx%d", "Fy%d", "Fz%d"], "moment": ["Mx%d", "My%d", "Mz%d"], "origin": ["-10 mm", "0 m", "-50 mm"]`},
		{"points", "Fx%d[N],Fy%d[N],Fz%d[N],COPx%d[cm],COPy%d[cm],Tz%d[N·m]",
			func(p site, w grf.Wrench) []float64 {
				v := pressure(local(p, w))
				v[3], v[4] = 100*v[3], 100*v[4]
				return v
			},
			`"force": ["Fx%d", "Fy%d", "Fz%d"], "cop": ["COPx%d", "COPy%d"], "free": "Tz%d"`},
		{"volts", "a%d[mV],b%d[mV],c%d[mV],d%d[mV],e%d[mV],f%d[mV]",
			func(p site, w grf.Wrench) []float64 {
				v := six(local(p, w))
				return []float64{v[0] * 2, v[1] * 2, v[2] / 2, v[3] * 4, v[4] * 4, v[5] * 5}
			},
			`"type": 4, "channels": ["a%d", "b%d", "c%d", "d%d", "e%d", "f%d"], "calibration": [[500,0,0,0,0,0],[0,500,0,0,0,0],[0,0,2000,0,0,0],[0,0,0,250,0,0],[0,0,0,0,250,0],[0,0,0,0,0,200]]`},
	}
	for _, form := range forms {
		t.Run(form.name, func(t *testing.T) {
			num := func(s string, n int) string { return strings.ReplaceAll(s, "%d", fmt.Sprint(n)) }
			header := "time[s]," + num(form.header, 1) + "," + num(form.header, 2)
			data := tr.sheet(header, func(_ int, lead, trail grf.Wrench) []float64 {
				return append(form.row(sites[0], lead), form.row(sites[1], trail)...)
			})
			setup := fmt.Sprintf(`{"version": 1, "lab": {"target": "+x"}, "table": {"axes": "plate", "plates": [{"corners": %s, %s}, {"corners": %s, %s}]}}`,
				corner(sites[0]), num(form.plate, 1), corner(sites[1]), num(form.plate, 2))
			r := read(t, "swing.csv", data, setup)
			tr.check(t, r.Recording, 2e-5)
			if s := codes(r.Warnings); s != "feet-automatic" {
				t.Errorf("warnings %v", r.Warnings)
			}
			hasStep(t, r, "lead foot: plate 1", "origin at (2.0000, 0.0000, 0.1000) m")
		})
	}
}

// A row without a centre of pressure: a foot in the air, or a hole in the data.
func TestReadTableWithoutPoint(t *testing.T) {
	rows := []string{"0,0,10,,,", "1,2,500,0.1,0.2,3", "1,2,500,0.3,0.2,3", "1,2,5,,,", "1,2,500,,,", ",,,,,", "1,2,500,0.1,0.2,3"}
	data := "rate: 100 Hz\nfx[N],fy[N],fz[N],copx[m],copy[m],free[N·m]\n" + strings.Join(rows, "\n") + "\n"
	r := read(t, "a.csv", []byte(data), `{"version": 1, "lab": {"up": "+z", "target": "+y"}, "table": {"axes": "lab"}}`)
	if s := codes(r.Warnings); s != "cop-filled cop-missing origin-automatic" {
		t.Errorf("got %v", r.Warnings)
	}
	at := r3.Vec{X: 0.1, Y: 0.2}
	want := []grf.Wrench{
		grf.At(r3.Vec{Z: 10}, at, r3.Vec{}), grf.At(r3.Vec{X: 1, Y: 2, Z: 500}, at, r3.Vec{Z: 3}),
		grf.At(r3.Vec{X: 1, Y: 2, Z: 500}, r3.Vec{X: 0.3, Y: 0.2}, r3.Vec{Z: 3}),
		grf.At(r3.Vec{X: 1, Y: 2, Z: 5}, r3.Vec{X: 0.3, Y: 0.2}, r3.Vec{}), {}, {}, grf.At(r3.Vec{X: 1, Y: 2, Z: 500}, at, r3.Vec{Z: 3}),
	}
	for i, w := range r.Recording.Net {
		if i == 4 || i == 5 {
			if !w.IsNaN() {
				t.Errorf("row %d: %v", i, w)
			}
			continue
		}
		if d := w.Sub(want[i]); !(r3.Norm(d.Force)+r3.Norm(d.Moment) < 1e-9) {
			t.Errorf("row %d: got %v, want %v", i, w, want[i])
		}
	}
}

func TestReadTableErrors(t *testing.T) {
	const lab = `"lab": {"up": "+z", "target": "+y"}`
	six := "t[s],Fx[N],Fy[N],Fz[N],Mx[Nm],My[Nm],Mz[Nm]\n0,0,0,500,0,0,0\n0.01,0,0,500,0,0,0\n"
	twice := "t[s],Fx1[N],Fy1[N],Fz1[N],Mx1[Nm],My1[Nm],Mz1[Nm],Fx2[N],Fy2[N],Fz2[N],Mx2[Nm],My2[Nm],Mz2[Nm]\n0,0,0,500,0,0,0,0,0,500,0,0,0\n1,0,0,500,0,0,0,0,0,500,0,0,0\n"
	tests := []struct{ name, data, setup, path, says string }{
		{"no target", six, `{"version": 1}`, "lab.up", "missing"},
		{"no target but up", six, `{"version": 1, "lab": {"up": "+z"}}`, "lab.target", "missing"},
		{"vertical force alone", "t[s],Fz[N]\n0,500\n1,500\n", `{"version": 1, ` + lab + `}`, "table.plates", "not where it acts"},
		{"two components", "t[s],Fz[N],Fx[N]\n0,500,1\n1,500,1\n", `{"version": 1, ` + lab + `}`, "table.plates", "x, y and z"},
		{"forces alone", "t[s],Fx[N],Fy[N],Fz[N]\n0,0,0,500\n1,0,0,500\n", `{"version": 1, ` + lab + `}`, "table.plates", "where it acts"},
		{"no free moment", "t[s],Fx[N],Fy[N],Fz[N],COPx[m],COPy[m]\n0,0,0,500,0,0\n1,0,0,500,0,0\n", `{"version": 1, ` + lab + `}`, "table.plates", `"free": "0 N·m"`},
		{"nothing", "t[s],a[N]\n0,1\n1,1\n", `{"version": 1, ` + lab + `}`, "table.plates", "among a"},
		{"two groups", twice, `{"version": 1, ` + lab + `}`, "plates", `"lead": [1]`},
		{"no such column", six, `{"version": 1, ` + lab + `, "table": {"plates": [{"force": ["Fx", "Fy", "Fzz"], "moment": ["Mx", "My", "Mz"]}]}}`, "table.plates[0].force[2]", `"Fz"`},
		{"no such turned column", six, `{"version": 1, ` + lab + `, "table": {"plates": [{"force": ["Fx", "Fy", "-Fzz"], "moment": ["Mx", "My", "Mz"]}]}}`, "table.plates[0].force[2]", `"Fz"`},
		{"a moment for a force", six, `{"version": 1, ` + lab + `, "table": {"plates": [{"force": ["Fx", "Fy", "Mz"], "moment": ["Mx", "My", "Mz"]}]}}`, "table.plates[0].force[2]", "N·m"},
		{"plate axes without corners", six, `{"version": 1, ` + lab + `, "table": {"axes": "plate"}}`, "table.plates (by the names of the columns).corners", "missing"},
		{"corners without plate axes", six, `{"version": 1, ` + lab + `, "table": {"plates": [{"force": ["Fx", "Fy", "Fz"], "moment": ["Mx", "My", "Mz"], "origin": ["0 m", "0 m", "0 m"]}]}}`, "table.plates[0].axes", "plate"},
		{"swing axes and a laboratory", six, `{"version": 1, ` + lab + `, "table": {"axes": "swing"}}`, "lab", "leave lab out"},
		{"mixed axes", twice, `{"version": 1, ` + lab + `, "table": {"plates": [{"axes": "swing", "force": ["Fx1", "Fy1", "Fz1"], "moment": ["Mx1", "My1", "Mz1"]}, {"axes": "lab", "force": ["Fx2", "Fy2", "Fz2"], "moment": ["Mx2", "My2", "Mz2"]}]}}`, "table.plates", "some"},
		{"points in two columns", "t[s],Fx[N],Fy[N],Fz[N],x[m],y[m],free[Nm]\n0,0,0,500,0,0,0\n1,0,0,500,0,0,0\n", `{"version": 1, ` + lab + `, "table": {"plates": [{"force": ["Fx", "Fy", "Fz"], "cop": ["x", "y"], "free": "free"}]}}`, "table.plates[0].cop", `"0 m"`},
		{"points at two heights", "t[s],Fx[N],Fy[N],Fz[N],COPx[m],COPy[m],COPz[m],Tz[Nm]\n0,0,0,500,0,0,0,0\n1,0,0,500,0,0,0.1,0\n", `{"version": 1, ` + lab + `}`, "table.plates (by the names of the columns).cop", "one plane"},
		{"no points", "t[s],Fx[N],Fy[N],Fz[N],COPx[m],COPy[m],Tz[Nm]\n0,0,0,500,,,0\n1,0,0,500,,,0\n", `{"version": 1, ` + lab + `}`, "table.plates (by the names of the columns).cop", "no position"},
		{"volts without calibration", "t[s],a[V],b[V],c[V],d[V],e[V],f[V]\n0,1,1,1,1,1,1\n1,1,1,1,1,1,1\n", `{"version": 1, ` + lab + `, "table": {"plates": [{"axes": "plate", "type": 2, "channels": ["a", "b", "c", "d", "e", "f"], "corners": [["1 m","1 m","0 m"],["0 m","1 m","0 m"],["0 m","0 m","0 m"],["1 m","0 m","0 m"]]}]}}`, "table.plates[0].channels[0]", "channel_scale"},
		{"five channels", six, `{"version": 1, ` + lab + `, "table": {"plates": [{"axes": "plate", "type": 2, "channels": ["Fx", "Fy", "Fz", "Mx", "My"], "corners": [["1 m","1 m","0 m"],["0 m","1 m","0 m"],["0 m","0 m","0 m"],["1 m","0 m","0 m"]]}]}}`, "table.plates[0].channels", "6"},
		{"flat corners", six, `{"version": 1, ` + lab + `, "table": {"plates": [{"axes": "plate", "force": ["Fx", "Fy", "Fz"], "moment": ["Mx", "My", "Mz"], "corners": [["0 m","0 m","0 m"],["0 m","0 m","0 m"],["0 m","0 m","0 m"],["0 m","0 m","0 m"]]}]}}`, "table.plates[0]", "corners"},
		{"changes of C3D plates", six, `{"version": 1, ` + lab + `, "plates": {"change": [{"plate": 1}]}}`, "plates.change", "table.plates"},
		{"settings for C3D", six, `{"version": 1, ` + lab + `, "c3d": {"samples": "signed"}}`, "c3d", "table"},
		{"zero by the file", six, `{"version": 1, ` + lab + `, "zero": "file"}`, "zero.method", "C3D"},
		{"events", six, `{"version": 1, ` + lab + `, "events": {"a": "impact"}}`, "events", "marks"},
		{"points of the file", six, `{"version": 1, ` + lab + `, "feet": {"lead": {"heel": "a", "toe": "b", "width": "9 cm"}}}`, "feet.lead.heel", "three lengths"},
		{"never loaded", strings.ReplaceAll(six, "500", "50"), `{"version": 1, ` + lab + `}`, "", "never carries 100 N"},
		{"a row too short", six + "0.02,0\n", `{"version": 1}`, "", "line 4"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			r, err := Read("a.csv", []byte(tt.data), readSetup(t, tt.setup), nil)
			if r != nil || err == nil {
				t.Fatalf("result %v, error %v", r, err)
			}
			var e *SetupError
			path := ""
			if errors.As(err, &e) {
				path = e.Path
			}
			if path != tt.path || !strings.Contains(err.Error(), tt.says) {
				t.Errorf("got %q at %q; want %q at %q", err, path, tt.says, tt.path)
			}
		})
	}
	_, err := Read("a.csv", []byte(six+"0.02,0\n"), nil, nil)
	var place *table.Error
	if !errors.As(err, &place) || place.Line != 4 {
		t.Errorf("%v has no place", err)
	}
}

func TestReadCOM(t *testing.T) {
	tr := trial{target: r3.Vec{X: -1}, origin: r3.Vec{X: 1, Y: 2}}
	axes := tr.axes(t)
	files := map[string]string{
		"com.csv":     "time[s],x[mm],y[mm],z[mm]\n0.010,900,2100,1000\n0.030,901,2100,1001\n0.055,,,\n0.070,903,2100,1003\n",
		"swing.csv":   "time[ms];com_x[m];com_y[m];com_z[m];x[m]\n15;0,1;0,2;1;9\n25;0,1;0,2;1;9\n",
		"far.csv":     "time[s],x[m],y[m],z[m]\n100,0,0,1\n101,0,0,1\n",
		"none.csv":    "time[s],x[m],y[m],z[m]\n0,,,\n1,,,\n",
		"force.csv":   "time[s],x[N],y[m],z[m]\n0,1,1,1\n1,1,1,1\n",
		"two.csv":     "time[s],x[m],y[m]\n0,1,1\n1,1,1\n",
		"bad.csv":     "time[s],x[m],y[m],z[m]\n0,1,1,a\n1,1,1,1\n",
		"heights.csv": "time[s],x[m],y[m],z[m]\n0,1,1000,1\n1,1,1000,1\n",
	}
	open := func(name string) ([]byte, error) {
		if s, ok := files[name]; ok {
			return []byte(s), nil
		}
		return nil, fs.ErrNotExist
	}
	data := tr.c3d(t)
	readCOM := func(com string) (*Result, error) {
		return Read("swing.c3d", data, readSetup(t, `{"version": 1, "lab": {"target": "-x"}, "com": {`+com+`}}`), open)
	}
	r, err := readCOM(`"file": "com.csv", "axes": "lab", "sd": "5 mm", "delay": "10 ms", "slow_sd": "2 cm", "slow_time": "0.4 s", "seek_delay": "30 ms"`)
	if err != nil {
		t.Fatal(err)
	}
	if c := r.COM; c.Name != "com.csv" || c.Model != "" || c.SD != (r3.Vec{X: 0.005, Y: 0.005, Z: 0.005}) || c.SlowSD != 0.02 || c.SlowTime != 0.4 || c.Delay != 0.01 || c.SeekDelay != 0.03 {
		t.Errorf("source %+v", c)
	}
	c := r.COM.Track
	if len(c.Time) != 4 || c.Time[0] != 0.01 || c.Time[2] != 0.055 || c.SD != (r3.Vec{X: 0.005, Y: 0.005, Z: 0.005}) {
		t.Errorf("track %+v", c)
	}
	if want := axes.Point(r3.Vec{X: 0.903, Y: 2.1, Z: 1.003}); r3.Norm(r3.Sub(c.Position[3], want)) > 1e-12 {
		t.Errorf("got %v, want %v", c.Position[3], want)
	}
	if p := c.Position[2]; !math.IsNaN(p.X) || !math.IsNaN(p.Y) || !math.IsNaN(p.Z) {
		t.Errorf("a position from nowhere: %v", p)
	}
	hasStep(t, r, "centre of mass from com.csv: 4 positions in lab axes, 1 missing; its stamps are late by 0.01 s or up to 0.03 s more or less, to be found")
	if r, err = readCOM(`"file": "swing.csv", "axes": "swing", "columns": ["com_x", "com_y", "com_z"]`); err != nil || r.COM.Track.Position[1] != (r3.Vec{X: 0.1, Y: 0.2, Z: 1}) || r.COM.Track.Time[1] != 0.025 {
		t.Errorf("%v, %v", r, err)
	}
	if r, err = readCOM(`"file": "heights.csv", "axes": "swing"`); err != nil || !strings.Contains(codes(r.Warnings), "com-doubtful") {
		t.Errorf("%v, %v", r, err)
	}
	for _, tt := range []struct{ com, path, says string }{
		{`"file": "gone.csv", "axes": "lab"`, "com.file", "not exist"},
		{`"file": "far.csv", "axes": "lab"`, "com.file", "clocks"},
		{`"file": "far.csv", "axes": "lab", "delay": "90 s", "seek_delay": "1 s"`, "com.file", "clocks"},
		{`"file": "none.csv", "axes": "lab"`, "com.file", "no position"},
		{`"file": "force.csv", "axes": "lab"`, "com.columns[0]", "length"},
		{`"file": "two.csv", "axes": "lab"`, "com.columns", "x, y and z"},
		{`"file": "com.csv", "axes": "lab", "columns": ["x", "y", "zz"]`, "com.columns[2]", `"z"`},
		{`"file": "bad.csv", "axes": "lab"`, "com.file", "bad.csv: table: line 2, column 4 (z)"},
	} {
		r, err := readCOM(tt.com)
		var e *SetupError
		if r != nil || !errors.As(err, &e) || e.Path != tt.path || !strings.Contains(err.Error(), tt.says) {
			t.Errorf("%s: got %v", tt.com, err)
		}
	}
}

// A standing trial on two plates, dos Santos et al., PeerJ 5:e3626 (2017): y up,
// to the subject's right is +z. The net centre of pressure that the authors
// computed must come out; they rounded it to 1e-5 m.
func TestPublicTwoPlates(t *testing.T) {
	root := datasets(t)
	data, err := os.ReadFile(filepath.Join(root, "pds", "PDS13OR1grf.txt"))
	if err != nil {
		t.Skip(err)
	}
	r := read(t, "PDS13OR1grf.txt", data, `{"version": 1, "lab": {"up": "+y", "target": "-z"}, "table": {"units": {
		"Time": "s", "RGRF_X": "N", "RGRF_Y": "N", "RGRF_Z": "N", "LGRF_X": "N", "LGRF_Y": "N", "LGRF_Z": "N",
		"GRFNET_X": "N", "GRFNET_Y": "N", "GRFNET_Z": "N", "RCOP_X": "m", "RCOP_Y": "m", "RCOP_Z": "m",
		"LCOP_X": "m", "LCOP_Y": "m", "LCOP_Z": "m", "COPNET_X": "m", "COPNET_Y": "m", "COPNET_Z": "m",
		"RFREEMOMENT_Y": "N·m", "LFREEMOMENT_Y": "N·m"}}}`)
	hasStep(t, r, "lead foot: plate 2; trail foot: plate 1")
	opt := table.Options{Units: map[string]string{}}
	for _, name := range strings.Fields(string(data[:strings.IndexByte(string(data), '\n')])) {
		opt.Units[name] = "1"
	}
	opt.Units["Time"] = "s"
	tab, err := table.Decode(data, opt)
	if err != nil {
		t.Fatal(err)
	}
	x, _ := tab.Column("COPNET_X")
	z, _ := tab.Column("COPNET_Z")
	net, err := r.Recording.NetWrenches(nil)
	if err != nil {
		t.Fatal(err)
	}
	for i, w := range net {
		// Swing axes here: X is the laboratory's x (up × ... : −z × y), Y its −z.
		at := r3.Vec{X: -w.Moment.Y / w.Force.Z, Y: w.Moment.X / w.Force.Z}
		if math.Abs(at.X-x.Values[i]) > 1e-5 || math.Abs(at.Y+z.Values[i]) > 1e-5 {
			t.Fatalf("row %d: centre of pressure %v, want (%g, %g)", i, at, x.Values[i], -z.Values[i])
		}
	}
}
