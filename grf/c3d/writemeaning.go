package c3d

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/spatial/r3"
)

// syncPlates makes the FORCE_PLATFORM group agree with f.Plates and f.Zero.
func (w *writer) syncPlates() error {
	f := w.f
	read := readPlates(w.groups)
	if samePlates(read.plates, f.Plates) && (read.zero == f.Zero || len(f.Plates) == 0) {
		return nil
	}
	n := len(f.Plates)
	name := read.name
	w.setNumbers(name, "USED", nil, float64(n))
	w.setNumbers(name, "ZERO", []int{2}, float64(f.Zero[0]), float64(f.Zero[1]))
	stride, out, in := 6, 0, 0
	for i := range f.Plates {
		p := &f.Plates[i]
		if len(p.Channels) > 6 {
			stride = max(stride, 8, len(p.Channels))
		}
		out = max(out, len(p.Calibration))
		for _, row := range p.Calibration {
			in = max(in, len(row))
		}
	}
	if stride > 255 || out > 255 || in > 255 {
		return &WriteError{Place: "Plates", Index: -1, Err: ErrTooLarge, Detail: "more than 255 channels or rows"}
	}
	types, channels := make([]float64, n), make([]float64, stride*n)
	corners, origins := make([]float64, 0, 12*n), make([]float64, 0, 3*n)
	matrices := make([]float64, out*in*n)
	for i := range f.Plates {
		p := &f.Plates[i]
		where := fmt.Sprintf("Plates[%d]", i)
		types[i] = float64(p.Type)
		if p.Type < 0 || p.Type > math.MaxInt16 {
			return &WriteError{Place: where, Index: -1, Err: ErrRange, Detail: fmt.Sprintf("type %d", p.Type)}
		}
		for k, c := range p.Channels {
			if c < 0 || c >= len(f.Channels) {
				return &WriteError{Place: where, Index: -1, Err: ErrPlateChannel, Detail: fmt.Sprintf("channel %d of %d", c, len(f.Channels))}
			}
			channels[i*stride+k] = float64(c + 1)
		}
		for _, c := range append(p.Corners[:], p.Origin) {
			if !finite(c) {
				return &WriteError{Place: where, Index: -1, Err: ErrRange, Detail: fmt.Sprintf("corners %v, origin %v", p.Corners, p.Origin)}
			}
		}
		for _, c := range p.Corners {
			corners = append(corners, c.X, c.Y, c.Z)
		}
		origins = append(origins, p.Origin.X, p.Origin.Y, p.Origin.Z)
		for r, row := range p.Calibration {
			for k, v := range row {
				matrices[(i*in+k)*out+r] = v
			}
		}
	}
	w.setNumbers(name, "TYPE", []int{n}, types...)
	w.setFloats(name, "CORNERS", []int{3, 4, n}, corners)
	w.setFloats(name, "ORIGIN", []int{3, n}, origins)
	w.setNumbers(name, "CHANNEL", []int{stride, n}, channels...)
	if out*in > 0 || w.groups.Find(name, "CAL_MATRIX") != nil {
		w.setFloats(name, "CAL_MATRIX", []int{out, in, n}, matrices)
	}
	return nil
}

func (w *writer) setFloats(group, name string, dims []int, values []float64) {
	w.replace(group, NewFloats(name, dims, values...), w.groups.Find(group, name))
}

func finite(v r3.Vec) bool {
	s := v.X + v.Y + v.Z
	return !math.IsNaN(s) && !math.IsInf(s, 0)
}

// samePlates compares plates but for their extras, with NaN equal to NaN.
func samePlates(a, b []PlateInfo) bool {
	if len(a) != len(b) {
		return false
	}
	eq := func(v, w r3.Vec) bool { return sameVec(v, w) }
	for i := range a {
		p, q := &a[i], &b[i]
		if p.Type != q.Type || len(p.Channels) != len(q.Channels) || len(p.Calibration) != len(q.Calibration) || !eq(p.Origin, q.Origin) {
			return false
		}
		for k := range p.Corners {
			if !eq(p.Corners[k], q.Corners[k]) {
				return false
			}
		}
		for k := range p.Channels {
			if p.Channels[k] != q.Channels[k] {
				return false
			}
		}
		for r := range p.Calibration {
			if len(p.Calibration[r]) != len(q.Calibration[r]) {
				return false
			}
			for k := range p.Calibration[r] {
				if !sameFloat(p.Calibration[r][k], q.Calibration[r][k]) {
					return false
				}
			}
		}
	}
	return true
}

func sameFloat(a, b float64) bool { return a == b || a != a && b != b }

func sameVec(a, b r3.Vec) bool {
	return sameFloat(a.X, b.X) && sameFloat(a.Y, b.Y) && sameFloat(a.Z, b.Z)
}

// sameEvents compares events but for OutOfRange, with NaN equal to NaN.
func sameEvents(a, b []Event) bool {
	if len(a) != len(b) {
		return false
	}
	for i := range a {
		p, q := a[i], b[i]
		if !sameFloat(p.Time, q.Time) {
			return false
		}
		p.Time, p.OutOfRange, q.Time, q.OutOfRange = 0, false, 0, false
		if p != q {
			return false
		}
	}
	return true
}

// eventsOf returns the events of the header or of the group.
func (w *writer) eventsOf(header bool) []Event {
	var list []Event
	for _, e := range w.f.Events {
		if e.InHeader == header {
			list = append(list, e)
		}
	}
	return list
}

