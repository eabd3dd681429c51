package main

import (
	"encoding/json"
	"errors"
	"math"
	"strconv"
	"strings"

	"gonum.org/v1/gonum/spatial/r3"

	"example.com/momentarm/cop/com"
	"example.com/momentarm/grf"
	"example.com/momentarm/phase/live"
	"example.com/momentarm/torque"
)

// number is written with five digits, and as null when it is not one.
type number float64

// MarshalJSON writes five digits, or null.
func (v number) MarshalJSON() ([]byte, error) {
	f := float64(v)
	if math.IsNaN(f) || math.IsInf(f, 0) {
		return []byte("null"), nil
	}
	return strconv.AppendFloat(nil, f+0, 'g', 5, 64), nil
}

// view is what a page gets to know of one instant: SI units, swing axes.
type view struct {
	Version string `json:"version"` // of the algorithms of the chain
	Time    exact  `json:"t"`
	State   string `json:"state"`
	Motion  string `json:"motion"`
	Health  string `json:"health"`
	Refusal string `json:"refusal,omitempty"`
	Link    string `json:"link,omitempty"` // what is wrong with the device

	Lead  push `json:"lead"`
	Trail push `json:"trail"`
	Net   push `json:"net"`

	Share  number    `json:"share"`
	Mass   number    `json:"mass"`
	COM    [3]number `json:"com"`
	COMSD  [3]number `json:"comSD"`
	Moment planes    `json:"moment"`
	Arm    planes    `json:"arm"`

	// Traces are time, lead and trail vertical force, frontal and vertical-axis
	// torque since the view before.
	Traces [][5]exact `json:"traces,omitempty"`

	Device deviceCounts `json:"device"`
}

// setup is what a page has to know before it can draw.
type setup struct {
	Plates [][][2]number `json:"plates"` // corners, seen from above
}

func setupOf(c live.Config) (s setup) {
	for _, in := range c.Inputs {
		x, y := in.Plate.Size()
		f := in.Plate.Frame()
		var corners [][2]number
		for _, k := range [4][2]float64{{1, 1}, {-1, 1}, {-1, -1}, {1, -1}} {
			p := f.PointOut(r3.Vec{X: k[0] * x / 2, Y: k[1] * y / 2})
			corners = append(corners, xy(c.Axes.Point(p)))
		}
		s.Plates = append(s.Plates, corners)
	}
	return s
}

// push is a force and where it acts.
type push struct {
	Force [3]number `json:"f"`
	At    [2]number `json:"p"`
}

type planes struct {
	Frontal    number `json:"frontal"`
	Sagittal   number `json:"sagittal"`
	Horizontal number `json:"horizontal"`
}

// deviceCounts are counted since the program was started.
type deviceCounts struct {
	Connections uint64 `json:"connections"`
	Packets     uint64 `json:"packets"`
	Lost        uint64 `json:"lost"`     // samples, by sequence number
	Damaged     uint64 `json:"damaged"`  // frames
	Skipped     uint64 `json:"skipped"`  // bytes
	Repeated    uint64 `json:"repeated"` // samples
	Refused     uint64 `json:"refused"`  // samples
	Restarts    uint64 `json:"restarts"`
	Replaced    uint64 `json:"replaced"` // views that the relay was too slow for
	Rate        number `json:"rate"`     // Hz, by the device's clock
}

// exact is a number with as many digits as a running time needs.
type exact float64

// MarshalJSON writes thousandths, or null.
func (v exact) MarshalJSON() ([]byte, error) {
	if f := float64(v); !math.IsNaN(f) && !math.IsInf(f, 0) {
		return strconv.AppendFloat(nil, math.Round(f*1e3)/1e3, 'f', -1, 64), nil
	}
	return []byte("null"), nil
}

func (v *view) trace(f *live.Frame) {
	v.Traces = append(v.Traces, [5]exact{
		exact(f.Time), exact(f.Lead.Force.Z), exact(f.Trail.Force.Z), exact(f.Moment.Frontal), exact(f.Moment.Horizontal),
	})
}

// blank leaves of a frame what holds as long as nothing comes: what was measured
// last is not what is.
func blank(f *live.Frame) {
	n := math.NaN()
	none := r3.Vec{X: n, Y: n, Z: n}
	*f = live.Frame{
		Sequence: f.Sequence, Time: f.Time, State: f.State, Motion: f.Motion,
		Lead: grf.NaN(), Trail: grf.NaN(), Net: grf.NaN(), LeadCOP: none, TrailCOP: none, NetCOP: none,
		LeadFree: n, TrailFree: n, NetFree: n, LeadShare: n,
		COM:    com.Estimate{Time: f.Time, Position: none, PositionSD: none, Velocity: none, VelocitySD: none, Bias: none, BiasSD: none},
		Moment: torque.FromVec(none), Arm: torque.Arm{Planes: torque.FromVec(none), ThreeD: n},
	}
}

// refusalShown is how long a request that was refused is told of when nothing has
// to be asked for again, s.
const refusalShown = 6

// fill sets what a frame says.
func (v *view) fill(f *live.Frame, c *live.Chain) {
	v.Version, v.Time = live.Version, exact(f.Time)
	v.State, v.Motion, v.Health = f.State.String(), f.Motion.String(), f.Health.String()
	var refusal *live.Refusal
	if err := c.Refusal(); errors.As(err, &refusal) && (f.State != live.Ready || f.Time-refusal.Time < refusalShown) {
		// Names of packages are of no use on a page.
		v.Refusal = strings.NewReplacer("live: ", "", "grf: ", "").Replace(err.Error())
	}
	v.Lead = push{xyz(f.Lead.Force), xy(f.LeadCOP)}
	v.Trail = push{xyz(f.Trail.Force), xy(f.TrailCOP)}
	v.Net = push{xyz(f.Net.Force), xy(f.NetCOP)}
	v.Share = number(f.LeadShare)
	v.Mass = number(math.NaN())
	if q, ok := c.Golfer(); ok {
		v.Mass = number(q.Mass)
	}
	v.COM, v.COMSD = xyz(f.COM.Position), xyz(f.COM.PositionSD)
	v.Moment, v.Arm = planesOf(f.Moment), planesOf(f.Arm.Planes)
}

func planesOf(p torque.Planes) planes {
	return planes{number(p.Frontal), number(p.Sagittal), number(p.Horizontal)}
}

// encode returns v as JSON. It can not fail: there is nothing in v that JSON lacks.
func encode(v any) []byte {
	b, err := json.Marshal(v)
	if err != nil {
		return []byte("null")
	}
	return b
}

func xy(v r3.Vec) [2]number { return [2]number{number(v.X), number(v.Y)} }

func xyz(v r3.Vec) [3]number { return [3]number{number(v.X), number(v.Y), number(v.Z)} }
