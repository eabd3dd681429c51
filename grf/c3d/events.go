package c3d

// Event is an instant that somebody or some program marked.
type Event struct {
	// Time is in seconds from the first stored frame. It may lie outside the
	// recording, and is NaN when the file holds no number or states no rate to
	// convert it with.
	Time float64
	// Label and Context are free text, such as "Foot Strike" and "Right".
	// Context is "General" when the EVENT group states none, and "" in the
	// header.
	Label, Context       string
	Description, Subject string

	// InHeader events are kept in the header: at most 18, with labels of 4
	// characters and nothing else.
	InHeader bool
	// Off marks a header event whose status is off.
	Off bool
	// OutOfRange marks an event that lies outside the stored frames by more
	// than half a frame. Encode does not look at it.
	OutOfRange bool
	// Icon and Flags are EVENT:ICON_IDS and EVENT:GENERIC_FLAGS.
	Icon, Flags int
}
