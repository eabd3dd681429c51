package main

import (
	"encoding/json"
	"fmt"
	"io"
	"math"
	"strings"

	"gonum.org/v1/gonum/spatial/r3"

	"example.com/momentarm/examples/internal/safe"
	"example.com/momentarm/grf"
	"example.com/momentarm/grf/c3d"
	"example.com/momentarm/grf/capture"
	"example.com/momentarm/grf/table"
)

// schema is the version of the JSON form.
const schema = 1

// summary is what is in a capture; its exported fields are the JSON form.
type summary struct {
	Schema int      `json:"schema"`
	File   string   `json:"file"`
	Bytes  int      `json:"bytes"`
	Format string   `json:"format"` // "C3D" or "table"
	Facts  []fact   `json:"facts"`
	Points []string `json:"points,omitempty"`

	Channels []channel     `json:"channels,omitempty"`
	Plates   []plate       `json:"plates,omitempty"`
	Events   []event       `json:"events,omitempty"`
	Warnings []grf.Warning `json:"warnings"`

	c3d    *c3d.File
	usable []capture.FilePlate
}

type fact struct {
	Name  string `json:"name"`
	Value any    `json:"value"`
}

type channel struct {
	Label string   `json:"label"`
	Unit  string   `json:"unit"`
	Min   *float64 `json:"min"` // nil when there is no sample
	Max   *float64 `json:"max"`
	Empty int      `json:"empty,omitempty"` // cells of a table without a number
}

type plate struct {
	Number   int           `json:"number"`
	Type     int           `json:"type"`
	Channels []int         `json:"channels"` // from 1
	Size     []float64     `json:"size_m,omitempty"`
	Centre   []float64     `json:"centre_m,omitempty"`
	Normal   []float64     `json:"normal,omitempty"`
	Origin   []float64     `json:"origin_m,omitempty"`
	Sense    string        `json:"sense_under_load,omitempty"`
	Load     *float64      `json:"mean_load_N,omitempty"`
	Error    string        `json:"error,omitempty"`
	Warnings []grf.Warning `json:"warnings,omitempty"`
}

type event struct {
	Label   string   `json:"label"`
	Context string   `json:"context,omitempty"`
	Time    *float64 `json:"time_s"` // from the first stored frame
	Place   string   `json:"place"`  // "header" or "EVENT group"
}

// number is nil for what JSON can not hold.
func number(v float64) *float64 {
	if math.IsNaN(v) || math.IsInf(v, 0) {
		return nil
	}
	return &v
}

func triple(v r3.Vec) []float64 {
	if number(v.X+v.Y+v.Z) == nil {
		return nil
	}
	return []float64{v.X + 0, v.Y + 0, v.Z + 0} // + 0 turns −0 into 0
}

func summarizeC3D(name string, bytes int, f *c3d.File) *summary {
	s := &summary{Schema: schema, File: name, Bytes: bytes, Format: "C3D", c3d: f}
	s.add("processor", f.Processor.String())
	s.add("storage", f.Storage.String())
	s.add("unsigned_analog", f.Unsigned)
	s.add("frames", f.Frames)
	s.add("first_frame", f.FirstFrame)
	s.add("frame_rate_Hz", number(f.Rate))
	s.add("duration_s", number(f.Duration()))
	s.add("samples_per_frame", f.SamplesPerFrame)
	s.add("analog_rate_Hz", number(f.AnalogRate()))
	s.add("length_unit", f.Units)
	s.add("points", len(f.Points))
	s.add("channels", len(f.Channels))
	s.add("trailing_bytes", len(f.Trailing))
	for _, err := range []error{f.PointsErr, f.AnalogErr} {
		if err != nil {
			s.Warnings = append(s.Warnings, grf.Warning{Code: "unreadable", Text: err.Error()})
		}
	}
	for _, p := range f.Points {
		s.Points = append(s.Points, p.Label)
	}
	for _, c := range f.Channels {
		s.addChannel(c.Label, c.Unit, c.Values)
	}
	for _, e := range f.EventsByTime() {
		place := "EVENT group"
		if e.InHeader {
			place = "header"
		}
		s.Events = append(s.Events, event{e.Label, e.Context, number(e.Time), place})
	}
	s.Warnings = append(s.Warnings, f.Warnings...)
	var warnings []grf.Warning
	s.usable, warnings = capture.Plates(f, nil)
	s.Warnings = append(s.Warnings, warnings...)
	for _, p := range s.usable {
		s.Plates = append(s.Plates, describe(p))
	}
	return s
}

// describe says how a plate lies and whose force it reports.
func describe(p capture.FilePlate) plate {
	d := plate{Number: p.Number, Type: p.Info.Type}
	for _, c := range p.Info.Channels {
		d.Channels = append(d.Channels, c+1)
	}
	if p.Err != nil {
		d.Error = p.Err.Error()
		return d
	}
	frame := p.Plate.Frame()
	x, y := p.Plate.Size()
	d.Size, d.Centre, d.Normal = []float64{x, y}, triple(frame.Origin), triple(frame.Z)
	d.Warnings = p.Plate.Warnings()
	ws, err := p.Wrenches(nil)
	if err != nil {
		d.Error = err.Error()
		return d
	}
	up := r3.Scale(-1, frame.Z)
	sense, load := grf.SenseUnderLoad(ws, up, leastLoad)
	if sense != grf.AsMeasured {
		d.Sense, d.Load = sense.String(), number(load)
	}
	return d
}

