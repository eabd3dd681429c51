package cop

import (
	"encoding/binary"
	"errors"
	"math"
	"reflect"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"example.com/momentarm/grf"
)

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

func infinite(v reflect.Value) bool {
	switch v.Kind() {
	case reflect.Float64:
		return math.IsInf(v.Float(), 0)
	case reflect.Struct:
		for i := range v.NumField() {
			if infinite(v.Field(i)) {
				return true
			}
		}
	}
	return false
}

// FuzzPath: a path of any numbers has measures that are finite or NaN, or an error;
// moving it along moves nothing but the places.
func FuzzPath(f *testing.F) {
	var circle []float64
	for i := range 40 {
		circle = append(circle, 0.01*math.Cos(float64(i)/3), 0.02*math.Sin(float64(i)/3))
	}
	f.Add(fuzzBytes(circle...), 100.0, byte(0))
	f.Add(fuzzBytes(make([]float64, 40)...), 100.0, byte(0))
	f.Add(fuzzBytes(0, 0, math.NaN(), 1, 2, 3, 4, 5, 6, 7, 8, 9), 1e-300, byte(1))
	f.Add(fuzzBytes(1e300, -1e300, 1e300, 1e300, -1e300, 0, 0, 0), 1e300, byte(1))
	f.Add(fuzzBytes(5e-324, 0, 0, 5e-324, 5e-324, 5e-324, 0, 0), 50.0, byte(0))
	f.Fuzz(func(t *testing.T, data []byte, rate float64, choice byte) {
		v := fuzzFloats(data)
		if len(v) > 2000 {
			return
		}
		path := make([]r3.Vec, len(v)/2)
		for i := range path {
			path[i] = r3.Vec{X: v[2*i], Y: v[2*i+1]}
		}
		opt := PathOptions{NaN: NaNPolicy(choice & 1)}
		m, err := MeasurePath(path, rate, opt)
		if err != nil {
			if !errors.Is(err, grf.ErrRate) && !errors.Is(err, grf.ErrNoData) && !errors.Is(err, ErrUndefined) && !errors.Is(err, ErrTooShort) {
				t.Fatalf("undocumented error: %v", err)
			}
			return
		}
		if infinite(reflect.ValueOf(m)) {
			t.Fatalf("%+v of %v at %g Hz", m, path, rate)
		}
		if m.N < 3 || m.First < 0 || m.First+m.N > len(path) || m.Length < 0 || m.Ellipse.Area < 0 || m.MeanDistance > m.MaxDistance*(1+1e-12)+1e-300 {
			t.Fatalf("%+v", m)
		}
		_, _ = ApproximateFoot(Side(choice>>1&1), path, ApproximateOptions{Trim: float64(choice) / 512})
		if foot, err := NewFootOutline(Side(choice>>1&1), path, r3.Vec{}); err == nil {
			for _, p := range path {
				if pl := foot.Place(p); infinite(reflect.ValueOf(pl)) {
					t.Fatalf("%+v of %v", pl, p)
				}
			}
		}
	})
}

