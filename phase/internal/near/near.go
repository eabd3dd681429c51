// Package near finds the known name that somebody may have meant by an unknown
// one.
package near

import "strings"

// longest is the length of a name that is still compared, in characters: a longer
// one is none of ours.
const longest = 80

// Name returns that one of the known names which differs from name in the fewest
// places, upper and lower case aside: characters to insert, to drop, to replace,
// or two neighbours to swap. It returns "" when not one is near, that is within
// two places or a third of its length. Of equally near ones it returns the first.
func Name(name string, known []string) string {
	best, least := "", longest
	for _, k := range known {
		if d := places(strings.ToLower(name), strings.ToLower(k)); d < least {
			best, least = k, d
		}
	}
	if least > max(2, len([]rune(best))/3) {
		return ""
	}
	return best
}

// places counts the places in which a and b differ: the optimal string alignment
// distance, row by row over the prefixes of a.
func places(a, b string) int {
	s, t := []rune(a), []rune(b)
	if len(s) > longest || len(t) > longest {
		return longest
	}
	var rows [3][longest + 1]int // this prefix of a, the one before, the one before that
	row, last, before := &rows[0], &rows[1], &rows[2]
	for j := range t {
		last[j+1] = j + 1
	}
	for i, x := range s {
		row[0] = i + 1
		for j, y := range t {
			change := last[j]
			if x != y {
				change++
			}
			row[j+1] = min(last[j+1]+1, row[j]+1, change)
			if i > 0 && j > 0 && x == t[j-1] && s[i-1] == y {
				row[j+1] = min(row[j+1], before[j-1]+1)
			}
		}
		row, last, before = before, row, last
	}
	return last[len(t)]
}
