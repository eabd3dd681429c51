package batch

import (
	"fmt"
	"slices"

	"example.com/momentarm/cop"
	"example.com/momentarm/cop/com"
	"example.com/momentarm/grf"
	"example.com/momentarm/grf/filter"
	"example.com/momentarm/torque"
)

// DefaultCutoff keeps what a swing does with the ground and drops plate noise, Hz.
const DefaultCutoff = 50

// Config is what many recordings have in common. Rate, Plates and Axes are
// required; the zero value of everything else is the default.
type Config struct {
	Rate float64 // Hz
	// Plates in the order of their channels. Each has to know whose force it
	// reports: its sense must be [grf.Reaction] or [grf.Action].
	Plates []*grf.Plate
	// Axes lead from the laboratory to swing axes.
	Axes grf.Axes

	// Cutoff, Hz, and Order of the low-pass are those of
	// [filter.ZeroPhaseOptions]: −3 dB of both passes together, default
	// [DefaultCutoff], and the order of one pass, default 2. NaN says what the
	// filter does about missing samples.
	Cutoff float64
	Order  int
	NaN    filter.NaNPolicy
	// Filter, if not nil, replaces the three.
	Filter *filter.ZeroPhase

	// MinVertical bounds centres of pressure and is the load threshold whose
	// crossings are reported; default [cop.DefaultMinVertical]. MinForce bounds
	// arms; default [torque.DefaultMinForce]. Both in N, 0.001 to 1e6.
	MinVertical, MinForce float64

	// Gravity, m/s²; default [com.StandardGravity].
	Gravity float64
}

// Chain turns the channels of whole recordings into torque and what leads to it.
// It does not change once it is made and may be used by several goroutines at
// once, each with a [Result] of its own.
type Chain struct {
	cfg    Config
	filter *filter.ZeroPhase
	plates []plate
	first  []int // first channel of each plate, and the number of all
}

// New returns the chain that c describes. The error wraps [ErrConfig], and that
// of package filter or grf which says what is wrong.
func New(c Config) (*Chain, error) {
	if !(c.Rate >= 20 && c.Rate <= 1e5) {
		return nil, fmt.Errorf("%w: %w: %g Hz; 20 to 100000 Hz are possible", ErrConfig, grf.ErrRate, c.Rate)
	}
	if (c.Axes == grf.Axes{}) {
		return nil, fmt.Errorf("%w: %w: none are given; see grf.NewAxes", ErrConfig, grf.ErrAxes)
	}
	if len(c.Plates) == 0 {
		return nil, fmt.Errorf("%w: no plates", ErrConfig)
	}
	for _, o := range []struct {
		name            string
		value           *float64
		usual, from, to float64
	}{
		{"least vertical force", &c.MinVertical, cop.DefaultMinVertical, 1e-3, 1e6},
		{"least force", &c.MinForce, torque.DefaultMinForce, 1e-3, 1e6},
		{"gravity", &c.Gravity, com.StandardGravity, 0.1, 100},
	} {
		if *o.value == 0 {
			*o.value = o.usual
		}
		if !(*o.value >= o.from && *o.value <= o.to) {
			return nil, fmt.Errorf("%w: %s of %g; %g to %g are possible", ErrConfig, o.name, *o.value, o.from, o.to)
		}
	}
	ch := &Chain{filter: c.Filter, first: []int{0}}
	if c.Filter == nil {
		if c.Cutoff == 0 {
			c.Cutoff = DefaultCutoff
		}
		var err error
		ch.filter, err = filter.NewZeroPhase(filter.ZeroPhaseOptions{Rate: c.Rate, Cutoff: c.Cutoff, Order: c.Order, NaN: c.NaN})
		if err != nil {
			return nil, fmt.Errorf("%w: %w", ErrConfig, err)
		}
	} else if c.Cutoff != 0 || c.Order != 0 || c.NaN != filter.NaNError {
		return nil, fmt.Errorf("%w: cut-off, order and NaN policy are those of the filter, leave them zero", ErrConfig)
	}
	c.Plates = slices.Clone(c.Plates)
	for i, p := range c.Plates {
		if p == nil {
			return nil, fmt.Errorf("%w: plate %d is nil", ErrConfig, i+1)
		}
		if p.Sense() == grf.AsMeasured {
			return nil, fmt.Errorf("%w: plate %d does not say whose force it reports; set its Sense", ErrConfig, i+1)
		}
		f, err := newPlate(p, c.Axes)
		if err != nil {
			return nil, fmt.Errorf("%w: plate %d: %w", ErrConfig, i+1, err)
		}
		ch.plates = append(ch.plates, f)
		ch.first = append(ch.first, ch.first[i]+p.Channels())
	}
	ch.cfg = c
	return ch, nil
}

// Channels returns how many channels a recording has, of all plates together.
func (c *Chain) Channels() int { return c.first[len(c.plates)] }

// Filter returns the low-pass of the chain.
func (c *Chain) Filter() *filter.ZeroPhase { return c.filter }
