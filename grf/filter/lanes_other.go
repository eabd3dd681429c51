//go:build !amd64 || purego

package filter

// There is no vector kernel: everything is done in Go, with the same digits.

func haveLanes() bool { return false }

func (w way) lanes([]float64, *Section, []past) int { return 0 }

func clean([]float64) bool { return false }
