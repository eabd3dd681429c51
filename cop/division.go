package cop

import (
	"errors"
	"fmt"
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r3"

	"example.com/momentarm/grf"
)

// ErrNotTwoFeet means pressed regions that are not those of two feet side by side.
var ErrNotTwoFeet = errors.New("cop: the pressed cells are not two feet")

// Division says which cells of a grid belong to which foot. It does not change
// once made.
type Division struct {
	foot    []Side
	columns int
}

// Side returns the foot that a cell counts for. A cell that does not exist counts
// for neither: -1.
func (d *Division) Side(row, column int) Side {
	if row < 0 || column < 0 || column >= d.columns || row >= len(d.foot)/d.columns {
		return -1
	}
	return d.foot[row*d.columns+column]
}

// DivideByLine parts the cells of a grid by a line through a point, in swing axes:
// cells with their centre on it or on the target's side of it belong to the lead
// foot. A line along X through the middle of the stance is the usual one; its
// direction may have either sense. It fails with [ErrGrid] when the line has no
// direction, runs along the target line, or has all cells on one side.
func DivideByLine(g *Grid, through, direction r3.Vec) (*Division, error) {
	n := r3.Vec{X: -direction.Y, Y: direction.X} // toward the target
	if n.Y < 0 {
		n = r3.Scale(-1, n)
	}
	if size := math.Hypot(n.X, n.Y); !defined(through) || !isFinite(size) || !(n.Y > 0.1*size) {
		return nil, fmt.Errorf("%w: a line through %v along %v does not part lead from trail foot; let it run along X, across the target line", ErrGrid, through, direction)
	}
	d := &Division{foot: make([]Side, g.n), columns: g.cfg.Columns}
	count := 0
	for i := range d.foot {
		p := g.centre(i/d.columns, i%d.columns)
		if n.X*(p.X-through.X)+n.Y*(p.Y-through.Y) < 0 {
			d.foot[i] = Trail
			count++
		}
	}
	if count == 0 || count == g.n {
		return nil, fmt.Errorf("%w: all cells are on one side of the line through %v along %v", ErrGrid, through, direction)
	}
	return d, nil
}

// RegionOptions say what counts as a pressed region. The zero value means the
// defaults, which are common practice (no published source).
type RegionOptions struct {
	// Least is the mean reading from which a cell counts as pressed; 0 means 5 %
	// of the largest one. The grid's own Least holds as well.
	Least float64
	// MinShare is the part of the load that each foot carries at least; 0 means
	// 0.05.
	MinShare float64
	// MinApart is how far apart along the target line the feet are at least, from
	// centre to centre, m; 0 means 0.1.
	MinApart float64
}

// dust is the part of the load from which a region counts for telling the feet
// apart.
const dust = 0.01

// DivideByRegions parts the cells of a grid by what is pressed in some frames of a
// quiet stance: connected regions of pressed cells, corners included, are found in
// the mean of the frames and put into two groups along the target line, so that
// the places within each group scatter least. So heel and ball of a foot may be
// two regions. All other cells belong to the foot of whichever pressed cell is the
// fewest steps away, so that a foot may roll and spread later. Frames that are nil
// or not finite do not count.
//
// It fails with [ErrNotTwoFeet] when the regions are not two feet (feet that
// touch, one foot in the air): take [DivideByLine] then. It fails with [ErrGrid]
// for frames that are not of the grid and [grf.ErrNoData] without any.
func DivideByRegions(g *Grid, frames [][]float64, opt RegionOptions) (*Division, error) {
	load, err := g.meanForce(frames)
	if err != nil {
		return nil, err
	}
	least := opt.Least * g.area
	if opt.Least == 0 {
		least = 0.05 * slices.Max(load)
	}
	regions := g.regions(load, least)
	split, err := twoFeet(regions, orDefault(opt.MinShare, 0.05), orDefault(opt.MinApart, 0.1))
	if err != nil {
		return nil, err
	}
	return g.spread(regions, split), nil
}

func orDefault(v, def float64) float64 {
	if v == 0 {
		return def
	}
	return v
}

// meanForce returns the mean force on each cell, N.
func (g *Grid) meanForce(frames [][]float64) ([]float64, error) {
	mean := make([]float64, g.n)
	count := 0
	for k, cells := range frames {
		if cells == nil {
			continue
		}
		if len(cells) != g.n {
			return nil, g.frameError(k, cells)
		}
		if w := g.Wrench(cells); math.IsNaN(w.Force.Z) {
			continue
		}
		count++
		for i, v := range cells {
			mean[i] += g.force(v)
		}
	}
	if count == 0 {
		return nil, fmt.Errorf("%w: no frame to find the feet in", grf.ErrNoData)
	}
	for i := range mean {
		mean[i] /= float64(count)
	}
	return mean, nil
}

