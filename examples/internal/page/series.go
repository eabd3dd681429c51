package page

import (
	"math"
	"strconv"
	"strings"

	"gonum.org/v1/gonum/spatial/r3"

	"example.com/momentarm/grf"
	"example.com/momentarm/torque"
)

// seriesHeader names the columns of the series, in their order: swing axes, SI.
// Those with _sd are the standard deviations of the columns without.
func seriesHeader() []string {
	h := []string{"time_s"}
	for _, side := range []string{"lead_", "trail_", "net_"} {
		for _, c := range []string{"fx_N", "fy_N", "fz_N", "copx_m", "copy_m", "free_Nm"} {
			h = append(h, side+c)
		}
	}
	h = append(h, "lead_share",
		"com_x_m", "com_y_m", "com_z_m",
		"moment_x_Nm", "moment_y_Nm", "moment_z_Nm",
		"arm_frontal_m", "arm_sagittal_m", "arm_horizontal_m")
	for _, side := range []string{"lead_", "trail_", "net_"} {
		h = append(h, side+"copx_sd_m", side+"copy_sd_m", side+"free_sd_Nm")
	}
	return append(h, "lead_share_sd",
		"com_x_sd_m", "com_y_sd_m", "com_z_sd_m",
		"moment_x_sd_Nm", "moment_y_sd_Nm", "moment_z_sd_Nm",
		"arm_frontal_sd_m", "arm_sagittal_sd_m", "arm_horizontal_sd_m")
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
	uncertain := func(p []r3.Vec, free []float64, i int) {
		v := at(p, r3.Vec{X: nan, Y: nan}, i)
		cell(v.X)
		cell(v.Y)
		cell(at(free, nan, i))
	}
	vector := func(v r3.Vec) {
		cell(v.X)
		cell(v.Y)
		cell(v.Z)
	}
	planes := func(p torque.Planes) {
		cell(p.Frontal)
		cell(p.Sagittal)
		cell(p.Horizontal)
	}
	nowhere, unknown := r3.Vec{X: nan, Y: nan, Z: nan}, torque.Planes{Frontal: nan, Sagittal: nan, Horizontal: nan}
	for i, t := range x.Time {
		cell(t)
		foot(x.Lead, x.LeadCOP, x.LeadFree, i)
		foot(x.Trail, x.TrailCOP, x.TrailFree, i)
		foot(x.Net, x.NetCOP, x.NetFree, i)
		cell(at(x.LeadShare, nan, i))
		vector(x.COM[i])
		planes(x.Moment[i])
		planes(x.Arm[i])
		uncertain(x.LeadCOPSD, x.LeadFreeSD, i)
		uncertain(x.TrailCOPSD, x.TrailFreeSD, i)
		uncertain(x.NetCOPSD, x.NetFreeSD, i)
		cell(at(x.LeadShareSD, nan, i))
		vector(at(x.COMSD, nowhere, i))
		planes(at(x.MomentSD, unknown, i))
		planes(at(x.ArmSD, unknown, i))
		b[len(b)-1] = '\n'
	}
	return b, nil
}

// at returns the i-th value of a series, absent where there is no series.
func at[T any](series []T, absent T, i int) T {
	if series == nil {
		return absent
	}
	return series[i]
}
