package table_test

import (
	"errors"
	"fmt"

	"example.com/momentarm/grf/table"
)

func ExampleDecode() {
	file := []byte(`rate: 500 Hz
Fz [kN];COPx [cm]
0,7512;12,5
0,7498;
`)
	t, err := table.Decode(file, table.Options{})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(t.Rows, "rows at", t.Rate, "Hz")
	for _, c := range t.Columns {
		fmt.Printf("%s %v %.4g\n", c.Name, c.Unit.Quantity, c.Values)
	}
	for _, w := range t.Warnings {
		fmt.Println(w)
	}
	// Output:
	// 2 rows at 500 Hz
	// Fz force [751.2 749.8]
	// COPx length [0.125 NaN]
	// numbers were read with the comma as decimal mark (decimal-comma)
}

func ExampleError() {
	file := []byte("time[s],Fz[N]\n0.000,751\n0.001,75l\n")
	_, err := table.Decode(file, table.Options{})
	fmt.Println(err)
	var place *table.Error
	if errors.As(err, &place) {
		fmt.Println(place.Line, place.Column, errors.Is(err, table.ErrNumber))
	}
	// Output:
	// table: line 3, column 2 (Fz): "75l" is not a number; leave the cell empty where nothing was measured
	// 3 2 true
}

// A header without units is not guessed at; whoever knows them can declare them.
func ExampleOptions_units() {
	file := []byte("t,Fz\n0.00,751\n0.01,752\n")
	_, err := table.Decode(file, table.Options{})
	fmt.Println(err)
	t, err := table.Decode(file, table.Options{Units: map[string]string{"t": "s", "Fz": "N"}})
	fmt.Println(t.Rate, err)
	// Output:
	// table: line 1, column 1 (t): no unit: write it behind the name as in Fx[N], [1] for a pure number, or declare or ignore the column in the options
	// 100 <nil>
}
