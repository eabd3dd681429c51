package batch

// Stage is one step of a run over a whole recording, for benchmarks.
type Stage struct {
	Name string
	Do   func()
}

// Stages returns the steps of a run that has succeeded.
func (c *Chain) Stages(dst *Result, in Input) []Stage {
	n := len(in.Channels[0])
	if err := c.Run(dst, in); err != nil {
		panic(err)
	}
	stride := dst.stride()
	filtered := append([]float64(nil), dst.rows...)
	blocks := func(f func(from, to int)) func() {
		return func() {
			for from := 0; from < n; from += block {
				f(from, min(from+block, n))
			}
		}
	}
	return []Stage{
		{"wrenches", func() { (&feed{c, in}).Samples(dst.rows, 0) }},
		{"filter", func() {
			if _, err := c.filter.Interleaved(dst.rows, dst.rows, dst.stride()); err != nil {
				panic(err)
			}
			copy(dst.rows, filtered)
		}},
		{"both", func() {
			dst.feed = feed{c, in}
			if _, err := c.filter.InterleavedFrom(dst.rows, &dst.feed, n, dst.stride()); err != nil {
				panic(err)
			}
		}},
		{"plates", blocks(func(from, to int) {
			for p := range dst.Plates {
				dst.Plates[p].press(dst.rows[from*stride+6*p:], stride, c.cfg.MinVertical, from, to)
			}
		})},
		{"net", blocks(func(from, to int) {
			net := dst.net[:6*(to-from)]
			sum(net, dst.rows[from*stride:to*stride], stride)
			dst.Net.press(net, 6, c.cfg.MinVertical, from, to)
		})},
		{"mass", func() {
			w := c.from(in.Start)
			blocks(func(from, to int) { w.walk(dst.COM[from:to], dst.net[:6*(to-from)]) })()
		}},
		{"torque", blocks(func(from, to int) { c.turn(dst, dst.net[:6*(to-from)], from, to) })},
		{"finish", func() {
			dst.size(len(c.plates), n)
			w := c.from(in.Start)
			c.finish(dst, &w, n)
		}},
	}
}
