package grf

import (
	"encoding/binary"
	"errors"
	"math"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"
)

// fuzzFloats reads bytes as numbers, so that NaN, infinities and huge values occur.
func fuzzFloats(data []byte) []float64 {
	x := make([]float64, len(data)/8)
	for i := range x {
		x[i] = math.Float64frombits(binary.LittleEndian.Uint64(data[8*i:]))
	}
	return x
}

func fuzzBytes(x ...float64) []byte {
	var data []byte
	for _, v := range x {
		data = binary.LittleEndian.AppendUint64(data, math.Float64bits(v))
	}
	return data
}

// FuzzPlate: any description is a plate or an error of those that are documented. A
// plate gives the same digits sample by sample and as a series, reverses with its
// sense, and of moderate numbers makes finite ones.
func FuzzPlate(f *testing.F) {
	corners := []float64{0.4, 0.6, 0, 0, 0.6, 0, 0, 0, 0, 0.4, 0, 0}
	matrix := make([]float64, 36)
	for i := range 6 {
		matrix[7*i] = 100
	}
	f.Add(2, fuzzBytes(corners...), fuzzBytes(0, 0, -0.04), 0.0, fuzzBytes(), fuzzBytes(1, 2, -700, 3, 4, 5))
	f.Add(1, fuzzBytes(corners...), fuzzBytes(0, 0, 0.04), 0.02, fuzzBytes(), fuzzBytes(1, 2, -700, 0.1, 0.1, 5))
	f.Add(3, fuzzBytes(corners...), fuzzBytes(0.12, 0.2, -0.05), 0.0, fuzzBytes(), fuzzBytes(1, 2, 3, 4, 100, 200, 300, 400))
	f.Add(4, fuzzBytes(corners...), fuzzBytes(0, 0, -0.04), 0.0, fuzzBytes(matrix...), fuzzBytes(1, 2, -7, 3, 4, 5))
	f.Add(6, fuzzBytes(corners...), fuzzBytes(0.1, 0.1, -0.04), 0.0, fuzzBytes(matrix...), fuzzBytes(make([]float64, 12)...))
	f.Add(9, fuzzBytes(math.NaN(), math.Inf(1)), fuzzBytes(1e300), -1.0, fuzzBytes(5e-324), fuzzBytes(math.NaN()))
	f.Fuzz(func(t *testing.T, typ int, corners, origin []byte, cover float64, matrix, channels []byte) {
		c := PlateConfig{Type: PlateType(typ), TopCover: cover, Sense: Sense(typ >> 8 & 3)}
		for i, v := range fuzzFloats(corners) {
			if i < 12 {
				*[3]*float64{&c.Corners[i/3].X, &c.Corners[i/3].Y, &c.Corners[i/3].Z}[i%3] = v
			}
		}
		for i, v := range fuzzFloats(origin) {
			if i < 3 {
				*[3]*float64{&c.Origin.X, &c.Origin.Y, &c.Origin.Z}[i] = v
			}
		}
		m := fuzzFloats(matrix)
		for n := c.Type.Channels(); n > 0 && len(m) >= n; m = m[n:] {
			c.Calibration = append(c.Calibration, m[:n])
		}
		if len(m) > 0 {
			c.ChannelScale = m
		}
		p, err := NewPlate(c)
		if err != nil {
			if p != nil {
				t.Fatalf("a plate beside %v", err)
			}
			for _, want := range []error{ErrPlateType, ErrCorners, ErrOrigin, ErrCalibration, ErrChannels, ErrSense} {
				if errors.Is(err, want) {
					return
				}
			}
			t.Fatalf("undocumented error: %v", err)
		}
		if fr := p.Frame(); math.Abs(r3.Norm(fr.X)-1) > 1e-9 || math.Abs(r3.Dot(fr.X, fr.Y)) > 1e-9 || math.Abs(r3.Norm(fr.Z)-1) > 1e-9 {
			t.Fatalf("frame %+v of corners %v", fr, c.Corners)
		}
		sample := fuzzFloats(channels)
		w := p.Wrench(sample)
		if len(sample) != p.Channels() {
			if !w.IsNaN() {
				t.Fatalf("%d channels gave %v", len(sample), w)
			}
			return
		}
		series := make([][]float64, len(sample))
		moderate := true
		for i, v := range sample {
			series[i] = []float64{v, v}
			moderate = moderate && math.Abs(v) < 1e6
		}
		for _, row := range c.Calibration {
			for _, v := range row {
				moderate = moderate && math.Abs(v) < 1e9
			}
		}
		for _, v := range c.ChannelScale {
			moderate = moderate && math.Abs(v) < 1e9
		}
		ws, err := p.Wrenches(nil, series)
		if err != nil || !alike(ws[0], w) || !alike(ws[1], w) {
			t.Fatalf("%v singly, %v as a series, %v", w, ws, err)
		}
		other := Action
		if c.Sense == Action {
			other = Reaction
		}
		if v := p.WithSense(other).Wrench(sample); !alike(v, w.Scale(-1)) {
			t.Fatalf("%v, of the other sense %v", w, v)
		}
		if near := r3.Norm(c.Origin) < 1e6 && r3.Norm(p.Frame().Origin) < 1e6; moderate && near && (w.IsNaN() || r3.Norm(w.Force)+r3.Norm(w.Moment) > 1e300) {
			t.Fatalf("%v of %v", w, sample)
		}
		if _, err := MeasureBaseline(p, series, 0, 1, BaselineOptions{}); !errors.Is(err, ErrWindow) {
			t.Fatal(err)
		}
	})
}

