//go:build !amd64 || purego

package filter

import "example.com/momentarm/grf"

// There is no vector kernel: everything is done in Go, with the same digits.

type lanes struct{}

func haveLanes() bool { return false }

func newLanes([]Section, int) lanes { return lanes{} }

func (lanes) run(*bank, []float64, []float64, int, way) int { return 0 }

type mixLanes []struct{}

func newMixLanes([][6]float64) mixLanes { return nil }

func (mixLanes) mix([]float64, int, [][]float64, []float64, int, int) int { return 0 }

type frontEndLanes struct{}

func (frontEndLanes) init(*FrontEnd) {}

func (*FrontEnd) push(filtered, mixed *grf.Wrench, readings []float64) bool { return false }

func clean([]float64) bool { return false }
