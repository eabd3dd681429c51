package live

// Counter turns the sequence numbers of a device that counts with few bits, and
// begins again at 0 when they are used up, into those of a [Sample], which go on.
// The zero value takes numbers as they are. It must not be used by two goroutines
// at once.
type Counter struct {
	Bits int // of the device's numbers, 1 to 63; 0 means that they never begin again

	started bool
	last    uint64
}

// Widen returns the whole number of the sample that the device calls n. A number up
// to half of the range behind the latest one is that of an earlier sample, which a
// [Chain] refuses; all others are later, so that a gap is told right as long as it
// is shorter than half of the range: 33 s of 16 bits at 1000 Hz.
func (c *Counter) Widen(n uint64) uint64 {
	if c.Bits <= 0 || c.Bits >= 64 {
		return n
	}
	mask := uint64(1)<<c.Bits - 1
	n &= mask
	if !c.started {
		c.started, c.last = true, n
		return n
	}
	ahead := (n - c.last) & mask
	if ahead <= mask/2 {
		c.last += ahead
		return c.last
	}
	if behind := mask + 1 - ahead; behind < c.last {
		return c.last - behind
	}
	return 0 // before the first sample: as early as can be
}

// Restart forgets the numbers: the next one is taken as it is.
func (c *Counter) Restart() { c.started, c.last = false, 0 }
