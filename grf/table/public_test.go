package table

import (
	"bytes"
	"math"
	"os"
	"path/filepath"
	"strconv"
	"testing"
)

// openData reads a file of the public data sets.
func openData(t *testing.T, name ...string) []byte {
	t.Helper()
	root := os.Getenv("GRF_DATASETS")
	if root == "" {
		t.Skip("set GRF_DATASETS to a folder with the public data sets; see validation/doc.go")
	}
	data, err := os.ReadFile(filepath.Join(append([]string{root}, name...)...))
	if err != nil {
		t.Skip(err)
	}
	return data
}

// A standing trial of Santos & Duarte, A public data set of human balance
// evaluations, PeerJ 4:e2648 (2016). The centre of pressure in the file follows
// from its forces and moments, whose units differ: cm against N and N·m.
func TestPublicStandingTrial(t *testing.T) {
	data := openData(t, "bds", "BDS00001.txt")
	tab, err := Decode(data, Options{})
	if err != nil {
		t.Fatal(err)
	}
	if tab.Rows != 6000 || tab.Rate != 100 || tab.Start != 0.01 || len(tab.Warnings) != 0 {
		t.Fatalf("got %d rows, %g Hz, start %g s, %v", tab.Rows, tab.Rate, tab.Start, tab.Warnings)
	}
	fz, _ := tab.Column("Fz")
	my, _ := tab.Column("My")
	x, ok := tab.Column("COPx")
	if !ok {
		t.Fatal(tab.Names())
	}
	for i := range x.Values {
		// Six decimals of a centimetre are 0.5e-8 m; My adds its own rounding.
		if d := math.Abs(x.Values[i] + my.Values[i]/fz.Values[i]); d > 1e-8 {
			t.Fatalf("row %d: centre of pressure off by %g m", i, d)
		}
	}
	// Every cell as strconv reads it.
	lines := bytes.Split(bytes.TrimSpace(data), []byte("\n"))[1:]
	for i, line := range lines {
		for c, cell := range bytes.Split(bytes.TrimRight(line, "\r"), []byte("\t")) {
			want, err := strconv.ParseFloat(string(cell), 64)
			if err != nil {
				t.Fatal(err)
			}
			got := tab.Time[i]
			if c > 0 {
				want *= tab.Columns[c-1].Unit.SI
				got = tab.Columns[c-1].Values[i]
			}
			if got != want {
				t.Fatalf("row %d, column %d: got %v, want %v", i, c, got, want)
			}
		}
	}
}

// Public tables whose headers name no units, in three layouts: from Duarte &
// Watanabe, Notes on Scientific Computing for Biomechanics and Motor Control,
// Zenodo 10.5281/zenodo.4599319, and dos Santos et al., PeerJ 5:e3626 (2017).
func TestPublicLayouts(t *testing.T) {
	tests := []struct {
		name []string
		opt  Options
		rate float64
		rows int
	}{
		{[]string{"jump", "jump1.txt"}, Options{}, 450, 4500},
		{[]string{"kistler", "kistler_fp_data.txt"}, Options{Units: map[string]string{
			"Channel 0": "V", "Channel 1": "V", "Channel 2": "V", "Channel 3": "V",
			"Channel 4": "V", "Channel 5": "V", "Channel 6": "V", "Channel 7": "V"}}, 100, 2000},
		{[]string{"com", "walk", "grf.csv"}, Options{Units: map[string]string{"t": "s", "Fx": "N", "Fy": "N", "Fz": "N"}}, 1000, 5361},
		{[]string{"com", "walk", "com_kinematic.csv"}, Options{Units: map[string]string{"t": "s", "x": "m", "y": "m", "z": "m"}}, 200, 1072},
	}
	for _, tt := range tests {
		t.Run(tt.name[len(tt.name)-1], func(t *testing.T) {
			tab, err := Decode(openData(t, tt.name...), tt.opt)
			if err != nil {
				t.Fatal(err)
			}
			if tab.Rate != tt.rate || tab.Rows != tt.rows {
				t.Errorf("got %.9g Hz and %d rows, want %g and %d; %v", tab.Rate, tab.Rows, tt.rate, tt.rows, tab.Warnings)
			}
		})
	}
}
