package input

import (
	"bytes"
	"errors"
	"fmt"
	"path/filepath"
	"slices"
	"strings"

	"example.com/momentarm/grf"
	"example.com/momentarm/grf/c3d"
	"example.com/momentarm/grf/capture"
	"example.com/momentarm/phase/swing"
)

// Swing is an analysed capture.
type Swing struct {
	*swing.Analysis
	Capture  string // the name of the file, without its folder
	Player   string // as the setup says; may be empty
	Session  string // likewise
	Feet     swing.Feet
	Steps    []string      // of reading, then of analysing
	Warnings []grf.Warning // likewise
	Methods  []string      // paragraphs that tell how all of it came about; likewise
}

// Analyse makes a recording of the capture and analyses it. Errors begin with the
// name of the file that is at fault: the setup where its text must change, else
// the capture.
func (s Source) Analyse() (*Swing, error) {
	setup, left, err := s.setup()
	if err != nil {
		return nil, s.fault(err)
	}
	read, err := capture.Read(s.Name, s.Data, setup, s.Open)
	if err != nil {
		return nil, s.fault(err)
	}
	plan, err := Prepare(read)
	if err != nil {
		return nil, s.fault(err)
	}
	a, err := swing.Analyse(read.Recording, plan.Options)
	if err != nil {
		return nil, s.fault(withDoubt(err, read.Warnings))
	}
	out := &Swing{
		Analysis: a, Capture: filepath.Base(s.Name), Feet: plan.Options.Feet,
		Steps:    slices.Concat(read.Steps, plan.Steps, a.Steps),
		Warnings: ByWeight(slices.Concat(s.shared(setup, left), warnings(slices.Concat(read.Warnings, plan.Warnings), a.Warnings))),
		Methods:  slices.Concat(read.Methods(), a.Methods()),
	}
	if setup != nil {
		out.Player, out.Session = setup.Golfer.Name, setup.Session
	}
	return out, nil
}

// warnings returns those of reading and of analysing, without that of the feet
// twice: reading tells it from the plates, the analysis from the pressure.
func warnings(reading, analysing []grf.Warning) []grf.Warning {
	const swapped = "feet-swapped"
	out := slices.Clone(reading)
	twice := slices.ContainsFunc(reading, func(w grf.Warning) bool { return w.Code == swapped })
	for _, w := range analysing {
		if !twice || w.Code != swapped {
			out = append(out, w)
		}
	}
	return out
}

// withDoubt adds what was doubtful about a capture that was read but could not be
// analysed, which often is the reason: all that is grave, or else what comes next.
// That the file is cut off is the cause and comes before the error.
func withDoubt(err error, warnings []grf.Warning) error {
	if len(warnings) == 0 {
		return err
	}
	for _, w := range warnings {
		if w.Code == c3d.CodeTruncated {
			return fmt.Errorf("the file is cut off: %v; of what is there: %w", w, err)
		}
	}
	warnings = ByWeight(warnings)
	said := warnings[:max(1, Grave(warnings))]
	texts := make([]string, len(said))
	for i, w := range said {
		texts[i] = w.String()
	}
	more := ""
	if n := len(warnings) - len(said); n > 0 {
		more = fmt.Sprintf("; and %d more", n)
	}
	return fmt.Errorf("%w (in doubt while it was read: %s%s)", err, strings.Join(texts, "; "), more)
}

func (s Source) fault(err error) error {
	var wrong *capture.SetupError
	if errors.As(err, &wrong) {
		text := strings.TrimPrefix(wrong.Error(), "setup: ")
		if wrong.Path == "table" && strings.Contains(text, "is a C3D file") {
			text += "; leave table out for it: a C3D file says itself which channels its plates have, and plates.lead and plates.trail count them from 1, in the file's order (inspect lists them)"
		}
		if s.SetupName == "" {
			return named(err, "%s: needs a setup, named with -setup: %s", s.Name, text)
		}
		if s.SharedWith != "" { // what is right for one may be wrong for this one
			text = fmt.Sprintf("for %s: %s", filepath.Base(s.Name), text)
			if s.Own != "" {
				text += "; if that is right for other captures, " + s.Own
			}
		}
		return named(err, "%s: %s", s.SetupName, text)
	}
	if (errors.Is(err, c3d.ErrNotC3D) || errors.Is(err, c3d.ErrTooShort)) && isText(s.Data) {
		return named(err, "%s: holds text and is no C3D file: if it is a table, let its name end in .csv or .tsv", s.Name)
	}
	if strings.HasPrefix(err.Error(), s.Name+": ") {
		return err
	}
	return fmt.Errorf("%s: %w", s.Name, err)
}

// isText reports whether the beginning of a file is text, in whatever encoding.
func isText(data []byte) bool {
	if bytes.HasPrefix(data, []byte("\xff\xfe")) || bytes.HasPrefix(data, []byte("\xfe\xff")) { // UTF-16
		return true
	}
	for _, b := range data[:min(4096, len(data))] {
		if b < '\t' || b > '\r' && b < ' ' {
			return false
		}
	}
	return len(data) > 0
}

// fault is an error with another text than that of what caused it.
type fault struct {
	text string
	err  error
}

// Error returns the text.
func (f *fault) Error() string { return f.text }

// Unwrap returns the cause.
func (f *fault) Unwrap() error { return f.err }

func named(err error, format string, a ...any) error {
	return &fault{fmt.Sprintf(format, a...), err}
}
