package acceptance

import (
	"encoding/json"
	"errors"
	"fmt"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"

	"example.com/momentarm/grf"
)

// twoPlates are declared side by side along y of a laboratory with z up, with z of
// the plates into the floor.
func twoPlates(t testing.TB, sense grf.Sense) []*grf.Plate {
	t.Helper()
	var plates []*grf.Plate
	for _, y := range []float64{1, 1.5} {
		p, err := grf.NewPlate(grf.PlateConfig{Type: grf.TypeMoment, Sense: sense, Origin: r3.Vec{Z: -0.04},
			Corners: [4]r3.Vec{{X: .6, Y: y}, {Y: y}, {Y: y + .4}, {X: .6, Y: y + .4}}})
		if err != nil {
			t.Fatal(err)
		}
		plates = append(plates, p)
	}
	return plates
}

// pressed returns the channels of a plate that lies like this against its declared
// frame: by the definition of an arrangement, what the plate tells of a point or
// direction in its own axes, turned by it, is what is true in the declared ones.
func pressed(frame grf.Frame, a Arrangement, at, push r3.Vec, load float64, sense float64) []float64 {
	q, d := frame.PointIn(at), frame.VectorIn(push)
	ex, ey := a.apply(r2.Vec{X: 1}), a.apply(r2.Vec{Y: 1})
	back := func(v r2.Vec) r2.Vec { return r2.Vec{X: r2.Dot(ex, v), Y: r2.Dot(ey, v)} }
	m, h := back(r2.Vec{X: q.X, Y: q.Y}), back(r2.Vec{X: d.X, Y: d.Y})
	// z into the floor: the push on the plate is along +z.
	w := grf.At(r3.Vec{X: h.X, Y: h.Y, Z: load}, r3.Vec{X: m.X, Y: m.Y}, r3.Vec{}).MovedTo(r3.Vec{Z: 0.04}).Scale(sense)
	return []float64{w.Force.X, w.Force.Y, w.Force.Z, w.Moment.X, w.Moment.Y, w.Moment.Z}
}

// points of both plates: four near the corners and one off the middle, two of them
// with pushes.
func protocol(plates []*grf.Plate) (at, push []r3.Vec, place []int) {
	for j, p := range plates {
		x, y := p.Size()
		for k, c := range []r2.Vec{{X: .8, Y: .8}, {X: -.8, Y: .8}, {X: -.8, Y: -.8}, {X: .8, Y: -.8}, {X: .3, Y: .1}} {
			at = append(at, p.Frame().PointOut(r3.Vec{X: c.X * x / 2, Y: c.Y * y / 2}))
			d := r3.Vec{}
			switch k {
			case 1:
				d = r3.Vec{X: 40}
			case 3:
				d = r3.Vec{Y: -60}
			}
			push, place = append(push, d), append(place, j)
		}
	}
	return at, push, place
}

// All 8 × 8 ways of two plates, swapped or not, in either sense, with a few
// millimetres of noise: each is found, and the corners that are proposed make the
// plates lie as declared.
func TestCheckPlacementFindsAll(t *testing.T) {
	rnd := rand.New(rand.NewPCG(2, 7))
	for _, sense := range []grf.Sense{grf.AsMeasured, grf.Action, grf.Reaction} {
		sign := 1.0
		if sense == grf.Reaction {
			sign = -1
		}
		declared := twoPlates(t, sense)
		at, push, place := protocol(declared)
		for _, swapped := range []bool{false, true} {
			for _, a := range arrangements() {
				for _, b := range arrangements() {
					lies := []Arrangement{a, b} // of plates, by place
					var presses []Press
					for k := range at {
						p := r3.Add(at[k], r3.Vec{X: 0.003 * rnd.NormFloat64(), Y: 0.003 * rnd.NormFloat64()})
						ch := pressed(declared[place[k]].Frame(), lies[place[k]], p, push[k], 400, sign)
						press := Press{At: at[k], Push: push[k], Channels: [][]float64{make([]float64, 6), make([]float64, 6)}}
						press.Channels[place[k]^btoi(swapped)] = ch
						presses = append(presses, press)
					}
					got, err := CheckPlacement(declared, presses, PlacementOptions{})
					if err != nil {
						t.Fatal(err)
					}
					fine := true
					for i, f := range got.Plates {
						j := i ^ btoi(swapped)
						if f.Place != j || f.Best.Arrangement != lies[j] || f.Best.RMS > 0.01 || !(f.Next.RMS > 0.05) || f.PushInBest.RMS > 0.05 || f.BestPush.Arrangement != lies[j] {
							t.Fatalf("%v, swapped %v, plate %d lies at %d %v: found %+v", sense, swapped, i, j, lies[j], f)
						}
						right := j == i && lies[j] == Arrangement{}
						fine = fine && right
						if (f.Verdict == Pass) != right {
							t.Errorf("%v, swapped %v, %v: verdict %v, %s", sense, swapped, lies[j], f.Verdict, f.Text)
						}
					}
					if (got.Verdict == Pass) != fine {
						t.Errorf("verdict %v", got.Verdict)
					}
					if swapped || sense != grf.AsMeasured {
						redeclare(t, got, sense, presses)
					}
				}
			}
		}
	}
}

