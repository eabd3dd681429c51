package capture_test

import (
	"strings"
	"testing"

	"example.com/momentarm/grf/capture"
)

// Columns of which one is missing are not passed over in silence: those of a foot or
// a numbered plate are an error, others a warning.
func TestIncompleteColumns(t *testing.T) {
	const foot = "5,-20,400,160,-40,3"
	table := func(header, row string) []byte {
		return []byte("rate: 100 Hz\n" + header + "\n" + strings.Repeat(row+"\n", 12))
	}
	whole := func(prefix, suffix string) string {
		var names []string
		for _, n := range []string{"Fx%s [N]", "Fy%s [N]", "Fz%s [N]", "Mx%s [N·m]", "My%s [N·m]", "Mz%s [N·m]"} {
			names = append(names, prefix+strings.ReplaceAll(n, "%s", suffix))
		}
		return strings.Join(names, ",")
	}
	const lab = `"lab": {"up": "+z", "target": "+y"}, "sense": "reaction"`
	for _, c := range []struct {
		name, header, row, setup, says, warns string
	}{
		{"a foot without a moment", strings.Replace(whole("l_", ""), "l_My", "l_Qy", 1) + "," + whole("r_", ""), foot + "," + foot, lab, "of its moments only l_Mx, l_Mz", ""},
		{"a foot without moments", "left_Fx [N],left_Fy [N],left_Fz [N]," + whole("right_", ""), "5,-20,400," + foot, lab, "left_Fx, left_Fy, left_Fz has neither moments nor a centre of pressure", ""},
		{"a plate without moments", whole("", "1") + ",Fx2 [N],Fy2 [N],Fz2 [N]", foot + ",5,-20,400", lab, "Fx2, Fy2, Fz2 has neither", ""},
		{"something else", whole("", "") + ",grip_Fx [N],grip_Fy [N],grip_Fz [N]", foot + ",1,2,3", lab, "", "columns-unused"},
		{"something else, left aside", whole("", "") + ",grip_Fx [N],grip_Fy [N],grip_Fz [N]", foot + ",1,2,3", lab + `, "table": {"ignore": ["grip_Fx", "grip_Fy", "grip_Fz"]}`, "", ""},
	} {
		setup, err := capture.ReadSetup(strings.NewReader(`{"version": 1, ` + c.setup + `}`))
		if err != nil {
			t.Fatal(c.name, err)
		}
		r, err := capture.Read("swing.csv", table(c.header, c.row), setup, nil)
		if c.says != "" {
			if err == nil || !strings.Contains(err.Error(), c.says) {
				t.Errorf("%s: %v, want %q", c.name, err, c.says)
			}
			continue
		}
		if err != nil {
			t.Errorf("%s: %v", c.name, err)
			continue
		}
		got := ""
		for _, w := range r.Warnings {
			if w.Code == "columns-unused" {
				got = w.Code
			}
		}
		if got != c.warns {
			t.Errorf("%s: warning %q, want %q", c.name, got, c.warns)
		}
	}
}

// A rate that no plate has is doubted, not refused.
func TestDoubtfulRate(t *testing.T) {
	for rate, doubted := range map[string]bool{"1000 Hz": false, "100 Hz": false, "1000 kHz": true, "5 Hz": true} {
		data := "rate: " + rate + "\nFx [N],Fy [N],Fz [N],Mx [N·m],My [N·m],Mz [N·m]\n" + strings.Repeat("5,-20,400,160,-40,3\n", 12)
		setup := &capture.Setup{Version: 1, Sense: "reaction", Lab: capture.Lab{Up: capture.Direction{Z: 1}, Target: capture.Direction{Y: 1}}}
		r, err := capture.Read("swing.csv", []byte(data), setup, nil)
		if err != nil {
			t.Fatal(rate, err)
		}
		found := false
		for _, w := range r.Warnings {
			found = found || w.Code == "rate-doubtful"
		}
		if found != doubted {
			t.Errorf("%s: doubted %v", rate, found)
		}
	}
}
