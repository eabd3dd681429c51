package acceptance

import (
	"errors"
	"fmt"
	"math"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"

	"example.com/momentarm/grf"
)

// ErrPresses means presses and pushes from which nothing follows.
var ErrPresses = errors.New("acceptance: unusable presses")

// Press is what the plates told while somebody pressed on a known point.
type Press struct {
	Name string // for messages; may be empty
	// At is the point of the surface, in the laboratory in which the corners of the
	// plates were declared, m.
	At r3.Vec
	// Push is the direction in which the hand or foot pushed along the surface
	// meanwhile, in the laboratory and of any length; zero for a straight press.
	Push r3.Vec
	// Channels are those of every plate, in the order of the plates: zeroed, a mean
	// over the press.
	Channels [][]float64
}

func (p *Press) title(k int) string {
	if p.Name != "" {
		return fmt.Sprintf("press %d (%s)", k+1, p.Name)
	}
	return fmt.Sprintf("press %d", k+1)
}

// PlacementOptions say how the presses are judged. The zero value means the
// defaults, which are common practice (no published source).
type PlacementOptions struct {
	// MinLoad is the vertical force that shows which plate was pressed, N; 0 means 50.
	MinLoad float64
	// MinPush is the horizontal force that shows where a push goes, N; 0 means 10.
	MinPush float64
	// MaxRMS is how far the points may be off, root mean square, m; 0 means 0.02, for
	// points that were pressed by foot. With a rod on marks a tenth of that is usual.
	MaxRMS float64
	// MaxAngle is how far pushes may be off, root mean square, rad; 0 means 0.5.
	MaxAngle float64
}

func (o PlacementOptions) withDefaults() (PlacementOptions, error) {
	for _, f := range []struct {
		v   *float64
		def float64
	}{{&o.MinLoad, 50}, {&o.MinPush, 10}, {&o.MaxRMS, 0.02}, {&o.MaxAngle, 0.5}} {
		if *f.v == 0 {
			*f.v = f.def
		}
		if !(*f.v > 0) || math.IsInf(*f.v, 0) {
			return o, fmt.Errorf("%w: options %+v must be positive", ErrPresses, o)
		}
	}
	return o, nil
}

// Fit is how well the points agree with an arrangement.
type Fit struct {
	Arrangement
	RMS, Worst float64 // m
}

// PushFit is how well the directions of the pushes agree with one.
type PushFit struct {
	Arrangement
	RMS float64 // rad
}

// PlateFinding is what the presses tell of one plate: where it lies and how.
type PlateFinding struct {
	Plate int // index of the plate, whose channels these are
	Place int // index of the plate in whose declared corners it lies; −1 when it was not pressed

	Points   int
	Declared Fit // as declared, in the place where it was found
	Best     Fit
	Next     Fit // the best of the others
	// ShiftX and ShiftY are the mean of measured less true points in the best
	// arrangement, m along the declared x and y.
	ShiftX, ShiftY float64

	Pushes       int
	DeclaredPush PushFit // of the horizontal force; NaN without pushes
	BestPush     PushFit
	// PushInBest is what the best arrangement of the points makes of the pushes.
	PushInBest PushFit

	// Corners are the four to declare instead, in the order of
	// [grf.PlateConfig.Corners].
	Corners [4]r3.Vec

	Verdict Verdict // Pass: lies as declared
	Text    string  // in words
}

// Placement is what the presses tell of all plates.
type Placement struct {
	Plates  []PlateFinding
	Verdict Verdict // Pass when every plate lies as declared, NotAssessed when one was not pressed
}

// CheckPlacement holds what plates told while they were pressed at known points
// against their declared corners. A press belongs to the plate with the greatest
// vertical force and to the place in whose declared corners its point lies; of the
// eight arrangements the one with the least sum of squared distances counts, and
// what the pushes say of the horizontal force is held beside it.
//
// It fails with [ErrPresses] when a press makes no sense, when one place is answered
// by two plates, and when the points of a plate do not tell its arrangements apart
// whatever was measured: all of them in its middle, or on an axis of symmetry.
func CheckPlacement(plates []*grf.Plate, presses []Press, opt PlacementOptions) (*Placement, error) {
	opt, err := opt.withDefaults()
	if err != nil {
		return nil, err
	}
	if len(plates) == 0 || len(presses) == 0 {
		return nil, fmt.Errorf("%w: %d plates, %d presses", ErrPresses, len(plates), len(presses))
	}
	found := make([]evidence, len(plates))
	for i := range found {
		found[i].place = -1
	}
	for k := range presses {
		if err := take(found, plates, presses, k, opt); err != nil {
			return nil, err
		}
	}
	p := &Placement{}
	var verdicts []Verdict
	for i, e := range found {
		f, err := e.judge(i, plates, opt)
		if err != nil {
			return nil, err
		}
		p.Plates = append(p.Plates, f)
		verdicts = append(verdicts, f.Verdict)
	}
	p.Verdict = overall(verdicts)
	return p, nil
}

