package c3d

// Channel is one analog channel.
type Channel struct {
	// Label is never empty after Decode: a channel without one is named A001,
	// A002, … by its place.
	Label       string
	Description string
	Unit        string // ANALOG:UNITS without blanks, "" when not stated

	// Scale and Offset are ANALOG:SCALE and ANALOG:OFFSET:
	// value = (raw − Offset) · Scale · GenScale. Encode takes a Scale of 0 for
	// one chosen from the data (1 in real files).
	Scale, Offset float64

	// Values are the scaled samples in Unit, SamplesPerFrame for each frame.
	// They are NaN when Scale is 0 or not finite.
	Values []float64
}