func summarizeTable(name string, bytes int, t *table.Table) *summary {
	s := &summary{Schema: schema, File: name, Bytes: bytes, Format: "table"}
	s.add("rows", t.Rows)
	s.add("start_s", number(t.Start))
	s.add("rate_Hz", number(t.Rate))
	s.add("separator", string(t.Separator))
	for _, c := range t.Columns {
		values := c.Values // in SI units; shown in those of the file
		if k := c.Unit.SI; k != 0 && k != 1 {
			values = make([]float64, len(c.Values))
			for i, v := range c.Values {
				values[i] = v / k
			}
		}
		s.addChannel(c.Name, c.Unit.Symbol, values)
	}
	s.Warnings = append(s.Warnings, t.Warnings...)
	return s
}

func (s *summary) add(name string, value any) { s.Facts = append(s.Facts, fact{name, value}) }

func (s *summary) addChannel(label, unit string, values []float64) {
	lo, hi := math.Inf(1), math.Inf(-1)
	empty := 0
	for _, v := range values {
		if math.IsNaN(v) {
			empty++
			continue
		}
		lo, hi = min(lo, v), max(hi, v)
	}
	s.Channels = append(s.Channels, channel{label, unit, number(lo), number(hi), empty})
}

func (s *summary) writeJSON(w io.Writer) error {
	if s.Warnings == nil {
		s.Warnings = []grf.Warning{}
	}
	e := json.NewEncoder(w)
	e.SetIndent("", "  ")
	return e.Encode(s)
}

func (s *summary) writeText(w io.Writer) error {
	var b strings.Builder
	line(&b, "%s: %s, %d bytes\n", s.File, s.Format, s.Bytes)
	for _, f := range s.Facts {
		v := f.Value
		if p, ok := v.(*float64); ok {
			if v = any("unknown"); p != nil {
				v = *p
			}
		}
		if v == "" {
			v = "not stated"
		}
		line(&b, "  %-18s %v\n", strings.ReplaceAll(f.Name, "_", " "), v)
	}
	if len(s.Points) > 0 {
		b.WriteString("points\n  " + wrap(plain(s.Points), 76) + "\n")
	}
	if len(s.Channels) > 0 {
		line(&b, "channels%30s%12s\n", "least", "most")
		for i, c := range s.Channels {
			empty := ""
			if c.Empty > 0 {
				empty = fmt.Sprintf("  %d empty", c.Empty)
			}
			line(&b, "  %3d %-12s %-6s%14s%12s%s\n", i+1, c.Label, c.Unit, short(c.Min), short(c.Max), empty)
		}
	}
	for _, p := range s.Plates {
		line(&b, "plate %d: type %d, channels %v\n", p.Number, p.Type, p.Channels)
		if p.Error != "" {
			line(&b, "  can not be used: %s\n", p.Error)
			continue
		}
		line(&b, "  %.3f × %.3f m, centre (%.3f, %.3f, %.3f) m, z axis (%.2f, %.2f, %.2f)\n",
			p.Size[0], p.Size[1], p.Centre[0], p.Centre[1], p.Centre[2], p.Normal[0], p.Normal[1], p.Normal[2])
		if p.Load != nil {
			line(&b, "  under load it reports the %s (mean %.0f N against its z axis)\n", p.Sense, *p.Load)
		} else {
			line(&b, "  never loaded with %d N or more\n", leastLoad)
		}
		for _, w := range p.Warnings {
			line(&b, "  %v\n", w)
		}
	}
	if len(s.Events) > 0 {
		fmt.Fprintln(&b, "events, from the first stored frame")
		for _, e := range s.Events {
			line(&b, "  %10s s  %s %s (%s)\n", short(e.Time), e.Context, e.Label, e.Place)
		}
	}
	if len(s.Warnings) > 0 {
		fmt.Fprintln(&b, "worth knowing")
		for _, warning := range s.Warnings {
			line(&b, "  %v\n", warning)
		}
	}
	_, err := io.WriteString(w, b.String())
	return err
}

// line writes a line in which text from the capture can not harm a terminal.
func line(b *strings.Builder, format string, values ...any) {
	for i, v := range values {
		switch v := v.(type) {
		case string:
			values[i] = safe.Plain(v)
		case fmt.Stringer:
			values[i] = safe.Plain(v.String())
		}
	}
	fmt.Fprintf(b, format, values...)
}

func plain(words []string) []string {
	out := make([]string, len(words))
	for i, w := range words {
		out[i] = safe.Plain(w)
	}
	return out
}

func short(v *float64) string {
	if v == nil {
		return "–"
	}
	return fmt.Sprintf("%.4g", *v)
}

// wrap joins words by blanks into lines of at most width bytes.
func wrap(words []string, width int) string {
	var b strings.Builder
	line := 0
	for i, w := range words {
		switch {
		case i == 0:
		case line+1+len(w) > width:
			b.WriteString("\n  ")
			line = 0
		default:
			b.WriteByte(' ')
			line++
		}
		b.WriteString(w)
		line += len(w)
	}
	return b.String()
}
