package units

import (
	"strings"

	"gonum.org/v1/gonum/unit"
)

// Unit is a unit of measurement as the header of a table names it: a number in
// this unit times SI is the number in the SI unit of the quantity.
type Unit struct {
	Symbol   string // as this package prints it, such as "N·m"
	Quantity Quantity
	SI       float64
}

// LookUp returns the unit that symbol spells, and whether there is one. It
// reads the spellings that the Parse functions read: "N·m", "Nm", "N*m", "N.m",
// "N-m" and "N m" are one unit, as are "m/s²", "m/s^2" and "m/s2". Upper and lower case differ, and white space
// around the symbol is not ignored.
func LookUp(symbol string) (Unit, bool) {
	symbol = canonical(symbol)
	for q := range kinds {
		for _, r := range kinds[q].rows {
			if r.spelled(symbol) {
				return Unit{r.symbol, Quantity(q), r.si}, true
			}
		}
	}
	return Unit{}, false
}

// Unit returns one u as a dimensional value of package gonum/unit.
func (u Unit) Unit() *unit.Unit { return dimensional(u.Quantity, u.SI) }

func (r row) spelled(symbol string) bool {
	if r.symbol == symbol {
		return true
	}
	for _, s := range r.also {
		if s == symbol {
			return true
		}
	}
	return false
}

// canonical writes the sign of a product, the square and the micro sign as the
// tables do.
func canonical(symbol string) string {
	symbol = strings.Map(func(r rune) rune {
		switch r {
		case '⋅', '*', '.', '-', ' ', '\u00a0', '\u2009', '\u202f':
			return '·'
		case 'μ': // Greek mu
			return 'µ' // micro sign
		}
		return r
	}, symbol)
	symbol = strings.ReplaceAll(symbol, "^2", "²")
	return strings.ReplaceAll(symbol, "2", "²")
}

// accepted lists the spellings of the units of q.
func accepted(q Quantity) string {
	var all []string
	for _, r := range q.kind().rows {
		all = append(append(all, r.symbol), r.also...)
	}
	list := strings.Join(all, ", ")
	if strings.Contains(list, "·") {
		list += " (for · also * . - or a space)"
	}
	if strings.Contains(list, "²") {
		list += " (for ² also 2 or ^2)"
	}
	return list
}
