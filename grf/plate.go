package grf

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/spatial/r3"
)

// PlateType is a force-platform type as numbered by FORCE_PLATFORM:TYPE of the
// C3D format (C3D User Guide, "The FORCE_PLATFORM group"). Types 1 to 4 are
// the standard's; 5 to 7 are calibrated variants in wide use that it does not
// define.
type PlateType int

const (
	// TypePoint has the channels Fx Fy Fz Px Py Tz: the force, its point on the
	// surface relative to the centre, and the free moment, resolved already.
	TypePoint PlateType = 1
	// TypeMoment has Fx Fy Fz Mx My Mz about the measuring origin.
	TypeMoment PlateType = 2
	// TypeEight has Fx12 Fx34 Fy14 Fy23 Fz1 Fz2 Fz3 Fz4 of four corner sensors,
	// which are numbered like the corners: 1 at (+a, +b), 2 at (−a, +b), 3 at
	// (−a, −b), 4 at (+a, −b), with a and b of [PlateConfig.Origin]. Fx12 is the
	// sum of sensors 1 and 2, and so on. About the middle of the sensors
	//
	//	Mx = b (Fz1 + Fz2 − Fz3 − Fz4)
	//	My = a (Fz2 + Fz3 − Fz1 − Fz4)
	//	Mz = b (Fx34 − Fx12) + a (Fy14 − Fy23)
	TypeEight PlateType = 3
	// TypeMomentCalibrated is TypeMoment behind a 6×6 calibration matrix.
	TypeMomentCalibrated PlateType = 4
	// TypeEightToMoment has eight raw channels that a 6×8 matrix turns into the
	// channels of TypeMoment.
	TypeEightToMoment PlateType = 5
	// TypeTwelve has Fx Fy Fz of corner sensors 1 to 4, sensor by sensor, behind
	// a 12×12 matrix. The order is not fixed by any standard: check it with a
	// known load and put the channels into this order if need be.
	TypeTwelve PlateType = 6
	// TypeEightCalibrated is TypeEight behind an 8×8 matrix.
	TypeEightCalibrated PlateType = 7
)

// Channels returns how many channels a plate of this type has, 0 for a type
// that is not known.
func (t PlateType) Channels() int {
	switch t {
	case TypePoint, TypeMoment, TypeMomentCalibrated:
		return 6
	case TypeEight, TypeEightToMoment, TypeEightCalibrated:
		return 8
	case TypeTwelve:
		return 12
	}
	return 0
}

// calibrated returns how many rows the calibration matrix of this type has, 0
// when it has none.
func (t PlateType) calibrated() int {
	switch t {
	case TypeMomentCalibrated, TypeEightToMoment:
		return 6
	case TypeEightCalibrated:
		return 8
	case TypeTwelve:
		return 12
	}
	return 0
}

// sensors reports whether the (calibrated) channels are forces of corner
// sensors, so that Origin holds their half distances.
func (t PlateType) sensors() bool {
	return t == TypeEight || t == TypeEightCalibrated || t == TypeTwelve
}

// Sense says whose force the channels of a plate report once they are rotated
// into the laboratory. No file format settles it.
type Sense int

const (
	// AsMeasured leaves the sign alone, because it is not known or not wanted.
	AsMeasured Sense = iota
	// Reaction: the channels report the ground's push on the golfer.
	Reaction
	// Action: the channels report the golfer's push on the plate; force and
	// moment change sign together.
	Action
)

// String returns "as measured", "reaction" or "action".
func (s Sense) String() string {
	switch s {
	case AsMeasured:
		return "as measured"
	case Reaction:
		return "reaction"
	case Action:
		return "action"
	}
	return fmt.Sprintf("Sense(%d)", int(s))
}

