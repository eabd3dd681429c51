package acceptance

import (
	"errors"
	"fmt"
	"math"

	"gonum.org/v1/gonum/stat"

	"example.com/momentarm/cop"
	"example.com/momentarm/grf"
)

// ErrReadings means readings of dead weights that no acceptance can rest on.
var ErrReadings = errors.New("acceptance: unusable readings")

// Reading is what a plate told of one dead weight.
type Reading struct {
	Name string // for messages and tables; may be empty

	// Load is the weight, N, that lay at (X, Y), m, in plate axes from the centre of
	// the standing surface.
	Load, X, Y float64

	// Channels are the readings of the plate, zeroed; a mean over a second or so.
	// Without them Wrench counts: N and N·m in plate axes about the centre of the
	// surface, in either sense.
	Channels []float64
	Wrench   grf.Wrench
}

// place returns where the weight lay, for messages.
func (r *Reading) place() string {
	return fmt.Sprintf("%.0f N at (%.0f, %.0f) mm", r.Load, 1000*r.X, 1000*r.Y)
}

func (r *Reading) title(k int) string {
	if r.Name != "" {
		return fmt.Sprintf("reading %d (%s)", k+1, r.Name)
	}
	return fmt.Sprintf("reading %d", k+1)
}

// Result is a reading worked out.
type Result struct {
	Name       string
	Load, X, Y float64 // as given
	// Measured is the vertical force, N, positive under load.
	Measured float64
	// ErrorX and ErrorY are the centre of pressure less the place, m.
	ErrorX, ErrorY float64
	// Fx, Fy, N, and Twist, N·m about the centre of pressure, have no place under a
	// dead weight.
	Fx, Fy, Twist float64
}

// COPError is the size of the error of the centre of pressure, m.
func (r Result) COPError() float64 { return math.Hypot(r.ErrorX, r.ErrorY) }

// leastMeasured is the part of a weight that a plate shows at least, if it is the
// right plate and works.
const leastMeasured = 0.2

// results works the readings out.
func results(plate *grf.Plate, readings []Reading) ([]Result, error) {
	bad := func(k int, format string, a ...any) error {
		return fmt.Errorf("%w: %s, %s: "+format, append([]any{ErrReadings, readings[k].title(k), readings[k].place()}, a...)...)
	}
	if len(readings) == 0 {
		return nil, fmt.Errorf("%w: there are none", ErrReadings)
	}
	out := make([]Result, len(readings))
	sign := 0.0
	for k, r := range readings {
		if !(r.Load > 0) || math.IsInf(r.Load+r.X+r.Y, 0) || math.IsNaN(r.X+r.Y) {
			return nil, bad(k, "a weight is positive and its place is finite")
		}
		w := r.Wrench
		if r.Channels != nil {
			switch {
			case plate == nil:
				return nil, bad(k, "channels need the plate that they are of")
			case len(r.Channels) != plate.Channels():
				return nil, bad(k, "%d channels, the plate has %d", len(r.Channels), plate.Channels())
			}
			w = plate.Surface(r.Channels)
		}
		if w.IsNaN() || math.IsInf(w.Force.X+w.Force.Y+w.Force.Z+w.Moment.X+w.Moment.Y+w.Moment.Z, 0) {
			return nil, bad(k, "what was measured is not finite: %v", w)
		}
		if !(math.Abs(w.Force.Z) >= leastMeasured*r.Load) {
			return nil, bad(k, "the plate shows only %.1f N; is it this plate, and does it work?", math.Abs(w.Force.Z))
		}
		s := math.Copysign(1, w.Force.Z)
		if sign != 0 && s != sign {
			return nil, bad(k, "the vertical force has the opposite sign of the readings before")
		}
		sign = s
		w = w.Scale(sign)
		p, twist := cop.Of(w, 0, 0)
		out[k] = Result{
			Name: r.Name, Load: r.Load, X: r.X, Y: r.Y, Measured: w.Force.Z,
			ErrorX: p.X - r.X, ErrorY: p.Y - r.Y, Fx: w.Force.X, Fy: w.Force.Y, Twist: twist,
		}
	}
	return out, spread(out)
}

// spread refuses places that leave a direction out.
func spread(rs []Result) error {
	var x, y []float64
	for _, r := range rs {
		if n := len(x); n == 0 || !sees(x, y, r.X, r.Y) {
			x, y = append(x, r.X), append(y, r.Y)
		}
	}
	if len(x) < 3 {
		return fmt.Errorf("%w: weights lay at %d places; at least three that are not in a line are needed", ErrReadings, len(x))
	}
	xx, yy, xy := stat.Variance(x, nil), stat.Variance(y, nil), stat.Covariance(x, y, nil)
	// The smaller principal standard deviation.
	half := (xx + yy) / 2
	if least := math.Sqrt(math.Max(0, half-math.Hypot((xx-yy)/2, xy))); least < 0.01 {
		return fmt.Errorf("%w: the %d places lie in a line to within %.0f mm, so that errors across it do not show", ErrReadings, len(x), 1000*least)
	}
	return nil
}

// samePlace is how near two weights lie at least that lie at one place, m.
const samePlace = 0.0005

func sees(x, y []float64, px, py float64) bool {
	for i := range x {
		if math.Hypot(x[i]-px, y[i]-py) <= samePlace {
			return true
		}
	}
	return false
}
