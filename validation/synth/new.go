package synth

import "math"

const (
	// stepsPerDownswing sets the knot distance: fine enough for the fastest
	// part of a swing, coarse enough to be smooth.
	stepsPerDownswing = 14
	// lag is the number of knots between the last still instant and take-away.
	lag = 3
	// stepOn is how long the golfer takes to step on after an unloaded start, s.
	stepOn = 2.0
	// Time of stillness before the first waggle and between waggles, s.
	beforeWaggles, betweenWaggles = 1.0, 0.5
)

// New makes the swing that cfg describes. A field out of its range, or a
// combination that feet on two plates cannot make, is an error that wraps
// [ErrConfig].
func New(cfg Config) (*Swing, error) {
	cfg, err := cfg.withDefaults()
	if err != nil {
		return nil, err
	}
	length, width := 0.152*cfg.Stature, 0.055*cfg.Stature
	s := &Swing{cfg: cfg, from: math.NaN(), to: math.NaN()}
	if s.lab, err = labAxes(cfg.Handed); err != nil {
		return nil, err
	}
	s.feet = [2]Foot{
		newFoot(vec(0, cfg.StanceWidth/2, 0), length, width, 20*math.Pi/180, 1),
		newFoot(vec(0, -cfg.StanceWidth/2, 0), length, width, 5*math.Pi/180, -1),
	}
	s.grid = grid{start: s.Aboard(), step: cfg.Downswing / stepsPerDownswing}
	knots := func(seconds float64) int { return int(math.Ceil(seconds / s.grid.step)) }
	recipe := cfg.Style.recipe().habits(cfg.Individual)

	knot, still := 0, cfg.Address
	if cfg.Waggles > 0 {
		still = beforeWaggles
	}
	for i := range cfg.Waggles {
		knot += knots(still)
		still = betweenWaggles
		if i == cfg.Waggles-1 {
			still = cfg.Address
		}
		if knot, _, err = s.add(recipe.waggle(i, cfg.WaggleSize), knot, 0.35, 0.25, 0.5); err != nil {
			return nil, err
		}
	}
	knot += knots(still)
	if cfg.Style == Still {
		if cfg.Waggles == 0 {
			if err := s.stand(recipe); err != nil {
				return nil, err
			}
		}
		s.end = s.knot(knot) + cfg.Hold
		return s, nil
	}
	s.from = s.knot(knot + 1) // the first coefficient is still
	if knot, s.marks, err = s.add(recipe, knot, cfg.Downswing*cfg.Tempo, cfg.Downswing, cfg.Follow); err != nil {
		return nil, err
	}
	s.to = s.knot(knot)
	s.end = s.to + cfg.Hold
	if err := s.check(); err != nil {
		return nil, err
	}
	s.events = s.findEvents()
	return s, nil
}

// swings reports whether there is a swing at all.
func (s *Swing) swings() bool { return s.cfg.Style != Still }

// knot returns the instant of a knot.
func (s *Swing) knot(k int) float64 { return s.grid.start + float64(k)*s.grid.step }

// add fits a move that starts at this knot and returns the knot from which the
// golfer is still again.
func (s *Swing) add(r recipe, knot int, back, down, through float64) (int, marks, error) {
	takeaway := s.knot(knot + lag)
	top := takeaway + back
	m := marks{takeaway, top, top + down, top + down + through}
	b := builder{
		cfg: s.cfg, feet: s.feet, marks: m, want: r,
		grid: grid{s.knot(knot), s.grid.step},
		n:    int(math.Ceil((m.still-s.knot(knot))/s.grid.step)) + 2,
	}
	if err := b.build(); err != nil {
		return 0, m, err
	}
	s.then(&b.motion, knot)
	return knot + b.n + forceDegree + 1, m, nil
}

// stand sets a golfer who does not move at all.
func (s *Swing) stand(r recipe) error {
	at := *s
	at.motion = motion{}
	if _, _, err := at.add(r.waggle(0, 1), 0, 0.35, 0.25, 0.5); err != nil {
		return err
	}
	from := at.splines()
	for i, c := range s.splines() {
		*c = (*from[i])[:1]
	}
	return nil
}
