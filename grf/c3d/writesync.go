package c3d

import (
	"fmt"
	"math"
	"strings"
)

// sync makes the parameters agree with the fields of the File. What says the
// same already is left alone, so that its type, padding and lock survive; what
// a file that was read lacks is not added unless something changed.
func (w *writer) sync() error {
	if err := w.syncPoints(); err != nil {
		return err
	}
	w.syncFrames()
	if err := w.syncChannels(); err != nil {
		return err
	}
	if err := w.syncPlates(); err != nil {
		return err
	}
	return w.syncEvents()
}

// missing reports whether a parameter that is not there should be made: always
// in new files, else only when something changed.
func (w *writer) missing(group, name string) bool {
	return !w.f.decoded && w.groups.Find(group, name) == nil
}

// syncCount makes a parameter hold a count and reports whether that changed it.
func (w *writer) syncCount(group, name string, n int) bool {
	p := w.groups.Find(group, name)
	if p == nil {
		if w.missing(group, name) {
			w.groups.Set(group, NewInts(name, nil, n))
			return true
		}
		return false
	}
	if v, err := p.Counts(); err == nil && len(v) > 0 && v[0] == n {
		return false
	}
	w.setNumbers(group, name, nil, float64(n))
	return true
}

// syncFloat makes a parameter hold a number, in the precision of the file.
func (w *writer) syncFloat(group, name string, v float64) {
	p := w.groups.Find(group, name)
	if p == nil {
		if w.missing(group, name) {
			w.groups.Set(group, NewFloats(name, nil, v))
		}
		return
	}
	if have, err := p.Floats(); err == nil && len(have) > 0 && (have[0] == v || have[0] == single(v)) {
		return
	}
	w.setNumbers(group, name, nil, v)
}

// setNumbers replaces the values of a parameter, which keeps its number type
// when that can hold them; otherwise they become words or floats.
func (w *writer) setNumbers(group, name string, dims []int, values ...float64) {
	typ := Int
	for _, v := range values {
		if v != math.Trunc(v) || v < math.MinInt16 || v > math.MaxUint16 {
			typ = Float
		}
	}
	old := w.groups.Find(group, name)
	if old != nil && (old.Type == Float || old.Type == Byte && fitByte(values)) {
		typ = old.Type
	}
	dims = listDims(dims, len(values))
	if old != nil && len(values) == 1 && len(dims) == 0 && product(old.Dims) == 1 {
		dims = old.Dims // [1] and [1, 1] are single values as well
	}
	var p Parameter
	switch typ {
	case Float:
		p = NewFloats(name, dims, values...)
	default:
		ints := make([]int, len(values))
		for i, v := range values {
			ints[i] = int(v)
		}
		p = NewInts(name, dims, ints...)
		if typ == Byte {
			p.Type = Byte
			p.Data = make([]byte, len(ints))
			for i, v := range ints {
				p.Data[i] = byte(v)
			}
		}
	}
	w.replace(group, p, old)
}

// replace sets a parameter, keeping name, description and lock of the old one.
func (w *writer) replace(group string, p Parameter, old *Parameter) {
	if old != nil {
		p.Name, p.Description, p.Locked, p.record = old.Name, old.Description, old.Locked, old.record
	}
	w.groups.Set(group, p)
}

func fitByte(values []float64) bool {
	for _, v := range values {
		if v != math.Trunc(v) || v < 0 || v > math.MaxUint8 {
			return false
		}
	}
	return true
}

func product(dims []int) int {
	n := 1
	for _, d := range dims {
		n *= d
	}
	return n
}

// setTexts replaces a list of texts and its continuations.
func (w *writer) setTexts(group, name string, cells []string) error {
	width := 1
	if old := w.groups.Find(group, name); old != nil && old.Type == Char && len(old.Dims) > 1 {
		width = max(width, old.Dims[0])
	}
	for i, c := range cells {
		if err := checkText(c); err != nil {
			return &WriteError{Place: group + ":" + name, Index: i, Err: err, Detail: fmt.Sprintf("%d bytes", len(c))}
		}
		width = max(width, len(c))
	}
	w.chunks(group, name, len(cells), func(name string, from, to int) {
		p := Parameter{Name: name, Type: Char, Dims: []int{width, to - from}, Data: make([]byte, 0, width*(to-from))}
		for _, c := range cells[from:to] {
			p.Data = append(p.Data, c...)
			for range width - len(c) {
				p.Data = append(p.Data, ' ')
			}
		}
		w.replace(group, p, w.groups.Find(group, name))
	})
	return nil
}

// setText replaces a single text.
func (w *writer) setText(group, name, text string) error {
	if err := checkText(text); err != nil {
		return &WriteError{Place: group + ":" + name, Index: -1, Err: err, Detail: fmt.Sprintf("%d bytes", len(text))}
	}
	w.replace(group, NewText(name, text), w.groups.Find(group, name))
	return nil
}