func (g *Grid) frameError(k int, cells []float64) error {
	return fmt.Errorf("%w: frame %d has %d cells, the grid has %d rows of %d", ErrGrid, k, len(cells), g.cfg.Rows, g.cfg.Columns)
}

// region is a connected set of pressed cells, with sums of force, force × Y and
// force × Y².
type region struct {
	cells      []int
	f, fy, fyy float64
}

// regions returns the connected regions of cells with at least this force, ordered
// by Y.
func (g *Grid) regions(load []float64, least float64) []region {
	var found []region
	seen := make([]bool, g.n)
	for first, f := range load {
		if seen[first] || !pressed(f, least) {
			continue
		}
		seen[first] = true
		r := region{cells: []int{first}}
		for k := 0; k < len(r.cells); k++ {
			i := r.cells[k]
			y := g.centre(i/g.cfg.Columns, i%g.cfg.Columns).Y
			r.f += load[i]
			r.fy += load[i] * y
			r.fyy += load[i] * y * y
			g.neighbours(i, func(j int) {
				if !seen[j] && pressed(load[j], least) {
					seen[j] = true
					r.cells = append(r.cells, j)
				}
			})
		}
		found = append(found, r)
	}
	slices.SortStableFunc(found, func(a, b region) int {
		switch ya, yb := a.fy/a.f, b.fy/b.f; {
		case ya < yb:
			return -1
		case ya > yb:
			return 1
		}
		return 0
	})
	return found
}

func pressed(f, least float64) bool { return f >= least && f > 0 }

// neighbours calls do for the up to eight cells around a cell.
func (g *Grid) neighbours(i int, do func(j int)) {
	row, column := i/g.cfg.Columns, i%g.cfg.Columns
	for r := max(0, row-1); r <= min(g.cfg.Rows-1, row+1); r++ {
		for c := max(0, column-1); c <= min(g.cfg.Columns-1, column+1); c++ {
			if j := r*g.cfg.Columns + c; j != i {
				do(j)
			}
		}
	}
}

// twoFeet returns how many of the regions, which are ordered by Y, are the trail
// foot's.
func twoFeet(regions []region, minShare, minApart float64) (split int, err error) {
	var total float64
	for _, r := range regions {
		total += r.f
	}
	var big []int
	for i, r := range regions {
		if r.f >= dust*total {
			big = append(big, i)
		}
	}
	if len(big) < 2 {
		return 0, fmt.Errorf("%w: %d pressed region; the feet touch on the mat, or one is in the air; part them by a line", ErrNotTwoFeet, len(big))
	}
	sum := func(part []int) (s region) {
		for _, i := range part {
			s.f += regions[i].f
			s.fy += regions[i].fy
			s.fyy += regions[i].fyy
		}
		return s
	}
	best, least := 0, math.Inf(1)
	for k := 1; k < len(big); k++ {
		a, b := sum(big[:k]), sum(big[k:])
		if scatter := a.fyy - a.fy*a.fy/a.f + b.fyy - b.fy*b.fy/b.f; scatter < least {
			best, least = k, scatter
		}
	}
	trail, lead := sum(big[:best]), sum(big[best:])
	if apart := lead.fy/lead.f - trail.fy/trail.f; apart < minApart {
		return 0, fmt.Errorf("%w: the pressed regions are only %.0f mm apart along the target line; is the mat turned as stated?", ErrNotTwoFeet, 1000*apart)
	}
	if least := math.Min(lead.f, trail.f); least < minShare*(lead.f+trail.f) {
		return 0, fmt.Errorf("%w: one side carries only %.1f %% of the load", ErrNotTwoFeet, 100*least/(lead.f+trail.f))
	}
	return big[best], nil
}

// spread gives every cell to the foot of the pressed cell that is the fewest steps
// away.
func (g *Grid) spread(regions []region, split int) *Division {
	d := &Division{foot: make([]Side, g.n), columns: g.cfg.Columns}
	known := make([]bool, g.n)
	var queue []int
	for k, r := range regions {
		for _, i := range r.cells {
			known[i] = true
			if k < split {
				d.foot[i] = Trail
			}
			queue = append(queue, i)
		}
	}
	for k := 0; k < len(queue); k++ {
		i := queue[k]
		g.neighbours(i, func(j int) {
			if !known[j] {
				known[j], d.foot[j] = true, d.foot[i]
				queue = append(queue, j)
			}
		})
	}
	return d
}
