package results_test

import (
	"encoding/json"
	"math"
	"strings"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"example.com/momentarm/cop/com"
	"example.com/momentarm/examples/internal/demo"
	"example.com/momentarm/examples/internal/results"
)

func TestQuality(t *testing.T) {
	s, err := demo.Source().Analyse()
	if err != nil {
		t.Fatal(err)
	}
	q := results.Of(s).Quality
	if q == nil || math.Abs(float64(q.HorizontalAtRest[1])) > 4 || math.Abs(float64(q.Impulse[2])) > 8 || q.Outside != 0 || len(q.Sources) != 0 {
		t.Errorf("%+v", q)
	}
	s.Quality.Newton = []*com.MotionFit{nil, {Source: "camera", Resting: r3.Vec{Z: 3}, MassError: r3.Vec{Z: 0.01}, Chi2: 1.5}}
	s.Quality.Outside = math.NaN()
	text, err := json.Marshal(results.Of(s).Quality)
	if err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{`"pressure_outside_stance_percent":null`, `"name":"camera"`, `"missing_force_N":[0,0,3]`, `"mass_error_percent":1,`, `"residual_chi_squared":1.5`} {
		if !strings.Contains(string(text), want) {
			t.Errorf("no %s in %s", want, text)
		}
	}
	s.Quality = nil
	if q := results.Of(s).Quality; q != nil {
		t.Errorf("%+v of nothing", q)
	}
}
