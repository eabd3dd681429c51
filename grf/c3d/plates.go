package c3d

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/spatial/r3"
)

// PlateInfo is what the FORCE_PLATFORM group says about one plate, in the units
// of the file ([File.Units] for lengths, [Channel.Unit] for the channels).
// Nothing in it is corrected. Source: C3D User Guide, "The FORCE_PLATFORM
// group".
type PlateInfo struct {
	Type int // FORCE_PLATFORM:TYPE
	// Corners are the corners of the top surface in laboratory axes, in the
	// order of the file: the quadrants (+x, +y), (−x, +y), (−x, −y), (+x, −y) of
	// the plate. NaN when not stated.
	Corners [4]r3.Vec
	// Origin is FORCE_PLATFORM:ORIGIN: for types 2 and 4 the vector from the
	// measuring origin to the centre of the top surface in plate axes, for type
	// 3 half the distances between the sensors and their depth. NaN when not
	// stated.
	Origin r3.Vec
	// Channels are indices into [File.Channels], in the order that the type
	// prescribes: FORCE_PLATFORM:CHANNEL less 1. An index outside File.Channels
	// is kept; see [File.PlateValues].
	Channels []int
	// Calibration is CAL_MATRIX with one row per output and one column per
	// channel: output = Calibration · channels. The file stores it column by
	// column. nil when the file has none for this plate, or zeros only.
	Calibration [][]float64
	// Extras are the other numeric parameters of the group that have one entry
	// per plate, such as a polynomial for correcting the centre of pressure or
	// a translation. Encode does not look at them.
	Extras []Extra
}

// Extra is the part of a parameter that belongs to one plate.
type Extra struct {
	Name   string
	Dims   []int // without the last one, which runs over the plates
	Values []float64
}

// plateChannels returns how many channels a plate type has, 0 for a type that
// this package does not know.
func plateChannels(typ int) int {
	switch typ {
	case 1, 2, 4:
		return 6
	case 3, 5, 7:
		return 8
	case 6:
		return 12
	}
	return 0
}

// plateGroup is the FORCE_PLATFORM group.
type plateGroup struct {
	name      string
	announced int
	plates    []PlateInfo
	zero      [2]int
	lacking   []string // parameters that some plate lacks
}

// readPlates reads the FORCE_PLATFORM group.
func readPlates(g Groups) plateGroup {
	p := plateGroup{name: "FORCE_PLATFORM"}
	if !g.Has(p.name) && g.Has("FORCE_PLATEFORM") {
		p.name = "FORCE_PLATEFORM"
	}
	if z := g.Counts(p.name, "ZERO"); len(z) >= 2 {
		p.zero = [2]int{z[0], z[1]}
	}
	// A negative number of plates is none, unlike other counts.
	used, _ := g.Find(p.name, "USED").Ints()
	if len(used) == 0 || used[0] <= 0 {
		return p
	}
	p.announced = used[0]
	types := g.Counts(p.name, "TYPE")
	channel := g.Find(p.name, "CHANNEL")
	numbers, _ := channel.Counts()
	stride := rows(channel, len(numbers), p.announced)
	n := min(p.announced, len(types), 255) // a dimension is one byte
	if stride > 0 {
		n = min(n, len(numbers)/stride)
	} else {
		n = 0
	}
	corners := g.Floats(p.name, "CORNERS")
	origins := g.Floats(p.name, "ORIGIN")
	matrix := g.Find(p.name, "CAL_MATRIX")
	matrices, _ := matrix.Floats()
	shared := extras(g, p.name, p.announced)
	p.plates = make([]PlateInfo, n)
	nan := r3.Vec{X: math.NaN(), Y: math.NaN(), Z: math.NaN()}
	for i := range p.plates {
		q := &p.plates[i]
		q.Type = types[i]
		for k := range q.Corners {
			q.Corners[k] = nan
		}
		if len(corners) >= 12*(i+1) {
			for k := range q.Corners {
				c := corners[12*i+3*k:]
				q.Corners[k] = r3.Vec{X: c[0], Y: c[1], Z: c[2]}
			}
		} else {
			p.lacking = append(p.lacking, fmt.Sprintf("CORNERS of plate %d", i+1))
		}
		q.Origin = nan
		if len(origins) >= 3*(i+1) {
			o := origins[3*i:]
			q.Origin = r3.Vec{X: o[0], Y: o[1], Z: o[2]}
		} else {
			p.lacking = append(p.lacking, fmt.Sprintf("ORIGIN of plate %d", i+1))
		}
		q.Channels = plateRow(numbers[i*stride:(i+1)*stride], q.Type)
		q.Calibration = calibration(matrix, matrices, i, len(q.Channels))
		for _, e := range shared {
			each := len(e.Values) / p.announced
			e.Values = e.Values[i*each : (i+1)*each : (i+1)*each]
			q.Extras = append(q.Extras, e)
		}
	}
	return p
}

