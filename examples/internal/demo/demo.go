// Package demo is the capture that the programs use when they are given none: an
// invented golfer's swing, written as a C3D file by this project's own writer, and
// the setup that belongs to it. The test makes the capture anew and compares.
package demo

import (
	_ "embed"

	"example.com/momentarm/examples/internal/input"
)

// The files, byte by byte.
var (
	//go:embed swing.c3d
	Capture []byte
	//go:embed setup.json
	Setup []byte
)

// Who is invented there, as the setup says.
const (
	Player  = "Robin Halvik"
	Session = "Practice on two plates, swing 3 of 9"
)

// Source returns the capture with its setup.
func Source() input.Source {
	return input.Source{Name: "demo/swing.c3d", Data: Capture, SetupName: "demo/setup.json", Setup: Setup}
}
