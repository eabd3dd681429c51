package page

import (
	"encoding/csv"
	"math"
	"strconv"
	"strings"
	"testing"

	"example.com/momentarm/phase/swing"
	"example.com/momentarm/validation/synth"
)

// The columns are a contract.
const columns = "time_s," +
	"lead_fx_N,lead_fy_N,lead_fz_N,lead_copx_m,lead_copy_m,lead_free_Nm," +
	"trail_fx_N,trail_fy_N,trail_fz_N,trail_copx_m,trail_copy_m,trail_free_Nm," +
	"net_fx_N,net_fy_N,net_fz_N,net_copx_m,net_copy_m,net_free_Nm," +
	"lead_share,com_x_m,com_y_m,com_z_m,moment_x_Nm,moment_y_Nm,moment_z_Nm," +
	"arm_frontal_m,arm_sagittal_m,arm_horizontal_m," +
	"lead_copx_sd_m,lead_copy_sd_m,lead_free_sd_Nm," +
	"trail_copx_sd_m,trail_copy_sd_m,trail_free_sd_Nm," +
	"net_copx_sd_m,net_copy_sd_m,net_free_sd_Nm," +
	"lead_share_sd,com_x_sd_m,com_y_sd_m,com_z_sd_m,moment_x_sd_Nm,moment_y_sd_Nm,moment_z_sd_Nm," +
	"arm_frontal_sd_m,arm_sagittal_sd_m,arm_horizontal_sd_m"

// cells returns the rows as numbers, NaN where a cell is empty.
func cells(t *testing.T, s *Subject) [][]float64 {
	t.Helper()
	data, err := s.CSV()
	if err != nil {
		t.Fatal(err)
	}
	rows, err := csv.NewReader(strings.NewReader(string(data))).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	if got := strings.Join(rows[0], ","); got != columns {
		t.Fatalf("columns are\n%s\nwant\n%s", got, columns)
	}
	var out [][]float64
	for _, row := range rows[1:] {
		var v []float64
		for _, c := range row {
			x := math.NaN()
			if c != "" {
				if x, err = strconv.ParseFloat(c, 64); err != nil || math.IsNaN(x) || math.IsInf(x, 0) {
					t.Fatalf("cell %q", c)
				}
			}
			v = append(v, x)
		}
		out = append(out, v)
	}
	return out
}

func TestSeriesHasWhatTheAnalysisHas(t *testing.T) {
	s := demoSubject(t) // begins with empty plates, so it has undefined values, too
	rows := cells(t, s)
	if len(rows) != len(s.Series.Time) {
		t.Fatalf("%d rows, want %d", len(rows), len(s.Series.Time))
	}
	empty := 0
	for i, row := range rows {
		x := s.Sample(i)
		want := []float64{x.Time,
			x.Lead.Force.X, x.Lead.Force.Y, x.Lead.Force.Z, x.LeadCOP.X, x.LeadCOP.Y, x.LeadFree,
			x.Trail.Force.X, x.Trail.Force.Y, x.Trail.Force.Z, x.TrailCOP.X, x.TrailCOP.Y, x.TrailFree,
			x.Net.Force.X, x.Net.Force.Y, x.Net.Force.Z, x.NetCOP.X, x.NetCOP.Y, x.NetFree,
			x.LeadShare, x.COM.X, x.COM.Y, x.COM.Z,
			x.Moment.Frontal, x.Moment.Sagittal, x.Moment.Horizontal,
			x.Arm.Frontal, x.Arm.Sagittal, x.Arm.Horizontal,
			x.LeadCOPSD.X, x.LeadCOPSD.Y, x.LeadFreeSD,
			x.TrailCOPSD.X, x.TrailCOPSD.Y, x.TrailFreeSD,
			x.NetCOPSD.X, x.NetCOPSD.Y, x.NetFreeSD,
			x.LeadShareSD, x.COMSD.X, x.COMSD.Y, x.COMSD.Z,
			x.MomentSD.Frontal, x.MomentSD.Sagittal, x.MomentSD.Horizontal,
			x.ArmSD.Frontal, x.ArmSD.Sagittal, x.ArmSD.Horizontal,
		}
		if len(row) != len(want) {
			t.Fatalf("%d columns, want %d", len(row), len(want))
		}
		for k, v := range want {
			if !same(row[k], v) {
				t.Fatalf("row %d, column %d is %v, want %v", i, k, row[k], v)
			}
			if math.IsNaN(v) {
				empty++
			}
		}
	}
	if empty == 0 {
		t.Error("no cell is empty: the test compared no undefined value")
	}
}

func TestSeriesOfOnePlate(t *testing.T) {
	s := made(t, synth.Config{}, swing.Options{}, onePlate)
	for i, row := range cells(t, s) {
		for k := 1; k <= 12; k++ {
			if !math.IsNaN(row[k]) {
				t.Fatalf("row %d has a foot's value, although the feet were not measured apart", i)
			}
		}
		for k := 29; k < 35; k++ {
			if !math.IsNaN(row[k]) {
				t.Fatalf("row %d has the deviation of a foot's value", i)
			}
		}
		if row[15] != s.Series.Net[i].Force.Z || !math.IsNaN(row[19]) {
			t.Fatalf("row %d: net vertical force %v, share %v", i, row[15], row[19])
		}
	}
}
