package swing

import (
	"slices"

	"gonum.org/v1/gonum/spatial/r3"

	"example.com/momentarm/cop"
	"example.com/momentarm/cop/com"
	"example.com/momentarm/grf"
)

// quality asks the recording whether it can be right: see [com.CheckQuality]. It
// gets what the centre of mass was found with, and the clocks that were found.
func (a *Analysis) quality(raw []grf.Wrench, opt com.Options, path *com.Path, feet Feet) error {
	opt.Sources = slices.Clone(opt.Sources)
	for i := range opt.Sources {
		opt.Sources[i].Clock, opt.Sources[i].SeekDelay = path.Clocks[i], 0
	}
	q, err := com.CheckQuality(raw, path.Start, path.Rate, opt, stance(feet))
	if err != nil {
		return err
	}
	a.Quality = q
	for _, w := range q.Warnings {
		same := func(o grf.Warning) bool { return o.Code == w.Code && o.Where == w.Where }
		if !slices.ContainsFunc(a.Warnings, same) {
			a.Warnings = append(a.Warnings, w)
		}
	}
	return nil
}

// stance returns points of the outlines of both feet, nil unless both are known.
func stance(feet Feet) []r3.Vec {
	if feet.Lead == nil || feet.Trail == nil {
		return nil
	}
	var outline []r3.Vec
	for _, f := range []*cop.Foot{feet.Lead, feet.Trail} {
		outline = append(outline, f.Outline(nil)...)
	}
	return outline
}
