package capture

// Shared returns what of the setup holds for another capture of the same golfer on
// the same plates, and the fields that it leaves out because they belong to one
// capture alone: session, marks, quiet_stance, com.file, feet.at, and feet.lead and
// feet.trail where they are points and not labels. s is not changed; parts of it
// are shared with the copy.
//
// The window of zero stays: it belongs to how one records, and where a plate carries
// more than zero.max_load in it, [Read] returns an error and no wrong zero.
func (s *Setup) Shared() (other *Setup, left []string) {
	other = new(Setup)
	*other = *s
	drop := func(field string, stated bool) bool {
		if stated {
			left = append(left, field)
		}
		return stated
	}
	if drop("session", s.Session != "") {
		other.Session = ""
	}
	if drop("quiet_stance", s.QuietStance != Window{}) {
		other.QuietStance = Window{}
	}
	if drop("marks", len(s.Marks) > 0) {
		other.Marks = nil
	}
	if drop("com.file", s.COM.File != "") {
		other.COM = COM{Height: s.COM.Height, HeightSD: s.COM.HeightSD}
	}
	if drop("feet.at", s.Feet.At != 0) {
		other.Feet.At = 0
	}
	if drop("feet.lead", s.Feet.Lead.placed()) {
		other.Feet.Lead = nil
	}
	if drop("feet.trail", s.Feet.Trail.placed()) {
		other.Feet.Trail = nil
	}
	if other.Feet.Lead == nil && other.Feet.Trail == nil {
		other.Feet = Feet{}
	}
	return other, left
}

// placed reports whether an end of the foot is a point that somebody measured.
func (o *Outline) placed() bool {
	return o != nil && (o.Heel.Label == "" || o.Toe.Label == "")
}
