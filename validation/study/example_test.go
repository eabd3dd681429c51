package study_test

import (
	"fmt"

	"example.com/momentarm/phase"
	"example.com/momentarm/validation/study"
)

// How well events come out on a few made-up swings; a real study takes a thousand.
func ExampleEvents() {
	table := study.Events(study.Options{Swings: 3})
	for _, row := range table.Rows {
		if row.Event == phase.LowestVertical {
			fmt.Println(row.Event, row.Found, "found of", row.There)
		}
	}
	// Output: lowest_vertical 3 found of 3
}
