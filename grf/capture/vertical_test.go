package capture

import (
	"errors"
	"fmt"
	"math"
	"strings"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"example.com/momentarm/grf"
)

// checkVertical holds the vertical part of a recording against the trial, and
// wants the rest to be NaN.
func (tr trial) checkVertical(t *testing.T, rec *grf.Recording) {
	t.Helper()
	if !rec.VerticalOnly() {
		t.Fatal("the recording is not vertical only")
	}
	one := func(what string, i int, got, want grf.Wrench) {
		f, m := got.Force, got.Moment
		if !(math.Abs(f.Z-want.Force.Z) < 2e-5 && math.Abs(m.X-want.Moment.X) < 2e-5 && math.Abs(m.Y-want.Moment.Y) < 2e-5) {
			t.Fatalf("%s foot, sample %d: %v, want the vertical part of %v", what, i, got, want)
		}
		if !math.IsNaN(f.X) || !math.IsNaN(f.Y) || !math.IsNaN(m.Z) {
			t.Fatalf("%s foot, sample %d: %v, horizontal force was not measured", what, i, got)
		}
	}
	for i := range rec.Len() {
		lead, trail := tr.feet(i)
		if rec.Split() {
			one("lead", i, rec.Lead[i], lead)
			one("trail", i, rec.Trail[i], trail)
		} else {
			one("no", i, rec.Net[i], lead.Add(trail))
		}
	}
}

// loadAt returns the vertical force and the centre of pressure, empty in the air.
func loadAt(w grf.Wrench) []float64 {
	p := pressure(w)
	return []float64{w.Force.Z, p[3], p[4]}
}

