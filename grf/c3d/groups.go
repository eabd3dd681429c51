package c3d

import (
	"fmt"
	"math"
)

// Find returns the parameter of this name, or nil.
func (g Groups) Find(group, name string) *Parameter {
	group, name = foldName(group), foldName(name)
	for i := range g {
		if foldName(g[i].Name) != group {
			continue
		}
		for j := range g[i].Parameters {
			if foldName(g[i].Parameters[j].Name) == name {
				return &g[i].Parameters[j]
			}
		}
	}
	return nil
}

// Has reports whether there is a group of this name.
func (g Groups) Has(group string) bool {
	for i := range g {
		if sameName(g[i].Name, group) {
			return true
		}
	}
	return false
}

// Set adds a parameter to a group, which is made when there is none, or
// replaces the parameter of its name. The group keeps its place and its lock.
func (g *Groups) Set(group string, p Parameter) {
	if old := g.Find(group, p.Name); old != nil {
		p.order = old.order
		*old = p
		return
	}
	for i := range *g {
		if sameName((*g)[i].Name, group) {
			(*g)[i].Parameters = append((*g)[i].Parameters, p)
			return
		}
	}
	*g = append(*g, Group{Name: group, Parameters: []Parameter{p}})
}

// Floats returns the numbers of a parameter, followed by those of its
// continuations NAME2, NAME3, … that hold what did not fit 255 entries; nil
// when there is no such parameter or it holds text (Source: C3D User Guide,
// "POINT:LABELS2", "ANALOG:LABELS2").
func (g Groups) Floats(group, name string) []float64 {
	var all []float64
	g.each(group, name, func(p *Parameter) {
		v, _ := p.Floats()
		all = append(all, v...)
	})
	return all
}

// Counts returns the numbers of a parameter as counts, which are never
// negative: see [Parameter.Counts]. It is nil when there is no such parameter
// or it holds text.
func (g Groups) Counts(group, name string) []int {
	v, _ := g.Find(group, name).Counts()
	return v
}

// Strings returns the cells of a text parameter and of its continuations NAME2,
// NAME3, …; nil when there is no such parameter or it holds numbers.
func (g Groups) Strings(group, name string) []string {
	var all []string
	g.each(group, name, func(p *Parameter) {
		v, _ := p.Strings()
		all = append(all, v...)
	})
	return all
}

// each calls f for a parameter and its continuations.
func (g Groups) each(group, name string, f func(*Parameter)) {
	for k := 1; ; k++ {
		n := name
		if k > 1 {
			n = fmt.Sprintf("%s%d", name, k)
		}
		p := g.Find(group, n)
		if p == nil {
			return
		}
		f(p)
	}
}

// float returns the first number of a parameter.
func (g Groups) float(group, name string) (float64, bool) {
	v, _ := g.Find(group, name).Floats()
	if len(v) == 0 {
		return math.NaN(), false
	}
	return v[0], true
}

// count returns the first number of a parameter as a count.
func (g Groups) count(group, name string) (int, bool) {
	v := g.Counts(group, name)
	if len(v) == 0 {
		return 0, false
	}
	return v[0], true
}

// parameterKey names a parameter, folded.
type parameterKey struct{ group, name string }

