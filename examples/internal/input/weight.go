package input

import (
	"slices"
	"strings"

	"example.com/momentarm/grf"
)

// Weights of warnings, the gravest first.
const (
	doubt  = iota // something in the data or the result is wrong, or may well be
	choice        // something was chosen or assumed, which is usually right
	note          // how something was read
)

// choices and notes are the codes of warnings that are no doubt. What is not listed
// is one, so that a new warning is seen.
var (
	choices = []string{
		"height-from-stature", "delay-estimated", "drift-removed", "gap-bridged", "landmark-substituted", "segments-missing",
		"pelvis-proxy", "points-lost", "track-gap", "swing-left-out", "uncertain-measures", "vertical-only", "com-not-used",
		"action-forces", "origin-sign", "origin-zero", "coarse-curve", "plates-uneven", "columns-unused", zeroShared,
	}
	notes = []string{"decimal-comma", "cop-filled", "empty-rows", "time-jitter"}
)

func weight(w grf.Warning) int {
	switch {
	case slices.Contains(notes, w.Code):
		return note
	case slices.Contains(choices, w.Code), strings.HasSuffix(w.Code, "-automatic"):
		return choice
	}
	return doubt
}

// ByWeight returns the warnings with doubts about the data and the result first,
// then automatic choices and assumptions, and notes of how something was read last;
// those of one weight in their order.
func ByWeight(warnings []grf.Warning) []grf.Warning {
	out := slices.Clone(warnings)
	slices.SortStableFunc(out, func(a, b grf.Warning) int { return weight(a) - weight(b) })
	return out
}

// Grave counts the warnings that are doubts about the data or the result, which
// [ByWeight] puts first.
func Grave(warnings []grf.Warning) int {
	n := 0
	for _, w := range warnings {
		if weight(w) == doubt {
			n++
		}
	}
	return n
}