// SenseUnderLoad tells action from reaction by the sign of the vertical force
// while the plate is loaded: of the samples of ws, as measured and in the
// laboratory, whose component along up is at least minLoad in size, it returns
// the mean of that component and its verdict, [AsMeasured] if there is no such
// sample. Samples that are NaN do not count.
func SenseUnderLoad(ws []Wrench, up r3.Vec, minLoad float64) (sense Sense, mean float64) {
	up = r3.Unit(up)
	var sum float64
	var n int
	for _, w := range ws {
		if v := r3.Dot(w.Force, up); math.Abs(v) >= minLoad {
			sum += v
			n++
		}
	}
	switch {
	case n == 0:
		return AsMeasured, math.NaN()
	case sum > 0:
		return Reaction, sum / float64(n)
	}
	return Action, sum / float64(n)
}

// PlateConfig describes a force plate in SI units.
type PlateConfig struct {
	Type PlateType

	// Corners of the surface that the golfer stands on, in the laboratory, m,
	// in the C3D order: seen in plate axes (+x,+y), (−x,+y), (−x,−y), (+x,−y).
	// They define the plate's axes: x along corner 2 → 1, y from 4 → 1, z = x × y,
	// which points into the floor for plates described the usual way.
	Corners [4]r3.Vec

	// Origin for TypePoint is ignored. For TypeMoment, TypeMomentCalibrated and
	// TypeEightToMoment it is the vector from the measuring origin to the centre
	// of the plate's own surface in plate axes, m (its z is negative when plate z
	// points down). For the sensor types it is (a, b, az0): half the distances of
	// the sensors along x and y, both positive, and the surface's z above the
	// sensors, negative.
	Origin r3.Vec

	// TopCover is the thickness of whatever was laid on the plate after it was
	// calibrated (turf, mat, tile), m. It adds to the depth of the sensors.
	TopCover float64

	// Calibration turns channels into forces and moments, row by row:
	// out[i] = Σ Calibration[i][j]·channel[j], in N and N·m: its elements are in N
	// and N·m per unit of the channel, whichever that is. Only the calibrated
	// types have one. See [TypeTwelve] and [TypeEightCalibrated] for what the
	// rows are; for the others they are Fx Fy Fz Mx My Mz.
	Calibration [][]float64

	// ChannelScale, if not nil, multiplies each channel first. It makes newtons of
	// the channels of types without a matrix: N/mV, say.
	ChannelScale []float64

	// Sense says whose force the channels report. The wrenches of a plate whose
	// Sense is Action come out negated, as reactions.
	Sense Sense

	// PointCorrection, if not nil, holds the twelve coefficients P0…P11 of the
	// position correction that some plates with four corner sensors come with:
	//
	//	Δx = (P0 y⁴ + P1 y² + P2) x³ + (P3 y⁴ + P4 y² + P5) x
	//	Δy = (P6 x⁴ + P7 x² + P8) y³ + (P9 x⁴ + P10 x² + P11) y
	//
	// with x, y the centre of pressure in plate axes and in millimetres; the
	// centre of pressure moves by (−Δx, −Δy) and the free moment stays. It is
	// applied only where the plate carries at least 20 N.
	PointCorrection *[12]float64
}

// correctionLoad is the load under which a position correction is not applied,
// N: at noise level the polynomial turns metres into kilometres.
const correctionLoad = 20

// Plate turns the channels of one force plate into wrenches. It does not change
// after [NewPlate] and may be shared by goroutines.
type Plate struct {
	typ        PlateType
	n          int // channels
	frame      Frame
	length     float64 // along x, m
	width      float64 // along y, m
	sense      Sense
	sign       float64
	surface    []float64 // 6×n: channels → wrench about the surface centre, plate axes, as measured
	lab        []float64 // 6×n: channels → wrench about the laboratory's origin, sense applied
	cover      r3.Vec    // TypePoint: from the plate's own surface to the standing surface
	scale      []float64 // TypePoint only, never nil there
	correction *[12]float64
	warnings   []Warning
}