func checkText(s string) error {
	if len(s) > 255 {
		return ErrLabelLength
	}
	if strings.IndexByte(s, 0) >= 0 {
		return ErrParameter
	}
	return nil
}

// chunks calls set for each run of 255 entries and removes continuations that
// are no longer needed.
func (w *writer) chunks(group, name string, n int, set func(name string, from, to int)) {
	k := 1
	for from := 0; from < n || from == 0; from += 255 {
		part := name
		if k > 1 {
			part = fmt.Sprintf("%s%d", name, k)
		}
		set(part, from, min(from+255, n))
		k++
	}
	for ; ; k++ {
		part := fmt.Sprintf("%s%d", name, k)
		if w.groups.Find(group, part) == nil {
			return
		}
		w.remove(group, part)
	}
}

// remove deletes the parameter that a lookup would find.
func (w *writer) remove(group, name string) {
	for i := range w.groups {
		g := &w.groups[i]
		if !sameName(g.Name, group) {
			continue
		}
		for j := range g.Parameters {
			if sameName(g.Parameters[j].Name, name) {
				g.Parameters = append(g.Parameters[:j:j], g.Parameters[j+1:]...)
				return
			}
		}
	}
}

func (w *writer) syncPoints() error {
	f := w.f
	n := len(f.Points)
	w.syncCount("POINT", "USED", n)
	scale := w.pointScale
	if f.Storage == Real {
		scale = -scale
	}
	w.syncFloat("POINT", "SCALE", scale)
	w.syncFloat("POINT", "RATE", f.Rate)
	if w.missing("POINT", "DATA_START") {
		w.groups.Set("POINT", NewInts("DATA_START", nil, 0)) // its value is settled last, see file
	}

	read := make([]Point, n)
	units, _ := describePoints(w.groups, read)
	labels, descriptions, cells := make([]string, n), make([]string, n), make([]string, n)
	var changed struct{ labels, descriptions, units, kinds bool }
	changed.labels = w.missing("POINT", "LABELS")
	changed.units = units != f.Units
	each := false
	for i := range f.Points {
		p, r := &f.Points[i], &read[i]
		labels[i], descriptions[i], cells[i] = p.Label, p.Description, p.Unit
		if p.Unit == "" {
			cells[i] = f.Units
		} else {
			each = true
		}
		changed.labels = changed.labels || p.Label != r.Label
		changed.descriptions = changed.descriptions || p.Description != r.Description
		changed.units = changed.units || p.Unit != r.Unit
		changed.kinds = changed.kinds || p.Kind != r.Kind
	}
	if changed.labels {
		if err := w.setTexts("POINT", "LABELS", labels); err != nil {
			return err
		}
		// The lists of kinds go by label.
		describePoints(w.groups, read)
		for i := range f.Points {
			changed.kinds = changed.kinds || f.Points[i].Kind != read[i].Kind
		}
	}
	if changed.descriptions {
		if err := w.setTexts("POINT", "DESCRIPTIONS", descriptions); err != nil {
			return err
		}
	}
	if changed.units {
		var err error
		if each {
			err = w.setTexts("POINT", "UNITS", cells)
		} else {
			err = w.setText("POINT", "UNITS", f.Units)
		}
		if err != nil {
			return err
		}
	}
	if changed.kinds {
		for k, list := range kindLists {
			var of []string
			for i := range f.Points {
				if f.Points[i].Kind == Kind(k) {
					of = append(of, labels[i])
				}
			}
			if list == "" || len(of) == 0 && w.groups.Find("POINT", list) == nil {
				continue
			}
			if err := w.setTexts("POINT", list, of); err != nil {
				return err
			}
		}
	}
	return nil
}

// syncFrames makes the parameters say the number of frames and their first, by
// the scheme for more than 65535 (Source: c3d.org, "POINT:LONG_FRAMES" and "The
// TRIAL group"): FRAMES stands at 65535, LONG_FRAMES and TRIAL say the rest.
func (w *writer) syncFrames() {
	w.syncCount("POINT", "FRAMES", min(w.frames, saturated))
	last := w.first + w.frames - 1
	long := w.frames > saturated
	if long || w.groups.Find("POINT", "LONG_FRAMES") != nil {
		if v, ok := w.groups.float("POINT", "LONG_FRAMES"); !ok || v != float64(w.frames) {
			w.replace("POINT", NewFloats("LONG_FRAMES", nil, float64(w.frames)), w.groups.Find("POINT", "LONG_FRAMES"))
		}
	}
	trial := long || last > saturated
	for _, field := range []struct {
		name  string
		value int
	}{{"ACTUAL_START_FIELD", w.first}, {"ACTUAL_END_FIELD", last}} {
		have, ok := trialField(w.groups, field.name)
		if ok && have == field.value || !ok && !trial {
			continue
		}
		low, high := field.value&saturated, field.value>>16
		w.replace("TRIAL", NewInts(field.name, []int{2}, low, high), w.groups.Find("TRIAL", field.name))
	}
	if long && w.groups.Find("POINT", "FRAMES") == nil {
		w.setNumbers("POINT", "FRAMES", nil, saturated)
	}
}

