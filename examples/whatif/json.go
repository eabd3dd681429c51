package main

import (
	"encoding/json"
	"math"

	"gonum.org/v1/gonum/spatial/r3"

	"example.com/momentarm/examples/internal/results"
	"example.com/momentarm/torque"
)

// schema counts up when a reader of the JSON would have to change.
const schema = 1

// caution stands in every output.
const caution = "mechanics at one instant with everything else held fixed; in a body nothing else stays fixed: no forecast, and no advice"

type report struct {
	Schema     int               `json:"schema"`
	Capture    string            `json:"capture"`
	Player     string            `json:"player,omitempty"`
	Caution    string            `json:"caution"`
	Axes       string            `json:"axes"`
	Handed     string            `json:"handed"`
	BodyWeight results.Value     `json:"body_weight_N"`
	Asked      asked             `json:"asked"`
	Instants   []instantForm     `json:"instants"`
	Missing    []results.Missing `json:"missing"`
}

type asked struct {
	Lateral results.Value `json:"lateral_force_percent"`
	Arm     results.Value `json:"arm_m"`
	Lighten results.Value `json:"lighten_percent_of_body_weight"`
}

type instantForm struct {
	Event      results.Event `json:"event"`
	Torque     string        `json:"torque"` // whose peak it is: "frontal" or "horizontal"
	Force      vector        `json:"force_N"`
	Pressure   vector        `json:"pressure_m"`
	Mass       vector        `json:"mass_m"`
	MassSD     vector        `json:"mass_sd_m"`
	FreeMoment results.Value `json:"free_moment_Nm"`
	Pivoting   results.Value `json:"foot_against_foot_Nm"` // in the free moment
	Moment     planes        `json:"moment_Nm"`
	MomentSD   planes        `json:"moment_sd_Nm"`
	InPlane    results.Value `json:"force_in_plane_N"`
	Arm        results.Value `json:"arm_m"`
	Answers    []answerForm  `json:"answers"`
	// Elasticities are in per cent of the torque for one per cent of the cause.
	Elasticities elasticities `json:"elasticity"`
	Slopes       slopes       `json:"slope"`
	Four         fourForm     `json:"four_times"`
}

type answerForm struct {
	Name       string        `json:"name"`
	Label      string        `json:"label"`
	Moment     planes        `json:"moment_Nm"`
	Change     planes        `json:"change_Nm"`
	ChangeSD   planes        `json:"change_sd_Nm"`
	Percent    planes        `json:"change_percent"`
	Elasticity results.Value `json:"elasticity"`
}

type vector struct {
	X results.Value `json:"x"`
	Y results.Value `json:"y"`
	Z results.Value `json:"z"`
}

type planes struct {
	Frontal    results.Value `json:"frontal"`
	Sagittal   results.Value `json:"sagittal"`
	Horizontal results.Value `json:"horizontal"`
}

type elasticities struct {
	Forward  results.Value `json:"forward_force"`
	Lateral  results.Value `json:"lateral_force"`
	Vertical results.Value `json:"vertical_force"`
	Force    results.Value `json:"force_or_arm"`
	Free     results.Value `json:"free_moment"`
	Pivoting results.Value `json:"foot_against_foot"` // in that of the free moment
}

type slopes struct {
	Forward        results.Value `json:"forward_force_Nm_per_N"`
	Lateral        results.Value `json:"lateral_force_Nm_per_N"`
	Vertical       results.Value `json:"vertical_force_Nm_per_N"`
	PressureBall   results.Value `json:"pressure_toward_ball_Nm_per_m"`
	PressureTarget results.Value `json:"pressure_toward_target_Nm_per_m"`
	MassBall       results.Value `json:"mass_toward_ball_Nm_per_m"`
	MassTarget     results.Value `json:"mass_toward_target_Nm_per_m"`
	MassUp         results.Value `json:"mass_up_Nm_per_m"`
	Arm            results.Value `json:"arm_Nm_per_m"`
}

// fourForm is without the free moment, which has no arm.
type fourForm struct {
	Once  results.Value `json:"once_Nm"`
	Force results.Value `json:"four_times_the_force_Nm"`
	Arm   results.Value `json:"four_times_the_arm_Nm"`
}

func (a *answers) json() ([]byte, error) {
	r := report{
		Schema: schema, Capture: a.swing.Capture, Player: a.swing.Player, Caution: caution,
		Axes: results.Axes, Handed: results.Handed(a.swing.Recording.Handed), BodyWeight: results.Value(a.swing.BodyWeight),
		Asked:    asked{results.Value(a.ask.Lateral), results.Value(a.ask.Arm), results.Value(a.ask.Lighten)},
		Instants: []instantForm{}, Missing: []results.Missing{},
	}
	for _, i := range a.instants {
		r.Instants = append(r.Instants, i.form())
	}
	for _, m := range a.missing {
		r.Missing = append(r.Missing, results.Missing{Name: string(m.Name), Reason: m.Reason})
	}
	data, err := json.MarshalIndent(r, "", "  ")
	return append(data, '\n'), err
}

func (i instant) form() instantForm {
	part := func(p torque.Planes) results.Value { return results.Value(of(i.plane, p)) }
	e, s := i.elasticity, i.slopes
	pivoting := results.Value(i.pivotingElasticity())
	if i.plane != torque.Horizontal && !math.IsNaN(i.pivoting) {
		pivoting = 0 // it turns about the vertical axis alone
	}
	f := instantForm{
		Event: results.Event{
			Name: string(i.event.Name), Time: results.Value(i.event.Time), Source: i.event.Source.String(), SD: results.Value(i.event.SD),
		},
		Torque: i.plane.String(),
		Force:  vectorOf(i.state.Force), Pressure: vectorOf(i.state.Pressure), Mass: vectorOf(i.state.Mass), MassSD: vectorOf(i.massSD),
		FreeMoment: results.Value(i.state.Free), Pivoting: results.Value(i.pivoting), Moment: planesOf(i.state.Moment()), MomentSD: planesOf(i.sd),
		InPlane: results.Value(i.force), Arm: results.Value(i.arm),
		Answers:      []answerForm{},
		Elasticities: elasticities{part(e.Forward), part(e.Lateral), part(e.Vertical), part(e.ForceSize), part(e.Free), pivoting},
		Slopes: slopes{
			part(s.Forward), part(s.Lateral), part(s.Vertical),
			part(s.PressureX), part(s.PressureY), -part(s.PressureX), -part(s.PressureY), -part(s.PressureZ), part(s.Arm),
		},
		Four: fourForm{results.Value(i.four.once), results.Value(i.four.force), results.Value(i.four.arm)},
	}
	for _, a := range i.answers {
		f.Answers = append(f.Answers, answerForm{
			Name: a.name, Label: a.label,
			Moment: planesOf(a.change.To), Change: planesOf(a.moved()), ChangeSD: planesOf(a.sd),
			Percent: planesOf(a.change.Relative().Scale(100)), Elasticity: results.Value(a.elasticity),
		})
	}
	return f
}

func vectorOf(v r3.Vec) vector {
	return vector{results.Value(v.X), results.Value(v.Y), results.Value(v.Z)}
}

func planesOf(p torque.Planes) planes {
	return planes{results.Value(p.Frontal), results.Value(p.Sagittal), results.Value(p.Horizontal)}
}
