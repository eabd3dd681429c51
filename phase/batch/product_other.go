//go:build !amd64 || purego

package batch

// There is no vector kernel: everything is done in Go, with the same digits.

func haveVectors() bool { return false }

func vectorized([]float64, int, *[36]float64, *[6]float64, [][]float64, int, int) int { return 0 }
