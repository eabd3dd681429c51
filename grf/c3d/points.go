package c3d

import (
	"fmt"
	"math"
	"strings"

	"gonum.org/v1/gonum/spatial/r3"
)

// Point is one trajectory: a marker, or a model output that the file keeps
// among the points (see Kind). The three series have one element per frame.
type Point struct {
	// Label is never empty after Decode: a point without one is named M001,
	// M002, … by its place.
	Label       string
	Description string
	// Unit is the unit of this point when the points of the file have different
	// ones, otherwise "".
	Unit string
	Kind Kind

	// Position holds the coordinates in the units of the file, NaN in all three
	// where the point is missing. Encode takes any NaN or infinite coordinate
	// for a missing point.
	Position []r3.Vec
	// Residual is the mean distance of the camera rays, in the units of the
	// file: 0 for a computed point, NaN for a missing one. nil is all 0.
	Residual []float64
	// Cameras has bit k set when camera k+1 (of 7) saw the point; 0 where it is
	// missing. nil is all 0.
	Cameras []uint8
}

// Kind is what a point holds, as told by the lists POINT:ANGLES, FORCES,
// MOMENTS, POWERS and SCALARS. Only positions are lengths.
type Kind uint8

const (
	Position Kind = iota // a place, in the units of the file
	Angle
	Force
	Moment
	Power
	Scalar
)

var kindLists = [...]string{Angle: "ANGLES", Force: "FORCES", Moment: "MOMENTS", Power: "POWERS", Scalar: "SCALARS"}

// String returns "position", "angle", "force", "moment", "power" or "scalar".
func (k Kind) String() string {
	switch k {
	case Position:
		return "position"
	case Angle, Force, Moment, Power, Scalar:
		return strings.ToLower(strings.TrimSuffix(kindLists[k], "S"))
	}
	return fmt.Sprintf("Kind(%d)", k)
}

// sentinel marks missing coordinates in the files of some exporters.
const sentinel = 9999999

// describePoints fills in everything of points but their series, from the
// parameters. It returns the common unit and how many labels were made up.
func describePoints(g Groups, points []Point) (units string, unlabelled int) {
	labels := g.Strings("POINT", "LABELS")
	descriptions := g.Strings("POINT", "DESCRIPTIONS")
	cells := g.Strings("POINT", "UNITS")
	mixed := false
	if len(cells) > 0 {
		units = cells[0]
		for _, u := range cells[1:] {
			mixed = mixed || u != "" && !strings.EqualFold(u, units)
		}
		if mixed {
			units = ""
		}
	}
	kinds := make(map[string]Kind)
	for k, list := range kindLists {
		if list == "" {
			continue
		}
		for _, l := range g.Strings("POINT", list) {
			if l != "" {
				kinds[l] = Kind(k)
			}
		}
	}
	for i := range points {
		p := &points[i]
		p.Label, p.Description, p.Unit = cell(labels, i), cell(descriptions, i), ""
		if mixed {
			p.Unit = cell(cells, i)
		}
		p.Kind = kinds[p.Label]
		if p.Label == "" {
			p.Label = fmt.Sprintf("M%03d", i+1)
			unlabelled++
		}
	}
	return units, unlabelled
}

// cell returns element i of a list that may be shorter.
func cell(list []string, i int) string {
	if i < len(list) {
		return list[i]
	}
	return ""
}

// pointFacts reads what the parameters say about the points.
func (d *decoder) pointFacts() {
	f := d.f
	f.PointScale = d.pointScale()
	n := f.Layout.DeclaredPoints
	if f.Frames == 0 {
		n = min(n, maxWithoutFrames)
	}
	if f.Storage == Integer && n > 0 && !(f.PointScale > 0 && f.PointScale <= math.MaxFloat32) {
		f.PointsErr = &FormatError{Place: "POINT:SCALE", Offset: -1, Err: ErrScale,
			Detail: fmt.Sprintf("%g, with points stored as integers", f.PointScale)}
		d.warn.add(CodePoints, "POINT:SCALE", "the points can not be read: %v", ErrScale)
		n = 0
	}
	f.Points = resize(f.memory.points, n)
	f.memory.points = f.Points
	for i := range f.Points {
		f.Points[i] = Point{}
	}
	var unlabelled int
	f.Units, unlabelled = describePoints(f.Groups, f.Points)
	if unlabelled > 0 {
		d.warn.add(CodeMissingLabels, "POINT:LABELS", "%d of %d points have no label; they are named by their place", unlabelled, n)
	}
	d.checkLabels("POINT", n, func(i int) string { return f.Points[i].Label })
}

