package grf

// Warning is something worth knowing that did not stop the work: a repair, a
// doubtful value, an automatic choice. It is data, so that a program can act
// on it and a report can print it.
type Warning struct {
	// Code names the kind of warning for programs, in lower-case words joined
	// by hyphens, such as "origin-sign". Codes are stable; texts may change.
	Code string `json:"code"`
	// Where is the place: a channel, a plate, a parameter, a byte offset. It
	// may be empty.
	Where string `json:"where,omitempty"`
	// Text says what was found and what was done about it, for people.
	Text string `json:"text"`
}

// String returns "where: text (code)".
func (w Warning) String() string {
	s := w.Text + " (" + w.Code + ")"
	if w.Where != "" {
		s = w.Where + ": " + s
	}
	return s
}
