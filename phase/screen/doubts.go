package screen

import (
	"slices"
	"strings"

	"example.com/momentarm/grf"
	"example.com/momentarm/phase/swing"
)

// grave are the warnings that say that feet, target, hand or units are not what was
// stated: the measures are numbers of another swing than that of the golfer.
var grave = []string{"feet-swapped", "feet-backward", "target-doubtful", "hand-doubtful", "unit-doubtful", "place-implausible"}

// doubtful are the warnings that say that the forces, or the mass that they are held
// against, do not obey mechanics: the measures are of this swing, but are less sure
// than their standard deviations say.
var doubtful = []string{"horizontal-at-rest", "impulse", "mass-mismatch", "cop-outside-stance", "newton-bias", "newton-mass", "saturated"}

// implausible is the code of a finding of a set that only warns.
const implausible = "implausible"

// gather sorts the warnings that findings must not be silent about.
func (r *Report) gather(a *swing.Analysis, more []grf.Warning) {
	for _, w := range slices.Concat(a.Warnings, more) {
		same := func(o grf.Warning) bool { return o.Code == w.Code }
		switch {
		case slices.Contains(grave, w.Code) && !slices.ContainsFunc(r.HeldBack, same):
			r.HeldBack = append(r.HeldBack, w)
		case slices.Contains(doubtful, w.Code) && !slices.ContainsFunc(r.Doubts, same):
			r.Doubts = append(r.Doubts, w)
		}
	}
}

// forces reports whether a measure in this unit is one of force or torque, from which
// everything follows, and not one of time or share.
func forces(unit string) bool { return unit == "%BW" || unit == "N·m" || unit == "N" }

// doubt says in every finding what it must be doubted for, and holds all of them
// back when nothing is left to rest on.
func (r *Report) doubt() {
	if len(r.HeldBack) > 0 {
		why := "held back, because the analysis is in doubt: " + because(r.HeldBack)
		for _, list := range []*[]Finding{&r.Findings, &r.Undecided, &r.Within} {
			for _, f := range *list {
				r.Unmeasured = append(r.Unmeasured, Unmeasured{f.Band, f.Set, why})
			}
			*list = nil
		}
		return
	}
	for _, list := range [][]Finding{r.Findings, r.Undecided, r.Within} {
		for i := range list {
			f := &list[i]
			f.Doubts = slices.Clone(r.Doubts)
			for _, w := range r.Warnings {
				if f.restsOn(w.Where) || r.untrue[w.Where] {
					f.Doubts = append(f.Doubts, w)
				}
			}
			if len(f.Doubts) > 0 {
				f.Sentence = "In doubt (" + because(f.Doubts) + "): " + f.Sentence
			}
		}
	}
}

// restsOn reports whether a finding shows the measure of this name.
func (f *Finding) restsOn(measure string) bool {
	return f.Band.Measure == measure || slices.Contains(f.Band.Beside, measure)
}

// because lists the codes of warnings, and the measures that are implausible.
func because(ws []grf.Warning) string {
	list := make([]string, len(ws))
	for i, w := range ws {
		list[i] = w.Code
		if w.Code == implausible {
			list[i] += " " + w.Where
		}
	}
	return strings.Join(list, ", ")
}
