package live

import (
	"strings"

	"gonum.org/v1/gonum/spatial/r3"

	"example.com/momentarm/cop/com"
	"example.com/momentarm/grf"
	"example.com/momentarm/phase"
	"example.com/momentarm/torque"
)

// Sample is what a device measured at one instant.
type Sample struct {
	// Sequence counts the samples that the device took, lost ones included.
	Sequence uint64
	// Stamp is the time of the device's own clock, s; 0 or NaN when it has none.
	// It is only compared with sequence and rate: see [Clock].
	Stamp float64
	// Channels of all plates, one after the other, in the order of
	// [Config.Inputs]. Push does not keep the slice.
	Channels []float64
}

// Frame is what a [Chain] says of one sample, in swing axes and SI units. What is
// not known is NaN. Forces and all that follows from them are filtered: they
// describe the instant Time − [Chain.Delay].
type Frame struct {
	Sequence uint64
	Time     float64 // s since the first sample, by sequence and rate
	Lost     uint64  // samples that were lost just before this one
	State    State
	Health   Health
	Motion   phase.State // what the golfer is doing, as far as events go

	// MeasuredLead and MeasuredTrail are unfiltered, at Time itself: what a
	// recording for later analysis keeps. With one plate for both feet they are
	// NaN, and MeasuredNet is the plate's.
	MeasuredLead, MeasuredTrail, MeasuredNet grf.Wrench

	Lead, Trail, Net             grf.Wrench
	LeadCOP, TrailCOP, NetCOP    r3.Vec
	LeadFree, TrailFree, NetFree float64
	LeadShare                    float64 // of the vertical load, 0 to 1

	// COM is the centre of mass; known in the states after a golfer was weighed.
	COM    com.Estimate
	Moment torque.Planes // about it, N·m
	Arm    torque.Arm    // m

	// Events that became certain with this sample, mostly none. Their times are
	// on the scale of Time. The slice is valid until the next Push,
	// PushTo or PushBlock.
	Events []phase.Event
}

// Health is a set of flags; none is good.
type Health uint16

const (
	// Lost: samples were lost just before this one.
	Lost Health = 1 << iota
	// Bridged: the lost samples were replaced by a straight line.
	Bridged
	// Missing: a channel is not a finite number, or makes a plate's wrench larger than
	// 10¹² N or N·m, so that a foot is NaN.
	Missing
	// Saturated: a channel is at the end of its range, or was so recently that
	// the filter still shows it.
	Saturated
	// Settling: the filter began anew and still shows how.
	Settling
	// Drift: an unloaded plate shows a force, a golfer who stands still is
	// pushed sideways, or their weight has changed. Zero the plates again.
	Drift
	// Clock: the device's stamps contradict sequence numbers and rate: they
	// jumped with this sample, or run at another rate. Torque is right as long as
	// the centre of mass is, which it is not for long if the rate is wrong.
	Clock
	// Refused: a request was refused with this sample; see [Chain.Refusal].
	Refused
)

var healthNames = [...]string{"lost", "bridged", "missing", "saturated", "settling", "drift", "clock", "refused"}

// Has reports whether all flags of g are set.
func (h Health) Has(g Health) bool { return h&g == g }

// String returns the names of the flags that are set, such as "lost, drift", or
// "good".
func (h Health) String() string {
	if h == 0 {
		return "good"
	}
	var names []string
	for i, name := range healthNames {
		if h&(1<<i) != 0 {
			names = append(names, name)
		}
	}
	return strings.Join(names, ", ")
}

func nan3() r3.Vec { return grf.NaN().Force }
