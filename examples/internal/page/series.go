package page

import (
	"math"
	"strconv"
	"strings"

	"gonum.org/v1/gonum/spatial/r3"

	"example.com/momentarm/grf"
)

// seriesHeader names the columns of the series, in their order: swing axes, SI.
func seriesHeader() []string {
	h := []string{"time_s"}
	for _, side := range []string{"lead_", "trail_", "net_"} {
		for _, c := range []string{"fx_N", "fy_N", "fz_N", "copx_m", "copy_m", "free_Nm"} {
			h = append(h, side+c)
		}
	}
	return append(h, "lead_share",
		"com_x_m", "com_y_m", "com_z_m",
		"moment_x_Nm", "moment_y_Nm", "moment_z_Nm",
		"arm_frontal_m", "arm_sagittal_m", "arm_horizontal_m")
}

// CSV returns the series, one row per sample. Numbers read back exactly; a cell is
// empty where the value is undefined. No text of the capture gets in, so there is
// nothing that a spreadsheet could take for a formula.
func (s *Subject) CSV() ([]byte, error) {
	x := s.Series
	b := []byte(strings.Join(seriesHeader(), ",") + "\n")
	nan := math.NaN()
	cell := func(v float64) {
		if !math.IsNaN(v) && !math.IsInf(v, 0) {
			b = strconv.AppendFloat(b, v+0, 'g', -1, 64) // no -0
		}
		b = append(b, ',')
	}
	foot := func(w []grf.Wrench, p []r3.Vec, free []float64, i int) {
		if w == nil { // the feet were not measured apart
			w, p, free, i = []grf.Wrench{grf.NaN()}, []r3.Vec{{X: nan, Y: nan}}, []float64{nan}, 0
		}
		cell(w[i].Force.X)
		cell(w[i].Force.Y)
		cell(w[i].Force.Z)
		cell(p[i].X)
		cell(p[i].Y)
		cell(free[i])
	}
	for i, t := range x.Time {
		cell(t)
		foot(x.Lead, x.LeadCOP, x.LeadFree, i)
		foot(x.Trail, x.TrailCOP, x.TrailFree, i)
		foot(x.Net, x.NetCOP, x.NetFree, i)
		share := nan
		if x.LeadShare != nil {
			share = x.LeadShare[i]
		}
		cell(share)
		cell(x.COM[i].X)
		cell(x.COM[i].Y)
		cell(x.COM[i].Z)
		cell(x.Moment[i].Frontal)
		cell(x.Moment[i].Sagittal)
		cell(x.Moment[i].Horizontal)
		cell(x.Arm[i].Frontal)
		cell(x.Arm[i].Sagittal)
		cell(x.Arm[i].Horizontal)
		b[len(b)-1] = '\n'
	}
	return b, nil
}
