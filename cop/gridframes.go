package cop

import (
	"fmt"

	"example.com/momentarm/grf"
)

// GridFrames makes a recording of the frames of a pressure mat, frame i taken at
// start + i/rate: of both feet, parted by d, or of their sum when d is nil. A frame
// that is nil was lost and comes out as NaN, and so does one with a cell that is
// not finite. Errors wrap [ErrGrid] for a frame with another number of cells than
// the grid has or a division of another grid, [grf.ErrNoData] without frames and
// [grf.ErrRate].
//
// The recording is [grf.Recording.VerticalOnly]. Mats often take 50 to 200 frames
// a second: an analysis then needs a filter whose cut-off is below half of that.
func GridFrames(g *Grid, frames [][]float64, start, rate float64, d *Division) (*grf.Recording, error) {
	if d != nil && (len(d.foot) != g.n || d.columns != g.cfg.Columns) {
		return nil, fmt.Errorf("%w: the division is of %d rows of %d, the grid has %d rows of %d", ErrGrid,
			len(d.foot)/max(1, d.columns), d.columns, g.cfg.Rows, g.cfg.Columns)
	}
	rec := &grf.Recording{Start: start, Rate: rate}
	if d == nil {
		rec.Net = make([]grf.Wrench, len(frames))
	} else {
		rec.Lead, rec.Trail = make([]grf.Wrench, len(frames)), make([]grf.Wrench, len(frames))
	}
	if err := rec.Check(); err != nil {
		return nil, err
	}
	for i, cells := range frames {
		switch {
		case cells != nil && len(cells) != g.n:
			return nil, g.frameError(i, cells)
		case d == nil:
			rec.Net[i] = g.Wrench(cells)
		default:
			rec.Lead[i], rec.Trail[i] = g.Feet(cells, d)
		}
	}
	return rec, nil
}
