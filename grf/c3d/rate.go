package c3d

import "math"

// settleRate fills in File.Rate: POINT:RATE, else words 11–12 of the header.
func (d *decoder) settleRate() {
	f := d.f
	good := func(r float64) bool { return r > 0 && !math.IsInf(r, 0) }
	stated, have := f.Groups.float("POINT", "RATE")
	header := f.Header.Rate
	var source string
	switch {
	case good(d.opt.Rate):
		f.Rate, source = d.opt.Rate, "Options.Rate"
	case good(stated):
		f.Rate, source = stated, "POINT:RATE"
		if good(header) && math.Abs(header-stated) > 1e-4*stated {
			d.warn.add(CodeRate, "POINT:RATE", "took %g frames per second, the header says %g", stated, header)
		}
	case good(header):
		f.Rate, source = header, "header words 11–12"
		if have {
			d.warn.add(CodeRate, "POINT:RATE", "%g is no rate; took %g frames per second from the header", stated, header)
		}
	default:
		source = "none"
		d.warn.add(CodeNoRate, "POINT:RATE", "no usable frame rate is stated; times are unknown")
	}
	d.rate = f.Rate
	f.Layout.Choices = append(f.Layout.Choices, Choice{Fact: "frame rate", Value: f.Rate, Source: source})
}

// checkAnalogRate compares ANALOG:RATE with what the frames say. The header's
// samples per frame rule, because they fix the layout.
func (d *decoder) checkAnalogRate() {
	f := d.f
	stated, ok := f.Groups.float("ANALOG", "RATE")
	if !ok || len(f.Channels) == 0 || f.Rate <= 0 || d.opt.Rate > 0 {
		return
	}
	if r := f.Rate * float64(f.SamplesPerFrame); !(math.Abs(stated-r) <= 1e-3*r) {
		d.warn.add(CodeRateRatio, "ANALOG:RATE", "%g samples per second stated, but %d samples in each of %g frames per second make %g, which is taken",
			stated, f.SamplesPerFrame, f.Rate, r)
	}
}