// resolve ties parameters to their groups once all records are known: they may
// come in any order.
func (m *memory) resolve(records []rawRecord, proc Processor, warn *warnings) Groups {
	m.text, m.raw = m.text[:0], m.raw[:0]
	size, groupCount := 0, 0
	for i := range records {
		r := &records[i]
		m.text = append(append(m.text, r.rawName...), r.rawDesc...)
		size += len(r.data)
		if r.isGroup {
			groupCount++
		}
	}
	if cap(m.raw) < size {
		m.raw = make([]byte, 0, size)
	}
	keep := func(b []byte) []byte {
		if len(b) == 0 {
			return nil
		}
		n := len(m.raw)
		m.raw = append(m.raw, b...)
		return m.raw[n:len(m.raw):len(m.raw)]
	}
	// All names and descriptions are cut from one string, in the order of the
	// records.
	all := string(m.text)
	cut := func(at, n, offset int) ([]byte, string) {
		if n == 0 {
			return nil, ""
		}
		b := m.text[at : at+n : at+n]
		if n, ok := cleanText(b); ok {
			return b, all[at : at+n]
		}
		s, enc := decodeText(b)
		if enc != textClean {
			warn.add(CodeTextEncoding, byteAt(offset), "a name or description that is not UTF-8 was read as Latin-1")
		}
		return b, s
	}

	name := func(raw []byte, where func() string) {
		switch {
		case !printable(raw):
			warn.add(CodeControlName, where(), "the name %q holds control characters", raw)
		case !ascii(raw):
			warn.add(CodeNonASCIIName, where(), "names are ASCII by the format; only ASCII letters match in either case")
		}
	}

	// Until all parameters are there a group's ones are only counted.
	groups := m.groups[:0]
	count := make([]int, 0, groupCount)
	byID := make(map[int]int, groupCount)
	byName := make(map[string]bool, groupCount)
	at := 0
	for i := range records {
		r := &records[i]
		text := at
		at += len(r.rawName) + len(r.rawDesc)
		if !r.isGroup {
			continue
		}
		g := Group{ID: r.id, Locked: r.locked, record: r.record}
		g.rawName, g.Name = cut(text, len(r.rawName), r.offset)
		g.rawDesc, g.Description = cut(text+len(r.rawName), len(r.rawDesc), r.offset)
		name(g.rawName, func() string { return byteAt(r.offset) })
		if _, ok := byID[g.ID]; ok {
			warn.add(CodeDuplicateGroup, g.Name, "group number %d is taken already; parameters of this number belong to the first group", g.ID)
		} else {
			byID[g.ID] = len(groups)
		}
		if n := foldName(g.Name); byName[n] {
			warn.add(CodeDuplicateGroup, g.Name, "a second group of this name (byte %d); for lookups they are one", r.offset)
		} else {
			byName[n] = true
		}
		groups = append(groups, g)
		count = append(count, 0)
	}
	for i := range records {
		r := &records[i]
		if r.isGroup {
			continue
		}
		gi, ok := byID[r.id]
		if !ok {
			gi = len(groups)
			byID[r.id] = gi
			groups = append(groups, Group{Name: fmt.Sprintf("GID_%d", r.id), ID: r.id, absent: true})
			count = append(count, 0)
		}
		count[gi]++
	}
	m.groups = groups
	m.parameters = resize(m.parameters, len(records)-groupCount)
	rest := m.parameters
	for i, n := range count {
		if n > 0 {
			groups[i].Parameters, rest = rest[:0:n], rest[n:]
		}
	}

	if m.seen == nil {
		m.seen = make(map[parameterKey]bool, len(records))
	}
	clear(m.seen)
	at = 0
	for i := range records {
		r := &records[i]
		text := at
		at += len(r.rawName) + len(r.rawDesc)
		if r.isGroup {
			continue
		}
		g := &groups[byID[r.id]]
		p := Parameter{Locked: r.locked, Type: r.typ, Dims: r.dims, record: r.record, proc: proc}
		p.rawName, p.Name = cut(text, len(r.rawName), r.offset)
		where := func() string { return g.Name + ":" + p.Name }
		p.rawDesc, p.Description = cut(text+len(r.rawName), len(r.rawDesc), r.offset)
		if r.spoilt {
			p.unread = keep(r.data)
		} else {
			p.Data = keep(r.data)
		}
		name(p.rawName, where)
		if g.absent {
			warn.add(CodeOrphan, where(), "there is no group with number %d", r.id)
		}
		if k := (parameterKey{foldName(g.Name), foldName(p.Name)}); m.seen[k] {
			warn.add(CodeDuplicateParam, where(), "a second parameter of this name (byte %d); the first one holds", r.offset)
		} else {
			m.seen[k] = true
		}
		if p.Type == Char {
			p.checkText(g, warn)
		}
		g.Parameters = append(g.Parameters, p)
	}
	return groups
}