// NewPlate returns the plate that c describes. It fails with an error that
// wraps [ErrPlateType], [ErrCorners], [ErrOrigin], [ErrCalibration],
// [ErrChannels] or [ErrSense]; what is odd but usable is told by [Plate.Warnings].
//
// Equations: the force is the sum of the sensors' forces; the moment about the
// surface centre is M_O − o × F, with o the vector from the measuring origin to
// it; the corner-sensor sums are those of the eight-channel plates (Fx12 and so
// on: C3D User Guide, TYPE 3; Zatsiorsky, Kinetics of Human Motion, 2002,
// ch. 1, from memory, for the transport of moments).
func NewPlate(c PlateConfig) (*Plate, error) {
	n := c.Type.Channels()
	if n == 0 {
		return nil, fmt.Errorf("%w: %d (1 to 7 are known)", ErrPlateType, int(c.Type))
	}
	p := &Plate{typ: c.Type, n: n, sense: c.Sense, sign: 1}
	switch c.Sense {
	case AsMeasured, Reaction:
	case Action:
		p.sign = -1
	default:
		return nil, fmt.Errorf("%w: %v", ErrSense, c.Sense)
	}
	if err := p.setFrame(c.Corners); err != nil {
		return nil, err
	}
	if !finite(c.Origin) {
		return nil, fmt.Errorf("%w: %v is not finite", ErrOrigin, c.Origin)
	}
	if c.Type.sensors() && !(c.Origin.X > 0 && c.Origin.Y > 0) {
		return nil, fmt.Errorf("%w: plate type %d needs the sensors' half distances a and b as Origin.X and Origin.Y, both positive, got %g and %g m",
			ErrOrigin, int(c.Type), c.Origin.X, c.Origin.Y)
	}
	if !(c.TopCover >= 0) || c.TopCover > 0.5 {
		return nil, fmt.Errorf("%w: top cover of %g m (0 to 0.5 m is accepted)", ErrOrigin, c.TopCover)
	}
	scale, err := channelScale(c.ChannelScale, n)
	if err != nil {
		return nil, err
	}
	if c.PointCorrection != nil {
		corr := *c.PointCorrection
		p.correction = &corr
	}
	toSurface := r3.Vec{Z: -c.TopCover} // up, in plate axes
	if c.Origin.Z > 0 {
		toSurface.Z = c.TopCover // a plate described with z up
	}
	if c.Type == TypePoint {
		p.cover, p.scale = toSurface, scale
		return p, nil
	}
	switch {
	case c.Type.sensors():
		toSurface.Z += c.Origin.Z
	default:
		toSurface = r3.Add(toSurface, c.Origin)
	}
	if err := p.setMatrices(c, scale, toSurface); err != nil {
		return nil, err
	}
	return p, nil
}

func channelScale(given []float64, n int) ([]float64, error) {
	scale := make([]float64, n)
	if given == nil {
		for i := range scale {
			scale[i] = 1
		}
		return scale, nil
	}
	if len(given) != n {
		return nil, fmt.Errorf("%w: %d channel scales for %d channels", ErrChannels, len(given), n)
	}
	for i, s := range given {
		if s == 0 || math.IsNaN(s) || math.IsInf(s, 0) {
			return nil, fmt.Errorf("%w: scale of channel %d is %g", ErrChannels, i+1, s)
		}
		scale[i] = s
	}
	return scale, nil
}

// setMatrices folds scale, calibration, sensor geometry, the move to the
// surface, the rotation into the laboratory, the move to its origin and the
// sense into one 6×n matrix.
func (p *Plate) setMatrices(c PlateConfig, scale []float64, toSurface r3.Vec) error {
	cal, err := calibrationMatrix(c, p.n)
	if err != nil {
		return err
	}
	var m mat.Dense
	m.Mul(sensorSums(c), cal)
	p.surface = make([]float64, 6*p.n)
	p.lab = make([]float64, 6*p.n)
	for j := 0; j < p.n; j++ {
		w := Wrench{
			Force:  r3.Scale(scale[j], r3.Vec{X: m.At(0, j), Y: m.At(1, j), Z: m.At(2, j)}),
			Moment: r3.Scale(scale[j], r3.Vec{X: m.At(3, j), Y: m.At(4, j), Z: m.At(5, j)}),
		}
		w = w.MovedTo(toSurface)
		setColumn(p.surface, p.n, j, w)
		setColumn(p.lab, p.n, j, p.frame.WrenchOut(w).Scale(p.sign))
	}
	return nil
}

