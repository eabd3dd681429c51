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

// resolve ties parameters to their groups once all records are known: they may
// come in any order.
func resolve(records []rawRecord, proc Processor, warn *warnings) Groups {
	size := 0
	for i := range records {
		r := &records[i]
		size += len(r.rawName) + len(r.rawDesc) + len(r.data)
	}
	arena := make([]byte, 0, size)
	keep := func(b []byte) []byte {
		if len(b) == 0 {
			return nil
		}
		n := len(arena)
		arena = append(arena, b...)
		return arena[n:len(arena):len(arena)]
	}
	text := func(b []byte, offset int) string {
		s, enc := decodeText(b)
		if enc != textClean {
			warn.add(CodeTextEncoding, byteAt(offset), "a name or description that is not UTF-8 was read as Latin-1")
		}
		return s
	}

	name := func(raw []byte, where func() string) {
		switch {
		case !printable(raw):
			warn.add(CodeControlName, where(), "the name %q holds control characters", raw)
		case !ascii(raw):
			warn.add(CodeNonASCIIName, where(), "names are ASCII by the format; only ASCII letters match in either case")
		}
	}

	var groups Groups
	byID := make(map[int]int)
	byName := make(map[string]bool)
	for i := range records {
		r := &records[i]
		if !r.isGroup {
			continue
		}
		rec := r.record
		rec.rawName, rec.rawDesc = keep(r.rawName), keep(r.rawDesc)
		g := Group{Name: text(rec.rawName, r.offset), Description: text(rec.rawDesc, r.offset),
			ID: r.id, Locked: r.locked, record: rec}
		name(rec.rawName, func() string { return byteAt(r.offset) })
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
	}

	type key struct{ group, name string }
	seen := make(map[key]bool, len(records))
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
		}
		g := &groups[gi]
		rec := r.record
		rec.rawName, rec.rawDesc = keep(r.rawName), keep(r.rawDesc)
		p := Parameter{Locked: r.locked, Type: r.typ, Dims: r.dims, record: rec, proc: proc}
		p.Name = text(rec.rawName, r.offset)
		where := func() string { return g.Name + ":" + p.Name }
		p.Description = text(rec.rawDesc, r.offset)
		if r.spoilt {
			p.unread = keep(r.data)
		} else {
			p.Data = keep(r.data)
		}
		name(rec.rawName, where)
		if g.absent {
			warn.add(CodeOrphan, where(), "there is no group with number %d", r.id)
		}
		if k := (key{foldName(g.Name), foldName(p.Name)}); seen[k] {
			warn.add(CodeDuplicateParam, where(), "a second parameter of this name (byte %d); the first one holds", r.offset)
		} else {
			seen[k] = true
		}
		if p.Type == Char {
			p.checkText(g, warn)
		}
		g.Parameters = append(g.Parameters, p)
	}
	return groups
}
