package acceptance

import (
	"math"

	"gonum.org/v1/gonum/stat"

	"example.com/momentarm/grf"
)

// Limits are what the maker of a plate, or its owner, holds it to. 0 means that
// there is no limit. The package comment says what the values are.
type Limits struct {
	COPMax, COPMean, COPRMS, COPBias float64 // m
	LoadMax                          float64 // part of the load
	Gain                             float64 // part of 1
	Linearity                        float64 // part of the greatest load
	CrossTalkX, CrossTalkY           float64 // part of the load
	CrossTalkTwist                   float64 // m
	RepeatLoad                       float64 // part of the greatest load
	RepeatCOP                        float64 // m
}

// Item is one value of a report against its limit.
type Item struct {
	Name    string  // for programs; stable
	Label   string  // for people
	Value   float64 // never negative; NaN when the readings do not tell it
	Unit    string  // "m", or "1" for a part of something
	Limit   float64 // 0: none
	Verdict Verdict
	Note    string // where the value was reached, or why there is none
}

// Report is what dead weights tell of a plate.
type Report struct {
	Items   []Item
	Verdict Verdict // on all items with a limit

	// Measured load is Offset + Gain × load, by least squares.
	Gain, Offset float64
	// BiasX and BiasY are the mean error of the centre of pressure, m.
	BiasX, BiasY float64

	Places  []Place
	Results []Result // in the order of the readings
}

// Place sums the readings at one place up.
type Place struct {
	X, Y           float64 // m
	Readings       int
	ErrorX, ErrorY float64 // mean error of the centre of pressure, m
	LoadError      float64 // mean error of the load, part of the load
}

// Item returns the item of this name and whether there is one.
func (r *Report) Item(name string) (Item, bool) {
	for _, i := range r.Items {
		if i.Name == name {
			return i, true
		}
	}
	return Item{}, false
}

// CheckWeights holds what a plate told of dead weights against what they were, and
// against limits. plate may be nil when no reading has channels.
//
// It fails with [ErrReadings] when a reading makes no sense or when the weights lay
// at fewer than three places that are not in a line. What the readings do not tell
// is NaN and says why: linearity with weights of one size, repeatability when no
// weight was laid on twice. Where there is a limit to it, the verdict is then
// [NotAssessed].
func CheckWeights(plate *grf.Plate, readings []Reading, limits Limits) (*Report, error) {
	rs, err := results(plate, readings)
	if err != nil {
		return nil, err
	}
	r := &Report{Results: rs, Places: places(rs)}
	r.pressure(limits)
	r.load(limits)
	r.crossTalk(limits)
	r.repeatability(limits)
	verdicts := make([]Verdict, len(r.Items))
	for i, item := range r.Items {
		verdicts[i] = item.Verdict
	}
	r.Verdict = overall(verdicts)
	return r, nil
}

func (r *Report) put(name, label, unit string, value, limit float64, note string) {
	i := Item{Name: name, Label: label, Value: value, Unit: unit, Limit: limit, Note: note}
	switch {
	case !(limit > 0):
		i.Limit = 0
	case math.IsNaN(value):
		i.Verdict = NotAssessed
	case value <= limit:
		i.Verdict = Pass
	default:
		i.Verdict = Fail
	}
	r.Items = append(r.Items, i)
}

// largest returns the largest value over the readings and where it was reached.
func (r *Report) largest(value func(Result) float64) (most float64, note string) {
	for k, x := range r.Results {
		// Rounding does not choose between equal ones.
		if v := value(x); k == 0 || v > most*(1+1e-9)+1e-15 {
			reading := Reading{Name: x.Name, Load: x.Load, X: x.X, Y: x.Y}
			most, note = v, reading.title(k)+", "+reading.place()
		}
	}
	return most, note
}

func (r *Report) pressure(l Limits) {
	var sizes, x, y []float64
	var sq float64
	for _, s := range r.Results {
		sizes, x, y = append(sizes, s.COPError()), append(x, s.ErrorX), append(y, s.ErrorY)
		sq += s.COPError() * s.COPError()
	}
	most, note := r.largest(Result.COPError)
	r.BiasX, r.BiasY = stat.Mean(x, nil), stat.Mean(y, nil)
	r.put("cop_error_max", "largest error of the centre of pressure", "m", most, l.COPMax, note)
	r.put("cop_error_mean", "mean size of that error", "m", stat.Mean(sizes, nil), l.COPMean, "")
	r.put("cop_error_rms", "root mean square of that error", "m", math.Sqrt(sq/float64(len(sizes))), l.COPRMS, "")
	r.put("cop_bias", "what all those errors have in common", "m", math.Hypot(r.BiasX, r.BiasY), l.COPBias, "")
}

