package main

import (
	"fmt"
	"math"
	"os"
	"time"

	"gonum.org/v1/gonum/spatial/r3"

	"example.com/momentarm/cop"
	"example.com/momentarm/grf"
	"example.com/momentarm/grf/c3d"
	"example.com/momentarm/grf/capture"
	"example.com/momentarm/grf/table"
)

// contents keeps files in memory, so that no question pays for the disk.
var contents = map[string][]byte{}

func load(name string) ([]byte, error) {
	if b, ok := contents[name]; ok {
		return b, nil
	}
	b, err := os.ReadFile(name)
	if err == nil {
		contents[name] = b
	}
	return b, err
}

// csv reads a table once. Bits is the exclusive or of the bits of all numbers,
// time stamps included: two readers that agree in it agree in every digit.
func csv(args []string) (any, error) {
	data, err := load(args[0])
	if err != nil {
		return nil, err
	}
	start := time.Now()
	t, err := table.Decode(data, table.Options{})
	ns := time.Since(start).Nanoseconds()
	if err != nil {
		return nil, err
	}
	var bits uint64
	for _, x := range t.Time {
		bits ^= math.Float64bits(x)
	}
	for _, c := range t.Columns {
		for _, x := range c.Values {
			bits ^= math.Float64bits(x)
		}
	}
	return map[string]any{"ns": ns, "bits": fmt.Sprintf("%016x", bits), "rows": t.Rows}, nil
}

// decodeC3D reads a file into memory that is reused or fresh.
func decodeC3D(args []string) (any, error) {
	data, err := load(args[0])
	if err != nil {
		return nil, err
	}
	f := new(c3d.File)
	if args[1] == "reused" {
		if err := f.Decode(data, c3d.Options{}); err != nil { // the first time makes the memory
			return nil, err
		}
	}
	best := math.Inf(1)
	for range 5 {
		if args[1] == "fresh" {
			f = new(c3d.File)
		}
		start := time.Now()
		err := f.Decode(data, c3d.Options{})
		best = min(best, float64(time.Since(start).Nanoseconds()))
		if err != nil {
			return nil, err
		}
	}
	return map[string]any{"ns": best, "bytes": len(data)}, nil
}

// plates computes wrenches in the laboratory, centres of pressure and free
// moments of all plates of a file that is loaded.
func plates(args []string) (any, error) {
	data, err := load(args[0])
	if err != nil {
		return nil, err
	}
	f, err := c3d.Decode(data, c3d.Options{})
	if err != nil {
		return nil, err
	}
	list, _ := capture.Plates(f, nil)
	var ws []grf.Wrench
	var p []r3.Vec
	var free []float64
	run := func() (samples int, err error) {
		for _, plate := range list {
			if plate.Err != nil {
				continue
			}
			if ws, err = plate.Wrenches(ws); err != nil {
				return 0, err
			}
			p, free = cop.Series(p, free, ws, 0, cop.DefaultMinVertical)
			samples += len(ws)
		}
		return samples, nil
	}
	if _, err := run(); err != nil {
		return nil, err
	}
	best, n := math.Inf(1), 0
	for range 5 {
		start := time.Now()
		n, err = run()
		best = min(best, float64(time.Since(start).Nanoseconds()))
		if err != nil {
			return nil, err
		}
	}
	if n == 0 {
		return nil, fmt.Errorf("no plate of %s can be used", args[0])
	}
	return map[string]any{"ns": best, "samples": n}, nil
}