func btoi(b bool) int {
	if b {
		return 1
	}
	return 0
}

// redeclare takes the corners that were proposed.
func redeclare(t *testing.T, p *Placement, sense grf.Sense, presses []Press) {
	t.Helper()
	if sense == grf.AsMeasured {
		sense = grf.Action // once z points up, the sign of the force does not tell
	}
	var plates []*grf.Plate
	for _, f := range p.Plates {
		q, err := grf.NewPlate(grf.PlateConfig{Type: grf.TypeMoment, Sense: sense, Origin: r3.Vec{Z: -0.04}, Corners: f.Corners})
		if err != nil {
			t.Fatal(err)
		}
		plates = append(plates, q)
	}
	again, err := CheckPlacement(plates, presses, PlacementOptions{})
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range again.Plates {
		if f.Verdict != Pass {
			t.Fatalf("with the proposed corners: %s", f.Text)
		}
	}
}

func onePress(t *testing.T) ([]*grf.Plate, []Press) {
	plates := twoPlates(t, grf.Action)
	at, push, place := protocol(plates)
	var presses []Press
	for k := range at {
		press := Press{At: at[k], Push: push[k], Channels: [][]float64{make([]float64, 6), make([]float64, 6)}}
		press.Channels[place[k]] = pressed(plates[place[k]].Frame(), Arrangement{}, at[k], push[k], 300, 1)
		presses = append(presses, press)
	}
	return plates, presses
}

func TestCheckPlacementFaults(t *testing.T) {
	// A plate that is not where it is said to be.
	plates, presses := onePress(t)
	for k := range presses {
		presses[k].At.X += 0.03
	}
	got, err := CheckPlacement(plates, presses, PlacementOptions{})
	if err != nil {
		t.Fatal(err)
	}
	f := got.Plates[0]
	if f.Verdict != Fail || (f.Best.Arrangement != Arrangement{}) || math.Abs(math.Hypot(f.ShiftX, f.ShiftY)-0.03) > 1e-9 || !strings.Contains(f.Text, "shifted") {
		t.Errorf("shifted by 30 mm: %s", f.Text)
	}
	// Horizontal channels with the wrong sign, or a sense stated the wrong way.
	plates, presses = onePress(t)
	for i := range plates {
		plates[i] = plates[i].WithSense(grf.Reaction)
	}
	if got, err = CheckPlacement(plates, presses, PlacementOptions{}); err != nil {
		t.Fatal(err)
	}
	f = got.Plates[0]
	if f.Verdict != Fail || (f.Best.Arrangement != Arrangement{}) || f.BestPush.Turn != 180 || !strings.Contains(f.Text, "contradict") {
		t.Errorf("wrong sense: %s", f.Text)
	}
	// Pushes that fit nothing.
	plates, presses = onePress(t)
	presses[1].Channels[0][0], presses[1].Channels[0][1] = 30, 30
	presses[3].Channels[0][0], presses[3].Channels[0][1] = 30, 30
	if got, err = CheckPlacement(plates, presses, PlacementOptions{}); err != nil {
		t.Fatal(err)
	}
	if f = got.Plates[0]; f.Verdict != Fail || !strings.Contains(f.Text, "no arrangement") {
		t.Errorf("pushes at random: %s", f.Text)
	}
	// A plate that nobody pressed.
	plates, presses = onePress(t)
	if got, err = CheckPlacement(plates, presses[:5], PlacementOptions{}); err != nil {
		t.Fatal(err)
	}
	if f = got.Plates[1]; f.Place != -1 || f.Verdict != NotAssessed || got.Verdict != NotAssessed || got.Plates[0].Verdict != Pass {
		t.Errorf("not pressed: %+v", f)
	}
	data, err := json.Marshal(got)
	if err != nil || !strings.Contains(string(data), `"place":null`) || !json.Valid(data) {
		t.Errorf("%s, %v", data, err)
	}
	// Places that are too inexact to tell.
	plates, presses = onePress(t)
	rnd := rand.New(rand.NewPCG(1, 2))
	for k := range presses {
		for _, ch := range presses[k].Channels {
			ch[3] += 60 * rnd.NormFloat64()
			ch[4] += 60 * rnd.NormFloat64()
		}
	}
	if got, err = CheckPlacement(plates, presses, PlacementOptions{MaxRMS: 1}); err != nil {
		t.Fatal(err)
	}
	if f = got.Plates[0]; f.Verdict != NotAssessed || !strings.Contains(f.Text, "do not tell") {
		t.Errorf("200 mm of noise: %v, %s", f.Verdict, f.Text)
	}
}

