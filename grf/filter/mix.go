package filter

import (
	"fmt"
	"slices"
)

// Mix is a mixing matrix: it makes channels out of series, each a weighted sum of
// them. That is what a calibration matrix does with the outputs of a plate, and, axes
// folded in, the first thing that happens to a recording; a [Source] that has one
// feeds the filter faster than the same sums written out.
//
// It does not change once it is made and may be used by several goroutines at
// once.
type Mix struct {
	channels, series int
	weights          []float64    // of channel after channel
	columns          [][6]float64 // the same of series after series, for six channels
	lanes            mixLanes     // and for the vector kernel, where there is one
}

// NewMix returns the mix of the weights, those of the first channel before those
// of the second: a matrix of channels rows, row by row. The error wraps
// [ErrWeights] when they are none, do not fill whole rows or are not finite.
func NewMix(channels int, weights []float64) (*Mix, error) {
	if channels < 1 || len(weights) == 0 || len(weights)%channels != 0 {
		return nil, fmt.Errorf("%w: %d weights do not fill %d rows", ErrWeights, len(weights), channels)
	}
	m := &Mix{channels: channels, series: len(weights) / channels, weights: slices.Clone(weights)}
	for i, w := range weights {
		if !isFinite(w) {
			return nil, fmt.Errorf("%w: weight %d of channel %d is %g", ErrWeights, i%m.series+1, i/m.series+1, w)
		}
	}
	if channels == 6 {
		m.columns = make([][6]float64, m.series)
		for i, w := range weights {
			m.columns[i%m.series][i/m.series] = w
		}
		m.lanes = newMixLanes(m.columns)
	}
	return m, nil
}

// Channels returns how many channels the mix makes.
func (m *Mix) Channels() int { return m.channels }

// Series returns how many series the mix reads.
func (m *Mix) Series() int { return m.series }

// Apply writes the channels of samples from … to−1 of the series to dst, the
// channels of a sample side by side and each sample stride values behind the one
// before: several mixes can fill one block. From every series its zero is taken
// first, by way of its weights; zero may be nil.
//
// Like an index it panics when the series, the zeros or dst are too few or too
// short for that. The digits are the same on every machine.
func (m *Mix) Apply(dst []float64, stride int, series [][]float64, zero []float64, from, to int) {
	samples := to - from
	if samples <= 0 {
		return
	}
	if stride < m.channels {
		panic(fmt.Sprintf("filter: %d channels do not fit in a stride of %d", m.channels, stride))
	}
	_ = series[m.series-1]
	series = series[:m.series]
	for _, s := range series {
		_, _ = s[from], s[to-1]
	}
	last := (samples-1)*stride + m.channels
	_ = dst[last-1]
	dst = dst[:last]

	var few [8]float64
	offset := m.offset(few[:0], zero)
	done := m.lanes.mix(dst, stride, series, offset, from, samples)
	if dst, from = dst[min(done*stride, len(dst)):], from+done; from == to {
		return
	}
	if m.channels == 6 && m.series == 6 {
		six(dst, stride, (*[36]float64)(m.weights), (*[6]float64)(offset), series, from, to)
		return
	}
	m.any(dst, stride, offset, series, from, to)
}

// offset returns what the zeros of the series take away from each channel: the sum
// that a channel begins with. zero may be nil. dst, grown if it was too short, is
// overwritten.
func (m *Mix) offset(dst, zero []float64) []float64 {
	dst = grow(dst, m.channels)
	fill(dst, 0)
	if zero != nil {
		_ = zero[m.series-1]
		for c := range dst {
			for j, z := range zero[:m.series] {
				dst[c] -= float64(m.weights[c*m.series+j] * z)
			}
		}
	}
	return dst
}

// any is what a mix does: sums of two products each, rounded like everything here
// before they are added, from the offset on.
func (m *Mix) any(dst []float64, stride int, offset []float64, series [][]float64, from, to int) {
	for i := from; i < to; i++ {
		row := dst[(i-from)*stride:]
		for c, sum := range offset {
			w := m.weights[c*m.series:][:m.series]
			j := 0
			for ; j+2 <= len(w); j += 2 {
				sum += float64(w[j]*series[j][i]) + float64(w[j+1]*series[j+1][i])
			}
			if j < len(w) {
				sum += float64(w[j] * series[j][i])
			}
			row[c] = sum
		}
	}
}

// six is any for a plate with six outputs.
func six(dst []float64, stride int, m *[36]float64, o *[6]float64, series [][]float64, from, to int) {
	a := series[0][from:to]
	b, c, d := series[1][from:][:len(a)], series[2][from:][:len(a)], series[3][from:][:len(a)]
	e, f := series[4][from:][:len(a)], series[5][from:][:len(a)]
	for i, v0 := range a {
		v1, v2, v3, v4, v5 := b[i], c[i], d[i], e[i], f[i]
		w := (*[6]float64)(dst[i*stride:])
		w[0] = o[0] + (float64(m[0]*v0) + float64(m[1]*v1)) + (float64(m[2]*v2) + float64(m[3]*v3)) + (float64(m[4]*v4) + float64(m[5]*v5))
		w[1] = o[1] + (float64(m[6]*v0) + float64(m[7]*v1)) + (float64(m[8]*v2) + float64(m[9]*v3)) + (float64(m[10]*v4) + float64(m[11]*v5))
		w[2] = o[2] + (float64(m[12]*v0) + float64(m[13]*v1)) + (float64(m[14]*v2) + float64(m[15]*v3)) + (float64(m[16]*v4) + float64(m[17]*v5))
		w[3] = o[3] + (float64(m[18]*v0) + float64(m[19]*v1)) + (float64(m[20]*v2) + float64(m[21]*v3)) + (float64(m[22]*v4) + float64(m[23]*v5))
		w[4] = o[4] + (float64(m[24]*v0) + float64(m[25]*v1)) + (float64(m[26]*v2) + float64(m[27]*v3)) + (float64(m[28]*v4) + float64(m[29]*v5))
		w[5] = o[5] + (float64(m[30]*v0) + float64(m[31]*v1)) + (float64(m[32]*v2) + float64(m[33]*v3)) + (float64(m[34]*v4) + float64(m[35]*v5))
	}
}
