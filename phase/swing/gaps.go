package swing

import (
	"fmt"
	"math"

	"example.com/momentarm/grf"
	"example.com/momentarm/grf/filter"
)

// mostLost is the longest gap of lost samples that is bridged, s: as in
// phase.Detect.
const mostLost = 0.02

// bridged returns the recording with its short gaps of lost samples filled by
// straight lines, for stances and the filter, which both need unbroken series; the
// recording itself when nothing is lost. It warns of losses.
func (a *Analysis) bridged() *grf.Recording {
	rec := *a.Recording
	any := false
	fill := func(where string, ws []grf.Wrench) []grf.Wrench {
		out, n, longest := bridge(ws, max(1, int(math.Round(mostLost*rec.Rate))))
		if n > 0 {
			any = true
			a.warn("lost-samples", where, "%d of %d samples are lost, at most %.3g s in a row. Gaps up to %g s are bridged by straight lines where stances, filter and events need it; what is computed at lost samples is undefined",
				n, len(ws), float64(longest)/rec.Rate, mostLost)
		}
		return out
	}
	if rec.Split() {
		rec.Lead, rec.Trail = fill("lead foot", rec.Lead), fill("trail foot", rec.Trail)
	} else {
		rec.Net = fill("both feet", rec.Net)
	}
	if !any {
		return a.Recording
	}
	return &rec
}

// lost reports whether a sample is; missing horizontal forces alone are a property
// of the instrument.
func lost(w grf.Wrench, flat bool) bool {
	if flat {
		return math.IsNaN(w.Force.Z) || math.IsNaN(w.Moment.X) || math.IsNaN(w.Moment.Y)
	}
	return w.IsNaN()
}

// bridge fills gaps of up to most samples. It returns ws itself when none is lost,
// else a copy, how many are lost and the length of the longest gap.
func bridge(ws []grf.Wrench, most int) (out []grf.Wrench, n, longest int) {
	flat := grf.VerticalOnly(ws)
	out = ws
	for i := 0; i < len(ws); i++ {
		if !lost(ws[i], flat) {
			continue
		}
		end := i
		for end < len(ws) && lost(ws[end], flat) {
			end++
		}
		if n == 0 {
			out = append([]grf.Wrench(nil), ws...)
		}
		n, longest = n+end-i, max(longest, end-i)
		if i > 0 && end < len(ws) && end-i <= most {
			for k := i; k < end; k++ {
				f := float64(k-i+1) / float64(end-i+1)
				out[k] = ws[i-1].Scale(1 - f).Add(ws[end].Scale(f))
			}
		}
		i = end
	}
	return out, n, longest
}

// unbridge makes filtered samples undefined again that were lost.
func (a *Analysis) unbridge() {
	rec, s := a.Recording, &a.Series
	mark := func(dst, raw []grf.Wrench) {
		flat := grf.VerticalOnly(raw)
		for i := range dst {
			if lost(raw[i], flat) {
				dst[i] = grf.NaN()
			}
		}
	}
	if rec.Split() {
		mark(s.Lead, rec.Lead)
		mark(s.Trail, rec.Trail)
		mark(s.Net, rec.Lead)
		mark(s.Net, rec.Trail)
	} else {
		mark(s.Net, rec.Net)
	}
}

// leastFlat is how many samples in a row have to be alike at the top of a signal to
// be the end of a measuring range, and flatWithin how alike, as a part of it. Noise
// alone makes no two samples alike.
const (
	leastFlat  = 5
	flatWithin = 1e-9
)

// saturated warns of channels that seem to have reached the end of their range
// during the swing: where a force is highest or lowest it stays the same for some
// samples.
func (a *Analysis) saturated(down int) {
	rec := a.Recording
	from, to := max(a.From, down-int(2*rec.Rate)), min(a.To, down+int(1.5*rec.Rate))
	look := func(where string, ws []grf.Wrench) {
		for _, c := range []struct {
			name string
			of   func(grf.Wrench) float64
		}{
			{"vertical", func(w grf.Wrench) float64 { return w.Force.Z }},
			{"lateral", func(w grf.Wrench) float64 { return w.Force.Y }},
			{"forward", func(w grf.Wrench) float64 { return w.Force.X }},
		} {
			if n, value, at := flatTop(ws[from:to+1], c.of); n >= leastFlat {
				a.warn("saturated", where, "the %s force stays at its extreme of %.1f N for %d samples from %.3f s on, as at the end of a measuring range: what is higher was not measured, and peaks there are not what they seem",
					c.name, value, n, rec.Time(from+at))
			}
		}
	}
	if rec.Split() {
		look("lead foot", rec.Lead)
		look("trail foot", rec.Trail)
	} else {
		look("both feet", rec.Net)
	}
}

// flatTop returns for how many samples x stays at the largest magnitude that it has,
// where that begins, and the value.
func flatTop(ws []grf.Wrench, of func(grf.Wrench) float64) (n int, value float64, at int) {
	for _, w := range ws {
		if v := of(w); math.Abs(v) > math.Abs(value) {
			value = v
		}
	}
	run := 0
	for i, w := range ws {
		if math.Abs(of(w)-value) > flatWithin*math.Abs(value) || math.IsNaN(of(w)) {
			run = 0
			continue
		}
		if run++; run > n {
			n, at = run, i-run+1
		}
	}
	if value == 0 {
		return 0, 0, 0
	}
	return n, value, at
}

// mostMeasured is a force, N, or moment, N·m, beyond what any plate measures and far
// from where squares and sums of squares become infinite.
const mostMeasured = 1e9

// checkSize returns an error for the first value that is no measurement; NaN is a
// lost one.
func checkSize(rec *grf.Recording) error {
	for _, s := range []struct {
		where string
		ws    []grf.Wrench
	}{{"lead foot", rec.Lead}, {"trail foot", rec.Trail}, {"both feet", rec.Net}} {
		for i, w := range s.ws {
			for c, v := range [6]float64{w.Force.X, w.Force.Y, w.Force.Z, w.Moment.X, w.Moment.Y, w.Moment.Z} {
				if math.Abs(v) > mostMeasured {
					return fmt.Errorf("%s: %w", s.where, &filter.NotFiniteError{Index: i, Channel: c, Value: v})
				}
			}
		}
	}
	return nil
}
