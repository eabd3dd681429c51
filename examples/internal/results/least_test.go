package results_test

import (
	"fmt"
	"testing"

	"example.com/momentarm/examples/internal/results"
	"example.com/momentarm/phase/swing"
)

// The number that the programs tell is the one by which the library decides.
func TestLeastSwings(t *testing.T) {
	day := func(n int, mean float64) *swing.Session {
		var list []*swing.Analysis
		for i := range n {
			list = append(list, &swing.Analysis{BodyWeight: 800, Measures: []swing.Measure{{Name: "x", Unit: "N", Value: mean + float64(i%2)}}})
		}
		s, err := swing.NewSession(list)
		if err != nil {
			t.Fatal(err)
		}
		return s
	}
	for n, want := range map[int]swing.Answer{results.LeastSwings - 1: swing.NotDecidable, results.LeastSwings: swing.Changed} {
		t.Run(fmt.Sprint(n), func(t *testing.T) {
			c, err := swing.Compare(day(n, 100), day(n, 200), swing.ChangeOptions{})
			if err != nil || c.Changes[0].Answer != want {
				t.Errorf("%d swings a day: %v, %v, want %v", n, c.Changes[0].Answer, err, want)
			}
		})
	}
}
