package synth

import (
	"fmt"
	"math"

	"example.com/momentarm/grf"
	"example.com/momentarm/grf/c3d"
	"gonum.org/v1/gonum/spatial/r3"
)

// CaptureOptions say how a swing becomes a C3D file.
type CaptureOptions struct {
	// PointRate is the frame rate, Hz, of which the rate of the swing must be a
	// multiple; default 100, or the rate of the swing if it is no multiple of
	// that.
	PointRate float64
	// Storage is how samples are stored; default c3d.Real.
	Storage c3d.Storage
	// Disturbance are the faults of the plates.
	Disturbance Disturbance
}

// The plates of the made-up laboratory, in its axes and millimetres: two of
// 500 mm × 600 mm side by side along the target line, which is −x of the
// laboratory. Plate 1 is the trail plate. Each plate has its z axis down and its
// measuring origin about 41 mm under the surface.
const (
	plateLong, plateWide = 600.0, 500.0
	labX, labY           = 1200.0, 850.0 // middle of both plates
)

var (
	plateOrigin = [2]r3.Vec{{X: 0.8, Y: -1.1, Z: -41.2}, {X: -0.5, Y: 0.4, Z: -40.7}}
	channelName = [6]string{"Fx", "Fy", "Fz", "Mx", "My", "Mz"}
	// Ranges of the channels: N and N·mm.
	channelRange = [6]float64{2500, 2500, 5000, 1.5e6, 1.5e6, 0.75e6}
)

func labAxes(hand grf.Handedness) (grf.Axes, error) {
	return grf.NewAxes(vec(0, 0, 1), vec(-1, 0, 0), vec(labX/1000, labY/1000, 0), hand)
}

// LabAxes returns the swing axes in the laboratory of [Swing.C3D]: up is z, the
// target line is −x.
func (s *Swing) LabAxes() grf.Axes { return s.lab }

// C3D returns the swing as a capture of a made-up laboratory whose axes differ
// from the swing axes: two force plates of type 2 that report the golfer's push
// on them, in N and N·mm, plate 1 under the trail foot; markers on the feet and
// the hips, in mm; impact as an event of the header and of the EVENT group. The
// hips follow the centre of mass and turn with the load, which is good to look
// at and no truth. Plates in this file have no other zero than the unloaded
// start: see Config.Unloaded and [Disturbance.ForceBias].
func (s *Swing) C3D(opt CaptureOptions) (*c3d.File, error) {
	rate := opt.PointRate
	if rate == 0 {
		rate = 100
		if math.Mod(s.cfg.Rate, rate) != 0 {
			rate = s.cfg.Rate
		}
	}
	per := int(math.Round(s.cfg.Rate / rate))
	if !(rate > 0) || per < 1 || math.Abs(float64(per)*rate-s.cfg.Rate) > 1e-9*s.cfg.Rate {
		return nil, &ConfigError{"PointRate", opt.PointRate, fmt.Sprintf("a whole part of the rate of %g Hz", s.cfg.Rate)}
	}
	frames := s.Len() / per
	f := &c3d.File{
		Storage: opt.Storage, Rate: rate, SamplesPerFrame: per, FirstFrame: 1, Frames: frames, Units: "mm",
	}
	f.Groups.Set("GOLFER", c3d.NewFloats("MASS", nil, s.cfg.Mass*(1+opt.Disturbance.MassError)))
	f.Groups.Set("GOLFER", c3d.NewFloats("STATURE", nil, s.cfg.Stature))
	f.Groups.Set("GOLFER", c3d.NewText("HANDED", s.cfg.Handed.String()))
	s.addPlates(f, opt.Disturbance, frames*per)
	s.addMarkers(f)
	if s.swings() {
		at := s.marks.impact - s.cfg.Start
		f.Events = []c3d.Event{
			{Time: at, Label: "IMPA", InHeader: true},
			{Time: at, Label: "impact", Context: "General", Description: "the club meets the ball"},
		}
	}
	return f, nil
}

// plateFrame returns the axes of a plate in the laboratory, m.
func plateFrame(plate int) grf.Frame {
	side := float64(1 - 2*plate) // plate 0 at larger x, away from the target
	return grf.Frame{
		Origin: vec(labX/1000+side*plateMiddle, labY/1000, 0),
		X:      vec(side, 0, 0), Y: vec(0, -side, 0), Z: vec(0, 0, -1),
	}
}

