package acceptance

import (
	"encoding/json"
	"fmt"
	"io"
	"math"
	"strconv"
	"strings"
	"text/tabwriter"
)

// WriteText writes the report as tables for people.
func (r *Report) WriteText(w io.Writer) error {
	t := newTable()
	t.row("", "value", "limit", "")
	for _, i := range r.Items {
		note := i.Verdict.String()
		if i.Note != "" {
			note += ": " + i.Note
		}
		limit := "none"
		if i.Limit > 0 {
			limit = shown(i.Limit, i.Unit)
		}
		t.row(i.Label, shown(i.Value, i.Unit), limit, note)
	}
	t.text("\n")
	t.row("place x", "y", "readings", "error x", "error y", "load")
	for _, p := range r.Places {
		t.row(shown(p.X, "m"), shown(p.Y, "m"), strconv.Itoa(p.Readings), shown(p.ErrorX, "m"), shown(p.ErrorY, "m"), shown(p.LoadError, "1"))
	}
	t.text("\n%d readings at %d places", len(r.Results), len(r.Places))
	if !math.IsNaN(r.Gain) {
		sign := "+"
		if r.Offset < 0 {
			sign = "−"
		}
		t.text("; measured load = %.4f × load %s %.1f N", r.Gain, sign, math.Abs(r.Offset))
	}
	t.text("\nverdict: %v\n", r.Verdict)
	return t.write(w)
}

// String returns what WriteText writes.
func (r *Report) String() string { return text(r.WriteText) }

func text(write func(io.Writer) error) string {
	var b strings.Builder
	if err := write(&b); err != nil { // a strings.Builder does not fail
		return err.Error()
	}
	return b.String()
}

// shown writes a value with few digits: lengths in millimetres, parts in per cent.
func shown(v float64, unit string) string {
	switch {
	case math.IsNaN(v):
		return "n/a"
	case unit == "m":
		return plain(1000*v, 1) + " mm"
	}
	return plain(100*v, 2) + " %"
}

// plain writes a number without a negative zero, with the sign that people read.
func plain(v float64, decimals int) string {
	s := strconv.FormatFloat(math.Abs(v), 'f', decimals, 64)
	if v < 0 && strings.ContainsAny(s, "123456789") {
		return "−" + s
	}
	return s
}

// table lines columns up.
type table struct {
	b strings.Builder
	t *tabwriter.Writer
}

func newTable() *table {
	t := new(table)
	t.t = tabwriter.NewWriter(&t.b, 0, 0, 2, ' ', 0)
	return t
}

func (t *table) row(cells ...string) { fmt.Fprintln(t.t, strings.Join(cells, "\t")) }

// text ends the columns and goes on with text.
func (t *table) text(format string, a ...any) {
	t.t.Flush()
	fmt.Fprintf(&t.b, format, a...)
}

// write flushes the columns and hands the lines over, without blanks at their ends.
func (t *table) write(w io.Writer) error {
	t.t.Flush()
	for line := range strings.Lines(t.b.String()) {
		if _, err := io.WriteString(w, strings.TrimRight(line, " \n")+"\n"); err != nil {
			return err
		}
	}
	return nil
}

// number is a float64 whose JSON form is null when it is not finite.
type number float64

// MarshalJSON implements [json.Marshaler].
func (n number) MarshalJSON() ([]byte, error) {
	if v := float64(n); !math.IsNaN(v) && !math.IsInf(v, 0) {
		return json.Marshal(v)
	}
	return []byte("null"), nil
}

