package grf

import (
	"fmt"
	"math"

	"example.com/momentarm/units"
)

// QuietOptions says where to look for a quiet stance and how still it must be.
// The zero value means the whole recording and the defaults.
type QuietOptions struct {
	// From and To bound the search, s; both 0 mean the whole recording.
	From, To float64
	// Duration is the shortest stance that counts, s; default 0.5.
	Duration float64
	// Limit is how much the wrench may vary in it, as a fraction of its mean
	// vertical force: the root of the summed variances of the force components
	// and of the horizontal moment components over 0.5 m. Moments are about the
	// centre of pressure of what is looked at, so that it does not matter where
	// the laboratory has its origin. Default 0.02 (common practice, no published
	// source).
	Limit float64
	// MinWeight is the least mean vertical force, N; default 100.
	MinWeight float64
	// Gravity is the local acceleration of gravity, m/s²; default
	// [units.StandardGravity]. It differs by 0.5 % over the Earth.
	Gravity float64
}

// Quiet is a stretch in which the golfer stood still, and what it tells.
// Standard deviations are of single samples unless they are called a standard
// error.
type Quiet struct {
	First, Last int     // samples, both inside
	From, To    float64 // s

	// Weight is the mean vertical force of both feet: body weight and whatever
	// the golfer holds, N. WeightSE is its standard error, from the scatter of
	// means of 0.1 s, so that slow sway counts.
	Weight, WeightSD, WeightSE float64
	// Mass is Weight divided by gravity, kg.
	Mass, MassSE float64

	// Mean is the mean net wrench. Its horizontal force should be zero: a golfer
	// who stands still is not pushed sideways.
	Mean Wrench

	// SD of each component of the net wrench and of each foot's, moments about the
	// origin. Together with the golfer's sway they hold the noise of the plates; NaN
	// for feet that were not measured apart.
	SD, LeadSD, TrailSD Wrench

	// Variation is how much the net wrench varies in the stretch, as
	// [QuietOptions] measure it for their Limit.
	Variation float64
}

// NoQuietError says how near the recording came to a quiet stance; it wraps
// [ErrNoQuiet].
type NoQuietError struct {
	Best     float64 // smallest variation found, fraction of the mean vertical force; NaN if the plates were never loaded
	Limit    float64 // what was asked for
	At       float64 // where the best window begins, s
	Duration float64 // s
}

func (e *NoQuietError) Error() string {
	if math.IsNaN(e.Best) {
		return fmt.Sprintf("grf: no quiet stance: no %.2g s with the golfer on the plates", e.Duration)
	}
	return fmt.Sprintf("grf: no quiet stance: the stillest %.2g s (from %.3f s) vary by %.2f %% of the vertical force, at most %.2f %% is accepted; record the golfer standing still before the swing",
		e.Duration, e.At, 100*e.Best, 100*e.Limit)
}

func (e *NoQuietError) Unwrap() error { return ErrNoQuiet }

// FindQuiet returns the stillest stance in the searched part of the recording:
// the window of the given duration whose wrench varies least, extended to both
// sides as long as the windows there vary at most a quarter more (or by
// 0.05 % of their vertical force) and their mean vertical force is within 0.5 %.
// Windows with lost samples (NaN) do not count; of a recording that is
// [Recording.VerticalOnly] what was measured is looked at. It fails with a
// [*NoQuietError] when no window is still enough, and with [ErrWindow] when the
// search range is shorter than one window.
func FindQuiet(rec *Recording, opt QuietOptions) (Quiet, error) {
	if err := rec.Check(); err != nil {
		return Quiet{}, err
	}
	duration := orDefault(opt.Duration, 0.5)
	limit := orDefault(opt.Limit, 0.02)
	first, last := 0, rec.Len()-1
	if opt.From != 0 || opt.To != 0 {
		// Held in range before they become integers, whatever the options are.
		from := math.Max(-1, math.Ceil((opt.From-rec.Start)*rec.Rate-1e-6))
		to := math.Min(float64(rec.Len()), math.Floor((opt.To-rec.Start)*rec.Rate+1e-6))
		if !(from <= to) { // NaN included
			return Quiet{}, fmt.Errorf("%w: quiet stance sought from %g to %g s, recorded from %g to %g s", ErrWindow, opt.From, opt.To, rec.Start, rec.End())
		}
		first, last = max(first, int(from)), min(last, int(to))
	}
	n := int(math.Round(math.Min(duration*rec.Rate, math.MaxInt32)))
	if n < 2 || last-first+1 < n {
		return Quiet{}, fmt.Errorf("%w: quiet stance of %g s sought in samples %d to %d of %d", ErrWindow, duration, first, last, rec.Len())
	}
	net, err := rec.NetWrenches(nil)
	if err != nil {
		return Quiet{}, err
	}
	windows := slidingStats(net[first:last+1], n)

	best, bestSD := -1, math.NaN()
	for i, w := range windows {
		if w.mean >= orDefault(opt.MinWeight, 100) && !(w.sd/w.mean >= bestSD) {
			best, bestSD = i, w.sd/w.mean
		}
	}
	if best < 0 || bestSD > limit {
		e := &NoQuietError{Best: bestSD, Limit: limit, Duration: duration, At: math.NaN()}
		if best >= 0 {
			e.At = rec.Time(first + best)
		}
		return Quiet{}, e
	}
	still := func(i int) bool {
		w, b := windows[i], windows[best]
		return w.sd <= math.Max(1.25*b.sd, 0.0005*b.mean) && w.sd <= limit*w.mean &&
			math.Abs(w.mean-b.mean) <= 0.005*b.mean
	}
	from, to := best, best
	for from > 0 && still(from-1) {
		from--
	}
	for to < len(windows)-1 && still(to+1) {
		to++
	}
	return describeQuiet(rec, net, first+from, first+to+n-1, orDefault(opt.Gravity, float64(units.StandardGravity))), nil
}