func (s *Swing) addPlates(f *c3d.File, d Disturbance, samples int) {
	axes := s.lab
	lost := d.lost(samples)
	for plate := range 2 {
		frame := plateFrame(plate)
		info := c3d.PlateInfo{Type: 2, Origin: plateOrigin[plate]}
		for k, sign := range [4][2]float64{{1, 1}, {-1, 1}, {-1, -1}, {1, -1}} {
			corner := frame.PointOut(vec(sign[0]*plateWide/2000, sign[1]*plateLong/2000, 0))
			info.Corners[k] = r3.Scale(1000, corner)
		}
		first := len(f.Channels)
		for k, name := range channelName {
			unit := "N"
			if k >= 3 {
				unit = "Nmm"
			}
			f.Channels = append(f.Channels, c3d.Channel{
				Label: fmt.Sprintf("%s%d", name, plate+1), Unit: unit,
				Description: fmt.Sprintf("force plate %d", plate+1),
				Scale:       channelRange[k] / 32768, Values: make([]float64, samples),
			})
			info.Channels = append(info.Channels, first+k)
		}
		faults := d.faults(plate)
		for i := range samples {
			st := s.At(s.cfg.Start + float64(i)/s.cfg.Rate)
			w := st.Trail
			if plate == leadPlate {
				w = st.Lead
			}
			// The golfer's push, in plate axes about the middle of the surface …
			p := frame.WrenchIn(axes.LabWrench(w)).Scale(-1)
			p = faults.wrench(p, float64(i)/s.cfg.Rate)
			if lost != nil && lost[i] {
				// A C3D file has no lost samples: the converter holds the last.
				for k := range 6 {
					if i > 0 {
						f.Channels[first+k].Values[i] = f.Channels[first+k].Values[i-1]
					}
				}
				continue
			}
			// … and about the measuring origin: see PlateInfo.Origin.
			p.Moment = r3.Add(p.Moment, r3.Cross(r3.Scale(1e-3, plateOrigin[plate]), p.Force))
			m := r3.Scale(1000, p.Moment)
			for k, v := range [6]float64{p.Force.X, p.Force.Y, p.Force.Z, m.X, m.Y, m.Z} {
				f.Channels[first+k].Values[i] = math.Max(-channelRange[k], math.Min(channelRange[k]*(1-1.0/32768), v))
			}
		}
		f.Plates = append(f.Plates, info)
	}
}

// addMarkers adds the markers, named by the side of the body.
func (s *Swing) addMarkers(f *c3d.File) {
	axes := s.lab
	sides := [2]string{"L", "R"} // of lead and trail
	if s.cfg.Handed == grf.LeftHanded {
		sides = [2]string{"R", "L"}
	}
	add := func(label string, at func(st *State) r3.Vec) {
		p := c3d.Point{Label: label, Position: make([]r3.Vec, f.Frames)}
		for i := range p.Position {
			st := s.At(s.cfg.Start + float64(i)/f.Rate)
			p.Position[i] = r3.Scale(1000, axes.LabPoint(at(&st)))
		}
		f.Points = append(f.Points, p)
	}
	for k, side := range sides {
		foot := s.feet[k]
		for _, m := range []struct {
			name       string
			long, wide float64
			height     float64
		}{{"HEEL", 0, 0, 0.03}, {"TOE", 1, 0, 0.03}, {"INNER", 0.7, -1, 0.02}, {"OUTER", 0.7, 1, 0.02}} {
			p := foot.point(m.long, m.wide)
			p.Z = m.height
			add(side+"."+m.name, func(*State) r3.Vec { return p })
		}
	}
	start := s.share[0]
	hip := func(x, y float64) func(st *State) r3.Vec {
		return func(st *State) r3.Vec {
			sin, cos := math.Sincos(1.2 * (st.Share - start)) // rad per share: a quarter turn or so
			return r3.Add(st.Position, vec(x*cos-y*sin, x*sin+y*cos, -0.02))
		}
	}
	add(sides[0]+".HIP", hip(0.08, 0.13))
	add(sides[1]+".HIP", hip(0.08, -0.13))
	add("SACRUM", hip(-0.11, 0))
}
