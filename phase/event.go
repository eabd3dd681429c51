package phase

import (
	"fmt"
	"math"
	"slices"
)

// Name names an event, in lower case with underscores.
type Name string

// Events that the forces define. The package comment says what each one is.
const (
	Address            Name = "address"
	Onset              Name = "onset"
	TrailLoadPeak      Name = "trail_load_peak"
	LateralTurn        Name = "lateral_turn"
	LowestVertical     Name = "lowest_vertical"
	EvenLoad           Name = "even_load"
	LateralPeak        Name = "lateral_peak"
	FrontalTorquePeak  Name = "frontal_torque_peak"
	LeadVerticalPeak   Name = "lead_vertical_peak"
	VerticalTorquePeak Name = "vertical_torque_peak"
	Impact             Name = "impact"
	Finish             Name = "finish"
)

// Marks of the club and the arms, which only somebody else can give.
const (
	ShaftParallelBack     Name = "shaft_parallel_back"
	LeadArmParallelBack   Name = "lead_arm_parallel_back"
	Top                   Name = "top"
	LeadArmParallelDown   Name = "lead_arm_parallel_down"
	ShaftParallelDown     Name = "shaft_parallel_down"
	ShaftParallelThrough  Name = "shaft_parallel_through"
	TrailArmParallelAfter Name = "trail_arm_parallel_through"
)

// Names returns every event name in the order in which they usually come.
func Names() []Name {
	return []Name{
		Address, Onset, ShaftParallelBack, LeadArmParallelBack, TrailLoadPeak,
		LateralTurn, Top, LowestVertical, LeadArmParallelDown, EvenLoad,
		LateralPeak, FrontalTorquePeak, ShaftParallelDown, LeadVerticalPeak,
		VerticalTorquePeak, Impact, ShaftParallelThrough, TrailArmParallelAfter,
		Finish,
	}
}

// forceDefined are the events that Detect looks for when they are not given.
var forceDefined = []Name{
	Address, Onset, TrailLoadPeak, LateralTurn, LowestVertical, EvenLoad, LateralPeak,
	FrontalTorquePeak, LeadVerticalPeak, VerticalTorquePeak, Impact, Finish,
}

// Source says where the time of an event comes from.
type Source int

const (
	// Given by somebody or something other than the forces.
	Given Source = iota
	// Detected in the forces, by the event's definition.
	Detected
	// Estimated from the forces, which do not define the event.
	Estimated
)

// String returns "given", "detected" or "estimated".
func (s Source) String() string {
	switch s {
	case Given:
		return "given"
	case Detected:
		return "detected"
	case Estimated:
		return "estimated"
	}
	return fmt.Sprintf("Source(%d)", int(s))
}

// MarshalText returns the text of String.
func (s Source) MarshalText() ([]byte, error) {
	if s < Given || s > Estimated {
		return nil, fmt.Errorf("phase: %v is no source of an event", s)
	}
	return []byte(s.String()), nil
}

// Event is an instant of a swing.
type Event struct {
	Name   Name
	Time   float64 // s on the recording's clock; may fall between samples
	SD     float64 // standard deviation of Time, s; NaN when unknown, as for given events
	Source Source
}

// Missing is an event that could not be found, and why.
type Missing struct {
	Name   Name
	Reason string
}

// Events is what is known about the events of one swing.
type Events struct {
	Found   []Event // by time
	Missing []Missing
}

// Get returns the event of this name and whether it is known.
func (e Events) Get(name Name) (Event, bool) {
	for _, f := range e.Found {
		if f.Name == name {
			return f, true
		}
	}
	return Event{}, false
}

// Time returns the time of the event of this name, NaN if it is not known.
func (e Events) Time(name Name) float64 {
	if f, ok := e.Get(name); ok {
		return f.Time
	}
	return math.NaN()
}

func (e *Events) add(f Event) { e.Found = append(e.Found, f) }

func (e *Events) miss(name Name, format string, a ...any) {
	e.Missing = append(e.Missing, Missing{name, fmt.Sprintf(format, a...)})
}

func (e *Events) sort() {
	order := Names()
	slices.SortStableFunc(e.Found, func(a, b Event) int {
		switch {
		case a.Time < b.Time:
			return -1
		case a.Time > b.Time:
			return 1
		}
		return slices.Index(order, a.Name) - slices.Index(order, b.Name)
	})
}
