package capture

import (
	"strconv"
	"strings"
)

// positionMarks are the marks at the numbered positions of the club and the arms,
// P1 to P10 (common practice, no published source).
var positionMarks = [...]string{
	"address", "shaft_parallel_back", "lead_arm_parallel_back", "top", "lead_arm_parallel_down",
	"shaft_parallel_down", "impact", "shaft_parallel_through", "trail_arm_parallel_through", "finish",
}

// markOf returns the name of a mark that may be given by the number of its
// position: "P7" or "p7" is "impact". Other names stay what they are.
func markOf(name string) string {
	for i, mark := range positionMarks {
		if strings.EqualFold(name, "P"+strconv.Itoa(i+1)) {
			return mark
		}
	}
	return name
}

// givesMark reports whether the setup gives this mark, by its name or its number.
func (s *Setup) givesMark(mark string) bool {
	for name := range s.Marks {
		if markOf(name) == mark {
			return true
		}
	}
	return false
}
