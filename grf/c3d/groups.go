package c3d

import "strings"

// Find returns the parameter of this name, or nil.
func (g Groups) Find(group, name string) *Parameter {
	for i := range g {
		if !sameName(g[i].Name, group) {
			continue
		}
		for j := range g[i].Parameters {
			if sameName(g[i].Parameters[j].Name, name) {
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

func sameName(a, b string) bool {
	return strings.EqualFold(strings.TrimSpace(a), strings.TrimSpace(b))
}
