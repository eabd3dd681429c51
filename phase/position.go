package phase

import (
	"errors"
	"fmt"
	"maps"
	"slices"
	"strconv"
	"strings"
)

// Position is a numbered position of the club and the arms in the swing, P1 to
// P10, as the trade counts them (common practice, no published source):
//
//	P1   address                     before anything moves
//	P2   shaft_parallel_back         club shaft level in the backswing
//	P3   lead_arm_parallel_back      lead arm level in the backswing
//	P4   top                         end of the backswing
//	P5   lead_arm_parallel_down      lead arm level in the downswing
//	P6   shaft_parallel_down         club shaft level in the downswing
//	P7   impact                      club meets ball
//	P8   shaft_parallel_through      club shaft level after impact
//	P9   trail_arm_parallel_through  trail arm level after impact
//	P10  finish                      the end
//
// Forces tell P1 and P10, and estimate P7; the others can only be given by a
// camera or a club tracker.
type Position int

// The numbered positions.
const (
	P1 Position = iota + 1
	P2
	P3
	P4
	P5
	P6
	P7
	P8
	P9
	P10
)

// positions are the events at P1 to P10.
var positions = [...]Name{
	Address, ShaftParallelBack, LeadArmParallelBack, Top, LeadArmParallelDown,
	ShaftParallelDown, Impact, ShaftParallelThrough, TrailArmParallelAfter, Finish,
}

// ErrPosition means a text or number that is none of the positions P1 to P10.
var ErrPosition = errors.New("phase: no position of the swing")

// Name returns the name of the event at the position, "" for one that is none of
// P1 to P10.
func (p Position) Name() Name {
	if p < P1 || p > P10 {
		return ""
	}
	return positions[p-1]
}

// PositionOf returns the numbered position of an event and whether it has one.
func PositionOf(name Name) (Position, bool) {
	i := slices.Index(positions[:], name)
	return Position(i + 1), i >= 0
}

// ParsePosition reads "P4" or "p4". The error wraps [ErrPosition].
func ParsePosition(s string) (Position, error) {
	if digits, ok := strings.CutPrefix(strings.ToUpper(s), "P"); ok && digits == strings.TrimLeft(digits, "+-0") {
		if n, err := strconv.Atoi(digits); err == nil && n >= int(P1) && n <= int(P10) {
			return Position(n), nil
		}
	}
	return 0, fmt.Errorf("%w: %q; they are P1 to P10", ErrPosition, s)
}

// String returns "P1" to "P10".
func (p Position) String() string {
	if p < P1 || p > P10 {
		return fmt.Sprintf("Position(%d)", int(p))
	}
	return "P" + strconv.Itoa(int(p))
}

// MarshalText returns the text of String.
func (p Position) MarshalText() ([]byte, error) {
	if p < P1 || p > P10 {
		return nil, fmt.Errorf("%w: %d", ErrPosition, int(p))
	}
	return []byte(p.String()), nil
}

// UnmarshalText is [ParsePosition].
func (p *Position) UnmarshalText(text []byte) error {
	q, err := ParsePosition(string(text))
	if err == nil {
		*p = q
	}
	return err
}

// NamedMarks returns marks by the names of events, where some may be given by the
// number of their position: "P7" or "p7" for "impact". It fails with
// [ErrUnknownMark] for a name that is neither, and with [ErrInput] when one
// event is given two different times.
func NamedMarks(marks map[string]float64) (map[string]float64, error) {
	if len(marks) == 0 {
		return nil, nil
	}
	named := make(map[string]float64, len(marks))
	for _, key := range slices.Sorted(maps.Keys(marks)) {
		name := Name(key)
		if !slices.Contains(Names(), name) {
			p, err := ParsePosition(key)
			if err != nil {
				return nil, fmt.Errorf("%w: %q; known are %v and P1 to P10", ErrUnknownMark, key, Names())
			}
			name = p.Name()
		}
		t := marks[key]
		if before, ok := named[string(name)]; ok && before != t {
			return nil, fmt.Errorf("%w: %s is given two times, at %g and at %g s", ErrInput, name, before, t)
		}
		named[string(name)] = t
	}
	return named, nil
}