// calibrationMatrix returns the matrix of c, the identity for types without.
func calibrationMatrix(c PlateConfig, n int) (*mat.Dense, error) {
	rows := c.Type.calibrated()
	if rows == 0 {
		m := mat.NewDense(n, n, nil)
		for i := 0; i < n; i++ {
			m.Set(i, i, 1)
		}
		return m, nil
	}
	if len(c.Calibration) != rows {
		return nil, fmt.Errorf("%w: plate type %d needs a %d×%d matrix, got %d rows", ErrCalibration, int(c.Type), rows, n, len(c.Calibration))
	}
	m := mat.NewDense(rows, n, nil)
	for i, row := range c.Calibration {
		if len(row) != n {
			return nil, fmt.Errorf("%w: row %d has %d columns, plate type %d has %d channels", ErrCalibration, i+1, len(row), int(c.Type), n)
		}
		for j, v := range row {
			if math.IsNaN(v) || math.IsInf(v, 0) {
				return nil, fmt.Errorf("%w: element (%d,%d) is %g", ErrCalibration, i+1, j+1, v)
			}
			m.Set(i, j, v)
		}
	}
	// Equilibrated, because forces and moments differ by orders of magnitude.
	eq := mat.DenseCopyOf(m)
	for i := 0; i < rows; i++ {
		norm := mat.Norm(eq.RowView(i), 2)
		if norm == 0 {
			return nil, fmt.Errorf("%w: row %d is zero", ErrCalibration, i+1)
		}
		for j := 0; j < n; j++ {
			eq.Set(i, j, eq.At(i, j)/norm)
		}
	}
	var svd mat.SVD
	if !svd.Factorize(eq, mat.SVDNone) || svd.Cond() > 1e8 {
		return nil, fmt.Errorf("%w: the rows depend on each other", ErrCalibration)
	}
	return m, nil
}

// sensorSums returns the 6×k matrix that sums k (calibrated) channels to force
// and moment about the measuring origin.
func sensorSums(c PlateConfig) *mat.Dense {
	a, b := c.Origin.X, c.Origin.Y
	switch c.Type {
	case TypeEight, TypeEightCalibrated:
		return mat.NewDense(6, 8, []float64{
			// x12 x34 y14 y23 z1 z2 z3 z4
			1, 1, 0, 0, 0, 0, 0, 0,
			0, 0, 1, 1, 0, 0, 0, 0,
			0, 0, 0, 0, 1, 1, 1, 1,
			0, 0, 0, 0, b, b, -b, -b,
			0, 0, 0, 0, -a, a, a, -a,
			-b, b, a, -a, 0, 0, 0, 0,
		})
	case TypeTwelve:
		m := mat.NewDense(6, 12, nil)
		for k, at := range [4]r3.Vec{{X: a, Y: b}, {X: -a, Y: b}, {X: -a, Y: -b}, {X: a, Y: -b}} {
			for axis, unit := range [3]r3.Vec{{X: 1}, {Y: 1}, {Z: 1}} {
				w := At(unit, at, r3.Vec{})
				for i, v := range components(w) {
					m.Set(i, 3*k+axis, v)
				}
			}
		}
		return m
	}
	m := mat.NewDense(6, 6, nil)
	for i := 0; i < 6; i++ {
		m.Set(i, i, 1)
	}
	return m
}

func components(w Wrench) [6]float64 {
	return [6]float64{w.Force.X, w.Force.Y, w.Force.Z, w.Moment.X, w.Moment.Y, w.Moment.Z}
}

