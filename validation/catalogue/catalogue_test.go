package catalogue

import (
	"errors"
	"fmt"
	"slices"
	"testing"

	"example.com/momentarm/grf"
	"example.com/momentarm/grf/c3d"
)

// want is what must come out of a row.
type want struct {
	class string
	err   error
	codes []string // each of these, in any order, others may be there
}

func fails(err error) want          { return want{class: "error", err: err} }
func warns(codes ...string) want    { return want{class: "warning", codes: codes} }
func defined() want                 { return want{class: "defined"} }
func notHere() want                 { return want{class: "not of this library"} }
func (w want) String() string       { return w.class }
func list(w ...[]row) (all []row)   { return slices.Concat(w...) }
func text(f string, a ...any) error { return fmt.Errorf(f, a...) }

// row is one kind of bad input.
type row struct {
	number int
	input  string
	want   want
	// run puts it to the library. It returns the warnings and the error that came;
	// what else has to hold it tells with t.
	run func(t *testing.T) ([]grf.Warning, error)
	// note says where the row is not followed to the letter, or why it has nothing
	// to run.
	note string
}

// check runs a row.
func (r row) check(t *testing.T) {
	if r.run == nil {
		if r.want.class != notHere().class || r.note == "" {
			t.Fatal("neither something to run nor a reason")
		}
		t.Log(r.note)
		return
	}
	warnings, err := r.run(t)
	for _, w := range warnings {
		if w.Code == "" || w.Text == "" {
			t.Errorf("a warning without code or text: %+v", w)
		}
	}
	switch r.want.class {
	case "error":
		if !errors.Is(err, r.want.err) {
			t.Errorf("error %v, want %v", err, r.want.err)
		}
	case "warning":
		if err != nil {
			t.Fatal(err)
		}
		for _, code := range r.want.codes {
			if !slices.ContainsFunc(warnings, func(w grf.Warning) bool { return w.Code == code }) {
				t.Errorf("no warning %q among %v", code, warnings)
			}
		}
	case "defined":
		if err != nil {
			t.Fatal(err)
		}
		if len(warnings) > 0 {
			t.Errorf("warnings %v", warnings)
		}
	}
}

// rows is the number of kinds of bad input.
const rows = 188

// TestBadInput puts every row to the library. Their numbers have no gaps, so that a
// row can not be lost.
func TestBadInput(t *testing.T) {
	all := list(structureRows, layoutRows, pointRows, channelRows, plateRows, numberRows, signalRows, statisticsRows, bodyRows, writeRows)
	slices.SortStableFunc(all, func(a, b row) int { return a.number - b.number })
	counts := map[string]int{}
	for i, r := range all {
		if r.number != i+1 {
			t.Fatalf("row %d stands at place %d: %s", r.number, i+1, r.input)
		}
		counts[r.want.class]++
		t.Run(fmt.Sprintf("%03d %s: %s", r.number, r.want, r.input), r.check)
	}
	if len(all) != rows {
		t.Errorf("%d rows, want %d", len(all), rows)
	}
	t.Log(counts)
}

// both runs several forms of a row and joins what comes out; the error is that of
// the first form that does not have the one that is wanted, if any.
func both(want error, forms ...func(t *testing.T) error) func(t *testing.T) ([]grf.Warning, error) {
	return func(t *testing.T) ([]grf.Warning, error) {
		var last error
		for i, f := range forms {
			err := f(t)
			if !errors.Is(err, want) {
				return nil, text("form %d: %w", i+1, orNone(err))
			}
			last = err
		}
		return nil, last
	}
}

var errNone = errors.New("no error")

func orNone(err error) error {
	if err == nil {
		return errNone
	}
	return err
}

// decoded makes a row's run of a C3D file: strict reading refuses what has a warning
// and takes what has none.
func decoded(data func(t *testing.T) []byte, check func(t *testing.T, f *c3d.File)) func(t *testing.T) ([]grf.Warning, error) {
	return decodedWith(c3d.Options{}, data, check)
}

func decodedWith(opt c3d.Options, data func(t *testing.T) []byte, check func(t *testing.T, f *c3d.File)) func(t *testing.T) ([]grf.Warning, error) {
	return func(t *testing.T) ([]grf.Warning, error) {
		b := data(t)
		f, err := c3d.Decode(b, opt)
		strict := opt
		strict.Strict = true
		s, strictErr := c3d.Decode(b, strict)
		if (s == nil) != (err != nil || len(f.Warnings) > 0) {
			t.Errorf("strict reading: %v; warnings %v", strictErr, f.Warnings)
		}
		if err != nil {
			if f != nil {
				t.Error("a file beside the error")
			}
			var place *c3d.FormatError
			if !errors.As(err, &place) {
				t.Errorf("an error without a place: %v", err)
			}
			return nil, err
		}
		for _, w := range f.Warnings {
			if w.Where == "" {
				t.Errorf("a warning without a place: %+v", w)
			}
		}
		if check != nil {
			check(t, f)
		}
		return f.Warnings, nil
	}
}
