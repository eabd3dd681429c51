package swing

import (
	"fmt"
	"math"
	"strings"

	"gonum.org/v1/gonum/spatial/r3"

	"example.com/momentarm/cop/com"
	"example.com/momentarm/grf"
	"example.com/momentarm/grf/filter"
	"example.com/momentarm/phase"
)

// Methods says in sentences how the analysis came about, with the settings that
// were used, for the methods section of a paper or the protocol of a laboratory:
// one paragraph each about the signals, the quiet stance, the centre of pressure,
// the centre of mass, moments and arms, events, uncertainty and the software.
// What only the reader of the capture knows, the plates and their zeroing, is
// not in it: see capture.Result.Methods.
func (a *Analysis) Methods() []string {
	paragraphs := [][]string{
		a.saySignals(), a.sayStance(), a.sayPressure(), a.sayMass(), a.sayTurning(), a.sayEvents(), a.sayUncertainty(),
		{fmt.Sprintf("All was computed with the Go module momentarm, version %s of its algorithms, in SI units; what is undefined is reported as such, never as zero.", a.Settings.Version)},
	}
	var out []string
	for _, p := range paragraphs {
		if len(p) > 0 {
			out = append(out, strings.Join(p, " "))
		}
	}
	return out
}

func (a *Analysis) saySignals() []string {
	rec, set := a.Recording, a.Settings
	what := "The ground reaction force and moment of each foot were"
	if !rec.Split() {
		what = "The ground reaction force and moment of both feet together were"
	}
	if a.flat() {
		what = strings.Replace(what, "ground reaction force and moment", "vertical ground reaction force and its centre of pressure", 1)
	}
	s := []string{fmt.Sprintf("%s sampled at %g Hz for %.2f s.", what, rec.Rate, rec.End()-rec.Start)}
	const axes = "Forces are the ground's push on the golfer, in %s: x forward to the ball, y to the target, z up, with z = 0 on the standing surface."
	if rec.Handed == grf.LeftHanded {
		s = append(s, fmt.Sprintf(axes, "axes mirrored in y for a left-handed golfer, so that signs mean the same for all"))
	} else {
		s = append(s, fmt.Sprintf(axes, "right-handed axes for a right-handed golfer"))
	}
	if a.flat() {
		s = append(s, "Horizontal forces were not measured.")
	}
	if set.Cutoff == 0 {
		s = append(s, "Signals were not filtered.")
	} else {
		s = append(s, fmt.Sprintf("Forces and moments were low-passed with a Butterworth filter of order %d that ran forward and backward (order %d in all, no phase shift), with −3 dB of both passes together at %g Hz%s; quotients such as the centre of pressure were formed afterwards.",
			set.Order, 2*set.Order, set.Cutoff, a.onePass()))
	}
	return append(append(s, a.sayGaps()...), a.saySaturated()...)
}

// onePass adds the cut-off of one pass, which is what others state.
func (a *Analysis) onePass() string {
	f, err := filter.NewZeroPhase(filter.ZeroPhaseOptions{Order: a.Settings.Order, Cutoff: a.Settings.Cutoff, Rate: a.Recording.Rate})
	if err != nil {
		return ""
	}
	return fmt.Sprintf(" (one pass at %.1f Hz)", f.PassCutoff())
}

// sayGaps tells of lost samples.
func (a *Analysis) sayGaps() []string {
	var s []string
	for _, f := range a.measured() {
		if _, n, longest := bridge(f.raw, 0); n > 0 {
			s = append(s, fmt.Sprintf("Of the samples of %s %d of %d were lost, at most %.3g s in a row; gaps of up to %g s were bridged by straight lines for stances, filter and events, and what is computed at lost samples is undefined.",
				f.name, n, len(f.raw), float64(longest)/a.Recording.Rate, mostLost))
		}
	}
	if s == nil {
		s = []string{"No sample was lost."}
	}
	return s
}

// foot is a series that was measured.
type foot struct {
	name string
	raw  []grf.Wrench
}

func (a *Analysis) measured() []foot {
	if rec := a.Recording; rec.Split() {
		return []foot{{"the lead foot", rec.Lead}, {"the trail foot", rec.Trail}}
	}
	return []foot{{"both feet", a.Recording.Net}}
}

// saySaturated repeats the warnings of ends of measuring ranges.
func (a *Analysis) saySaturated() []string {
	var s []string
	for _, w := range a.Warnings {
		if w.Code == "saturated" {
			where := w.Where
			if a.Recording.Split() {
				where = "the " + where
			}
			s = append(s, fmt.Sprintf("Under %s, %s.", where, w.Text))
		}
	}
	return s
}

