package synth

import (
	"fmt"
	"maps"
	"math"

	"example.com/momentarm/grf"
)

// Join returns one recording of several swings, with gap seconds between the
// end of one and the start of the next during which the golfer shifts the load
// from foot to foot, back to the next address. In the gaps there is no truth.
// Instant t of swing k is at t + offset[k]. The swings must have one rate and
// one mass; the recording has no marks.
func Join(gap float64, swings ...*Swing) (rec *grf.Recording, offset []float64, err error) {
	if len(swings) == 0 {
		return nil, nil, grf.ErrNoData
	}
	if !(gap >= 0 && gap <= maxTime) {
		return nil, nil, &ConfigError{"gap", gap, fmt.Sprintf("0 to %d s", maxTime)}
	}
	first := swings[0]
	rec = first.Recording()
	rec.Marks = nil
	rec.Handed = first.cfg.Handed
	offset = []float64{0}
	between := int(math.Round(gap * rec.Rate))
	for _, s := range swings[1:] {
		if s.cfg.Rate != rec.Rate {
			return nil, nil, &ConfigError{"Rate", s.cfg.Rate, fmt.Sprintf("%g Hz, as of the swing before", rec.Rate)}
		}
		if s.cfg.Mass != rec.Mass {
			return nil, nil, &ConfigError{"Mass", s.cfg.Mass, fmt.Sprintf("%g kg, as of the swing before", rec.Mass)}
		}
		next := s.Recording()
		shift := func(dst, src []grf.Wrench) []grf.Wrench {
			a, b := dst[len(dst)-1], src[0]
			for i := range between {
				k := smoothStep(float64(i+1) / float64(between+1))
				dst = append(dst, a.Scale(1-k).Add(b.Scale(k)))
			}
			return append(dst, src...)
		}
		at := rec.Time(rec.Len() + between)
		rec.Lead, rec.Trail = shift(rec.Lead, next.Lead), shift(rec.Trail, next.Trail)
		offset = append(offset, at-next.Start)
	}
	return rec, offset, nil
}

// Cut returns the part of a recording between two instants, which shares its
// samples; marks outside are left out. It is a way to make swings that are cut
// off at either end. The result has no samples when there is none between.
func Cut(rec *grf.Recording, from, to float64) *grf.Recording {
	first := max(0, int(math.Ceil((from-rec.Start)*rec.Rate-1e-6)))
	end := min(rec.Len(), int(math.Floor((to-rec.Start)*rec.Rate+1e-6))+1)
	first = min(first, rec.Len())
	end = max(first, end)
	out := *rec
	out.Start = rec.Time(first)
	if rec.Split() {
		out.Lead, out.Trail = rec.Lead[first:end], rec.Trail[first:end]
	} else {
		out.Net = rec.Net[first:end]
	}
	out.Marks = maps.Clone(rec.Marks)
	maps.DeleteFunc(out.Marks, func(_ string, t float64) bool { return t < from || t > to })
	return &out
}
