package live

import (
	"fmt"
	"math"

	"example.com/momentarm/cop/com"
	"example.com/momentarm/phase"
)

// mark is the time of an event that waits for the filtered force to get there.
type mark struct {
	name string
	t    float64 // s, on the scale of frames
}

const maxMarks = 16

// Mark gives the time of an event that somebody else knows, s on the scale of
// [Frame.Time]: by name or number of position, as [phase.Online.Mark] has it. It
// must not lie after the last sample. The errors wrap those of Mark there. A mark
// of the last few milliseconds waits until the filter has got so far.
func (c *Chain) Mark(name string, t float64) error {
	if _, err := phase.NamedMarks(map[string]float64{name: t}); err != nil {
		return err
	}
	if !c.started || !(t <= c.now()) || math.IsInf(t, 0) {
		return fmt.Errorf("%w: %q at %g s is later than the last sample", phase.ErrInput, name, t)
	}
	if c.detectorTime(t) <= c.events.Time() {
		return c.events.Mark(name, c.detectorTime(t))
	}
	if len(c.marks) == maxMarks {
		return fmt.Errorf("%w: more than %d marks in the last %.3f s", phase.ErrInput, maxMarks, c.Delay())
	}
	c.marks = append(c.marks, mark{name, t})
	return nil
}

// detectorTime turns a time of frames into one of the detector, which sees
// filtered samples and is not told of long gaps.
func (c *Chain) detectorTime(t float64) float64 { return t + c.Delay() - c.skipped }

// applyMarks hands the marks over whose time has come.
func (c *Chain) applyMarks() {
	if len(c.marks) == 0 {
		return
	}
	waiting := c.marks[:0]
	for _, m := range c.marks {
		if c.detectorTime(m.t) > c.events.Time() {
			waiting = append(waiting, m)
			continue
		}
		// An event that was reported meanwhile stays as it was reported.
		_ = c.events.Mark(m.name, c.detectorTime(m.t))
	}
	c.marks = waiting
}

// Correct takes in what another instrument knows of the centre of mass, such as a
// camera, with its time on the scale of [Frame.Time] and at most [Config.Lag] back.
// Without a weighed golfer it is [ErrNobody]; otherwise the errors are those of
// [com.Tracker.Correct]. A fix of the last few milliseconds is
// [com.ErrTooEarly]: the filtered force has not got so far.
func (c *Chain) Correct(fix com.Fix) error {
	if c.tracker == nil {
		return ErrNobody
	}
	fix.Time += c.Delay()
	return c.tracker.Correct(fix)
}