func (a *Analysis) sayStance() []string {
	q := a.Quiet
	where := "before the downswing"
	if a.asked.From != 0 || a.asked.To != 0 {
		where = fmt.Sprintf("from %g to %g s, where it was said to be", a.asked.From, a.asked.To)
	}
	s := []string{
		fmt.Sprintf("The golfer stood still from %.3f to %.3f s: the quiet stance was sought %s, as the stretch of at least %g s in which the wrench varies least, or a later one that is nearly as still.", q.From, q.To, where, orDefault(a.asked.Duration, 0.5)),
		fmt.Sprintf("Body weight, of the golfer and all they held, is the mean vertical force there: %.1f N (standard deviation of the samples %.2g N, standard error of the mean %.2g N), which is %.2f kg with a gravity of %g m/s².",
			a.BodyWeight, q.WeightSD, q.WeightSE, a.Mass, a.Settings.Gravity),
	}
	if a.Still != nil {
		s = append(s, fmt.Sprintf("After the swing the golfer stood still again from %.3f to %.3f s.", a.Still.From, a.Still.To))
	} else {
		s = append(s, "After the swing the golfer did not stand still again within the recording.")
	}
	return s
}

func (a *Analysis) sayPressure() []string {
	s := []string{fmt.Sprintf("The centre of pressure is the point of the standing surface about which the moment has no horizontal component, and the free moment what is left; both are undefined while the measured vertical force is below %g N.", a.Settings.MinVertical)}
	if a.Recording.Split() {
		s = append(s, "The lead foot's share of the load is its part of the vertical force of both feet; the net centre of pressure follows from the sum of both wrenches.")
	}
	return s
}

func (a *Analysis) sayMass() []string {
	if a.flat() {
		return []string{"The centre of mass, moments about it and moment arms were not worked out, because they need horizontal forces."}
	}
	from, _, _ := strings.Cut(a.Settings.COM, "; ")
	s := []string{fmt.Sprintf("The path of the centre of mass was estimated by a filter that runs forward and backward (Rauch, Tung, Striebel, AIAA J. 3:1445–1450, 1965; force as input and position as correction after Le Mouel, Peer Community J. 5:e10, 2025) from: %s. Net force over mass plus gravity drives position and velocity, the others correct them, and a lasting error of the force and one of the mass are found on the way.",
		from)}
	for i, src := range a.how.Sources {
		s = append(s, saySource(src, a.clocks[i]))
	}
	s = append(s, a.sayHeight())
	at := func(when string, t float64) {
		if sd := a.At(t).COMSD; !math.IsNaN(sd.X) {
			s = append(s, fmt.Sprintf("Its standard deviation %s is (%s) mm in x, y, z.", when, millimetres(sd)))
		}
	}
	at("at the end of the quiet stance", a.Quiet.To)
	if e, ok := a.Events.Get(phase.Impact); ok {
		at("at impact", e.Time)
	}
	return s
}

func millimetres(v r3.Vec) string {
	return fmt.Sprintf("%.0f, %.0f, %.0f", 1000*v.X, 1000*v.Y, 1000*v.Z)
}

// saySource tells of another instrument that knows the centre of mass.
func saySource(src com.Source, clock com.Clock) string {
	text := fmt.Sprintf("It was corrected by %s (%d positions", src.Name, len(src.Track.Time))
	sd := src.SD
	if sd == (r3.Vec{}) {
		sd = src.Track.SD
	}
	if sd == (r3.Vec{}) {
		text += ", standard deviation of each 10 mm by default"
	} else {
		text += fmt.Sprintf(", standard deviation of each (%s) mm", millimetres(sd))
	}
	if src.SlowSD > 0 {
		text += fmt.Sprintf(", of errors that last %.0f mm", 1000*src.SlowSD)
	}
	if clock.Method != "" {
		text += fmt.Sprintf("; its clock is %.1f ms late, %s", 1000*clock.Delay, clock.Method)
	}
	return text + ")."
}

// sayHeight tells where the height of the centre of mass comes from, which forces
// do not tell.
func (a *Analysis) sayHeight() string {
	h := a.how
	at := a.At(a.Quiet.To)
	text := fmt.Sprintf("Its height at the end of the quiet stance, %.2f m above the surface, ", at.COM.Z)
	switch {
	case h.Height > 0:
		return text + "was stated."
	case len(h.Sources) > 0:
		return text + "comes from these positions."
	case h.Stature > 0:
		return text + fmt.Sprintf("was taken from the stature of %.2f m (%g of it), because forces do not tell it.", h.Stature, com.AddressHeight)
	}
	return text + "is a guess, because neither the height nor the stature was known and forces do not tell it."
}

