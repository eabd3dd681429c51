// Package say writes numbers with their units for people.
package say

import (
	"fmt"
	"math"
	"strconv"
	"strings"
)

// decimals is how far a value in a unit is written out: to what force plates
// resolve, not farther.
var decimals = map[string]int{
	"N": 0, "N/s": 0, "N·m": 1, "N·m/kg": 2, "N·s": 1, "N·m·s": 1,
	"%": 1, "%BW": 1, "%BW/s": 0, "m": 3, "cm": 1, "mm": 0, "m/s": 2, "s": 3, "ms": 0,
	"deg": 1, "1": 2, "in": 1, "ft": 2, "lbf": 0, "lbf·ft": 1,
}

// Bare returns the value without its unit, "n/a" when it is NaN. In a unit that is
// not known here it gets four significant digits.
func Bare(v float64, unit string) string {
	if math.IsNaN(v) {
		return "n/a"
	}
	d, ok := decimals[unit]
	if !ok {
		return strings.Replace(strconv.FormatFloat(v, 'g', 4, 64), "-", "−", 1)
	}
	text := strconv.FormatFloat(v, 'f', d, 64)
	if digits := strings.TrimLeft(text, "-0."); digits == "" {
		text = strings.TrimPrefix(text, "-") // no minus zero
	}
	return strings.Replace(text, "-", "−", 1)
}

// Number returns the value with its unit.
func Number(v float64, unit string) string {
	if math.IsNaN(v) {
		return Bare(v, unit)
	}
	return Bare(v, unit) + of(unit)
}

// WithSD returns the value with its standard deviation, if that is known, and its
// unit.
func WithSD(v, sd float64, unit string) string {
	if math.IsNaN(sd) || math.IsNaN(v) {
		return Number(v, unit)
	}
	least := math.Pow10(-decimals[unit])
	if _, ok := decimals[unit]; ok && sd < least/2 {
		return fmt.Sprintf("%s ± less than %s%s", Bare(v, unit), Bare(least, unit), of(unit))
	}
	return fmt.Sprintf("%s ± %s%s", Bare(v, unit), Bare(sd, unit), of(unit))
}

// of returns a unit with the space before it; the unit 1 is not written.
func of(unit string) string {
	if unit == "1" || unit == "" {
		return ""
	}
	return " " + unit
}

// P returns a p-value.
func P(p float64) string {
	switch {
	case math.IsNaN(p):
		return "p n/a"
	case p < 0.001:
		return "p < 0.001"
	}
	return "p = " + strconv.FormatFloat(p, 'f', 3, 64)
}
