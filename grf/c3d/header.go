package c3d

// Header is the first block of a file, as stored. Counts are read unsigned.
type Header struct {
	Processor       Processor
	ParameterBlock  int     // byte 1
	Points          int     // word 2
	AnalogPerFrame  int     // word 3: channels × samples per frame
	FirstFrame      int     // word 4
	LastFrame       int     // word 5
	MaxGap          int     // word 6: longest gap that was interpolated, frames
	Scale           float64 // words 7–8: negative when samples are reals
	DataBlock       int     // word 9
	SamplesPerFrame int     // word 10
	Rate            float64 // words 11–12, frames per second
	EventKey        int     // word 150: 12345 when event labels have 4 characters
	EventCount      int     // word 151
	// Events are the header's events, at most 18, on their clock: seconds from
	// the first stored frame.
	Events []Event
	// Raw are the bytes of the block; all zero when nothing was read.
	Raw [HeaderBytes]byte
}
