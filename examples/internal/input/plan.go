package input

import (
	"fmt"

	"example.com/momentarm/cop"
	"example.com/momentarm/grf"
	"example.com/momentarm/grf/capture"
	"example.com/momentarm/phase/swing"
)

// Plan is what a capture and its setup ask of the analysis.
type Plan struct {
	Options swing.Options
	// Steps and Warnings are those of making the plan.
	Steps    []string
	Warnings []grf.Warning
}

func (p *Plan) step(format string, a ...any) { p.Steps = append(p.Steps, fmt.Sprintf(format, a...)) }

// Prepare carries what the setup says over to the analysis: thresholds, feet, and
// what its landmarks tell of centre of mass and shins. An error is a
// [*capture.SetupError], because only the setup can be at fault.
func Prepare(r *capture.Result) (*Plan, error) {
	p := r.Processing
	plan := &Plan{Options: swing.Options{
		Cutoff: p.Cutoff, Order: p.Order,
		MinVertical: p.MinVertical, MinPlane: p.MinArmForce,
		Plane: p.SwingPlane, Gravity: p.Gravity,
		Quiet:     grf.QuietOptions{From: p.QuietFrom, To: p.QuietTo},
		COMHeight: p.COMHeight, COMHeightSD: p.COMHeightSD,
	}}
	if err := plan.feet(p); err != nil {
		return nil, err
	}
	if err := plan.mass(r); err != nil {
		return nil, err
	}
	plan.shins(r)
	return plan, nil
}

func (p *Plan) feet(from capture.Processing) error {
	for _, f := range []struct {
		side cop.Side
		from *capture.FootOutline
		to   **cop.Foot
	}{{cop.Lead, from.Lead, &p.Options.Feet.Lead}, {cop.Trail, from.Trail, &p.Options.Feet.Trail}} {
		if f.from == nil {
			continue
		}
		foot, err := cop.NewFoot(f.side, f.from.Heel, f.from.Toe, f.from.Width)
		if err != nil {
			return &capture.SetupError{Path: "feet." + f.side.String(), Text: err.Error(), Err: err}
		}
		*f.to = &foot
	}
	return nil
}

// shins hands knees and ankles on as those of the lead and the trail leg.
func (p *Plan) shins(r *capture.Result) {
	sides := map[string]string{"lead": "left", "trail": "right"}
	if r.Recording.Handed == grf.LeftHanded {
		sides["lead"], sides["trail"] = sides["trail"], sides["lead"]
	}
	for _, leg := range []string{"lead", "trail"} {
		knee, ok1 := r.Points["knee_"+sides[leg]]
		ankle, ok2 := r.Points["ankle_"+sides[leg]]
		if !ok1 || !ok2 {
			continue
		}
		if p.Options.Points == nil {
			p.Options.Points = map[string]grf.Track{}
		}
		p.Options.Points[leg+"_knee"], p.Options.Points[leg+"_ankle"] = inTime(r, knee), inTime(r, ankle)
		p.step("lean of the %s shin from knee_%s and ankle_%s", leg, sides[leg], sides[leg])
	}
}

// inTime removes the stated delay of the landmarks.
func inTime(r *capture.Result, t grf.Track) grf.Track {
	if r.COM == nil || r.COM.Model == "" || r.COM.Delay == 0 {
		return t
	}
	stamps := t.Time
	t.Time = make([]float64, len(stamps))
	for i, stamp := range stamps {
		t.Time[i] = stamp - r.COM.Delay
	}
	return t
}