// evidence is what presses tell of one plate, in the declared axes of its place and
// in its own.
type evidence struct {
	place              int
	truth, measured    []r2.Vec // m
	pushed, horizontal []r2.Vec // of any length
}

// take adds a press to the evidence of the plate that answered.
func take(found []evidence, plates []*grf.Plate, presses []Press, k int, opt PlacementOptions) error {
	press := &presses[k]
	bad := func(format string, a ...any) error {
		return fmt.Errorf("%w: %s: "+format, append([]any{ErrPresses, press.title(k)}, a...)...)
	}
	if s := press.At.X + press.At.Y + press.At.Z + press.Push.X + press.Push.Y + press.Push.Z; math.IsNaN(s) || math.IsInf(s, 0) {
		return bad("the point %v and the push %v must be finite", press.At, press.Push)
	}
	if len(press.Channels) != len(plates) {
		return bad("channels of %d plates, there are %d", len(press.Channels), len(plates))
	}
	place, at := -1, r2.Vec{}
	for j, p := range plates {
		q := p.Frame().PointIn(press.At)
		x, y := p.Size()
		const edge = 0.02 // m; a foot on the border
		if math.Abs(q.X) <= x/2+edge && math.Abs(q.Y) <= y/2+edge && math.Abs(q.Z) < 0.1 {
			if place >= 0 {
				return bad("the point lies on the plates %d and %d; press inside one of them", place+1, j+1)
			}
			place, at = j, r2.Vec{X: q.X, Y: q.Y}
		}
	}
	if place < 0 {
		return bad("the point %v m lies in the corners of no plate", press.At)
	}
	which, second := -1, 0.0
	var w grf.Wrench
	for i, p := range plates {
		if len(press.Channels[i]) != p.Channels() {
			return bad("%d channels, plate %d has %d", len(press.Channels[i]), i+1, p.Channels())
		}
		v := p.Surface(press.Channels[i])
		if v.IsNaN() || math.IsInf(v.Force.Z, 0) {
			return bad("what plate %d tells is not finite: %v", i+1, v)
		}
		switch size := math.Abs(v.Force.Z); {
		case which < 0 || size > math.Abs(w.Force.Z):
			if which >= 0 {
				second = math.Abs(w.Force.Z)
			}
			which, w = i, v
		case size > second:
			second = size
		}
	}
	if load := math.Abs(w.Force.Z); load < opt.MinLoad {
		return bad("no plate carries %g N, the most is %.1f N", opt.MinLoad, load)
	} else if second > load/3 {
		return bad("a second plate carries %.0f N beside %.0f N; press on one alone", second, load)
	}
	for i, e := range found {
		if i != which && e.place == place {
			return bad("at the place of plate %d plate %d answers, but plate %d answered before; are their corners far off?", place+1, which+1, i+1)
		}
	}
	e := &found[which]
	if e.place >= 0 && e.place != place {
		return bad("plate %d answers at the place of plate %d, but it answered at that of plate %d before", which+1, place+1, e.place+1)
	}
	e.place = place
	e.truth = append(e.truth, at)
	e.measured = append(e.measured, r2.Vec{X: -w.Moment.Y / w.Force.Z, Y: w.Moment.X / w.Force.Z})
	if press.Push == (r3.Vec{}) {
		return nil
	}
	d := plates[place].Frame().VectorIn(press.Push)
	if math.Hypot(d.X, d.Y) < 0.5*r3.Norm(press.Push) {
		return bad("the push %v does not go along the surface", press.Push)
	}
	h := r2.Scale(pushSign(plates[which], w), r2.Vec{X: w.Force.X, Y: w.Force.Y})
	if r2.Norm(h) < opt.MinPush {
		return bad("a push was to show, but the horizontal force is %.1f N; push harder, or leave the direction out", r2.Norm(h))
	}
	e.pushed = append(e.pushed, r2.Vec{X: d.X, Y: d.Y})
	e.horizontal = append(e.horizontal, h)
	return nil
}

// pushSign turns what a plate tells into the push on it. A plate that does not say
// whose force it tells has z into the floor, as usual.
func pushSign(p *grf.Plate, w grf.Wrench) float64 {
	switch p.Sense() {
	case grf.Action:
		return 1
	case grf.Reaction:
		return -1
	}
	return math.Copysign(1, w.Force.Z)
}
