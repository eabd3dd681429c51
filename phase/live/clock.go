package live

import "math"

// clock holds the device's stamps against its sequence numbers.
type clock struct {
	seen     bool
	sequence uint64 // of the last stamp
	stamp    float64
	from     uint64 // where the rate is measured from
	start    float64
	rate     float64 // Hz, as last measured; 0 before
	off      bool    // it is not the declared one
}

// offRate is by how much the rate of the stamps may differ from the declared one:
// crystals differ by less than a thousandth of it.
const offRate = 0.005

// push takes in the stamp of a sample and reports whether the clock jumped.
func (c *clock) push(s *Sample, rate float64) (jumped bool) {
	if s.Stamp == 0 || math.IsNaN(s.Stamp) || math.IsInf(s.Stamp, 0) {
		return false
	}
	step, want := s.Stamp-c.stamp, float64(s.Sequence-c.sequence)/rate
	c.sequence, c.stamp = s.Sequence, s.Stamp
	switch n := float64(s.Sequence - c.from); {
	case !c.seen:
		c.seen = true
	case !(step > 0) || math.Abs(step-want) > 0.1+want:
		jumped = true
	case n >= rate:
		c.rate = n / (s.Stamp - c.start)
		c.off = !(math.Abs(c.rate/rate-1) <= offRate)
	default:
		return false
	}
	c.from, c.start = s.Sequence, s.Stamp
	return jumped
}

// DeviceRate returns the sampling rate by the device's own stamps over the last
// second or so, Hz; 0 when it is not known.
func (c *Chain) DeviceRate() float64 { return c.clock.rate }
