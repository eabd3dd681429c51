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
	b := []byte(strings.Join(seriesHeader(), ",") + "\n")
	cell := func(v float64) {
		if !math.IsNaN(v) && !math.IsInf(v, 0) {
			b = strconv.AppendFloat(b, v+0, 'g', -1, 64) // no -0
		}
		b = append(b, ',')
	}
	foot := func(w grf.Wrench, p r3.Vec, free float64) {
		cell(w.Force.X)
		cell(w.Force.Y)
		cell(w.Force.Z)
		cell(p.X)
		cell(p.Y)
		cell(free)
	}
	uncertain := func(p r3.Vec, free float64) {
		cell(p.X)
		cell(p.Y)
		cell(free)
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
	for i := range s.Series.Time {
		at := s.Sample(i)
		cell(at.Time)
		foot(at.Lead, at.LeadCOP, at.LeadFree)
		foot(at.Trail, at.TrailCOP, at.TrailFree)
		foot(at.Net, at.NetCOP, at.NetFree)
		cell(at.LeadShare)
		vector(at.COM)
		planes(at.Moment)
		planes(at.Arm)
		uncertain(at.LeadCOPSD, at.LeadFreeSD)
		uncertain(at.TrailCOPSD, at.TrailFreeSD)
		uncertain(at.NetCOPSD, at.NetFreeSD)
		cell(at.LeadShareSD)
		vector(at.COMSD)
		planes(at.MomentSD)
		planes(at.ArmSD)
		b[len(b)-1] = '\n'
	}
	return b, nil
}