// FuzzOf: the centre of pressure of any wrench is a point or NaN as a whole; it does
// not change with the size of the load, turns with the wrench and is reversed by
// neither.
func FuzzOf(f *testing.F) {
	f.Add(1.0, 2.0, 700.0, 30.0, -20.0, 5.0, 0.0, 20.0)
	f.Add(0.0, 0.0, 20.0, 0.0, 0.0, 0.0, 0.1, 20.0)
	f.Add(math.NaN(), 0.0, 700.0, 1.0, 1.0, math.NaN(), 0.0, 20.0)
	f.Add(1e300, 1e300, 1e-300, 1e300, 1e300, 1e300, 1e300, 0.0)
	f.Add(0.0, 0.0, math.Inf(1), 0.0, 0.0, 0.0, 0.0, 20.0)
	f.Fuzz(func(t *testing.T, fx, fy, fz, mx, my, mz, height, least float64) {
		w := grf.Wrench{Force: r3.Vec{X: fx, Y: fy, Z: fz}, Moment: r3.Vec{X: mx, Y: my, Z: mz}}
		p, free := Of(w, height, least)
		whole := func(p r3.Vec) bool { return defined(p) || math.IsNaN(p.X) && math.IsNaN(p.Y) && math.IsNaN(p.Z) }
		if !whole(p) || math.IsInf(free, 0) || math.IsNaN(p.X) && !math.IsNaN(free) {
			t.Fatalf("%v, %g of %v", p, free, w)
		}
		if defined(p) && !(fz >= least && fz > 0) {
			t.Fatalf("%v under %g N with a threshold of %g N", p, fz, least)
		}
		// Twice the load, exactly: where nothing over- or underflows the point is the
		// same to the last digit.
		if big := math.Abs(fx) + math.Abs(fy) + math.Abs(fz) + math.Abs(mx) + math.Abs(my) + math.Abs(mz); big < 1e100 && big > 1e-100 && fz > 1e-100 && math.Abs(height) < 1e3 && least > 0 && least < 1e100 {
			q, free2 := Of(w.Scale(2), height, 2*least)
			if !equal(p.X, q.X) || !equal(p.Y, q.Y) || !equal(p.Z, q.Z) || math.Abs(free2-2*free) > 1e-9*(math.Abs(free)+big) {
				t.Fatalf("%v, %g and twice the load %v, %g", p, free, q, free2)
			}
			// A quarter of a turn about the vertical.
			turn := func(v r3.Vec) r3.Vec { return r3.Vec{X: -v.Y, Y: v.X, Z: v.Z} }
			q, free2 = Of(grf.Wrench{Force: turn(w.Force), Moment: turn(w.Moment)}, height, least)
			if r := turn(p); !equal(r.X, q.X) || !equal(r.Y, q.Y) || !equal(r.Z, q.Z) || math.Abs(free2-free) > 1e-9*(math.Abs(free)+big+math.Abs(p.X*fy)+math.Abs(p.Y*fx)) {
				t.Fatalf("%v, %g and turned %v, %g", p, free, q, free2)
			}
		}
		a, couple := WrenchAxisPoint(w, height, least)
		b, _ := OnPlane(w, r3.Vec{X: fx, Z: height}, r3.Vec{X: mx, Y: my, Z: fz}, least)
		if !whole(a) || !whole(couple) || !whole(b) {
			t.Fatalf("%v, %v, %v of %v", a, couple, b, w)
		}
		if s := Share(w, grf.Wrench{Force: r3.Vec{Z: mz}}); math.IsInf(s, 0) {
			t.Fatalf("share %g of %g and %g N", s, fz, mz)
		}
	})
}

// equal is equality to a few last digits, NaN and NaN included: a compiler may fuse
// a product and a sum in one place and not in the other.
func equal(a, b float64) bool {
	return a == b || math.IsNaN(a) && math.IsNaN(b) || math.Abs(a-b) <= 1e-12*math.Max(math.Abs(a), math.Abs(b))
}

// FuzzGrid: any mat and any frames give loads that are finite or NaN as a whole.
func FuzzGrid(f *testing.F) {
	frame := make([]float64, 48)
	for i := range frame {
		if c := i % 8; c != 3 && c != 4 {
			frame[i] = 1000 * float64(i)
		}
	}
	f.Add(6, 8, 0.01, 0.012, fuzzBytes(frame...), 0.0)
	f.Add(1, 1, 0.5, 0.5, fuzzBytes(math.NaN()), 0.0)
	f.Add(2, 3, 0.1, 0.1, fuzzBytes(1, math.Inf(1), 3, -4, 1e300, 5e-324), 1.0)
	f.Add(math.MaxInt, math.MaxInt, 0.1, 0.1, fuzzBytes(), 0.0)
	f.Fuzz(func(t *testing.T, rows, columns int, across, down float64, data []byte, least float64) {
		g, err := NewGrid(GridConfig{Rows: rows, Columns: columns, First: r3.Vec{X: 0.2, Y: 0.3}, Across: r3.Vec{Y: -across}, Down: r3.Vec{X: -down}, Least: least, Unit: CellUnit(len(data) / 8 & 1)})
		if err != nil {
			if !errors.Is(err, ErrGrid) {
				t.Fatal(err)
			}
			return
		}
		cells := fuzzFloats(data)
		w := g.Wrench(cells)
		if len(cells) != g.Cells() && !w.IsNaN() || math.IsInf(w.Force.Z, 0) || math.IsInf(w.Moment.X, 0) || math.IsInf(w.Moment.Y, 0) {
			t.Fatalf("%v of %v", w, cells)
		}
		for _, d := range []func() (*Division, error){
			func() (*Division, error) { return DivideByLine(g, r3.Vec{X: least, Y: 0.28}, r3.Vec{X: 1}) },
			func() (*Division, error) { return DivideByRegions(g, [][]float64{cells}, RegionOptions{}) },
		} {
			d, err := d()
			if err != nil {
				if !errors.Is(err, ErrGrid) && !errors.Is(err, ErrNotTwoFeet) && !errors.Is(err, grf.ErrNoData) {
					t.Fatal(err)
				}
				continue
			}
			lead, trail := g.Feet(cells, d)
			if math.IsNaN(lead.Force.Z) != math.IsNaN(trail.Force.Z) || math.IsInf(lead.Force.Z, 0) {
				t.Fatalf("%v, %v", lead, trail)
			}
		}
	})
}
