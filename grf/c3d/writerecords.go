package c3d

import (
	"fmt"
	"math"
	"slices"
)

// entry is a record to be written, with its place among the others.
type entry struct {
	place int
	group *Group
	param *Parameter // nil for the group itself
}

// section returns the parameter section: records that were read keep their
// order, new ones follow their group.
func (w *writer) section(paramBlock, dataBlock int) ([]byte, error) {
	entries, err := w.entries()
	if err != nil {
		return nil, err
	}
	f := w.f
	b := []byte{1, magic, 0, byte(f.Processor) + 84}
	if f.decoded {
		b[0], b[1] = f.stored.section[0], f.stored.section[1]
	}
	zeroNext := f.stored.zeroNext
	for i, e := range entries {
		if b, err = w.appendRecord(b, e, zeroNext && i == len(entries)-1); err != nil {
			return nil, err
		}
	}
	if !zeroNext || len(entries) == 0 {
		b = append(b, 0, 0)
	}
	blocks := (len(b) + blockSize - 1) / blockSize
	// A count that is larger than needed, but leaves the data alone, stays.
	if n := int(f.stored.section[2]); f.decoded && n >= blocks && (dataBlock == 0 || paramBlock+n <= dataBlock) {
		blocks = n
	}
	if blocks > 255 {
		return nil, &WriteError{Place: "Groups", Index: -1, Err: ErrTooLarge, Detail: fmt.Sprintf("parameters of %d blocks; the format has room for 255", blocks)}
	}
	b[2] = byte(blocks)
	return b, nil
}

// entries lists the records in the order of writing and numbers new groups.
func (w *writer) entries() ([]entry, error) {
	used := make(map[int]bool)
	for i := range w.groups {
		g := &w.groups[i]
		if g.ID < 0 || g.ID > 128 {
			return nil, &WriteError{Place: "group " + g.Name, Index: -1, Err: ErrParameter, Detail: fmt.Sprintf("ID %d is not 1 to 127", g.ID)}
		}
		if used[g.ID] && g.ID != 0 && len(g.Parameters) > 0 {
			return nil, &WriteError{Place: "group " + g.Name, Index: -1, Err: ErrParameter, Detail: fmt.Sprintf("ID %d is used twice", g.ID)}
		}
		used[g.ID] = true
	}
	next, last := 1, 0
	var list []entry
	for i := range w.groups {
		g := &w.groups[i]
		for g.ID == 0 {
			if next > 127 {
				return nil, &WriteError{Place: "group " + g.Name, Index: -1, Err: ErrTooLarge, Detail: "the format has room for 127 groups"}
			}
			if !used[next] {
				g.ID = next
				used[next] = true
			}
			next++
		}
		last = max(last, g.order)
		for j := range g.Parameters {
			last = max(last, g.Parameters[j].order)
		}
	}
	for i := range w.groups {
		g := &w.groups[i]
		place := g.order
		if place == 0 {
			place = last + 1 // new groups come last
		}
		if !g.absent {
			list = append(list, entry{place, g, nil})
		}
		for j := range g.Parameters {
			if o := g.Parameters[j].order; o != 0 {
				place = o
			}
			list = append(list, entry{place, g, &g.Parameters[j]})
		}
	}
	slices.SortStableFunc(list, func(a, b entry) int { return a.place - b.place })
	return list, nil
}

// appendRecord appends one record.
func (w *writer) appendRecord(b []byte, e entry, last bool) ([]byte, error) {
	g, p := e.group, e.param
	name, desc, rec, locked, id := g.Name, g.Description, g.record, g.Locked, -g.ID
	where := "group " + g.Name
	if p != nil {
		name, desc, rec, locked, id = p.Name, p.Description, p.record, p.Locked, g.ID
		where = g.Name + ":" + p.Name
	}
	rawName, rawDesc := rec.keep(rec.rawName, name), rec.keep(rec.rawDesc, desc)
	fail := func(err error, format string, args ...any) ([]byte, error) {
		return nil, &WriteError{Place: where, Index: -1, Err: err, Detail: fmt.Sprintf(format, args...)}
	}
	if len(rawName) == 0 || len(rawName) > 127 {
		return fail(ErrParameter, "a name has 1 to 127 bytes, not %d", len(rawName))
	}
	if len(rawDesc) > 255 {
		return fail(ErrLabelLength, "a description of %d bytes", len(rawDesc))
	}
	n := len(rawName)
	if locked {
		n = -n
	}
	b = append(b, byte(n), byte(id))
	b = append(b, rawName...)
	pointer := len(b)
	b = append(b, 0, 0)
	described := true
	if p != nil {
		dims, value, err := p.value(w.f.Processor)
		if err != nil {
			return fail(ErrParameter, "%v", err)
		}
		b = append(b, byte(p.Type), byte(len(dims)))
		for _, d := range dims {
			b = append(b, byte(d))
		}
		b = append(b, value...)
		described = p.legal() // else the value holds everything to the end of the record
	}
	if described {
		b = append(b, byte(len(rawDesc)))
		b = append(b, rawDesc...)
	}
	if len(b)-pointer > math.MaxUint16 {
		return fail(ErrTooLarge, "a record of %d bytes", len(b)-pointer)
	}
	if !last {
		w.f.Processor.putUint16(b[pointer:], uint16(len(b)-pointer))
	}
	return b, nil
}

// legal reports whether the size of the value follows from type and dimensions.
func (p *Parameter) legal() bool {
	_, ok := p.Type.width()
	return ok && len(p.Dims) <= 7
}

// keep returns the stored bytes of a text that has not been changed.
func (r *record) keep(raw []byte, text string) []byte {
	if s, _ := decodeText(raw); s == text {
		return raw
	}
	return []byte(text)
}

// value returns the sizes and the bytes of a value in the byte order of a file.
func (p *Parameter) value(to Processor) ([]int, []byte, error) {
	if !p.legal() {
		if p.order == 0 || len(p.Dims) > 255 {
			return nil, nil, fmt.Errorf("type %d with %d dimensions", p.Type, len(p.Dims))
		}
		return p.Dims, p.unread, nil
	}
	width, _ := p.Type.width()
	size := int64(width)
	for _, d := range p.Dims {
		if d < 0 || d > 255 {
			return nil, nil, fmt.Errorf("dimension %d is not 0 to 255", d)
		}
		size *= int64(d)
	}
	if size != int64(len(p.Data)) {
		if p.order != 0 && len(p.Data) == 0 {
			return []int{0}, nil, nil // lost when reading: empty from now on
		}
		return nil, nil, fmt.Errorf("dimensions %v of type %d need %d bytes, Data has %d", p.Dims, p.Type, size, len(p.Data))
	}
	if to == p.proc || width == 1 {
		return p.Dims, p.Data, nil
	}
	out := make([]byte, len(p.Data))
	for i := 0; i < len(out); i += width {
		if width == 2 {
			to.putUint16(out[i:], p.proc.uint16(p.Data[i:]))
			continue
		}
		if v := p.proc.float(p.Data[i:]); !to.putFloat(out[i:], v) {
			return nil, nil, fmt.Errorf("%g can not be stored for %v", v, to)
		}
	}
	return p.Dims, out, nil
}