// The forms of a table without horizontal forces.
func TestReadVerticalTable(t *testing.T) {
	left := trial{hand: grf.LeftHanded, target: r3.Vec{X: -1}, origin: r3.Vec{X: 1, Y: 2}}
	upY := trial{up: r3.Vec{Y: 1}, target: r3.Vec{Z: 1}, origin: r3.Vec{Y: 0.05}}
	inLab := func(tr trial, w grf.Wrench) (at r3.Vec, axes grf.Axes) {
		axes = tr.axes(t)
		p := pressure(w)
		return axes.LabPoint(r3.Vec{X: p[3], Y: p[4]}), axes
	}
	tests := []struct {
		name   string
		trial  trial
		header string
		row    func(i int, lead, trail grf.Wrench) []float64
		setup  string
		warn   string
	}{
		{"points by names", trial{}, "time[s],lead_fz[N],lead_copx[m],lead_copy[m],trail_fz[N],trail_copx[m],trail_copy[m]",
			func(_ int, lead, trail grf.Wrench) []float64 { return append(loadAt(lead), loadAt(trail)...) },
			`{"version": 1}`, "axes-automatic feet-automatic vertical-only vertical-only"},
		{"moments by names", trial{}, "time[s],lead_fz[N],lead_mx[Nm],lead_my[Nm],trail_fz[N],trail_mx[Nm],trail_my[Nm]",
			func(_ int, lead, trail grf.Wrench) []float64 {
				return []float64{lead.Force.Z, lead.Moment.X, lead.Moment.Y, trail.Force.Z, trail.Moment.X, trail.Moment.Y}
			}, `{"version": 1}`, "axes-automatic feet-automatic vertical-only vertical-only"},
		{"columns without a value", trial{}, "time[s],lead_fx[N],lead_fy[N],lead_fz[N],lead_mx[Nm],lead_my[Nm],lead_mz[Nm],trail_fx[N],trail_fy[N],trail_fz[N],trail_mx[Nm],trail_my[Nm],trail_mz[Nm]",
			func(_ int, lead, trail grf.Wrench) []float64 {
				return append(six(lead.WithoutHorizontal()), six(trail.WithoutHorizontal())...)
			}, `{"version": 1}`, "axes-automatic feet-automatic vertical-only vertical-only"},
		{"one mat, stated", trial{}, "time[s],load[N],a[mm],b[mm]",
			func(_ int, lead, trail grf.Wrench) []float64 {
				v := loadAt(lead.Add(trail))
				return []float64{v[0], 1000 * v[1], -1000 * v[2]}
			}, `{"version": 1, "table": {"axes": "swing", "plates": [{"force": ["none", "none", "load"], "cop": ["a", "-b", "0 m"]}]}}`, "vertical-only"},
		{"laboratory, left-handed", left, "time[s],Left Fz[N],Left COPx[m],Left COPy[m],Right Fz[N],Right COPx[m],Right COPy[m]",
			func(_ int, lead, trail grf.Wrench) []float64 {
				a, _ := inLab(left, trail) // a left-handed golfer leads with the right foot
				b, _ := inLab(left, lead)
				return []float64{trail.Force.Z, a.X, a.Y, lead.Force.Z, b.X, b.Y}
			}, `{"version": 1, "golfer": {"handed": "left"}, "lab": {"up": "+z", "target": "-x", "origin": ["1 m", "2 m", "0 m"]}}`, "feet-automatic vertical-only vertical-only"},
		{"y up, action, by names", upY, "time[s],Fy1[N],COPx1[m],COPz1[m],Fy2[N],COPx2[m],COPz2[m]",
			func(_ int, lead, trail grf.Wrench) []float64 {
				a, _ := inLab(upY, lead)
				b, _ := inLab(upY, trail)
				return []float64{-lead.Force.Z, a.X, a.Z, -trail.Force.Z, b.X, b.Z}
			}, `{"version": 1, "lab": {"up": "+y", "target": "+z", "origin": ["0 m", "0 m", "0 m"]}, "plates": {"lead": [1], "trail": [2]}, "sense": "action"}`, "vertical-only vertical-only"},
		{"y up, moments", upY, "time[s],Fy1[N],Mx1[Nm],Mz1[Nm],Fy2[N],Mx2[Nm],Mz2[Nm]",
			func(_ int, lead, trail grf.Wrench) []float64 {
				var row []float64
				for _, w := range []grf.Wrench{lead, trail} {
					m := upY.axes(t).LabWrench(grf.Wrench{Force: r3.Vec{Z: w.Force.Z}, Moment: r3.Vec{X: w.Moment.X, Y: w.Moment.Y}}).Moment
					row = append(row, w.Force.Z, m.X, m.Z)
				}
				return row
			}, `{"version": 1, "lab": {"up": "+y", "target": "+z", "origin": ["0 m", "5 cm", "0 m"]}, "plates": {"lead": [1], "trail": [2]}, "table": {"plates": [
				{"force": ["none", "Fy1", "none"], "moment": ["Mx1", "none", "Mz1"]}, {"force": ["none", "Fy2", "none"], "moment": ["Mx2", "none", "Mz2"]}]}}`, "vertical-only vertical-only"},
		{"a whole plate under one foot", trial{}, "time[s],lead_fx[N],lead_fy[N],lead_fz[N],lead_mx[Nm],lead_my[Nm],lead_mz[Nm],trail_fz[N],trail_mx[Nm],trail_my[Nm]",
			func(_ int, lead, trail grf.Wrench) []float64 {
				return append(six(lead), trail.Force.Z, trail.Moment.X, trail.Moment.Y)
			}, `{"version": 1}`, "axes-automatic feet-automatic vertical-only"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			r := read(t, "swing.csv", tt.trial.sheet(tt.header, tt.row), tt.setup)
			if strings.HasPrefix(tt.name, "a whole plate") {
				for i, w := range r.Recording.Lead {
					if want, _ := tt.trial.feet(i); r3.Norm(r3.Sub(w.Force, want.Force)) > 2e-5 {
						t.Fatalf("sample %d of the whole plate: %v, want %v", i, w, want)
					}
				}
				lead := r.Recording.Lead
				r.Recording.Lead = make([]grf.Wrench, len(lead))
				for i := range lead {
					r.Recording.Lead[i] = lead[i].WithoutHorizontal()
				}
			}
			tt.trial.checkVertical(t, r.Recording)
			if s := codes(r.Warnings); s != tt.warn {
				t.Errorf("warnings %q, want %q\n%v", s, tt.warn, r.Warnings)
			}
			hasStep(t, r, grf.NoHorizontal)
		})
	}
}

// Plate axes, z into the floor: points and moments, zeroed over an empty window.
func TestReadVerticalPlateAxes(t *testing.T) {
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
	for _, form := range []struct {
		name, header, plate, setup, warn string
		row                              func(p site, w grf.Wrench) []float64
	}{
		{"points", "Fz%d[N],COPx%d[cm],COPy%d[cm]", `"force": ["none", "none", "Fz%d"], "cop": ["COPx%d", "COPy%d"]`, "", "",
			func(p site, w grf.Wrench) []float64 {
				v := pressure(local(p, w))
				return []float64{v[2], 100 * v[3], 100 * v[4]}
			}},
		{"moments with a zero", "Fz%d[N],Mx%d[N·m],My%d[N·m]", `"force": ["none", "none", "Fz%d"], "moment": ["Mx%d", "My%d", "none"]`,
			`"zero": {"from": "0 s", "to": "0.3 s"},`, "",
			func(p site, w grf.Wrench) []float64 {
				v := six(local(p, w))
				return []float64{v[2] + 12, v[3] - 0.7, v[4] + 0.4}
			}},
		{"moments about the sensors", "Fz%d[N],Mx%d[N·m],My%d[N·m]", `"force": ["none", "none", "Fz%d"], "moment": ["Mx%d", "My%d", "none"], "origin": ["-10 mm", "0 m", "-50 mm"]`,
			"", "vertical-depth vertical-depth",
			func(p site, w grf.Wrench) []float64 {
				v := local(p, w)
				v.Force.X, v.Force.Y = 0, 0 // what 50 mm of depth make of them is not known
				m := six(v.MovedTo(r3.Vec{X: 0.01, Z: 0.05}))
				return []float64{m[2], m[3], m[4]}
			}},
	} {
		t.Run(form.name, func(t *testing.T) {
			num := func(s string, n int) string { return strings.ReplaceAll(s, "%d", fmt.Sprint(n)) }
			data := tr.sheet("time[s],"+num(form.header, 1)+","+num(form.header, 2), func(_ int, lead, trail grf.Wrench) []float64 {
				return append(form.row(sites[0], lead), form.row(sites[1], trail)...)
			})
			setup := fmt.Sprintf(`{"version": 1, %s "lab": {"target": "+x"}, "table": {"axes": "plate", "plates": [{"corners": %s, %s}, {"corners": %s, %s}]}}`,
				form.setup, corner(sites[0]), num(form.plate, 1), corner(sites[1]), num(form.plate, 2))
			r := read(t, "swing.csv", data, setup)
			tr.checkVertical(t, r.Recording)
			want := strings.TrimSpace("feet-automatic " + form.warn + " vertical-only vertical-only")
			if s := strings.Fields(codes(r.Warnings)); len(s) != len(strings.Fields(want)) {
				t.Errorf("warnings %v, want %s", s, want)
			}
		})
	}
}

