package validation

import (
	"bytes"
	"errors"
	"fmt"
	"math"
	"runtime"
	"strings"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"example.com/momentarm/cop"
	"example.com/momentarm/cop/com"
	"example.com/momentarm/grf"
	"example.com/momentarm/grf/c3d"
	"example.com/momentarm/grf/capture"
	"example.com/momentarm/grf/filter"
	tables "example.com/momentarm/grf/table"
	"example.com/momentarm/phase"
	"example.com/momentarm/phase/screen"
	"example.com/momentarm/phase/swing"
)

// TestLimits: whatever sizes an input has or claims, there is a bound, an error when
// it is passed, and no memory taken before. The bounds stand in the package comments
// and beside the functions.
func TestLimits(t *testing.T) {
	columns := func(n int) string {
		var names, row []string
		for i := range n {
			names, row = append(names, fmt.Sprintf("c%d[N]", i)), append(row, "1")
		}
		return strings.Join(names, ",") + "\n" + strings.Join(row, ",") + "\n"
	}
	tableOf := func(text string, opt tables.Options) error {
		opt.Rate = 100
		_, err := tables.Decode([]byte(text), opt)
		return err
	}
	setup := func(text string) error { _, err := capture.ReadSetup(strings.NewReader(text)); return err }
	bands := func(text string) error { _, err := screen.ReadBands(strings.NewReader(text)); return err }
	band := `{"measure": "x", "unit": "m", "min": 1, "max": 2, "source": "mine"}`
	many := func(n int, what string) string { return strings.TrimSuffix(strings.Repeat(what+",", n), ",") }
	numbered := func(n int, format string) string {
		var all []string
		for i := range n {
			all = append(all, fmt.Sprintf(format, i+1))
		}
		return strings.Join(all, ",")
	}
	axes, path, sized := r3.Vec{X: 0.01}, make([]r3.Vec, 1001), r3.Vec{Y: 0.01}
	for i := range path {
		a := 2 * math.Pi * float64(i) / 1001
		path[i] = r3.Vec{X: 0.1 * math.Cos(a), Y: 0.05 * math.Sin(a)}
	}
	curve := func(points int) error {
		_, err := (&swing.Analysis{}).Curve(swing.Signals()[0], swing.Base{Landmarks: swing.Between(phase.Onset, phase.Impact).Landmarks, Points: points})
		return err
	}
	grid := func(rows, columns int) error {
		_, err := cop.NewGrid(cop.GridConfig{Rows: rows, Columns: columns, Across: axes, Down: sized})
		return err
	}
	design := func(order int) error {
		_, err := filter.NewZeroPhase(filter.ZeroPhaseOptions{Cutoff: 20, Rate: 200, Order: order})
		return err
	}
	clock := func(end float64) error { _, err := filter.NewClock(0, end, 1000); return err }
	tracker := func(lag float64) error {
		_, err := com.NewTracker(com.TrackerOptions{Mass: 70, Rate: 1e4, Lag: lag})
		return err
	}
	online := func(rate float64) error { _, err := phase.NewOnline(phase.OnlineOptions{Rate: rate}); return err }
	recording := func(rate float64) error { return (&grf.Recording{Rate: rate, Net: make([]grf.Wrench, 3)}).Check() }
	record := append(make([]byte, 0, 9), 1, 1, 'A', 6, 0, 1, 0, 0, 0)
	records := func(n int) error {
		b, err := c3d.Append(nil, &c3d.File{Rate: 100, Units: "mm"})
		if err != nil {
			return err
		}
		b = append(append(b[:516:516], bytes.Repeat(record, n)...), make([]byte, 2048)...)
		start := (516+9*n)/512 + 2
		b[16], b[17] = byte(start), byte(start>>8)
		_, err = c3d.Decode(b, c3d.Options{})
		return err
	}

	for _, c := range []struct {
		name   string
		within error // of the largest that is allowed
		beyond func() error
		want   error
	}{
		{"columns of a table", tableOf(columns(tables.DefaultMaxColumns), tables.Options{}), func() error { return tableOf(columns(tables.DefaultMaxColumns+1), tables.Options{}) }, tables.ErrLimit},
		{"rows of a table", tableOf("Fz[N]\n1\n2\n3\n", tables.Options{MaxRows: 3}), func() error { return tableOf("Fz[N]\n1\n2\n3\n4\n", tables.Options{MaxRows: 3}) }, tables.ErrLimit},
		{"preamble of a table", tableOf(strings.Repeat("# hello\n", 999)+"Fz[N]\n1\n", tables.Options{}), func() error { return tableOf(strings.Repeat("# hello\n", 1000)+"Fz[N]\n1\n", tables.Options{}) }, tables.ErrLimit},
		{"name of a column", tableOf(strings.Repeat("x", 200)+"[N]\n1\n", tables.Options{}), func() error { return tableOf(strings.Repeat("x", 201)+"[N]\n1\n", tables.Options{}) }, tables.ErrLimit},
		{"bytes of a setup", setup(`{"version": 1}` + strings.Repeat(" ", 1<<20-14)), func() error { return setup(`{"version": 1}` + strings.Repeat(" ", 1<<20-13)) }, capture.ErrSetup},
		{"depth of a setup", setup(`{"version": 1}`), func() error { return setup(`{"version": 1, "lab": ` + strings.Repeat("[", 100_000)) }, capture.ErrSetup},
		{"entries of a list in a setup", setup(`{"version": 1, "table": {"ignore": [` + many(1000, `"a"`) + `]}}`), func() error { return setup(`{"version": 1, "table": {"ignore": [` + many(1001, `"a"`) + `]}}`) }, capture.ErrSetup},
		{"entries of a map in a setup", setup(`{"version": 1, "table": {"units": {` + numbered(1000, `"c%d": "N"`) + `}}}`), func() error {
			return setup(`{"version": 1, "table": {"units": {` + numbered(1001, `"c%d": "N"`) + `}}}`)
		}, capture.ErrSetup},
		{"number of a plate in a setup", setup(`{"version": 1, "plates": {"both": [255]}}`), func() error { return setup(`{"version": 1, "plates": {"both": [256]}}`) }, capture.ErrSetup},
		{"place of a point in a setup", setup(`{"version": 1, "lab": {"origin": ["9000 m", "0 m", "0 m"]}}`), func() error { return setup(`{"version": 1, "lab": {"origin": ["11000 m", "0 m", "0 m"]}}`) }, capture.ErrSetup},
		{"bands of a set", bands(`{"version": 1, "name": "n", "bands": [` + many(1000, band) + `]}`), func() error { return bands(`{"version": 1, "name": "n", "bands": [` + many(1001, band) + `]}`) }, screen.ErrBands},
		{"bytes of a set of bands", bands(`{"version": 1, "name": "n", "bands": [` + band + `]}`), func() error {
			return bands(strings.Repeat(" ", 1<<20) + `{"version": 1, "name": "n", "bands": [` + band + `]}`)
		}, screen.ErrBands},
		{"text in a set of bands", bands(`{"version": 1, "name": "` + strings.Repeat("n", 2000) + `", "bands": [` + band + `]}`), func() error {
			return bands(`{"version": 1, "name": "` + strings.Repeat("n", 2001) + `", "bands": [` + band + `]}`)
		}, screen.ErrBands},
		{"records of a C3D file", records(9_000), func() error { return records(10_001) }, c3d.ErrLimit},
		{"rate of a recording", recording(grf.MaxRate), func() error { return recording(1.01 * grf.MaxRate) }, grf.ErrRate},
		{"order of a filter", design(filter.MaxOrder), func() error { return design(filter.MaxOrder + 2) }, filter.ErrOrder},
		{"samples of a clock", clock(2e5), func() error { return clock(1 << 28) }, filter.ErrClock},
		{"cells of a mat", grid(1<<10, 1<<10), func() error { return grid(1<<10, 1<<10+1) }, cop.ErrGrid},
		{"cells of a mat, beyond any integer", nil, func() error { return grid(math.MaxInt, math.MaxInt) }, cop.ErrGrid},
		{"points of an outline", errOf(cop.NewFootOutline(cop.Lead, path[:1000], r3.Vec{X: 1})), func() error { return errOf(cop.NewFootOutline(cop.Lead, path, r3.Vec{X: 1})) }, cop.ErrFoot},
		{"lag of a tracker", tracker(9), func() error { return tracker(11) }, com.ErrOption},
		{"rate of a detector", online(1e4), func() error { return online(2e5) }, phase.ErrInput},
		{"points of a curve", nil, func() error { return curve(100_002) }, swing.ErrBase},
	} {
		if c.within != nil {
			t.Errorf("%s, as large as allowed: %v", c.name, c.within)
		}
		var before, after runtime.MemStats
		runtime.ReadMemStats(&before)
		err := c.beyond()
		runtime.ReadMemStats(&after)
		if !errors.Is(err, c.want) {
			t.Errorf("%s, beyond: %v, want %v", c.name, err, c.want)
		}
		if err != nil && len(err.Error()) > 2000 {
			t.Errorf("%s: a message of %d bytes", c.name, len(err.Error()))
		}
		// The inputs themselves are up to 1 MiB and some are made here.
		if got := after.TotalAlloc - before.TotalAlloc; got > 32<<20 {
			t.Errorf("%s: %d bytes were taken", c.name, got)
		}
	}
}

func errOf[T any](_ T, err error) error { return err }