// pointScale returns the magnitude of the scale.
func (d *decoder) pointScale() float64 {
	f := d.f
	good := func(s float64) bool { return s != 0 && !math.IsNaN(s) && !math.IsInf(s, 0) }
	s, have := f.Groups.float("POINT", "SCALE")
	h := f.Header.Scale
	switch {
	case good(s):
		if good(h) && math.Abs(math.Abs(s)-math.Abs(h)) > 1e-6*math.Abs(s) {
			d.warn.add(CodeScaleMismatch, "POINT:SCALE", "took %g, the header says %g", s, h)
		}
		return math.Abs(s)
	case good(h):
		if have {
			d.warn.add(CodeScale, "POINT:SCALE", "%g is no scale; took %g from the header", s, h)
		}
		return math.Abs(h)
	}
	if f.Layout.DeclaredPoints > 0 {
		d.warn.add(CodeScale, "POINT:SCALE", "%g is no scale, nor is %g of the header; residuals are unknown", s, h)
	}
	return 0
}

// checkLabels warns of duplicates and of split lists.
func (d *decoder) checkLabels(group string, n int, at func(int) string) {
	seen := make(map[string]int, n)
	twice, example := 0, ""
	for i := range n {
		l := at(i)
		if _, ok := seen[l]; ok {
			twice++
			example = l
		}
		seen[l] = i
	}
	if twice > 0 {
		d.warn.add(CodeDuplicateLabel, group+":LABELS", "%d labels are used before, such as %q; looking up a label finds the first", twice, example)
	}
	if p := d.f.Groups.Find(group, "LABELS"); p != nil && len(p.Dims) > 1 && p.Dims[1] < 255 && d.f.Groups.Find(group, "LABELS2") != nil {
		d.warn.add(CodeLabelsSplit, group+":LABELS2", "continues a list of %d labels that had room for 255", p.Dims[1])
	}
}

// pointSink takes the stored numbers of points and counts what is odd.
type pointSink struct {
	position []r3.Vec
	residual []float64
	cameras  []uint8
	scale    float64 // of residuals
	zeroGone bool    // Options.ZeroIsMissing

	nan, inf, sentinel, fraction, over int
}

// put stores a point, given its fourth number w: −1 or any negative number for
// a missing point, else residual in the low byte and cameras in the high byte
// (Source: C3D User Guide, "3D data, integer format" and "floating-point
// format", which stores the same integer as a float).
func (s *pointSink) put(i int, x, y, z, w float64) {
	sum := x + y + z
	if w >= 0 && sum-sum == 0 && x != sentinel {
		word := int(w)
		if float64(word) != w || word > math.MaxInt16 {
			word = s.oddWord(w)
		}
		if !s.zeroGone || x != 0 || y != 0 || z != 0 || word&0xff != 0 {
			s.position[i] = r3.Vec{X: x, Y: y, Z: z}
			s.residual[i] = float64(word&0xff) * s.scale
			s.cameras[i] = uint8(word >> 8 & 0x7f)
			return
		}
	} else if !(w < 0) {
		if s.valid(x, y, z, w) {
			word := s.oddWord(w)
			s.position[i] = r3.Vec{X: x, Y: y, Z: z}
			s.residual[i] = float64(word&0xff) * s.scale
			s.cameras[i] = uint8(word >> 8 & 0x7f)
			return
		}
	}
	nan := math.NaN()
	s.position[i] = r3.Vec{X: nan, Y: nan, Z: nan}
	s.residual[i] = nan
	s.cameras[i] = 0
}

// valid settles the rare cases of a point that is not marked as missing.
func (s *pointSink) valid(x, y, z, w float64) bool {
	switch {
	case math.IsNaN(x) || math.IsNaN(y) || math.IsNaN(z) || math.IsNaN(w):
		s.nan++
	case math.IsInf(x, 0) || math.IsInf(y, 0) || math.IsInf(z, 0):
		s.inf++
	case x == sentinel && y == sentinel && z == sentinel:
		s.sentinel++
	default:
		return true
	}
	return false
}

// oddWord makes an integer of a fourth number that is none, or too large.
func (s *pointSink) oddWord(w float64) int {
	if w > math.MaxInt16 {
		s.over++
		return int(math.Min(w, math.MaxUint16))
	}
	if w != math.Trunc(w) {
		s.fraction++
	}
	return int(w + 0.5)
}

func (s *pointSink) report(warn *warnings) {
	tell := func(n int, code, text string) {
		if n > 0 {
			warn.add(code, "data", "%d points %s", n, text)
		}
	}
	tell(s.nan, CodeNaNPoint, "marked as valid are not numbers; taken as missing")
	tell(s.inf, CodeInfPoint, "marked as valid are infinite; taken as missing")
	tell(s.sentinel, CodeSentinel, "marked as valid stand at 9999999; taken as missing")
	tell(s.fraction, CodeResidualFraction, "have a residual word that is no integer; rounded")
	tell(s.over, CodeResidualRange, "have a residual word over 32767; its low 15 bits were taken")
}