// MarshalJSON writes the report with its units in the names: m, N, N·m and parts of
// 1. What is undefined, and a limit that there is not, is null.
func (r *Report) MarshalJSON() ([]byte, error) {
	type item struct {
		Name    string  `json:"name"`
		Label   string  `json:"label"`
		Value   number  `json:"value"`
		Unit    string  `json:"unit"`
		Limit   *number `json:"limit"`
		Verdict Verdict `json:"verdict"`
		Note    string  `json:"note,omitempty"`
	}
	type result struct {
		Name     string `json:"name,omitempty"`
		Load     number `json:"load_N"`
		X        number `json:"x_m"`
		Y        number `json:"y_m"`
		Measured number `json:"measured_N"`
		ErrorX   number `json:"error_x_m"`
		ErrorY   number `json:"error_y_m"`
		Fx       number `json:"fx_N"`
		Fy       number `json:"fy_N"`
		Twist    number `json:"twist_Nm"`
	}
	type place struct {
		X         number `json:"x_m"`
		Y         number `json:"y_m"`
		Readings  int    `json:"readings"`
		ErrorX    number `json:"error_x_m"`
		ErrorY    number `json:"error_y_m"`
		LoadError number `json:"load_error"`
	}
	out := struct {
		Verdict Verdict  `json:"verdict"`
		Items   []item   `json:"items"`
		Gain    number   `json:"gain"`
		Offset  number   `json:"offset_N"`
		BiasX   number   `json:"bias_x_m"`
		BiasY   number   `json:"bias_y_m"`
		Places  []place  `json:"places"`
		Results []result `json:"readings"`
	}{Verdict: r.Verdict, Gain: number(r.Gain), Offset: number(r.Offset), BiasX: number(r.BiasX), BiasY: number(r.BiasY)}
	for _, i := range r.Items {
		j := item{i.Name, i.Label, number(i.Value), i.Unit, nil, i.Verdict, i.Note}
		if i.Limit > 0 {
			l := number(i.Limit)
			j.Limit = &l
		}
		out.Items = append(out.Items, j)
	}
	for _, p := range r.Places {
		out.Places = append(out.Places, place{number(p.X), number(p.Y), p.Readings, number(p.ErrorX), number(p.ErrorY), number(p.LoadError)})
	}
	for _, s := range r.Results {
		out.Results = append(out.Results, result{s.Name, number(s.Load), number(s.X), number(s.Y), number(s.Measured),
			number(s.ErrorX), number(s.ErrorY), number(s.Fx), number(s.Fy), number(s.Twist)})
	}
	return json.Marshal(out)
}

// MarshalJSON writes the placement with plates counted from 1, as people do. What is
// undefined is null.
func (p *Placement) MarshalJSON() ([]byte, error) {
	type fit struct {
		Turn     int    `json:"turn_deg"`
		Mirrored bool   `json:"mirrored"`
		RMS      number `json:"rms_m"`
		Worst    number `json:"worst_m"`
	}
	type push struct {
		Turn     int    `json:"turn_deg"`
		Mirrored bool   `json:"mirrored"`
		RMS      number `json:"rms_rad"`
	}
	type plate struct {
		Plate        int          `json:"plate"`
		Place        *int         `json:"place"`
		Points       int          `json:"points"`
		Declared     fit          `json:"declared"`
		Best         fit          `json:"best"`
		Next         fit          `json:"next"`
		ShiftX       number       `json:"shift_x_m"`
		ShiftY       number       `json:"shift_y_m"`
		Pushes       int          `json:"pushes"`
		DeclaredPush push         `json:"declared_push"`
		BestPush     push         `json:"best_push"`
		PushInBest   push         `json:"push_in_best"`
		Corners      [4][3]number `json:"corners_m"`
		Verdict      Verdict      `json:"verdict"`
		Text         string       `json:"text"`
	}
	fitOf := func(f Fit) fit { return fit{f.Turn, f.Mirrored, number(f.RMS), number(f.Worst)} }
	pushOf := func(f PushFit) push { return push{f.Turn, f.Mirrored, number(f.RMS)} }
	out := struct {
		Verdict Verdict `json:"verdict"`
		Plates  []plate `json:"plates"`
	}{Verdict: p.Verdict}
	for _, f := range p.Plates {
		j := plate{
			Plate: f.Plate + 1, Points: f.Points, Declared: fitOf(f.Declared), Best: fitOf(f.Best), Next: fitOf(f.Next),
			ShiftX: number(f.ShiftX), ShiftY: number(f.ShiftY), Pushes: f.Pushes,
			DeclaredPush: pushOf(f.DeclaredPush), BestPush: pushOf(f.BestPush), PushInBest: pushOf(f.PushInBest),
			Verdict: f.Verdict, Text: f.Text,
		}
		if f.Place >= 0 {
			place := f.Place + 1
			j.Place = &place
		}
		for k, c := range f.Corners {
			j.Corners[k] = [3]number{number(c.X), number(c.Y), number(c.Z)}
		}
		out.Plates = append(out.Plates, j)
	}
	return json.Marshal(out)
}
