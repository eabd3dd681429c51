package main

import _ "embed"

// The demonstration: a made-up golfer and swing, written as a C3D file by this
// project's own writer, with the setup that belongs to it. The test makes both
// anew and compares.
var (
	//go:embed demo/swing.c3d
	demoCapture []byte
	//go:embed demo/setup.json
	demoSetup []byte
)

// Who is invented there.
const (
	demoPlayer  = "Robin Halvik"
	demoSession = "Practice on two plates, swing 3 of 9"
)

func demo() source {
	return source{name: "demo/swing.c3d", data: demoCapture, setupName: "demo/setup.json", setup: demoSetup}
}
