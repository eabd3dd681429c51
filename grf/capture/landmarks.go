package capture

import (
	"fmt"
	"math"
	"strings"

	"gonum.org/v1/gonum/spatial/r3"

	"example.com/momentarm/grf"
	"example.com/momentarm/grf/c3d"
)

// landmarks reads the paths of the landmarks from the points of a C3D file.
func (r *reader) landmarks(axes grf.Axes) error {
	p := r.setup.Points
	if len(p.Landmarks) == 0 {
		return nil
	}
	if r.file == nil {
		return setupErrorf("points.landmarks", "are points of a C3D file, but the capture is a table")
	}
	r.result.Points = map[string]grf.Track{}
	labels, least, fewest := 0, "", math.MaxInt
	for _, name := range sortedKeys(p.Landmarks) {
		path := join("points.landmarks", name)
		track, seen, err := r.file.track(path, p.Landmarks[name], axes)
		if err != nil {
			return err
		}
		if seen == 0 {
			return setupErrorf(path, "is not seen in a single frame")
		}
		sd := float64(p.SD)
		track.SD = r3.Vec{X: sd, Y: sd, Z: sd}
		r.result.Points[name] = track
		labels += len(p.Landmarks[name])
		if seen < fewest {
			least, fewest = name, seen
		}
		r.lookAtLandmark(name, track)
	}
	f := r.file.c3d
	seen := "all seen in every frame"
	if fewest < f.Frames {
		seen = fmt.Sprintf("%s is seen least, in %d", least, fewest)
	}
	r.step("%d landmarks from %d labels, %d frames at %g Hz; %s", len(p.Landmarks), labels, f.Frames, f.Rate, seen)
	r.tell("%d landmarks on the body were followed by %d points of the file at %g Hz.", len(p.Landmarks), labels, f.Rate)
	return nil
}

// track returns the mean of the points with these labels in swing axes and in how
// many frames all of them are seen.
func (p *points) track(path string, labels Labels, axes grf.Axes) (grf.Track, int, error) {
	f := p.c3d
	track := grf.Track{Time: make([]float64, f.Frames), Position: make([]r3.Vec, f.Frames)}
	for n, label := range labels {
		k := f.PointIndex(label)
		at := labelPath(path, labels, n)
		if k < 0 {
			return track, 0, setupErrorf(at, "no point %s in the file; %s", describe(label), near(label, p.labels()))
		}
		if f.Points[k].Kind != c3d.Position {
			return track, 0, setupErrorf(at, "%s is no position but of the kind %v", describe(label), f.Points[k].Kind)
		}
		for i, v := range f.Points[k].Position {
			track.Position[i] = r3.Add(track.Position[i], v)
		}
	}
	seen := 0
	for i, sum := range track.Position {
		track.Time[i] = f.FrameTime(i)
		if v := axes.Point(r3.Scale(p.metre/float64(len(labels)), sum)); !math.IsNaN(v.X + v.Y + v.Z) {
			track.Position[i] = v
			seen++
		} else {
			track.Position[i] = grf.NaN().Force
		}
	}
	return track, seen, nil
}

// labels lists the labels of all positions.
func (p *points) labels() []string {
	var labels []string
	for i := range p.c3d.Points {
		if p.c3d.Points[i].Kind == c3d.Position {
			labels = append(labels, p.c3d.Points[i].Label)
		}
	}
	return labels
}

// lookAtLandmark warns of a landmark that is where no part of a golfer can be.
func (r *reader) lookAtLandmark(name string, track grf.Track) {
	for _, p := range track.Position {
		if math.IsNaN(p.Z) {
			continue
		}
		if p.Z < -0.2 || p.Z > 3 || math.Hypot(p.X, p.Y) > 3 {
			r.warn("points-doubtful", name, "the first position is (%.2f, %.2f, %.2f) m in swing axes; are label, axes and unit right?", p.X, p.Y, p.Z)
		}
		return
	}
}

// model says how the centre of mass follows from the landmarks.
func (r *reader) model() {
	c := r.setup.COM
	s := r.comSource("the landmarks")
	s.Model = c.Model
	if c.Club != nil {
		s.ClubMass, s.ClubBalance = float64(c.Club.Mass), c.Club.Balance
	}
	sd := float64(c.SD)
	s.SD = r3.Vec{X: sd, Y: sd, Z: sd}
	r.result.COM = s
	r.step("%s", "centre of mass from the landmarks by "+strings.ReplaceAll(c.Model, "_", " ")+r.late())
	r.tell("The centre of mass of the body followed from them by %s.", modelSource(c.Model))
}
