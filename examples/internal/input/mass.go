package input

import (
	"errors"
	"fmt"
	"maps"
	"slices"
	"strings"

	"gonum.org/v1/gonum/spatial/r3"

	"example.com/momentarm/cop/com"
	"example.com/momentarm/grf"
	"example.com/momentarm/grf/capture"
)

// How long-lasting errors of models are when the setup does not say (common
// practice, no published source): see com.NewModel and com.PelvisProxy.
const (
	tableSlowSD  = 0.015 // m, a person is not the average body of a table
	pelvisSlowSD = 0.03  // m, the pelvis is not the centre of mass
)

// mass makes a source of the centre of mass of what the setup says about one.
func (p *Plan) mass(r *capture.Result) error {
	from := r.COM
	if from == nil {
		return nil
	}
	src := com.Source{
		Name: "table " + from.Name, Track: from.Track, SD: from.SD, SlowSD: from.SlowSD, SlowTime: from.SlowTime,
		Clock: com.Clock{Delay: from.Delay}, SeekDelay: from.SeekDelay,
	}
	if from.Delay != 0 {
		src.Clock.Method = "as stated"
	}
	if from.Model != "" {
		model, usual, err := p.model(r)
		if err != nil {
			return err
		}
		if src.Track, err = p.follow(model, r.Points, from.SD); err != nil {
			return err
		}
		src.Name = model.Name
		if src.SlowSD == 0 {
			src.SlowSD = usual
			p.step("lasting error of that centre of mass: %g m, as nothing else is stated (com.slow_sd)", usual)
		}
	}
	p.Options.COM = []com.Source{src}
	return nil
}

// model puts the body together and says how large its lasting error usually is.
func (p *Plan) model(r *capture.Result) (com.Model, float64, error) {
	from := r.COM
	landmarks := map[string]com.Landmark{}
	for name := range r.Points {
		if name != pelvis && !strings.HasPrefix(name, "club_") {
			landmarks[name] = com.Landmark{name}
		}
	}
	if from.Model == pelvis {
		p.Warnings = append(p.Warnings, grf.Warning{Code: "pelvis-proxy", Where: "centre of mass",
			Text: "the pelvis stands in for the centre of mass and misses it by some centimetres, the same way for long; landmarks of the whole body are better"})
		return com.PelvisProxy(com.Landmark{pelvis}), pelvisSlowSD, nil
	}
	var table com.Table
	if err := table.UnmarshalText([]byte(from.Model)); err != nil {
		return com.Model{}, 0, wrong("com.model", err)
	}
	model, warnings, err := com.NewModel(table, landmarks)
	if err != nil {
		return com.Model{}, 0, wrong("points.landmarks", err)
	}
	p.Warnings = append(p.Warnings, warnings...)
	p.step("body of %d segments after %v, %.1f %% of the mass", len(model.Segments), table, 100*model.Fraction())
	model.Name = "segment model " + strings.ReplaceAll(model.Name, "_", " ")
	if from.ClubMass > 0 {
		golfer, err := golferMass(r)
		if err != nil {
			return com.Model{}, 0, err
		}
		model.Segments = append(model.Segments, com.Club(from.ClubMass, golfer-from.ClubMass, from.ClubBalance,
			com.Landmark{"club_grip"}, com.Landmark{"club_head"}))
		p.step("club of %.3g kg in the hands of a golfer of %.1f kg", from.ClubMass, golfer-from.ClubMass)
	}
	return model, tableSlowSD, nil
}

// pelvis is the name of a landmark and of the model that needs no other.
const pelvis = "pelvis"

// golferMass returns the mass of the golfer with the club: stated or weighed.
func golferMass(r *capture.Result) (float64, error) {
	if m := r.Recording.Mass; m > 0 {
		return m, nil
	}
	q, err := grf.FindQuiet(r.Recording, grf.QuietOptions{From: r.Processing.QuietFrom, To: r.Processing.QuietTo, Gravity: r.Processing.Gravity})
	if err != nil {
		return 0, &capture.SetupError{Path: "golfer.mass", Text: fmt.Sprintf("missing; com.club needs it, and it can not be weighed: %v", err), Err: err}
	}
	return q.Mass, nil
}

// follow returns the path of a model's centre of mass.
func (p *Plan) follow(m com.Model, points map[string]grf.Track, sd r3.Vec) (grf.Track, error) {
	labels := slices.Sorted(maps.Keys(points))
	series := make([][]r3.Vec, len(labels))
	var times []float64
	for i, l := range labels {
		times, series[i] = points[l].Time, points[l].Position
	}
	track, warnings, err := m.Track(labels, times, series, sd)
	if err != nil {
		return track, wrong("points.landmarks", err)
	}
	p.Warnings = append(p.Warnings, warnings...)
	if !slices.ContainsFunc(track.Position, func(v r3.Vec) bool { return v == v }) {
		return track, wrong("points.landmarks", errors.New("no frame in which all that the centre of mass needs are seen"))
	}
	return track, nil
}

func wrong(path string, err error) error {
	text := strings.TrimPrefix(err.Error(), com.ErrSegment.Error()+": ")
	return &capture.SetupError{Path: path, Text: text, Err: err}
}