func TestCheckPlacementErrors(t *testing.T) {
	for _, c := range []struct {
		name, says string
		change     func(p *[]*grf.Plate, presses []Press) []Press
	}{
		{"no presses", "0 presses", func(_ *[]*grf.Plate, ps []Press) []Press { return nil }},
		{"no plates", "0 plates", func(p *[]*grf.Plate, ps []Press) []Press { *p = nil; return ps }},
		{"beside the plates", "no plate", func(_ *[]*grf.Plate, ps []Press) []Press { ps[2].At.X = 3; return ps }},
		{"above the plates", "no plate", func(_ *[]*grf.Plate, ps []Press) []Press { ps[2].At.Z = 1; return ps }},
		{"not finite", "press 3 (left): the point", func(_ *[]*grf.Plate, ps []Press) []Press {
			ps[2].At.Z, ps[2].Name = math.NaN(), "left"
			return ps
		}},
		{"one plate's channels", "there are 2", func(_ *[]*grf.Plate, ps []Press) []Press { ps[2].Channels = ps[2].Channels[:1]; return ps }},
		{"a channel less", "5 channels", func(_ *[]*grf.Plate, ps []Press) []Press { ps[2].Channels[1] = ps[2].Channels[1][1:]; return ps }},
		{"a lost channel", "not finite", func(_ *[]*grf.Plate, ps []Press) []Press { ps[2].Channels[1][4] = math.NaN(); return ps }},
		{"nobody", "no plate carries", func(_ *[]*grf.Plate, ps []Press) []Press { ps[2].Channels[0][2] = 3; return ps }},
		{"on both", "second plate", func(_ *[]*grf.Plate, ps []Press) []Press { ps[2].Channels[1][2] = 200; return ps }},
		{"a push upward", "along the surface", func(_ *[]*grf.Plate, ps []Press) []Press { ps[2].Push = r3.Vec{Z: 1}; return ps }},
		{"a push that does not show", "push harder", func(_ *[]*grf.Plate, ps []Press) []Press { ps[2].Push = r3.Vec{X: 1}; return ps }},
		{"two plates at one place", "answered before", func(_ *[]*grf.Plate, ps []Press) []Press {
			ps[2].Channels[0], ps[2].Channels[1] = ps[2].Channels[1], ps[2].Channels[0]
			return ps
		}},
		{"one plate at two places", "answered at that of", func(_ *[]*grf.Plate, ps []Press) []Press {
			for k := 5; k < 10; k++ {
				ps[k].Channels[0], ps[k].Channels[1] = ps[k].Channels[1], ps[k].Channels[0]
			}
			return ps
		}},
		{"the middle alone", "off its middle", func(p *[]*grf.Plate, ps []Press) []Press {
			ps[0].At = (*p)[0].Frame().Origin
			return ps[:1]
		}},
		{"an axis of symmetry", "mirrored: y reversed", func(p *[]*grf.Plate, ps []Press) []Press {
			ps[0].At = (*p)[0].Frame().PointOut(r3.Vec{X: 0.2})
			return ps[:1]
		}},
	} {
		plates, presses := onePress(t)
		presses = c.change(&plates, presses)
		got, err := CheckPlacement(plates, presses, PlacementOptions{})
		if !errors.Is(err, ErrPresses) || got != nil || !strings.Contains(fmt.Sprint(err), c.says) {
			t.Errorf("%s: %v, %v; want %q", c.name, got, err, c.says)
		}
	}
	plates, presses := onePress(t)
	for _, opt := range []PlacementOptions{{MinLoad: -1}, {MaxRMS: math.NaN()}, {MaxAngle: math.Inf(1)}} {
		if _, err := CheckPlacement(plates, presses, opt); !errors.Is(err, ErrPresses) {
			t.Errorf("%+v: %v", opt, err)
		}
	}
}

// The eight arrangements are a group of eight: all differ, and each is undone by one.
func TestArrangements(t *testing.T) {
	seen := map[r2.Vec]Arrangement{}
	names := map[string]bool{}
	for _, a := range arrangements() {
		p := a.apply(r2.Vec{X: 2, Y: 1})
		if b, ok := seen[p]; ok {
			t.Errorf("%v is %v", a, b)
		}
		seen[p], names[a.String()] = a, true
		undone := 0
		for _, b := range arrangements() {
			if b.apply(p) == (r2.Vec{X: 2, Y: 1}) {
				undone++
			}
		}
		if undone != 1 {
			t.Errorf("%v is undone by %d arrangements", a, undone)
		}
	}
	if len(names) != 8 {
		t.Errorf("%d names: %v", len(names), names)
	}
	if got := (Arrangement{Turn: 90}).corners(); got != [4]int{1, 2, 3, 0} {
		t.Errorf("corners of a plate turned by 90°: %v", got)
	}
}
