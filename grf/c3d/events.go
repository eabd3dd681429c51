package c3d

import (
	"fmt"
	"math"
)

// Event is an instant that somebody or some program marked.
type Event struct {
	// Time is in seconds from the first stored frame. It may lie outside the
	// recording, and is NaN when the file holds no number or states no rate to
	// convert it with.
	Time float64
	// Label and Context are free text, such as "Foot Strike" and "Right".
	// Context is "General" when the EVENT group states none (Encode takes ""
	// for that), and "" in the header.
	Label, Context       string
	Description, Subject string

	// InHeader events are kept in the header: at most 18, with labels of 4
	// characters and nothing else.
	InHeader bool
	// Off marks a header event whose status is off.
	Off bool
	// OutOfRange marks an event that has no time or lies outside the stored
	// frames by more than half a frame; without a frame rate nobody can tell.
	// Encode does not look at it.
	OutOfRange bool
	// Icon and Flags are EVENT:ICON_IDS and EVENT:GENERIC_FLAGS.
	Icon, Flags int
}

// Places in the header (Source: C3D User Guide, "Events in the header", "Event
// times", "Event status", "Event labels").
const (
	maxHeaderEvents = 18
	eventKey        = 12345 // word 150: labels have 4 characters
	eventKeyByte    = 298
	eventCountByte  = 300
	eventTimeByte   = 304 // words 153–188: seconds from the first stored frame
	eventFlagByte   = 376 // words 189–197: one byte each, 1 is on
	eventLabelByte  = 396 // words 199–234
)

// events reads the events of the header.
func (h *Header) events() []Event {
	n := min(h.EventCount, maxHeaderEvents)
	if n == 0 {
		return nil
	}
	width := 2
	if h.longLabels() {
		width = 4
	}
	list := make([]Event, n)
	for i := range list {
		label, _ := decodeText(h.Raw[eventLabelByte+width*i:][:width])
		list[i] = Event{
			Time:     h.Processor.float(h.Raw[eventTimeByte+4*i:]),
			Label:    label,
			InHeader: true,
			Off:      h.Raw[eventFlagByte+i] != 1,
		}
	}
	return list
}

// longLabels reports whether event labels have 4 characters. Some writers store
// only the low byte of the key.
func (h *Header) longLabels() bool { return h.EventKey == eventKey || h.EventKey == eventKey&0xff }

// eventGroup is the EVENT group without its clock.
type eventGroup struct {
	name                    string
	announced               int // −1 when USED is missing
	list                    []Event
	negative                int
	seconds                 bool // there is no row of minutes
	unlabelled, uncontexted int
}

// readEventGroup reads the EVENT group; Time is as stored, minutes added up
// (Source: C3D User Guide, "The EVENT group": TIMES has a row of minutes and a
// row of seconds).
func readEventGroup(g Groups) eventGroup {
	e := eventGroup{name: "EVENT", announced: -1}
	if !g.Has(e.name) && g.Has("EVENTS") {
		e.name = "EVENTS"
	}
	times, _ := g.Find(e.name, "TIMES").Floats()
	if p := g.Find(e.name, "TIMES"); p != nil && len(p.Dims) == 2 && p.Dims[0] == 1 {
		e.seconds = true
	}
	n := len(times) / 2
	if e.seconds {
		n = len(times)
	}
	if used, ok := g.count(e.name, "USED"); ok {
		e.announced = used
		n = min(n, used)
	}
	if n == 0 {
		return e
	}
	labels := g.Strings(e.name, "LABELS")
	contexts := g.Strings(e.name, "CONTEXTS")
	descriptions := g.Strings(e.name, "DESCRIPTIONS")
	subjects := g.Strings(e.name, "SUBJECTS")
	icons, _ := g.Find(e.name, "ICON_IDS").Ints()
	flags, _ := g.Find(e.name, "GENERIC_FLAGS").Ints()
	e.list = make([]Event, n)
	for i := range e.list {
		ev := &e.list[i]
		if e.seconds {
			ev.Time = times[i]
		} else {
			ev.Time = 60*times[2*i] + times[2*i+1]
			if times[2*i] < 0 {
				e.negative++
			}
		}
		ev.Label, ev.Context = cell(labels, i), cell(contexts, i)
		ev.Description, ev.Subject = cell(descriptions, i), cell(subjects, i)
		if ev.Label == "" {
			e.unlabelled++
		}
		if ev.Context == "" {
			ev.Context = "General"
			e.uncontexted++
		}
		if i < len(icons) {
			ev.Icon = icons[i]
		}
		if i < len(flags) {
			ev.Flags = flags[i]
		}
	}
	return e
}