func TestVerticalTableErrors(t *testing.T) {
	const lab = `"lab": {"up": "+z", "target": "+y"}`
	data := "t[s],Fz[N],Mx[Nm],My[Nm],COPx[m],COPy[m]\n0,500,1,2,0,0\n0.01,500,1,2,0,0\n"
	plate := func(s string) string {
		return `{"version": 1, ` + lab + `, "table": {"plates": [{` + s + `}]}}`
	}
	for _, tt := range []struct{ name, setup, path, says string }{
		{"one component none", plate(`"force": ["none", "Fz", "Fz"], "moment": ["Mx", "My", "none"]`), "table.plates[0].force", "both horizontal"},
		{"all none", plate(`"force": ["none", "none", "none"], "moment": ["Mx", "My", "none"]`), "table.plates[0].force", "both horizontal"},
		{"moment none alone", plate(`"force": ["Fz", "Fz", "Fz"], "moment": ["Mx", "My", "none"]`), "table.plates[0].moment", "both horizontal"},
		{"free none alone", plate(`"force": ["Fz", "Fz", "Fz"], "cop": ["COPx", "COPy", "0 m"], "free": "none"`), "table.plates[0].free", "both horizontal"},
		{"moment about the vertical", plate(`"force": ["none", "none", "Fz"], "moment": ["Mx", "My", "My"]`), "table.plates[0].moment[2]", "about the vertical"},
		{"a moment missing", plate(`"force": ["none", "none", "Fz"], "moment": ["Mx", "none", "none"]`), "table.plates[0].moment[1]", "are needed"},
		{"a place missing", plate(`"force": ["none", "none", "Fz"], "cop": ["COPx", "none", "0 m"]`), "table.plates[0].cop", "place"},
		{"a free moment", plate(`"force": ["none", "none", "Fz"], "cop": ["COPx", "COPy", "0 m"], "free": "My"`), "table.plates[0].free", "leave it out"},
		{"nothing but the force", plate(`"force": ["none", "none", "Fz"]`), "table.plates[0].moment", "where it acts"},
		{"not the vertical", plate(`"force": ["none", "Fz", "none"], "moment": ["Mx", "none", "My"]`), "lab.up", "along +y only"},
		{"not the third, in swing axes", `{"version": 1, "table": {"axes": "swing", "plates": [{"force": ["Fz", "none", "none"], "moment": ["none", "Mx", "My"]}]}}`, "table.plates[0].force", "third"},
	} {
		t.Run(tt.name, func(t *testing.T) {
			var r *Result
			setup, err := ReadSetup(strings.NewReader(tt.setup))
			if err == nil {
				r, err = Read("a.csv", []byte(data), setup, nil)
			}
			var e *SetupError
			if r != nil || !errors.As(err, &e) {
				t.Fatalf("result %v, error %v", r, err)
			}
			if e.Path != tt.path || !strings.Contains(e.Text, tt.says) {
				t.Errorf("got %q at %q; want %q at %q", e.Text, e.Path, tt.says, tt.path)
			}
		})
	}
	// The axis that was measured is not up: by the names of the columns.
	_, err := Read("a.csv", []byte(strings.NewReplacer("Fz", "Fx", "Mx", "Mz").Replace(data)), readSetup(t, `{"version": 1, `+lab+`}`), nil)
	if err == nil || !strings.Contains(err.Error(), "along +x only") {
		t.Errorf("a horizontal force alone: %v", err)
	}
}
