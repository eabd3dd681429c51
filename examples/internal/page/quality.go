package page

import (
	"math"

	"example.com/momentarm/cop/com"
)

// qualityRow is a figure that should be zero, and is nearly so when the recording
// is right.
type qualityRow struct {
	Name  string
	Parts []fact
	Why   string
}

// sourceRow says how another source of the centre of mass agrees with the forces.
type sourceRow struct {
	Name  string
	Parts []fact
}

// qualityOf writes what a recording says about itself; nothing for nil.
func qualityOf(q *com.Quality) ([]qualityRow, []sourceRow) {
	if q == nil {
		return nil, nil
	}
	outside := qualityRow{"Pressure outside of the stance",
		[]fact{{"part of the loaded time", si(100*q.Outside, "%")}, {"farthest", si(q.Farthest, "m")}},
		"The feet can not push where they do not stand. What lies outside is an error of the plates' places or of the feet's outlines."}
	if math.IsNaN(q.Outside) {
		outside.Parts = []fact{{notAvailable, "the outlines of the feet are not given (feet in the setup)"}}
	}
	rows := []qualityRow{
		{"Horizontal force while standing still",
			[]fact{{"forward", si(q.HorizontalAtRest.X, "N")}, {"lateral", si(q.HorizontalAtRest.Y, "N")}},
			"A body at rest is pushed sideways by nothing. What is left is an error of the plates' zero or of their level."},
		{"Impulse from still to still, without body weight",
			[]fact{{"forward", si(q.Impulse.X, "N·s")}, {"lateral", si(q.Impulse.Y, "N·s")}, {"vertical", si(q.Impulse.Z, "N·s")}},
			"The golfer is at rest before and after, so all pushes cancel. What is left is drift of the plates, or a finish that was not still."},
		outside,
	}
	var sources []sourceRow
	for _, m := range q.Newton {
		if m == nil { // does not overlap with the forces: among the warnings
			continue
		}
		sources = append(sources, sourceRow{m.Source, []fact{
			{"force short of agreement, vertical", withSD(m.Resting.Z, m.RestingSD.Z, "N")},
			{"lateral", withSD(m.Resting.Y, m.RestingSD.Y, "N")},
			{"forward", withSD(m.Resting.X, m.RestingSD.X, "N")},
			{"mass in error by", withSD(100*m.MassError.Z, 100*m.MassErrorSD.Z, "%")},
			{"positions off by, root mean square", si(math.Sqrt(m.Residual.X*m.Residual.X+m.Residual.Y*m.Residual.Y+m.Residual.Z*m.Residual.Z), "m")},
			{"their square against what is stated, 1 is right", si(m.Chi2, "1")},
		}})
	}
	return rows, sources
}
