package capture

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"gonum.org/v1/gonum/spatial/r3"

	"example.com/momentarm/grf"
	"example.com/momentarm/grf/c3d"
)

// FilePlate is a force plate of a C3D file, ready to be asked for wrenches.
type FilePlate struct {
	// Number is its place in the file, from 1.
	Number int
	// Err says why the plate can not be used; Plate and Channels are then nil. It
	// is a [*PlateError].
	Err error
	// Plate turns Channels into wrenches as measured (or in the sense that the
	// changes state), in laboratory axes.
	Plate *grf.Plate
	// Channels hold one series each, in N, N·m and m, or in what the calibration
	// of the plate wants. They may share memory with the file.
	Channels [][]float64
	// Info is what the file says about the plate.
	Info c3d.PlateInfo
	// ForceOnly means that the file lacks the geometry of the sensors: forces are
	// right, moments are not known.
	ForceOnly bool
}

// Wrenches sets dst to the wrench of every sample, in laboratory axes and about
// the laboratory's origin, and returns it, grown if it was too short. The moments
// of a ForceOnly plate are NaN. For a plate that can not be used it returns Err.
func (p FilePlate) Wrenches(dst []grf.Wrench) ([]grf.Wrench, error) {
	if p.Err != nil {
		return nil, p.Err
	}
	dst, err := p.Plate.Wrenches(dst, p.Channels)
	if p.ForceOnly {
		for i := range dst {
			dst[i].Moment = grf.NaN().Moment
		}
	}
	return dst, err
}

// Plates makes a plate of every entry of the FORCE_PLATFORM group, with the
// changes applied, in SI units. A plate that can not be used has an error of its
// own and does not take the others with it.
//
// What the format leaves open is settled like this, with a warning each time:
//
//   - ORIGIN should have a negative z. Where it is positive, the whole vector is
//     taken as reversed for the plates that measure moments, and only z for those
//     with corner sensors, where x and y are distances (C3D User Guide, FORCE_PLATFORM:
//     ORIGIN; about half of the files in circulation have it so).
//   - CAL_MATRIX is used by the types that need one and by no other.
//   - Moments are in the unit that the channel states, else in newtons times the
//     unit of length; what that makes of the centre of pressure is checked.
//   - Nothing is zeroed, filtered or turned round.
func Plates(f *c3d.File, changes []PlateChange) ([]FilePlate, []grf.Warning) {
	var w warner
	plates := make([]FilePlate, len(f.Plates))
	for i, info := range f.Plates {
		w.where = fmt.Sprintf("plate %d", i+1)
		p := &plates[i]
		p.Number, p.Info = i+1, info
		var change PlateChange
		for _, c := range changes {
			if c.Plate == i+1 {
				change = c
			}
		}
		if err := p.build(f, change, &w); err != nil {
			*p = FilePlate{Number: i + 1, Info: info, Err: &PlateError{i + 1, err}}
			w.add("plate-unusable", "%v", err)
		}
	}
	return plates, w.list
}

// warner collects warnings of one place.
type warner struct {
	where string
	list  []grf.Warning
}

func (w *warner) add(code, format string, a ...any) {
	w.list = append(w.list, grf.Warning{Code: code, Where: w.where, Text: fmt.Sprintf(format, a...)})
}

// build fills p from its Info.
func (p *FilePlate) build(f *c3d.File, change PlateChange, w *warner) error {
	typ := grf.PlateType(p.Info.Type)
	if change.Type != 0 {
		typ = grf.PlateType(change.Type)
	}
	n := typ.Channels()
	if n == 0 {
		return fmt.Errorf("%w: %d (1 to 7 are known)", grf.ErrPlateType, typ)
	}
	metre, err := f.UnitMetres()
	if err != nil {
		return err
	}
	channels, err := plateChannels(f, p.Info, change, n)
	if err != nil {
		return err
	}
	cfg := grf.PlateConfig{Type: typ, Sense: sense(change.Sense), TopCover: float64(change.TopCover), ChannelScale: change.ChannelScale}
	for i, c := range p.Info.Corners {
		cfg.Corners[i] = r3.Scale(metre, c)
	}
	if change.Corners != nil {
		for i, c := range change.Corners {
			cfg.Corners[i] = c.vec()
		}
	}
	if err := p.setOrigin(&cfg, metre, change, w); err != nil {
		return err
	}
	if len(change.PointCorrection) == 12 {
		cfg.PointCorrection = (*[12]float64)(change.PointCorrection)
	}
	raiseCorners(&cfg)
	if err := p.setChannels(f, channels, &cfg, metre, change, w); err != nil {
		return err
	}
	if p.Plate, err = grf.NewPlate(cfg); err != nil {
		return err
	}
	for _, pw := range p.Plate.Warnings() {
		pw.Where = strings.TrimSpace(w.where + " " + pw.Where)
		w.list = append(w.list, pw)
	}
	return p.look(cfg, w)
}

