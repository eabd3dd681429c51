package c3d

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/spatial/r3"
)

// appendFrames appends the data section.
func (w *writer) appendFrames(dst []byte) ([]byte, error) {
	f := w.f
	frame, word := w.frameBytes(), f.Storage.word()
	if frame == 0 {
		return dst, nil
	}
	if int64(frame)*int64(w.frames) > math.MaxInt-int64(len(dst)) {
		return nil, &UnsupportedError{Feature: fmt.Sprintf("%d frames of %d bytes on this machine", w.frames, frame)}
	}
	base := len(dst)
	dst = pad(dst, base+frame*w.frames)
	data := dst[base:]
	for i := range f.Points {
		for k := range w.frames {
			if err := w.point(data[k*frame+4*i*word:], k, i); err != nil {
				return nil, err
			}
		}
	}
	first := 4 * len(f.Points) * word
	for i := range f.Channels {
		for k, v := range f.Channels[i].Values {
			at := k/w.perFrame*frame + first + (k%w.perFrame*len(f.Channels)+i)*word
			if err := w.sample(data[at:], k, i, v); err != nil {
				return nil, err
			}
		}
	}
	return dst, nil
}

// put stores a number that has been scaled already.
func (w *writer) put(b []byte, v float64) bool {
	if w.f.Storage == Real {
		return w.f.Processor.putFloat(b, v)
	}
	v = math.Round(v)
	if !(v >= math.MinInt16 && v <= math.MaxInt16) {
		return false
	}
	w.f.Processor.putUint16(b, uint16(int16(v)))
	return true
}

// point stores point i of frame k.
func (w *writer) point(b []byte, k, i int) error {
	f := w.f
	p := &f.Points[i]
	v, residual, cameras := p.Position[k], 0.0, uint8(0)
	if len(p.Residual) > 0 {
		residual = p.Residual[k]
	}
	if len(p.Cameras) > 0 {
		cameras = p.Cameras[k]
	}
	word := f.Storage.word()
	fail := func(what string, x float64) error {
		return &WriteError{Place: fmt.Sprintf("Points[%d].%s of %s", i, what, p.Label), Index: k, Err: ErrRange,
			Detail: fmt.Sprintf("%g with scale %g as %v %v", x, w.pointScale, f.Processor, f.Storage)}
	}

	if raw, ok := f.stored.point(k, i); ok && f.stored.storage == f.Storage && w.same(raw, v, residual, cameras) {
		for n, x := range raw {
			if !w.put(b[n*word:], x) {
				return fail("Position", x)
			}
		}
		return nil
	}
	if s := v.X + v.Y + v.Z; math.IsNaN(s) || math.IsInf(s, 0) {
		// Missing is 0, 0, 0, −1, never a NaN (Source: C3D User Guide, "3D data").
		w.put(b, 0)
		w.put(b[word:], 0)
		w.put(b[2*word:], 0)
		w.put(b[3*word:], -1)
		return nil
	}
	for n, x := range [3]float64{v.X, v.Y, v.Z} {
		if f.Storage == Integer {
			x /= w.pointScale
		}
		if !w.put(b[n*word:], x) {
			return fail("Position", [3]float64{v.X, v.Y, v.Z}[n])
		}
	}
	low := math.Round(residual / w.pointScale)
	if !(low >= 0 && low <= 255) {
		return fail("Residual", residual)
	}
	if cameras > 0x7f {
		return fail("Cameras", float64(cameras))
	}
	w.put(b[3*word:], float64(int(cameras)<<8|int(low)))
	return nil
}

// same reports whether stored numbers still mean this point.
func (w *writer) same(raw [4]float64, v r3.Vec, residual float64, cameras uint8) bool {
	scale := 1.0
	if w.f.Storage == Integer {
		scale = w.pointScale
	}
	var position [1]r3.Vec
	var res [1]float64
	var cam [1]uint8
	sink := pointSink{position: position[:], residual: res[:], cameras: cam[:], scale: w.pointScale}
	sink.put(0, raw[0]*scale, raw[1]*scale, raw[2]*scale, raw[3])
	got := position[0]
	if math.IsNaN(got.X) {
		return math.IsNaN(v.X) && math.IsNaN(v.Y) && math.IsNaN(v.Z) && raw[3] < 0
	}
	return got == v && res[0] == residual && cam[0] == cameras
}

// sample stores sample k of channel i.
func (w *writer) sample(b []byte, k, i int, v float64) error {
	f := w.f
	c, s := &f.Channels[i], &w.channels[i]
	raw, ok := f.stored.sample(k, i)
	if ok {
		// The factor of the file, which may be no usable one.
		got := (raw - c.Offset) * c.factor(w.gen)
		ok = got == v || math.IsNaN(got) && math.IsNaN(v)
	}
	if !ok {
		raw = v/s.factor + s.offset
	}
	if f.Storage == Real {
		if (ok || usable(s.factor)) && f.Processor.putFloat(b, raw) {
			return nil
		}
	} else {
		low, high := float64(math.MinInt16), float64(math.MaxInt16)
		if f.Unsigned {
			low, high = 0, math.MaxUint16
		}
		if raw = math.Round(raw); raw >= low && raw <= high {
			f.Processor.putUint16(b, uint16(int(raw)))
			return nil
		}
	}
	return &WriteError{Place: fmt.Sprintf("Channels[%d].Values of %s", i, c.Label), Index: k, Err: ErrRange,
		Detail: fmt.Sprintf("%g with scale %g and offset %g as %v %v", v, s.factor, s.offset, f.Processor, f.Storage)}
}
