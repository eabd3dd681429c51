package validation

import (
	"os"
	"testing"
	"testing/fstest"
)

// datasets returns the folder with the public data sets or skips the test.
func datasets(t *testing.T) string {
	t.Helper()
	folder := os.Getenv(DatasetsVariable)
	if folder == "" {
		t.Skipf("set %s to a folder with the public data sets; see validation/doc.go", DatasetsVariable)
	}
	return folder
}

func TestDatasets(t *testing.T) {
	cases, skipped, err := DatasetCases(os.DirFS(datasets(t)))
	if err != nil {
		t.Error(err)
	}
	for _, s := range skipped {
		t.Log("skipped: " + s)
	}
	for _, c := range cases {
		if err := c.check(); err != nil {
			t.Error(err)
		}
		if p := sourceProblem(c); p != "" {
			t.Errorf("%s: %s: %s", c.ID, p, c.Source)
		}
	}
	if len(cases) == 0 {
		t.Skip("none of the data sets is there")
	}
	r := CheckCases(Library(), cases)
	if err := r.Err(); err != nil {
		t.Error(err)
	}
	for _, res := range r.Results {
		if res.Status == Unsupported {
			t.Errorf("%s: %s is not supported by the library itself", res.ID, res.Output)
		}
	}
	t.Log(r.Counts())
}

// The seeds are in testdata/fuzz.
func FuzzReadColumns(f *testing.F) {
	f.Fuzz(func(t *testing.T, text string) {
		c, err := readColumns(fstest.MapFS{"t.csv": {Data: []byte(text)}}, "t.csv", ',')
		if err != nil {
			return
		}
		for head, x := range c.numbers {
			if len(x) != c.rows {
				t.Errorf("column %q has %d of %d rows", head, len(x), c.rows)
			}
		}
	})
}

// Small data sets in the form of the real ones go the whole way.
func TestDatasetsInMiniature(t *testing.T) {
	text := func(s string) *fstest.MapFile { return &fstest.MapFile{Data: []byte(s)} }
	bds := "Time[s]\tFx[N]\tFy[N]\tFz[N]\tMx[Nm]\tMy[Nm]\tMz[Nm]\tCOPx[cm]\tCOPy[cm]\n" +
		"0.01\t0\t0\t500\t0\t0\t0\t0\t0\n0.02\t0\t0\t500\t0\t-5\t0\t1\t0\n0.03\t0\t0\t500\t5\t-5\t0\t1\t1\n0.04\t0\t0\t500\t5\t0\t0\t0\t1\n"
	folder := fstest.MapFS{
		"bds/published_metrics.csv": text("Trial,COParea_cm2,COPvelo_cm_s,COPmfreq_Hz\nBDS1,1,75,1\n"),
		"bds/BDS1.txt":              text(bds),
	}
	cases, skipped, err := DatasetCases(folder)
	if err != nil || len(cases) != 2 || len(skipped) != 6 {
		t.Fatalf("%d cases, %d skipped, %v", len(cases), len(skipped), err)
	}
	for _, r := range CheckCases(Library(), cases).Results {
		// Three steps of 1 cm in N/rate = 0.04 s; the other two are made up.
		if r.Output == "mean_velocity" && r.Status != Passed {
			t.Errorf("%s: %s", r.ID, r.Message)
		}
		if r.Output == "ellipse_area" && r.Status != Missed {
			t.Errorf("%s: a wrong area passed", r.ID)
		}
	}
	folder["bds/BDS1.txt"] = text("Time[s]\tCOPx[cm]\n0.01\t0\n")
	if _, _, err := DatasetCases(folder); err == nil {
		t.Error("no error for a file without its columns")
	}
	delete(folder, "bds/BDS1.txt")
	if _, _, err := DatasetCases(folder); err != nil {
		t.Errorf("trials that are not there: %v", err)
	}
	if _, skipped, err := DatasetCases(fstest.MapFS{}); err != nil || len(skipped) != 7 {
		t.Errorf("nothing there: %v, %v", skipped, err)
	}
}
