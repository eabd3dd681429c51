package c3d

import "gonum.org/v1/gonum/spatial/r3"

type vec = r3.Vec

func ref[T any](v T) *T { return &v }