// alike compares numbers; NaN are alike.
func alike(a, b Wrench) bool {
	for i, x := range components(a) {
		if y := components(b)[i]; x != y && !(x != x && y != y) {
			return false
		}
	}
	return true
}

// FuzzFitCalibration: any loads give a calibration of finite numbers or an error of
// those that are documented.
func FuzzFitCalibration(f *testing.F) {
	var good []float64
	for k := range 8 {
		x := float64(k)
		force, point := r3.Vec{X: 50 * math.Sin(x), Y: 40 * math.Cos(2*x), Z: 100 + 20*x}, r3.Vec{X: 0.2 * math.Cos(x), Y: 0.2 * math.Sin(3*x)}
		w := At(force, point, r3.Vec{Z: x})
		good = append(good, force.X, force.Y, force.Z, point.X, point.Y, point.Z, x)
		for _, v := range components(w) {
			good = append(good, v/100)
		}
	}
	f.Add(fuzzBytes(good...), byte(0))
	f.Add(fuzzBytes(good...), byte(1))
	f.Add(fuzzBytes(make([]float64, 13*7)...), byte(1))
	f.Add(fuzzBytes(append(good[:60:60], math.NaN(), math.Inf(1), 1e300)...), byte(0))
	f.Fuzz(func(t *testing.T, data []byte, choice byte) {
		if len(data) > 1<<13 {
			return
		}
		var loads []KnownLoad
		for v := fuzzFloats(data); len(v) >= 13; v = v[13:] {
			loads = append(loads, KnownLoad{Force: r3.Vec{X: v[0], Y: v[1], Z: v[2]}, Point: r3.Vec{X: v[3], Y: v[4], Z: v[5]}, Couple: r3.Vec{Z: v[6]}, Channels: v[7:13]})
		}
		fit, err := FitCalibration(loads, CalibrationOptions{Zero: ZeroFit(choice & 1)})
		if (fit == nil) == (err == nil) {
			t.Fatalf("%v and %v", fit != nil, err)
		}
		if err != nil {
			if !errors.Is(err, ErrExcitation) && !errors.Is(err, ErrKnownLoads) && !errors.Is(err, ErrCalibration) {
				t.Fatalf("undocumented error: %v", err)
			}
			return
		}
		for i, row := range fit.Matrix {
			for j, v := range row {
				if math.IsNaN(v) || math.IsInf(v, 0) {
					t.Fatalf("Matrix[%d][%d] is %g", i, j, v)
				}
			}
		}
	})
}
