package results

import (
	"gonum.org/v1/gonum/spatial/r3"

	"example.com/momentarm/cop/com"
)

// Quality is the JSON form of [com.Quality]: what should be zero, and is nearly so
// when the recording is right. Vectors are x, y, z.
type Quality struct {
	HorizontalAtRest [2]Value `json:"horizontal_force_at_rest_N"` // x, y
	Impulse          [3]Value `json:"impulse_from_still_to_still_Ns"`
	// Outside is the part of the loaded time in which the net centre of pressure
	// lies outside the stance, in percent, null when the feet are not known.
	Outside  Value `json:"pressure_outside_stance_percent"`
	Farthest Value `json:"farthest_outside_stance_m"`
	// Sources are the other sources of the centre of mass, against the forces.
	Sources []SourceQuality `json:"centre_of_mass_sources"`
}

// SourceQuality is the JSON form of [com.MotionFit].
type SourceQuality struct {
	Name string `json:"name"`
	// Force is what the net force is short of, at rest, for both to agree.
	Force       [3]Value `json:"missing_force_N"`
	ForceSD     [3]Value `json:"missing_force_sd_N"`
	MassError   Value    `json:"mass_error_percent"`
	MassErrorSD Value    `json:"mass_error_sd_percent"`
	Residual    [3]Value `json:"residual_rms_m"`
	// Chi2 is 1 when the residual is what the standard deviation says.
	Chi2 Value `json:"residual_chi_squared"`
}

// qualityOf returns the JSON form of q, nil for none.
func qualityOf(q *com.Quality) *Quality {
	if q == nil {
		return nil
	}
	out := &Quality{
		HorizontalAtRest: [2]Value{Value(q.HorizontalAtRest.X), Value(q.HorizontalAtRest.Y)},
		Impulse:          vector(q.Impulse),
		Outside:          Value(100 * q.Outside), Farthest: Value(q.Farthest),
		Sources: []SourceQuality{},
	}
	for _, m := range q.Newton {
		if m == nil { // does not overlap with the forces: among the warnings
			continue
		}
		out.Sources = append(out.Sources, SourceQuality{
			Name: m.Source, Force: vector(m.Resting), ForceSD: vector(m.RestingSD),
			MassError: Value(100 * m.MassError.Z), MassErrorSD: Value(100 * m.MassErrorSD.Z),
			Residual: vector(m.Residual), Chi2: Value(m.Chi2),
		})
	}
	return out
}

func vector(v r3.Vec) [3]Value { return [3]Value{Value(v.X), Value(v.Y), Value(v.Z)} }
