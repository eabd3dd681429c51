package c3d

import "math"

// stored is what Encode needs, beside the exported fields, to write what was
// read with the bytes that were read.
type stored struct {
	section  [4]byte // head of the parameter section
	zeroNext bool    // its last record had a pointer of 0

	// data is a view of the frames in the caller's bytes. Encode takes from it
	// the numbers of what still has the value that was read, and compares
	// before it does, so that nothing wrong is written should the caller have
	// changed the bytes.
	data                       []byte
	processor                  Processor
	storage                    Storage
	unsigned                   bool
	frames, frameBytes         int
	points, channels, perFrame int
	scale                      float64
	tail                       []byte // padding of the last block
	whole                      bool   // the frames were not cut

	firstFrame int
	rate       float64
	shift      float64 // subtracted from the times of the EVENT group
}

// point returns the four stored numbers of a point, and false when there are
// none or one of them is not finite.
func (s *stored) point(frame, p int) (v [4]float64, ok bool) {
	if frame >= s.frames || p >= s.points {
		return v, false
	}
	word := s.storage.word()
	b := s.data[frame*s.frameBytes+4*p*word:][:4*word]
	for k := range v {
		if s.storage == Integer {
			v[k] = float64(int16(s.processor.uint16(b[2*k:])))
		} else {
			v[k] = s.processor.float(b[4*k:])
		}
	}
	sum := v[0] + v[1] + v[2] + v[3]
	return v, !math.IsNaN(sum) && !math.IsInf(sum, 0)
}

// sample returns the stored number of sample k of channel c, and false when
// there is none.
func (s *stored) sample(k, c int) (float64, bool) {
	if s.perFrame == 0 || k >= s.frames*s.perFrame || c >= s.channels {
		return 0, false
	}
	word := s.storage.word()
	frame, sub := k/s.perFrame, k%s.perFrame
	b := s.data[frame*s.frameBytes+(4*s.points+sub*s.channels+c)*word:]
	switch {
	case s.storage == Real:
		return s.processor.float(b), true
	case s.unsigned:
		return float64(s.processor.uint16(b)), true
	}
	return float64(int16(s.processor.uint16(b))), true
}
