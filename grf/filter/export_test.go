package filter

// HaveLanes reports whether the vector kernel can be used here.
func HaveLanes() bool { return haveLanes() }

// WithoutLanes makes z use the Go code everywhere and returns it.
func (z *ZeroPhase) WithoutLanes() *ZeroPhase {
	z.plain = true
	return z
}

// WithoutLanes makes c use the Go code everywhere and returns it.
func (c *Causal) WithoutLanes() *Causal {
	c.bank.lanes = *new(lanes)
	return c
}

// WithoutLanes makes f use the Go code everywhere and returns it.
func (f *FrontEnd) WithoutLanes() *FrontEnd {
	f.lanes = frontEndLanes{}
	return f
}