// eventShift returns the time of the first stored frame on the clock of the
// EVENT group, whose zero is frame 1 of the capture. Files from independent
// exporters whose first frame is not 1 agree in this; the guide leaves it open.
func eventShift(firstFrame int, rate float64) float64 {
	if firstFrame <= 1 {
		return 0
	}
	return float64(firstFrame-1) / rate
}

// events fills in File.Events.
func (d *decoder) events() {
	f := d.f
	h := &f.Header
	if n := h.EventCount; n > maxHeaderEvents {
		d.warn.add(CodeEventCount, "header word 151", "%d events announced; the header has room for %d", n, maxHeaderEvents)
	}
	if len(h.Events) > 0 && h.EventKey != eventKey {
		width := 2
		if h.longLabels() {
			width = 4
		}
		d.warn.add(CodeEventKey, "header word 150", "%d instead of %d; labels were read with %d characters", h.EventKey, eventKey, width)
	}
	f.Events = append(f.Events, h.Events...)

	e := readEventGroup(f.Groups)
	if e.name != "EVENT" && len(e.list) > 0 {
		d.warn.add(CodeMisspelt, e.name, "read as EVENT")
	}
	if e.announced > len(e.list) {
		d.warn.add(CodeEventCount, e.name+":USED", "%d events announced, %d have a time", e.announced, len(e.list))
	}
	if e.negative > 0 {
		d.warn.add(CodeEventTime, e.name+":TIMES", "%d events have negative minutes", e.negative)
	}
	if e.unlabelled > 0 {
		d.warn.add(CodeEventText, e.name+":LABELS", "%d events have no label", e.unlabelled)
	}
	if e.uncontexted > 0 {
		d.warn.add(CodeEventText, e.name+":CONTEXTS", "%d events have no context; took General", e.uncontexted)
	}
	if e.seconds && len(e.list) > 0 {
		d.warn.add(CodeEventTime, e.name+":TIMES", "one row instead of two; read as seconds")
	}
	d.eventClock(e)
	f.Events = append(f.Events, e.list...)

	outside, unknown := 0, 0
	for i := range f.Events {
		ev := &f.Events[i]
		switch {
		case math.IsNaN(ev.Time) || math.IsInf(ev.Time, 0):
			ev.Time = math.NaN()
			ev.OutOfRange = true
			unknown++
		case f.CheckRate() == nil && !d.inside(ev.Time):
			ev.OutOfRange = true
			outside++
		}
	}
	if unknown > 0 {
		d.warn.add(CodeEventTime, "events", "%d events have no usable time", unknown)
	}
	if outside > 0 && !d.truncated {
		d.warn.add(CodeEventRange, "events", "%d events lie outside the %d stored frames", outside, f.Frames)
	}
}

// eventClock turns the times of the EVENT group into seconds from the first
// stored frame.
func (d *decoder) eventClock(e eventGroup) {
	f := d.f
	if len(e.list) == 0 || f.FirstFrame <= 1 || d.opt.Origin == OriginFirstFrame {
		return
	}
	shift := math.NaN()
	if f.CheckRate() == nil {
		shift = eventShift(f.FirstFrame, f.Rate)
	}
	if d.opt.Origin == OriginAutomatic {
		absolute, relative := 0, 0
		for _, ev := range e.list {
			if d.inside(ev.Time - shift) {
				absolute++
			}
			if d.inside(ev.Time) {
				relative++
			}
		}
		if absolute == 0 && relative == len(e.list) {
			d.warn.add(CodeEventClock, e.name+":TIMES", "taken as seconds from the first stored frame: from frame 1 of the capture, none of the events would lie inside")
			return
		}
	}
	f.stored.shift = shift
	for i := range e.list {
		e.list[i].Time -= shift
	}
}

// inside reports whether t lies within the stored frames, give or take half a
// frame for rounding.
func (d *decoder) inside(t float64) bool {
	f := d.f
	if f.CheckRate() != nil {
		return false
	}
	half := 0.5 / f.Rate
	return t >= -half && t <= f.Duration()+half
}

// place names an event for messages.
func (e *Event) place(i int) string { return fmt.Sprintf("Events[%d] %s", i, e.Label) }
