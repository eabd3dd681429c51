package batch

import (
	"errors"
	"fmt"
	"math"

	"example.com/momentarm/grf/filter"
)

// block is how many samples are worked on at a time, so that what one step
// writes is still in the fastest cache when the next one reads it.
const block = 128

// Run works a recording out and writes all of it to dst, whose memory it reuses.
//
// Errors wrap [ErrInput] and say what is wrong: a number of channels other than
// [Chain.Channels] ([grf.ErrChannels]), series of different lengths
// ([*grf.LengthError]), no samples ([grf.ErrNoData]), readings that are infinite
// or NaN without a policy that covers them ([*SampleError]), fewer samples than
// the filter needs ([*filter.TooShortError]), a start without a mass or more than
// one source of the centre of mass, and a rest in which samples are missing or
// nobody stands on the plates ([grf.ErrNoQuiet]). Then all series of dst are
// empty.
func (c *Chain) Run(dst *Result, in Input) error {
	if dst == nil {
		return fmt.Errorf("%w: no result to write to", ErrInput)
	}
	err := c.run(dst, &in)
	if err != nil {
		dst.size(len(c.plates), 0)
		dst.close()
	}
	return err
}

func (c *Chain) run(dst *Result, in *Input) error {
	n, err := c.check(in)
	if err != nil {
		return err
	}
	dst.size(len(c.plates), n)
	dst.feed = feed{c, *in}
	_, err = c.filter.InterleavedFrom(dst.rows, &dst.feed, n, dst.stride())
	dst.feed = feed{}
	if err != nil {
		return c.explain(err, in)
	}
	w, err := c.way(dst, in, n)
	if err != nil {
		return err
	}
	missing := c.finish(dst, &w, n)
	dst.close()
	if missing {
		return c.infinite(in)
	}
	return nil
}

// stride is how many values a sample has in rows.
func (r *Result) stride() int { return 6 * len(r.Plates) }

// feed makes unfiltered wrenches in swing axes out of channels, for the filter.
type feed struct {
	chain *Chain
	in    Input
}

// Samples writes the wrenches of all plates side by side.
func (f *feed) Samples(block []float64, at int) {
	c, stride := f.chain, 6*len(f.chain.plates)
	to := at + len(block)/stride
	for p := range c.plates {
		lo, hi := c.first[p], c.first[p+1]
		var zero []float64
		if f.in.Zero != nil {
			zero = f.in.Zero[lo:hi]
		}
		c.plates[p].wrenches(block[6*p:], stride, f.in.Channels[lo:hi], zero, at, to)
	}
}

// explain names the reading behind an error of the filter, which knows wrenches
// only.
func (c *Chain) explain(err error, in *Input) error {
	var bad *filter.NotFiniteError
	if !errors.As(err, &bad) {
		return fmt.Errorf("%w: %w", ErrInput, err)
	}
	worst := c.find(in, bad.Index, func(v float64) bool { return math.IsInf(v, 0) })
	if worst == nil {
		worst = c.find(in, bad.Index, math.IsNaN)
	}
	if worst == nil { // finite, but too large for a measurement
		return fmt.Errorf("%w: %w", ErrInput, err)
	}
	return worst
}

// infinite reports an infinite reading. The wrench of two of them can be NaN, and
// then the filter takes the sample for lost.
func (c *Chain) infinite(in *Input) error {
	for i := range in.Channels[0] {
		if err := c.find(in, i, func(v float64) bool { return math.IsInf(v, 0) }); err != nil {
			return err
		}
	}
	return nil
}

// find returns the first reading of sample i that is bad, or nil.
func (c *Chain) find(in *Input, i int, bad func(float64) bool) error {
	for p := range c.plates {
		for k, ch := range in.Channels[c.first[p]:c.first[p+1]] {
			if bad(ch[i]) {
				return &SampleError{Plate: p, Channel: k, Index: i, Value: ch[i]}
			}
		}
	}
	return nil
}