func setColumn(m []float64, n, j int, w Wrench) {
	for i, v := range components(w) {
		m[i*n+j] = v
	}
}

// Type returns the plate's type.
func (p *Plate) Type() PlateType { return p.typ }

// Channels returns the number of channels that one sample has.
func (p *Plate) Channels() int { return p.n }

// Sense returns whose force the channels were said to report.
func (p *Plate) Sense() Sense { return p.sense }

// Frame returns the plate's axes in the laboratory; the origin is the centre of
// the standing surface, the mean of the four corners.
func (p *Plate) Frame() Frame { return p.frame }

// Size returns the plate's sides along its x and y axes, m.
func (p *Plate) Size() (x, y float64) { return p.length, p.width }

// Warnings returns what is odd about the plate but did not stop NewPlate. The
// slice must not be changed.
func (p *Plate) Warnings() []Warning { return p.warnings }

// WithSense returns the same plate with another sense.
func (p *Plate) WithSense(s Sense) *Plate {
	q := *p
	q.sense, q.sign = s, 1
	if s == Action {
		q.sign = -1
	}
	if q.sign != p.sign {
		q.lab = make([]float64, len(p.lab))
		for i, v := range p.lab {
			q.lab[i] = -v
		}
	}
	return &q
}

// Wrench returns the wrench of one sample in the laboratory's axes and about
// its origin, in N and N·m, negated if the plate's [Sense] is [Action]. A
// channel that is NaN makes at least the components that it feeds NaN. A number
// of channels other than [Plate.Channels] gives [NaN]. Wrench does not allocate.
func (p *Plate) Wrench(channels []float64) Wrench {
	if len(channels) != p.n {
		return NaN()
	}
	if !p.linear() {
		return p.frame.WrenchOut(p.Surface(channels)).Scale(p.sign)
	}
	return apply(p.lab, channels)
}

// Surface returns the wrench of one sample in plate axes and about the centre
// of the standing surface, as measured: without regard to the sense. Otherwise
// it is as [Plate.Wrench].
func (p *Plate) Surface(channels []float64) Wrench {
	if len(channels) != p.n {
		return NaN()
	}
	var w Wrench
	if p.typ == TypePoint {
		s, c := p.scale, channels
		f := r3.Vec{X: s[0] * c[0], Y: s[1] * c[1], Z: s[2] * c[2]}
		w = At(f, r3.Vec{X: s[3] * c[3], Y: s[4] * c[4]}, r3.Vec{Z: s[5] * c[5]}).MovedTo(p.cover)
	} else {
		w = apply(p.surface, channels)
	}
	if p.correction != nil && math.Abs(w.Force.Z) >= correctionLoad {
		x, y := -w.Moment.Y/w.Force.Z, w.Moment.X/w.Force.Z
		w.Moment = r3.Add(w.Moment, r3.Cross(correctionShift(p.correction, x, y), w.Force))
	}
	return w
}

// correctionShift returns by how much the correction moves a point, m. Both
// offsets are taken at the uncorrected point.
func correctionShift(c *[12]float64, x, y float64) r3.Vec {
	x, y = 1000*x, 1000*y // the coefficients are for millimetres
	x2, y2 := x*x, y*y
	dx := ((c[0]*y2+c[1])*y2+c[2])*x2*x + ((c[3]*y2+c[4])*y2+c[5])*x
	dy := ((c[6]*x2+c[7])*x2+c[8])*y2*y + ((c[9]*x2+c[10])*x2+c[11])*y
	return r3.Vec{X: -dx / 1000, Y: -dy / 1000}
}

// apply returns a 6×len(c) matrix times the channels, and applyTo sets w to it. The
// products are rounded before they are added, so that results do not depend on
// whether the machine fuses multiplication and addition.
func apply(m, c []float64) (w Wrench) {
	applyTo(&w, m, c)
	return w
}

