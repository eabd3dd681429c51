package capture

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/spatial/r3"

	"example.com/momentarm/grf"
)

// points takes forces, where they act, and free moments.
func (b *tableBuilder) points(p TablePlate, cfg *grf.PlateConfig) error {
	f, err := b.three(p.Force, "force", force)
	if err != nil {
		return err
	}
	if p.Free == "" {
		p.Free = unmeasured
	}
	free, err := b.values(join(b.path, "free"), p.Free, moment)
	if err != nil {
		return err
	}
	var at [][]float64
	for i, spec := range p.COP {
		v, err := b.values(index(join(b.path, "cop"), i), spec, length)
		if err != nil {
			return err
		}
		at = append(at, v)
	}
	cfg.Type = grf.TypePoint
	if p.Axes == "plate" {
		if len(at) == 3 {
			for i, z := range at[2] {
				if math.Abs(z) > 1e-6 {
					return setupErrorf(index(join(b.path, "cop"), 2), "%g m in row %d; in plate axes the centre of pressure lies on the surface, z = 0", z, i+1)
				}
			}
		}
		b.src.channels = [][]float64{f[0], f[1], f[2], at[0], at[1], free}
		b.says = "force, centre of pressure and free moment, in plate axes"
		return b.fillPoints(f)
	}
	if len(at) != 3 {
		return setupErrorf(join(b.path, "cop"), `2 columns; in %s axes give x, y and z, such as "0 m" for a coordinate that has no column`, p.Axes)
	}
	// Axes with z up are laid so that the free moment is about z.
	z := r3.Vec{Z: 1}
	if p.Axes == "lab" {
		if !b.r.setup.Lab.Up.stated() {
			return upMissing()
		}
		z = r3.Unit(r3.Vec(b.r.setup.Lab.Up))
	}
	x := r3.Vec{X: 1}
	if math.Abs(z.X) > 0.7 {
		x = r3.Vec{Y: 1}
	}
	x = r3.Unit(r3.Sub(x, r3.Scale(r3.Dot(x, z), z)))
	y := r3.Cross(z, x)
	n := b.t.Rows
	ch := make([][]float64, 6)
	for i := range ch {
		ch[i] = make([]float64, n)
	}
	height := math.NaN()
	for i := range n {
		fv := r3.Vec{X: f[0][i], Y: f[1][i], Z: f[2][i]}
		pv := r3.Vec{X: at[0][i], Y: at[1][i], Z: at[2][i]}
		ch[0][i], ch[1][i], ch[2][i] = r3.Dot(x, fv), r3.Dot(y, fv), r3.Dot(z, fv)
		ch[3][i], ch[4][i], ch[5][i] = r3.Dot(x, pv), r3.Dot(y, pv), free[i]
		if h := r3.Dot(z, pv); !math.IsNaN(h) {
			if math.IsNaN(height) {
				height = h
			}
			if math.Abs(h-height) > 0.002 && math.Abs(ch[2][i]) >= b.r.threshold {
				return setupErrorf(join(b.path, "cop"), "the height of the centre of pressure changes from %.4f to %.4f m in row %d; one plane is needed", height, h, i+1)
			}
		}
	}
	if math.IsNaN(height) {
		return setupErrorf(join(b.path, "cop"), "the columns hold no position at all")
	}
	cfg.Corners = square(r3.Scale(height, z), x, y)
	b.src.channels = ch
	b.says = fmt.Sprintf("force, centre of pressure and free moment, in %s axes", p.Axes)
	return b.fillPoints(f)
}

// fillPoints settles rows without a centre of pressure. Without force there is
// nothing to place. A force below the threshold is put where the foot last stood,
// or first will; its moment is then wrong by no more than the threshold times
// that distance. A larger force without a place stays undefined.
func (b *tableBuilder) fillPoints(f [][]float64) error {
	ch := b.src.channels
	first := -1
	for i := range ch[3] {
		if !math.IsNaN(ch[3][i] + ch[4][i]) {
			first = i
			break
		}
	}
	if first < 0 {
		return setupErrorf(join(b.path, "cop"), "the columns hold no position at all")
	}
	// Columns of the table are not written to.
	px, py, free := append([]float64(nil), ch[3]...), append([]float64(nil), ch[4]...), append([]float64(nil), ch[5]...)
	last := first
	moved, lost := 0, 0
	largest := 0.0
	for i := range px {
		if !math.IsNaN(px[i] + py[i]) {
			last = i
			continue
		}
		size := math.Sqrt(f[0][i]*f[0][i] + f[1][i]*f[1][i] + f[2][i]*f[2][i])
		if !(size < b.r.threshold) {
			if !math.IsNaN(size) {
				lost++
			}
			continue
		}
		px[i], py[i] = px[last], py[last]
		if math.IsNaN(free[i]) {
			free[i] = 0 // a foot in the air
		}
		if size > 0 {
			moved++
			largest = math.Max(largest, size)
		}
	}
	ch[3], ch[4], ch[5] = px, py, free
	if moved > 0 {
		b.r.warn("cop-filled", b.src.name, "%d rows have a force of up to %.1f N but no centre of pressure; it was put where the foot last stood", moved, largest)
	}
	if lost > 0 {
		b.r.warn("cop-missing", b.src.name, "%d rows have %g N or more but no centre of pressure; they are undefined", lost, b.r.threshold)
	}
	return nil
}
