package capture

import (
	"fmt"
	"strings"
)

// near says which of the known names somebody may have meant: the nearest one
// if it is near, else all of them.
func near(name string, known []string) string {
	best, least := "", 0
	for _, k := range known {
		d := distance(strings.ToLower(name), strings.ToLower(k))
		if best == "" || d < least {
			best, least = k, d
		}
	}
	if best != "" && least <= max(2, len([]rune(best))/3) {
		return fmt.Sprintf("did you mean %q?", best)
	}
	if len(known) == 0 {
		return "there are none"
	}
	const most = 30
	list := known
	more := ""
	if len(list) > most {
		list, more = list[:most], ", …"
	}
	return "known are " + strings.Join(list, ", ") + more
}

// distance returns the number of characters to insert, drop, replace or swap
// with their neighbour to make a from b (optimal string alignment).
func distance(a, b string) int {
	s, t := []rune(a), []rune(b)
	const most = 80 // a longer name is none of ours
	if len(s) > most || len(t) > most {
		return most
	}
	before := make([]int, len(t)+1)
	last := make([]int, len(t)+1)
	row := make([]int, len(t)+1)
	for j := range last {
		last[j] = j
	}
	for i := 1; i <= len(s); i++ {
		row[0] = i
		for j := 1; j <= len(t); j++ {
			change := 1
			if s[i-1] == t[j-1] {
				change = 0
			}
			row[j] = min(last[j]+1, row[j-1]+1, last[j-1]+change)
			if i > 1 && j > 1 && s[i-1] == t[j-2] && s[i-2] == t[j-1] {
				row[j] = min(row[j], before[j-2]+1)
			}
		}
		before, last, row = last, row, before
	}
	return last[len(t)]
}