func applyTo(w *Wrench, m, c []float64) {
	n := len(c)
	if n == 6 { // nearly all plates
		apply6(w, (*[36]float64)(m), c[0], c[1], c[2], c[3], c[4], c[5])
		return
	}
	m0, m1, m2 := m[:n], m[n:][:n], m[2*n:][:n]
	m3, m4, m5 := m[3*n:][:n], m[4*n:][:n], m[5*n:][:n]
	var fx, fy, fz, mx, my, mz float64
	for j, v := range c {
		fx, fy, fz = fx+float64(m0[j]*v), fy+float64(m1[j]*v), fz+float64(m2[j]*v)
		mx, my, mz = mx+float64(m3[j]*v), my+float64(m4[j]*v), mz+float64(m5[j]*v)
	}
	w.Force.X, w.Force.Y, w.Force.Z = fx, fy, fz
	w.Moment.X, w.Moment.Y, w.Moment.Z = mx, my, mz
}

// apply6 is apply for six channels, with the same sums in the same order, which go
// straight to where they are wanted. They begin with 0, which keeps −0 out of sums of
// nothing.
func apply6(w *Wrench, m *[36]float64, a, b, c, d, e, f float64) {
	w.Force.X = 0 + float64(m[0]*a) + float64(m[1]*b) + float64(m[2]*c) + float64(m[3]*d) + float64(m[4]*e) + float64(m[5]*f)
	w.Force.Y = 0 + float64(m[6]*a) + float64(m[7]*b) + float64(m[8]*c) + float64(m[9]*d) + float64(m[10]*e) + float64(m[11]*f)
	w.Force.Z = 0 + float64(m[12]*a) + float64(m[13]*b) + float64(m[14]*c) + float64(m[15]*d) + float64(m[16]*e) + float64(m[17]*f)
	w.Moment.X = 0 + float64(m[18]*a) + float64(m[19]*b) + float64(m[20]*c) + float64(m[21]*d) + float64(m[22]*e) + float64(m[23]*f)
	w.Moment.Y = 0 + float64(m[24]*a) + float64(m[25]*b) + float64(m[26]*c) + float64(m[27]*d) + float64(m[28]*e) + float64(m[29]*f)
	w.Moment.Z = 0 + float64(m[30]*a) + float64(m[31]*b) + float64(m[32]*c) + float64(m[33]*d) + float64(m[34]*e) + float64(m[35]*f)
}

// Wrenches sets dst[i] to the wrench of sample i and returns dst, grown if it
// was too short. channels holds one series per channel, all of one length:
// otherwise the error wraps [ErrChannels] or [ErrLength].
func (p *Plate) Wrenches(dst []Wrench, channels [][]float64) ([]Wrench, error) {
	if err := p.checkChannels(channels); err != nil {
		return nil, err
	}
	dst = grow(dst, len(channels[0]))
	linear := p.linear()
	if linear && p.n == 6 {
		m := (*[36]float64)(p.lab)
		n := len(dst)
		a, b, c := channels[0][:n], channels[1][:n], channels[2][:n]
		d, e, f := channels[3][:n], channels[4][:n], channels[5][:n]
		for i := range dst {
			apply6(&dst[i], m, a[i], b[i], c[i], d[i], e[i], f[i])
		}
		return dst, nil
	}
	var room [12]float64
	sample := room[:p.n]
	for i := range dst {
		for j, c := range channels {
			sample[j] = c[i]
		}
		if linear {
			applyTo(&dst[i], p.lab, sample)
		} else {
			dst[i] = p.Wrench(sample)
		}
	}
	return dst, nil
}

func (p *Plate) checkChannels(channels [][]float64) error {
	if len(channels) != p.n {
		return fmt.Errorf("%w: plate type %d has %d, got %d", ErrChannels, int(p.typ), p.n, len(channels))
	}
	for i, c := range channels[1:] {
		if len(c) != len(channels[0]) {
			return &LengthError{What: fmt.Sprintf("channel %d against channel 1", i+2), Want: len(channels[0]), Got: len(c)}
		}
	}
	return nil
}
