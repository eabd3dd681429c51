package synth

import (
	"bufio"
	"fmt"
	"io"
	"math"

	"example.com/momentarm/grf"
)

// WriteTable writes a recording as a table in swing axes: a time column and,
// for each foot or for both together, force and moment about the origin, with
// the units in the header. NaN becomes an empty cell.
func WriteTable(w io.Writer, rec *grf.Recording) error {
	if err := rec.Check(); err != nil {
		return err
	}
	names, series := []string{"net"}, [][]grf.Wrench{rec.Net}
	if rec.Split() {
		names, series = []string{"lead", "trail"}, [][]grf.Wrench{rec.Lead, rec.Trail}
	}
	b := bufio.NewWriter(w)
	fmt.Fprint(b, "time [s]")
	for _, name := range names {
		for _, c := range []string{"fx [N]", "fy [N]", "fz [N]", "mx [N·m]", "my [N·m]", "mz [N·m]"} {
			fmt.Fprintf(b, ",%s_%s", name, c)
		}
	}
	for i := range rec.Len() {
		fmt.Fprintf(b, "\n%.6f", rec.Time(i))
		for _, ws := range series {
			f, m := ws[i].Force, ws[i].Moment
			for _, v := range []float64{f.X, f.Y, f.Z, m.X, m.Y, m.Z} {
				if math.IsNaN(v) {
					fmt.Fprint(b, ",")
				} else {
					fmt.Fprintf(b, ",%.4f", v)
				}
			}
		}
	}
	fmt.Fprintln(b)
	return b.Flush()
}