// rows returns the first dimension of CHANNEL: 6, or 8 for all plates when one
// of them has 8 channels.
func rows(p *Parameter, values, plates int) int {
	if p != nil && len(p.Dims) > 1 {
		return p.Dims[0]
	}
	// A single plate may be stored without its second dimension.
	if values%plates == 0 {
		return values / plates
	}
	return values
}

// plateRow makes indices of the channel numbers of one plate.
func plateRow(numbers []int, typ int) []int {
	n := plateChannels(typ)
	if n == 0 || n > len(numbers) {
		// Unknown type: everything but the zeros that fill the row.
		n = len(numbers)
		for n > 0 && numbers[n-1] == 0 {
			n--
		}
	}
	row := make([]int, n)
	for k := range row {
		row[k] = numbers[k] - 1
	}
	return row
}

// calibration reads the matrix of plate i: stored with the output index running
// fastest. What is only there because another plate needs a larger matrix, and
// 0, is cut.
func calibration(p *Parameter, v []float64, i, channels int) [][]float64 {
	if p == nil || len(p.Dims) < 2 {
		return nil
	}
	out, in := p.Dims[0], p.Dims[1]
	if out == 0 || in == 0 || len(v) < (i+1)*out*in {
		return nil
	}
	v = v[i*out*in : (i+1)*out*in]
	c := make([][]float64, out)
	for r := range c {
		c[r] = make([]float64, in)
		for k := range c[r] {
			c[r][k] = v[k*out+r]
		}
	}
	rest := func(rows, cols int) bool { // all zero outside rows × cols
		for r := range c {
			for k := range c[r] {
				if (r >= rows || k >= cols) && c[r][k] != 0 {
					return false
				}
			}
		}
		return true
	}
	if rest(0, 0) {
		return nil
	}
	if channels > 0 && in > channels && rest(out, channels) {
		for r := range c {
			c[r] = c[r][:channels]
		}
	}
	if out > 6 && channels <= 8 && rest(6, in) {
		c = c[:6]
	}
	return c
}

// extras returns the numeric parameters that run over the plates and that no
// field holds, with the values of all plates.
func extras(g Groups, group string, plates int) []Extra {
	var list []Extra
	for i := range g {
		if !sameName(g[i].Name, group) {
			continue
		}
		for j := range g[i].Parameters {
			p := &g[i].Parameters[j]
			switch foldName(p.Name) {
			case "USED", "TYPE", "ZERO", "CORNERS", "ORIGIN", "CHANNEL", "CAL_MATRIX":
				continue
			}
			v, err := p.Floats()
			last := len(p.Dims) - 1
			if err != nil || last < 0 || p.Dims[last] != plates || len(v) == 0 || len(v)%plates != 0 {
				continue
			}
			list = append(list, Extra{Name: p.Name, Dims: p.Dims[:last:last], Values: v})
		}
	}
	return list
}

// plates fills in File.Plates.
func (d *decoder) plates() {
	f := d.f
	p := readPlates(f.Groups)
	f.Plates, f.Zero = p.plates, p.zero
	if p.name != "FORCE_PLATFORM" && p.announced > 0 {
		d.warn.add(CodeMisspelt, p.name, "read as FORCE_PLATFORM")
	}
	if p.announced > len(p.plates) {
		d.warn.add(CodePlateCount, p.name+":USED", "%d plates announced, %d described by TYPE and CHANNEL", p.announced, len(p.plates))
	}
	for _, what := range p.lacking {
		d.warn.add(CodePlateMissing, p.name, "no %s", what)
	}
	for i := range f.Plates {
		where := fmt.Sprintf("plate %d", i+1)
		used := make(map[int]bool)
		for k, c := range f.Plates[i].Channels {
			if c < 0 || c >= f.Layout.DeclaredChannels {
				d.warn.add(CodePlateChannel, where, "its channel %d is number %d of the file, which has %d", k+1, c+1, f.Layout.DeclaredChannels)
				break
			}
			if used[c] {
				d.warn.add(CodePlateChannelTwin, where, "it uses channel %d of the file twice", c+1)
			}
			used[c] = true
		}
	}
	d.checkUnits()
}

// checkUnits warns of length units that nobody can be sure of.
func (d *decoder) checkUnits() {
	f := d.f
	if len(f.Points) == 0 && len(f.Plates) == 0 {
		return
	}
	_, ok := metres(f.Units)
	mixed := false
	for i := range f.Points {
		mixed = mixed || f.Points[i].Unit != ""
	}
	switch {
	case mixed:
		if _, err := f.UnitMetres(); err != nil {
			d.warn.add(CodeMixedUnits, "POINT:UNITS", "%v", err)
		}
	case f.Units == "":
		d.warn.add(CodeUnitUnknown, "POINT:UNITS", "no length unit is stated")
	case !ok:
		d.warn.add(CodeUnitUnknown, "POINT:UNITS", "%q is no known length unit", f.Units)
	default:
		switch f.Units {
		case "mm", "cm", "m", "in", "ft":
		default:
			m, _ := metres(f.Units)
			d.warn.add(CodeUnitSpelling, "POINT:UNITS", "%q taken for a unit of %g m", f.Units, m)
		}
	}
}