func (a *Analysis) sayTurning() []string {
	if a.flat() {
		return nil
	}
	set := a.Settings
	return []string{
		"Moments are those of the net ground reaction force, free moments included, about the centre of mass: frontal about x (positive in the direction of the downswing), sagittal about y and vertical-axis about z (positive toward the target).",
		fmt.Sprintf("The moment in the swing plane is Mx sin θ + Mz cos θ with an inclination to the ground of θ = %.0f°.", set.Plane*180/math.Pi),
		fmt.Sprintf("With T the net free moment, moment arms are Mx/√(Fy² + Fz²) in the frontal, My/√(Fx² + Fz²) in the sagittal and (Mz − T)/√(Fx² + Fy²) in the horizontal plane, signed as the moment and undefined while the force in that plane is below %g N.", set.MinPlane),
		"In space the force passes the centre of mass at |M − T·ẑ|/|F|.",
	}
}

func (a *Analysis) sayEvents() []string {
	var given, defined []string
	var s []string
	for _, e := range a.Events.Found {
		switch {
		case e.Source == phase.Given:
			given = append(given, Words(e.Name))
		case e.Source == phase.Estimated && e.Name == phase.Impact:
			s = append(s, fmt.Sprintf("Impact was not given and is an estimate: the instant at which the vertical force has fallen to 88 %% of its peak (after Okuda, Gribble, Armstrong, J. Sports Sci. Med. 9:127–133, 2010, as cited elsewhere), with a standard deviation of %.0f ms.", 1000*e.SD))
		case e.Name == phase.Onset && !a.Recording.Split():
			defined = append(defined, "onset (instant at which the net vertical force leaves its mean of the quiet stance by 2 % of body weight for good, or its moment about the forward axis by that times 0.4 m)")
		case e.Name == phase.Finish && !a.Recording.Split():
			defined = append(defined, "finish (instant from which the net vertical force and its moment about the forward axis stay that near their means in the quiet stance after the swing)")
		default:
			defined = append(defined, fmt.Sprintf("%s (%s)", Words(e.Name), e.Name.Definition()))
		}
	}
	if defined != nil {
		first := "Events were found in the filtered signals by these definitions, which are common practice (no published source): " + strings.Join(defined, "; ") + "."
		s = append([]string{first,
			"Their times come from polynomials fitted around them and may fall between samples.",
			"A measure at an event is the value of the filtered signal at that time, so that noise does not raise it; a peak that is no event is the highest sample.",
		}, s...)
	}
	if given != nil {
		s = append(s, "Given, not found in the forces: "+strings.Join(given, ", ")+".")
	}
	var missing []string
	for _, m := range a.Events.Missing {
		missing = append(missing, fmt.Sprintf("%s (%s)", Words(m.Name), m.Reason))
	}
	if missing != nil {
		s = append(s, "Not found: "+strings.Join(missing, "; ")+".")
	}
	return s
}

func (a *Analysis) sayUncertainty() []string {
	e := a.Settings.Errors
	parts := []string{"the noise that is left in the wrenches, as the quiet stance shows it"}
	for _, p := range []struct {
		sd   float64
		text string
	}{
		{e.Force, fmt.Sprintf("a lasting error of %g N in each force component of each foot", e.Force)},
		{e.Moment, fmt.Sprintf("one of %g N·m in each moment component", e.Moment)},
		{e.Place, fmt.Sprintf("one of %g mm in where a plate measures the pressure", 1000*e.Place)},
		{e.Gain, fmt.Sprintf("one of %g %% in the sensitivity of each plate", 100*e.Gain)},
	} {
		if p.sd > 0 {
			parts = append(parts, p.text)
		}
	}
	times := "Those of the times of peaks and crossings come from the noise alone"
	if !a.flat() {
		parts = append(parts, "the standard deviation of the centre of mass")
		times = "Those of the times of peaks and crossings come from the noise and, for peaks of torque, the centre of mass alone"
	}
	return []string{
		"Uncertainties are single standard deviations (standard uncertainties, coverage factor 1), propagated to first order (JCGM 100:2008, clause 5) from " + strings.Join(parts[:len(parts)-1], ", ") + " and " + parts[len(parts)-1] + ", all independent of each other.",
		times + ".",
		"Errors of the filter and of the definitions themselves are not part of them.",
	}
}