func sense(s string) grf.Sense {
	switch s {
	case "reaction":
		return grf.Reaction
	case "action":
		return grf.Action
	}
	return grf.AsMeasured
}

// plateChannels returns the indices of the channels of a plate with n of them.
func plateChannels(f *c3d.File, info c3d.PlateInfo, change PlateChange, n int) ([]int, error) {
	if change.Channels == nil {
		if len(info.Channels) < n {
			return nil, fmt.Errorf("%w: CHANNEL names %d, a plate of this type has %d", grf.ErrChannels, len(info.Channels), n)
		}
		for k, c := range info.Channels[:n] {
			if c < 0 || c >= len(f.Channels) {
				return nil, fmt.Errorf("%w: channel %d is number %d of %d in the file", c3d.ErrPlateChannel, k+1, c+1, len(f.Channels))
			}
		}
		return info.Channels[:n], nil
	}
	if len(change.Channels) != n {
		return nil, fmt.Errorf("%w: %d were given, a plate of this type has %d", grf.ErrChannels, len(change.Channels), n)
	}
	channels := make([]int, n)
	for i, name := range change.Channels {
		c := f.ChannelIndex(string(name))
		if number, err := strconv.Atoi(string(name)); c < 0 && err == nil {
			c = number - 1
		}
		if c < 0 || c >= len(f.Channels) {
			labels := make([]string, len(f.Channels))
			for k := range f.Channels {
				labels[k] = f.Channels[k].Label
			}
			return nil, fmt.Errorf("%w: no channel %q; %s", c3d.ErrPlateChannel, string(name), near(string(name), labels))
		}
		channels[i] = c
	}
	return channels, nil
}

// setOrigin sets ORIGIN with the sign that the type wants.
func (p *FilePlate) setOrigin(cfg *grf.PlateConfig, metre float64, change PlateChange, w *warner) error {
	o := r3.Scale(metre, p.Info.Origin)
	if change.Origin != nil {
		o = change.Origin.vec()
	}
	if cfg.Type == grf.TypePoint {
		return nil
	}
	if math.IsNaN(o.X + o.Y + o.Z) {
		w.add("origin-missing", "ORIGIN is not stated and taken as (0, 0, 0)")
		o = r3.Vec{}
	}
	sensors := cfg.Type == grf.TypeEight || cfg.Type == grf.TypeEightCalibrated || cfg.Type == grf.TypeTwelve
	reversed := o.Z > 0
	switch change.OriginSign {
	case "as_stated":
		reversed = false
	case "reversed":
		reversed = true
	}
	if reversed {
		before := o
		if o.Z = -o.Z; !sensors {
			o.X, o.Y = -o.X, -o.Y
		}
		if change.OriginSign != "reversed" {
			w.add("origin-sign", "ORIGIN %s has a positive z and was taken as %s; state origin_sign if that is wrong", millimetres(before), millimetres(o))
		}
	}
	if math.Abs(o.Z) > 0.3 {
		w.add("origin-large", "the sensors would lie %.0f mm from the surface; is the unit of ORIGIN right?", 1000*math.Abs(o.Z))
	}
	if sensors && !(o.X > 0 && o.Y > 0) {
		// The distances only enter the moments: forces can still be had.
		p.ForceOnly = true
		w.add("no-moments", "ORIGIN %s does not hold the distances of the corner sensors: forces can be used, moments are not known", millimetres(o))
		o.X, o.Y = 1, 1
	} else if !sensors && o == (r3.Vec{}) {
		w.add("origin-zero", "ORIGIN is (0, 0, 0): right only if the moments are about the centre of the surface already")
	}
	cfg.Origin = o
	return nil
}

