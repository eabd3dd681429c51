package cop

import (
	"errors"
	"fmt"
	"math"

	"gonum.org/v1/gonum/spatial/r3"

	"example.com/momentarm/grf"
)

// ErrGrid means a grid of pressure cells that can not be one, or frames that are
// not of it.
var ErrGrid = errors.New("cop: unusable grid of pressure cells")

// CellUnit says what the number of a pressure cell is.
type CellUnit int

const (
	// Pascal: the pressure on the cell, N/m².
	Pascal CellUnit = iota
	// NewtonPerCell: the force on the cell, N.
	NewtonPerCell
)

// String returns "Pa" or "N per cell".
func (u CellUnit) String() string {
	switch u {
	case Pascal:
		return "Pa"
	case NewtonPerCell:
		return "N per cell"
	}
	return fmt.Sprintf("CellUnit(%d)", int(u))
}

// GridConfig describes a mat of pressure cells that lies on the standing surface.
// Its cells stand in equal rows and columns; a frame lists them row by row.
//
//	         Across ─→
//	First ─→ [0] [1] [2] [3]    row 0
//	    │    [4] [5] [6] [7]    row 1
//	  Down ↓
//
// Size, place, direction and hand of the mat are all in three vectors, in swing
// axes. What is known in laboratory axes is turned by [grf.Axes.Point] (First)
// and [grf.Axes.Vector] (Across, Down), which also mirror it for left-handed
// golfers.
type GridConfig struct {
	Rows, Columns int

	// First is the centre of the first cell of the first row, m. Its height does
	// not count.
	First r3.Vec
	// Across leads from the centre of a cell to that of the next one in its row,
	// Down to that of the next row, m. Their lengths are the size of a cell.
	Across, Down r3.Vec

	Unit CellUnit

	// Least is the reading from which a cell counts as pressed, in Unit. Less
	// counts as no load at all. 0 means that every reading counts as it is, so
	// that noise averages out.
	Least float64
}

// maxCells bounds the memory of a grid.
const maxCells = 1 << 20

// Grid turns the cells of a pressure mat into vertical load and its place. It
// does not change once made and may be shared by goroutines.
//
// A mat measures neither horizontal force nor twist. Its wrenches have NaN in
// Force.X, Force.Y and Moment.Z (see [grf.Vertical]), so that whatever is worked
// out from them and needs those is NaN as well.
type Grid struct {
	cfg  GridConfig
	area float64 // N per unit of a reading
	n    int
}

// NewGrid returns the grid that c describes, or an error that wraps [ErrGrid].
func NewGrid(c GridConfig) (*Grid, error) {
	bad := func(format string, a ...any) (*Grid, error) {
		return nil, fmt.Errorf("%w: "+format, append([]any{ErrGrid}, a...)...)
	}
	if c.Rows < 1 || c.Columns < 1 || c.Rows > maxCells/c.Columns {
		return bad("%d rows of %d cells (1 to %d cells are accepted)", c.Rows, c.Columns, maxCells)
	}
	if !defined(c.First) || !defined(c.Across) || !defined(c.Down) {
		return bad("First %v, Across %v and Down %v must be finite", c.First, c.Across, c.Down)
	}
	g := &Grid{cfg: c, n: c.Rows * c.Columns}
	across, down := r3.Norm(c.Across), r3.Norm(c.Down)
	const least, most = 0.0005, 0.5 // m
	for _, size := range []float64{across, down} {
		if size < least || size > most {
			return bad("cells of %.4g by %.4g m (%g to %g m are accepted); is the unit of length right?", across, down, least, most)
		}
	}
	if tilt := math.Max(math.Abs(c.Across.Z)/across, math.Abs(c.Down.Z)/down); tilt > 0.02 {
		return bad("Across %v and Down %v must be level: pressure is vertical on a level mat only", c.Across, c.Down)
	}
	area := r3.Norm(r3.Cross(c.Across, c.Down))
	if area < 0.99*across*down {
		return bad("Across %v and Down %v must be at right angles", c.Across, c.Down)
	}
	if !(c.Least >= 0) || math.IsInf(c.Least, 0) {
		return bad("a least reading of %g %v", c.Least, c.Unit)
	}
	switch c.Unit {
	case Pascal:
		g.area = area
	case NewtonPerCell:
		g.area = 1
	default:
		return bad("%v is no unit of a cell", c.Unit)
	}
	return g, nil
}

