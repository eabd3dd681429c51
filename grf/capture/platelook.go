package capture

import (
	"math"
	"slices"
	"strings"

	"gonum.org/v1/gonum/spatial/r3"

	"example.com/momentarm/grf"
	"example.com/momentarm/units"
)

// kind is what a channel, or an output of a calibration matrix, measures.
type kind int

const (
	force kind = iota
	moment
	length
)

func (k kind) String() string { return [...]string{"force", "moment", "length"}[k] }

// named returns the unit of a kind in a file whose unit of length is metre.
func (k kind) named(metre float64) string {
	l := map[float64]string{1: "m", 0.01: "cm", 0.001: "mm", 0.0254: "in", 0.3048: "ft"}[metre]
	switch k {
	case force:
		return "N"
	case moment:
		return "N·" + l
	}
	return l
}

// outputs returns what the channels of a plate type measure, or what comes out
// of its calibration matrix.
func outputs(t grf.PlateType) []kind {
	switch t {
	case grf.TypePoint:
		return []kind{force, force, force, length, length, moment}
	case grf.TypeMoment, grf.TypeMomentCalibrated, grf.TypeEightToMoment:
		return []kind{force, force, force, moment, moment, moment}
	}
	return make([]kind, t.Channels()) // forces
}

// siFactor returns what one of a unit is in SI. It reads the spellings that
// files have: "N", "nt", "Newtons", "Nmm", "N.mm", "ntmm", "mm".
func siFactor(unit string, k kind) (float64, bool) {
	want := [...]units.Quantity{force: units.QuantityForce, moment: units.QuantityMoment, length: units.QuantityLength}[k]
	if u, ok := units.LookUp(unit); ok && u.Quantity == want {
		return u.SI, true
	}
	s := strings.ToLower(strings.Join(strings.FieldsFunc(unit, func(r rune) bool { return strings.ContainsRune(" .·*-_", r) }), ""))
	for _, newton := range []string{"newtons", "newton", "nt", "n"} {
		rest, ok := strings.CutPrefix(s, newton)
		if !ok {
			continue
		}
		for _, metre := range []string{"meters", "metres", "meter", "metre"} {
			rest = strings.Replace(rest, metre, "m", 1)
		}
		rest = strings.Replace(strings.Replace(rest, "millim", "mm", 1), "centim", "cm", 1)
		symbol := "N"
		if rest != "" {
			symbol = "N·" + rest
		}
		if u, ok := units.LookUp(symbol); ok && u.Quantity == want {
			return u.SI, true
		}
		return 0, false
	}
	return 0, false
}

// load is the force from which a plate counts as loaded when its data are looked
// at, N. It is above the offset of most plates that were not zeroed (common
// practice, no published source).
const load = 100

// look checks what the plate makes of its channels, at some thousand samples.
func (p *FilePlate) look(cfg grf.PlateConfig, w *warner) error {
	thin := FilePlate{Plate: p.Plate, ForceOnly: p.ForceOnly, Channels: make([][]float64, len(p.Channels))}
	for i, c := range p.Channels {
		for k := 0; k < len(c); k += 1 + len(c)/2000 {
			thin.Channels[i] = append(thin.Channels[i], c[k])
		}
	}
	ws, err := thin.Wrenches(nil)
	if err != nil {
		return err
	}
	frame := p.Plate.Frame()
	if _, mean := grf.SenseUnderLoad(ws, r3.Scale(-1, frame.Z), load); mean < 0 && cfg.Sense == grf.AsMeasured {
		w.add("action-forces", "under load the force points along the plate's z (mean %.0f N), into the floor if the corners run as usual: it is the push on the plate, or the corners run the other way", -mean)
	}
	if cfg.Type == grf.TypeEight || cfg.Type == grf.TypeEightCalibrated || cfg.Type == grf.TypeTwelve {
		for i, c := range p.Channels {
			if slices.Min(c) == slices.Max(c) && loaded(ws, frame.Z) {
				w.add("dead-channel", "channel %d is %g throughout although the plate is loaded: the centre of pressure is wrong", i+1, c[0])
			}
		}
	}
	if p.ForceOnly {
		return nil
	}
	x, y := p.Plate.Size()
	lookAtMoments(ws, frame, math.Hypot(x, y)/2, w)
	return nil
}

// loaded reports whether the force along n is at least load in a tenth of the
// samples.
func loaded(ws []grf.Wrench, n r3.Vec) bool {
	count := 0
	for _, w := range ws {
		if math.Abs(r3.Dot(w.Force, n)) >= load {
			count++
		}
	}
	return count > 0 && 10*count >= len(ws)
}

// lookAtMoments warns when the moments put the centre of pressure so far out, or
// so near the centre, that their unit must be wrong by a factor of a thousand.
func lookAtMoments(ws []grf.Wrench, frame grf.Frame, reach float64, w *warner) {
	var out []float64
	for _, v := range ws {
		if fz := r3.Dot(v.Force, frame.Z); math.Abs(fz) >= load {
			m := v.About(frame.Origin)
			if d := math.Hypot(r3.Dot(m, frame.X), r3.Dot(m, frame.Y)) / math.Abs(fz); !math.IsNaN(d) {
				out = append(out, d)
			}
		}
	}
	if len(out) == 0 {
		return
	}
	slices.Sort(out)
	switch median := out[len(out)/2]; {
	case median > 20*reach:
		w.add("moment-unit", "the moments put the centre of pressure %.3g m from the centre of the plate: are they in N·mm, read as N·m? State moment_unit", median)
	case median < reach/1000:
		w.add("moment-unit", "the moments put the centre of pressure %.2g mm from the centre of the plate: are they in N·m, read as N·mm? State moment_unit", 1000*median)
	}
}
