package validation

import (
	_ "embed"
	"encoding/json"
	"fmt"
)

// scipyJSON is written by testdata/gen/scipy_cases.py.
//
//go:embed testdata/scipy.json
var scipyJSON []byte

// sciPyCases holds cases whose expected values NumPy and SciPy computed.
func sciPyCases() []Case {
	var file struct {
		SciPy, NumPy string
		Cases        []Case
	}
	if err := json.Unmarshal(scipyJSON, &file); err != nil {
		panic(fmt.Sprintf("validation: testdata/scipy.json: %v", err)) // shipped with the package
	}
	return file.Cases
}