// Cells returns the number of cells of a frame.
func (g *Grid) Cells() int { return g.n }

// Config returns what the grid was made of.
func (g *Grid) Config() GridConfig { return g.cfg }

// Cell returns the centre of a cell, m; NaN for one that does not exist.
func (g *Grid) Cell(row, column int) r3.Vec {
	if row < 0 || row >= g.cfg.Rows || column < 0 || column >= g.cfg.Columns {
		return nan3()
	}
	return g.centre(row, column)
}

func (g *Grid) centre(row, column int) r3.Vec {
	p := r3.Add(g.cfg.First, r3.Scale(float64(column), g.cfg.Across))
	return r3.Add(p, r3.Scale(float64(row), g.cfg.Down))
}

// Wrench returns the load of all cells of a frame as a wrench about the origin, N
// and N·m, without what a mat does not measure:
//
//	Fz = Σ f    Mx = Σ y f    My = −Σ x f    Fx, Fy, Mz = NaN
//
// with f the force on a cell and (x, y) its centre. [Of] gives its centre of
// pressure on the surface Z = 0: Σ f (x, y) / Σ f. A cell that is NaN or infinite
// makes the frame NaN, and so does a frame with another number of cells than the
// grid has: put 0 for a cell that is known to be dead. Wrench does not allocate.
func (g *Grid) Wrench(cells []float64) grf.Wrench {
	if len(cells) != g.n {
		return grf.NaN()
	}
	var sum tally
	for r := range g.cfg.Rows {
		sum.row(g, cells, r, nil, 0)
	}
	return sum.wrench()
}

// Feet returns the load under each foot, as [Grid.Wrench] does for all cells, with
// the cells parted by d. Both are NaN when d is not of this grid. [Share] of the
// two is the lead foot's part of the load, and their sum is that of Wrench to
// rounding.
func (g *Grid) Feet(cells []float64, d *Division) (lead, trail grf.Wrench) {
	if len(cells) != g.n || d == nil || len(d.foot) != g.n {
		return grf.NaN(), grf.NaN()
	}
	var l, t tally
	for r := range g.cfg.Rows {
		l.row(g, cells, r, d.foot, Lead)
		t.row(g, cells, r, d.foot, Trail)
	}
	lead, trail = l.wrench(), t.wrench()
	if math.IsNaN(lead.Force.Z + trail.Force.Z) { // a lost cell spoils the frame
		return grf.NaN(), grf.NaN()
	}
	return lead, trail
}

// force returns the force on a cell, N.
func (g *Grid) force(reading float64) float64 {
	if g.cfg.Least > 0 && reading < g.cfg.Least {
		return 0
	}
	return reading * g.area
}

// tally adds cells up.
type tally struct{ f, fx, fy float64 }

// row adds the cells of a row that belong to a foot; all of them without a
// division.
func (s *tally) row(g *Grid, cells []float64, row int, foot []Side, side Side) {
	from := row * g.cfg.Columns
	for c := range g.cfg.Columns {
		if foot != nil && foot[from+c] != side {
			continue
		}
		f := g.force(cells[from+c])
		p := g.centre(row, c)
		s.f += f
		s.fx += float64(f * p.X)
		s.fy += float64(f * p.Y)
	}
}

func (s tally) wrench() grf.Wrench {
	if !isFinite(s.f) || !isFinite(s.fx) || !isFinite(s.fy) {
		return grf.NaN()
	}
	return grf.Wrench{Force: r3.Vec{Z: s.f}, Moment: r3.Vec{X: s.fy, Y: -s.fx}}.WithoutHorizontal()
}