func (w *writer) syncChannels() error {
	f := w.f
	n := len(f.Channels)
	if n == 0 && !w.groups.Has("ANALOG") {
		return nil
	}
	w.syncCount("ANALOG", "USED", n)
	if g, _, ok := genScale(w.groups); !ok || g != w.gen || w.missing("ANALOG", "GEN_SCALE") {
		if ok || f.GenScale != 1 { // an unusable one reads as 1
			w.setNumber32("ANALOG", "GEN_SCALE", w.gen)
		}
	}
	if unsigned, _ := statedUnsigned(w.groups); unsigned != f.Unsigned {
		text := "SIGNED"
		if f.Unsigned {
			text = "UNSIGNED"
		}
		if err := w.setText("ANALOG", "FORMAT", text); err != nil {
			return err
		}
	}
	rate := f.Rate * float64(w.perFrame)
	if have, ok := w.groups.float("ANALOG", "RATE"); ok && n > 0 && !(math.Abs(have-rate) <= 1e-3*rate) || w.missing("ANALOG", "RATE") {
		w.setNumber32("ANALOG", "RATE", rate)
	}

	read := make([]Channel, n)
	describeChannels(w.groups, read, f.Unsigned)
	labels, descriptions, units := make([]string, n), make([]string, n), make([]string, n)
	scales, offsets := make([]float64, n), make([]float64, n)
	var changed struct{ labels, descriptions, units, scales, offsets bool }
	if !f.decoded {
		changed.labels, changed.units = w.missing("ANALOG", "LABELS"), w.missing("ANALOG", "UNITS")
		changed.scales, changed.offsets = w.missing("ANALOG", "SCALE"), w.missing("ANALOG", "OFFSET")
	}
	for i := range f.Channels {
		c, r := &f.Channels[i], &read[i]
		labels[i], descriptions[i], units[i] = c.Label, c.Description, c.Unit
		scales[i], offsets[i] = w.channels[i].scale, w.channels[i].offset
		changed.labels = changed.labels || c.Label != r.Label
		changed.descriptions = changed.descriptions || c.Description != r.Description
		changed.units = changed.units || c.Unit != r.Unit
		asRead := c.Scale == r.Scale || c.Scale != c.Scale && r.Scale != r.Scale
		changed.scales = changed.scales || !asRead && scales[i] != r.Scale
		changed.offsets = changed.offsets || c.Offset != r.Offset && offsets[i] != r.Offset
		if asRead {
			scales[i] = r.Scale
		}
	}
	for _, l := range []struct {
		changed bool
		name    string
		cells   []string
	}{{changed.labels, "LABELS", labels}, {changed.descriptions, "DESCRIPTIONS", descriptions}, {changed.units, "UNITS", units}} {
		if !l.changed {
			continue
		}
		if err := w.setTexts("ANALOG", l.name, l.cells); err != nil {
			return err
		}
	}
	if changed.scales {
		w.setFloatList("ANALOG", "SCALE", scales)
	}
	if changed.offsets {
		w.setOffsets(offsets)
	}
	return nil
}

// setOffsets sets ANALOG:OFFSET: words when those can hold it, else floats.
func (w *writer) setOffsets(offsets []float64) {
	low, high := float64(math.MinInt16), float64(math.MaxInt16)
	if w.f.Unsigned {
		low, high = 0, math.MaxUint16
	}
	ints := make([]int, len(offsets))
	for i, v := range offsets {
		if v != math.Trunc(v) || v < low || v > high {
			w.setFloatList("ANALOG", "OFFSET", offsets)
			return
		}
		ints[i] = int(v)
	}
	w.chunks("ANALOG", "OFFSET", len(ints), func(name string, from, to int) {
		w.replace("ANALOG", NewInts(name, []int{to - from}, ints[from:to]...), w.groups.Find("ANALOG", name))
	})
}

// setNumber32 sets a float, whatever type the parameter had.
func (w *writer) setNumber32(group, name string, v float64) {
	w.replace(group, NewFloats(name, nil, v), w.groups.Find(group, name))
}

// setFloatList sets a list of floats and its continuations.
func (w *writer) setFloatList(group, name string, values []float64) {
	w.chunks(group, name, len(values), func(name string, from, to int) {
		w.replace(group, NewFloats(name, []int{to - from}, values[from:to]...), w.groups.Find(group, name))
	})
}