func (r *Report) load(l Limits) {
	most, note := r.largest(func(s Result) float64 { return math.Abs(s.Measured-s.Load) / s.Load })
	r.put("load_error_max", "largest error of the load, of the load", "1", most, l.LoadMax, note)
	var load, measured []float64
	least, full := math.Inf(1), 0.0
	for _, s := range r.Results {
		load, measured = append(load, s.Load), append(measured, s.Measured)
		least, full = math.Min(least, s.Load), math.Max(full, s.Load)
	}
	gain, line, why := math.NaN(), math.NaN(), "weights of one size: lay on others as well"
	r.Gain, r.Offset = math.NaN(), math.NaN()
	if least < 0.9*full {
		r.Offset, r.Gain = stat.LinearRegression(load, measured, nil, false)
		gain = math.Abs(r.Gain - 1)
		line, why = r.largest(func(s Result) float64 { return math.Abs(s.Measured-r.Offset-r.Gain*s.Load) / full })
	}
	gainNote := ""
	if math.IsNaN(gain) {
		gainNote = why
	}
	r.put("gain_error", "slope of measured against true load, less 1", "1", gain, l.Gain, gainNote)
	r.put("linearity", "largest distance from that line, of the greatest load", "1", line, l.Linearity, why)
}

func (r *Report) crossTalk(l Limits) {
	x, atX := r.largest(func(s Result) float64 { return math.Abs(s.Fx) / s.Load })
	y, atY := r.largest(func(s Result) float64 { return math.Abs(s.Fy) / s.Load })
	z, atZ := r.largest(func(s Result) float64 { return math.Abs(s.Twist) / s.Load })
	r.put("crosstalk_x", "largest force along x, of the load", "1", x, l.CrossTalkX, atX)
	r.put("crosstalk_y", "largest force along y, of the load", "1", y, l.CrossTalkY, atY)
	r.put("crosstalk_twist", "largest twist over load", "m", z, l.CrossTalkTwist, atZ)
}

// repeatability pools the variances of readings of one load at one place, each with
// its number less one.
func (r *Report) repeatability(l Limits) {
	var dof, load, pressure, full float64
	used := make([]bool, len(r.Results))
	for k, a := range r.Results {
		full = math.Max(full, a.Load)
		if used[k] {
			continue
		}
		var m, x, y []float64
		for j := k; j < len(r.Results); j++ {
			b := r.Results[j]
			if math.Hypot(a.X-b.X, a.Y-b.Y) <= samePlace && math.Abs(a.Load-b.Load) <= 0.001*a.Load {
				used[j] = true
				// A weight that is not quite the same is no scatter.
				m, x, y = append(m, b.Measured-b.Load), append(x, b.ErrorX), append(y, b.ErrorY)
			}
		}
		if n := float64(len(m)); n > 1 {
			dof += n - 1
			load += (n - 1) * stat.Variance(m, nil)
			pressure += (n - 1) * (stat.Variance(x, nil) + stat.Variance(y, nil))
		}
	}
	why := ""
	if dof == 0 {
		why = "no weight was laid on the same place twice"
	}
	// Without repetitions 0/0 is NaN.
	r.put("repeatability_load", "scatter of the load when repeated, of the greatest load", "1", math.Sqrt(load/dof)/full, l.RepeatLoad, why)
	r.put("repeatability_cop", "scatter of the centre of pressure when repeated", "m", math.Sqrt(pressure/dof), l.RepeatCOP, why)
}

// places sums up by place, in the order in which they come.
func places(rs []Result) []Place {
	var out []Place
	for _, s := range rs {
		k := 0
		for k < len(out) && math.Hypot(out[k].X-s.X, out[k].Y-s.Y) > samePlace {
			k++
		}
		if k == len(out) {
			out = append(out, Place{X: s.X, Y: s.Y})
		}
		p := &out[k]
		p.Readings++
		p.ErrorX += s.ErrorX
		p.ErrorY += s.ErrorY
		p.LoadError += s.Measured/s.Load - 1
	}
	for k := range out {
		n := float64(out[k].Readings)
		out[k].ErrorX /= n
		out[k].ErrorY /= n
		out[k].LoadError /= n
	}
	return out
}