func describeQuiet(rec *Recording, net []Wrench, first, last int, gravity float64) Quiet {
	q := Quiet{First: first, Last: last, From: rec.Time(first), To: rec.Time(last)}
	q.Mean, q.SD = wrenchMeanSD(net[first : last+1])
	whole := slidingStats(net[first:last+1], last+1-first)[0]
	q.Variation = whole.sd / whole.mean
	q.LeadSD, q.TrailSD = NaN(), NaN()
	if rec.Split() {
		_, q.LeadSD = wrenchMeanSD(rec.Lead[first : last+1])
		_, q.TrailSD = wrenchMeanSD(rec.Trail[first : last+1])
	}
	q.Weight, q.WeightSD = q.Mean.Force.Z, q.SD.Force.Z
	q.WeightSE = standardError(net[first:last+1], int(math.Round(0.1*rec.Rate)))
	q.Mass, q.MassSE = q.Weight/gravity, q.WeightSE/gravity
	return q
}

// standardError returns that of the mean vertical force from means over blocks,
// which unlike single samples are nearly independent of each other.
func standardError(ws []Wrench, block int) float64 {
	block = max(block, 1)
	k := len(ws) / block
	if k < 2 {
		_, sd := forceMeanSD(ws)
		return sd.Z / math.Sqrt(float64(len(ws)))
	}
	means := make([]Wrench, k)
	for i := range means {
		means[i].Force, _ = forceMeanSD(ws[i*block : (i+1)*block])
	}
	_, sd := forceMeanSD(means)
	return sd.Z / math.Sqrt(float64(k))
}

// windowStat is the mean vertical force of a window and how much the wrench
// varies in it: the root of the summed variances of the three components of the
// force and of the horizontal ones of the moment over lever, about the window's
// centre of pressure.
type windowStat struct{ mean, sd float64 }

// lever turns a moment into the force that it counts as, m. With it a load that
// moves from one foot to the other counts, while the sway of standing does not
// outweigh the forces.
const lever = 0.5

// slidingStats returns the statistics of each window of n samples. Sums run
// along with the window, on values less a fixed reference so that they stay
// small; lost samples are counted, so that a window recovers once they left.
func slidingStats(ws []Wrench, n int) []windowStat {
	flat := VerticalOnly(ws)
	whole := func(w Wrench) Wrench {
		if flat {
			w.Force.X, w.Force.Y, w.Moment.Z = 0, 0, 0
		}
		return w
	}
	signals := func(w Wrench) [5]float64 {
		return [5]float64{w.Force.Z, w.Force.X, w.Force.Y, w.Moment.X / lever, w.Moment.Y / lever}
	}
	var ref, sum, sq [5]float64
	var with [5]float64 // products with the vertical force
	for _, w := range ws {
		if w = whole(w); finite(w.Force) && finite(w.Moment) {
			ref = signals(w)
			break
		}
	}
	lost := 0
	add := func(w Wrench, sign float64) {
		if w = whole(w); !finite(w.Force) || !finite(w.Moment) {
			lost += int(sign)
			return
		}
		for k, v := range signals(w) {
			d := v - ref[k]
			sum[k] += sign * d
			sq[k] += sign * d * d
			with[k] += sign * d * (w.Force.Z - ref[0])
		}
	}
	out := make([]windowStat, 0, len(ws)-n+1)
	for i, w := range ws {
		add(w, 1)
		if i >= n {
			add(ws[i-n], -1)
		}
		if i < n-1 {
			continue
		}
		if lost > 0 {
			out = append(out, windowStat{math.NaN(), math.NaN()})
			continue
		}
		k := float64(n)
		mean := ref[0] + sum[0]/k
		var variance float64
		for c := range sum {
			v := sq[c] - sum[c]*sum[c]/k
			if c >= 3 && mean > 0 {
				// The moment about the mean's point on the ground is less by
				// arm × vertical force.
				arm := (ref[c] + sum[c]/k) / mean
				v += arm * (arm*(sq[0]-sum[0]*sum[0]/k) - 2*(with[c]-sum[c]*sum[0]/k))
			}
			variance += v / (k - 1)
		}
		out = append(out, windowStat{mean: mean, sd: math.Sqrt(math.Max(variance, 0))})
	}
	return out
}