func millimetres(v r3.Vec) string {
	return fmt.Sprintf("(%.4g, %.4g, %.4g) mm", 1000*v.X, 1000*v.Y, 1000*v.Z)
}

// raiseCorners lifts the corners to the top of a cover: they are stated for the
// plate's own surface.
func raiseCorners(cfg *grf.PlateConfig) {
	if !(cfg.TopCover > 0) {
		return // NewPlate refuses what is no thickness
	}
	c := &cfg.Corners
	up := r3.Cross(r3.Sub(c[0], c[3]), r3.Sub(c[0], c[1])) // −z of the plate
	if cfg.Origin.Z > 0 {
		up = r3.Scale(-1, up)
	}
	lift := r3.Scale(cfg.TopCover, r3.Unit(up))
	for i := range c {
		c[i] = r3.Add(c[i], lift)
	}
}

// setChannels takes the channels in SI and sets the calibration.
func (p *FilePlate) setChannels(f *c3d.File, channels []int, cfg *grf.PlateConfig, metre float64, change PlateChange, w *warner) error {
	n := cfg.Type.Channels()
	kinds := outputs(cfg.Type)
	factor := make([]float64, len(kinds)) // of each output of the calibration, or channel
	var odd [3][]string                   // labels of channels whose unit is no unit of their kind
	calibrated := cfg.Type == grf.TypeMomentCalibrated || cfg.Type == grf.TypeEightToMoment ||
		cfg.Type == grf.TypeTwelve || cfg.Type == grf.TypeEightCalibrated
	for i, k := range kinds {
		unit := ""
		// A calibrated plate has volts behind its channels, but some files state
		// what comes out of the matrix.
		if i < n {
			unit = f.Channels[channels[i]].Unit
		}
		si, stated := siFactor(unit, k)
		if !stated {
			si = [...]float64{force: 1, moment: metre, length: metre}[k]
			if unit != "" && !calibrated {
				odd[k] = append(odd[k], fmt.Sprintf("%s (%s)", f.Channels[channels[i]].Label, unit))
			}
		}
		if k == moment && change.MomentUnit != "" {
			si, _ = siFactor(change.MomentUnit, k)
		}
		factor[i] = si
	}
	for k, labels := range odd {
		if len(labels) > 0 {
			w.add("channel-unit", "channels in no unit of %v, taken as %s: %s", kind(k), kind(k).named(metre), strings.Join(labels, ", "))
		}
	}
	p.Channels = make([][]float64, n)
	for i, c := range channels {
		ch := &f.Channels[c]
		if len(ch.Values) == 0 {
			return fmt.Errorf("%w: channel %s has no samples", grf.ErrNoData, ch.Label)
		}
		if allNaN(ch.Values) {
			return fmt.Errorf("%w: channel %s has no usable values (SCALE %g)", grf.ErrChannels, ch.Label, ch.Scale)
		}
		p.Channels[i] = ch.Values
		if !calibrated && factor[i] != 1 {
			p.Channels[i] = scaled(ch.Values, factor[i])
		}
	}
	if !calibrated {
		return nil
	}
	cfg.Calibration = change.Calibration
	if cfg.Calibration == nil {
		if len(p.Info.Calibration) > 0 && len(p.Info.Calibration) != len(kinds) {
			return fmt.Errorf("%w: %d rows for a plate with %d outputs", grf.ErrCalibration, len(p.Info.Calibration), len(kinds))
		}
		for i, row := range p.Info.Calibration {
			cfg.Calibration = append(cfg.Calibration, scaled(row, factor[i]))
		}
	}
	return nil
}

func scaled(v []float64, k float64) []float64 {
	out := make([]float64, len(v))
	for i, x := range v {
		out[i] = k * x
	}
	return out
}

func allNaN(v []float64) bool {
	for _, x := range v {
		if !math.IsNaN(x) {
			return false
		}
	}
	return true
}