// syncEvents makes the EVENT group agree with f.Events.
func (w *writer) syncEvents() error {
	f := w.f
	events := w.eventsOf(false)
	read := readEventGroup(w.groups)
	if f.decoded && w.first == f.stored.firstFrame && sameFloat(f.Rate, f.stored.rate) {
		for i := range read.list {
			t := &read.list[i].Time
			if *t -= f.stored.shift; math.IsInf(*t, 0) {
				*t = math.NaN() // as Decode has it
			}
		}
		if sameEvents(read.list, events) {
			return nil
		}
	}
	if len(events) == 0 && len(read.list) == 0 {
		return nil
	}
	if len(events) > 255 {
		return &WriteError{Place: "Events", Index: -1, Err: ErrTooLarge, Detail: fmt.Sprintf("%d events; the EVENT group has room for 255", len(events))}
	}
	name := read.name
	shift := eventShift(w.first, f.Rate)
	n := len(events)
	texts := map[string][]string{}
	order := []string{"CONTEXTS", "LABELS", "DESCRIPTIONS", "SUBJECTS"}
	times, icons, flags := make([]float64, 0, 2*n), make([]float64, n), make([]float64, n)
	optional := map[string]bool{"DESCRIPTIONS": true, "SUBJECTS": true, "ICON_IDS": true, "GENERIC_FLAGS": true}
	for i, e := range events {
		t := e.Time + shift
		minutes := math.Floor(t / 60)
		if math.IsNaN(t) || t < 0 {
			minutes = 0
		}
		if math.IsInf(t, 0) || math.IsNaN(t) && f.Processor == DEC {
			return &WriteError{Place: e.place(i), Index: -1, Err: ErrRange, Detail: fmt.Sprintf("time %g", e.Time)}
		}
		times = append(times, minutes, t-60*minutes)
		if e.Context == "" {
			e.Context = "General"
		}
		for k, s := range []string{e.Context, e.Label, e.Description, e.Subject} {
			texts[order[k]] = append(texts[order[k]], s)
			optional[order[k]] = optional[order[k]] && s == ""
		}
		icons[i], flags[i] = float64(e.Icon), float64(e.Flags)
		optional["ICON_IDS"] = optional["ICON_IDS"] && e.Icon == 0
		optional["GENERIC_FLAGS"] = optional["GENERIC_FLAGS"] && e.Flags == 0
		if e.Icon < math.MinInt16 || e.Icon > math.MaxInt16 || e.Flags < math.MinInt16 || e.Flags > math.MaxInt16 {
			return &WriteError{Place: e.place(i), Index: -1, Err: ErrRange, Detail: fmt.Sprintf("icon %d, flags %d", e.Icon, e.Flags)}
		}
	}
	skip := func(param string) bool { return optional[param] && w.groups.Find(name, param) == nil }
	w.setNumbers(name, "USED", nil, float64(n))
	for _, k := range order {
		if skip(k) {
			continue
		}
		if err := w.setTexts(name, k, texts[k]); err != nil {
			return err
		}
	}
	w.setFloats(name, "TIMES", []int{2, n}, times)
	if !skip("ICON_IDS") {
		w.setNumbers(name, "ICON_IDS", []int{n}, icons...)
	}
	if !skip("GENERIC_FLAGS") {
		w.setNumbers(name, "GENERIC_FLAGS", []int{n}, flags...)
	}
	return nil
}

// headerEvents stores the header events, unless b holds them already.
func (w *writer) headerEvents(b *[HeaderBytes]byte, keep bool) error {
	f := w.f
	events := w.eventsOf(true)
	read := append([]Event(nil), f.Header.Events...)
	for i := range read {
		if math.IsInf(read[i].Time, 0) {
			read[i].Time = math.NaN() // as Decode has it
		}
	}
	if keep && sameEvents(read, events) {
		return nil
	}
	p := f.Processor
	if len(events) > maxHeaderEvents {
		return &WriteError{Place: "Events", Index: -1, Err: ErrTooLarge, Detail: fmt.Sprintf("%d header events; the header has room for %d", len(events), maxHeaderEvents)}
	}
	clear(b[eventTimeByte:eventFlagByte])
	clear(b[eventFlagByte : eventFlagByte+maxHeaderEvents])
	clear(b[eventLabelByte : eventLabelByte+4*maxHeaderEvents])
	p.putUint16(b[eventKeyByte:], eventKey)
	p.putUint16(b[eventCountByte:], uint16(len(events)))
	for i, e := range events {
		if len(e.Label) > 4 || checkText(e.Label) != nil {
			return &WriteError{Place: e.place(i), Index: -1, Err: ErrLabelLength, Detail: "a label in the header has 4 bytes"}
		}
		if e.Context != "" || e.Description != "" || e.Subject != "" || e.Icon != 0 || e.Flags != 0 {
			return &WriteError{Place: e.place(i), Index: -1, Err: ErrParameter, Detail: "an event in the header has a label and a time only"}
		}
		if !p.putFloat(b[eventTimeByte+4*i:], e.Time) {
			return &WriteError{Place: e.place(i), Index: -1, Err: ErrRange, Detail: fmt.Sprintf("time %g", e.Time)}
		}
		if !e.Off {
			b[eventFlagByte+i] = 1
		}
		copy(b[eventLabelByte+4*i:], e.Label+"    "[:4-len(e.Label)])
	}
	return nil
}
