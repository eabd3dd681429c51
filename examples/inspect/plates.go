package main

import (
	"bufio"
	"io"
	"math"
	"strconv"

	"example.com/momentarm/cop"
)

// leastLoad is the force along a plate's normal below which it has no centre of
// pressure, N.
const leastLoad = 20

// writePlates writes one line per plate and sample, in laboratory axes and SI
// units, with empty cells for what is undefined: plates from 1, samples from 0.
// The free moment is about the plate's surface normal, its z axis.
func (s *summary) writePlates(w io.Writer) error {
	b := bufio.NewWriter(w)
	b.WriteString("plate,sample,time_s,fx_N,fy_N,fz_N,copx_m,copy_m,copz_m,free_Nm\n")
	var line []byte
	for _, p := range s.usable {
		if p.Err != nil {
			continue // said elsewhere
		}
		ws, err := p.Wrenches(nil)
		if err != nil {
			return err
		}
		frame := p.Plate.Frame()
		for i, wrench := range ws {
			at, free := cop.OnPlane(wrench, frame.Origin, frame.Z, leastLoad)
			t := math.NaN()
			if s.c3d.AnalogRate() > 0 {
				t = s.c3d.SampleTime(i)
			}
			line = strconv.AppendInt(line[:0], int64(p.Number), 10)
			line = strconv.AppendInt(append(line, ','), int64(i), 10)
			f := wrench.Force
			for _, v := range [...]float64{t, f.X, f.Y, f.Z, at.X, at.Y, at.Z, free} {
				line = append(line, ',')
				if !math.IsNaN(v) && !math.IsInf(v, 0) {
					line = strconv.AppendFloat(line, v, 'g', -1, 64)
				}
			}
			b.Write(append(line, '\n'))
		}
	}
	return b.Flush()
}
