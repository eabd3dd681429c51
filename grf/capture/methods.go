package capture

import (
	"fmt"
	"math"
	"strings"

	"gonum.org/v1/gonum/spatial/r3"

	"example.com/momentarm/grf"
)

// Methods says in sentences what was measured and how it became the recording,
// with what the file and the setup say, for the methods section of a paper or the
// protocol of a laboratory: one paragraph each about plates, zeroing and axes. What
// the analysis did with the recording is told by swing.Analysis.Methods.
func (r *Result) Methods() []string {
	var out []string
	for _, p := range [][]string{r.sayPlates(), r.sayZero(), r.said} {
		if len(p) > 0 {
			out = append(out, strings.Join(p, " "))
		}
	}
	return out
}

// tell adds a sentence about file, axes or other sources.
func (r *reader) tell(format string, a ...any) {
	r.result.said = append(r.result.said, fmt.Sprintf(format, a...))
}

func (r *Result) sayPlates() []string {
	if len(r.Plates) == 0 {
		return nil
	}
	var plates []string
	for _, p := range r.Plates {
		where := "under the " + p.Foot + " foot"
		if p.Foot == "both" {
			where = "under both feet"
		}
		plates = append(plates, fmt.Sprintf("%s %s (%s; its channels report %s)", p.Name, where, p.says, whose(p.Sense)))
	}
	return []string{fmt.Sprintf("Forces were read from %s, measured by %s.", r.from, enumerate(plates))}
}

// whose says whose push the channels of a plate report.
func whose(s grf.Sense) string {
	switch s {
	case grf.Reaction:
		return "the ground's push, signs kept"
	case grf.Action:
		return "the golfer's push, all signs turned"
	}
	return "one push or the other, signs kept"
}

func (r *Result) sayZero() []string {
	var zeroed, not []string
	for _, p := range r.Plates {
		if p.Baseline == nil {
			not = append(not, p.Name)
			continue
		}
		b, rec := p.Baseline, r.Recording
		zeroed = append(zeroed, fmt.Sprintf("%s from %.3f to %.3f s (subtracted force %s N, drift %s N, laboratory axes)",
			p.Name, rec.Time(b.First), rec.Time(b.Last), newtons(b.Load.Force), newtons(b.Drift)))
	}
	var s []string
	if zeroed != nil {
		s = append(s, "The mean of each channel while nobody stood on the plate was subtracted: "+enumerate(zeroed)+".")
	}
	if not != nil {
		s = append(s, "Not zeroed: "+enumerate(not)+".")
	}
	return s
}

// newtons writes a force to 0.1 N.
func newtons(f r3.Vec) string {
	tenth := func(v float64) float64 { return math.Round(10*v)/10 + 0 } // no minus zero
	return fmt.Sprintf("(%.1f, %.1f, %.1f)", tenth(f.X), tenth(f.Y), tenth(f.Z))
}

// enumerate writes a list as people do.
func enumerate(items []string) string {
	if n := len(items); n > 1 {
		return strings.Join(items[:n-1], ", ") + " and " + items[n-1]
	}
	return strings.Join(items, "")
}

// modelSource names the publication behind a model of the body.
func modelSource(model string) string {
	switch model {
	case "de_leva_men":
		return "segment masses and centres of men after de Leva, J. Biomech. 29:1223–1230, 1996"
	case "de_leva_women":
		return "segment masses and centres of women after de Leva, J. Biomech. 29:1223–1230, 1996"
	case "dempster":
		return "segment masses and centres after Dempster (1955) as in Winter, Biomechanics and Motor Control of Human Movement, 4th ed., 2009, table 4.1"
	}
	return "the " + model + " as a proxy (common practice, no published source)"
}
