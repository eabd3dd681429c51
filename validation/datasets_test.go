package validation

import (
	"os"
	"testing"
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
	}
	if len(cases) == 0 {
		t.Skip("none of the data sets is there")
	}
	r := Check(Library(), cases)
	if err := r.Err(); err != nil {
		t.Error(err)
	}
	t.Log(r.Counts())
}
