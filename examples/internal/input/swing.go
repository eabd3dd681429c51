package input

import (
	"errors"
	"fmt"
	"path/filepath"
	"strings"

	"example.com/momentarm/cop"
	"example.com/momentarm/cop/com"
	"example.com/momentarm/grf"
	"example.com/momentarm/grf/capture"
	"example.com/momentarm/phase/swing"
)

// Swing is an analysed capture.
type Swing struct {
	*swing.Analysis
	Capture  string // the name of the file, without its folder
	Feet     swing.Feet
	Steps    []string      // of reading, then of analysing
	Warnings []grf.Warning // likewise
}

// Analyse makes a recording of the capture and analyses it. Errors begin with the
// name of the file that is at fault: the setup where its text must change, else
// the capture.
func (s Source) Analyse() (*Swing, error) {
	setup, err := s.setup()
	if err != nil {
		return nil, s.fault(err)
	}
	read, err := capture.Read(s.Name, s.Data, setup, s.Open)
	if err != nil {
		return nil, s.fault(err)
	}
	opt, err := Options(read)
	if err != nil {
		return nil, s.fault(err)
	}
	a, err := swing.Analyse(read.Recording, opt)
	if err != nil {
		return nil, s.fault(withDoubt(err, read.Warnings))
	}
	out := &Swing{Analysis: a, Capture: filepath.Base(s.Name), Feet: opt.Feet}
	out.Steps = append(append(out.Steps, read.Steps...), a.Steps...)
	out.Warnings = append(append(out.Warnings, read.Warnings...), a.Warnings...)
	return out, nil
}

// withDoubt adds what was doubtful about a capture that was read but could not be
// analysed, which often is the reason: that of the file itself comes first.
func withDoubt(err error, warnings []grf.Warning) error {
	if len(warnings) == 0 {
		return err
	}
	more := ""
	if n := len(warnings) - 1; n > 0 {
		more = fmt.Sprintf("; and %d more", n)
	}
	return fmt.Errorf("%w (in doubt while it was read: %v%s)", err, warnings[0], more)
}

func (s Source) fault(err error) error {
	var wrong *capture.SetupError
	if errors.As(err, &wrong) {
		text := strings.TrimPrefix(wrong.Error(), "setup: ")
		if s.SetupName == "" {
			return named(err, "%s: needs a setup, named with -setup: %s", s.Name, text)
		}
		return named(err, "%s: %s", s.SetupName, text)
	}
	if strings.HasPrefix(err.Error(), s.Name+": ") {
		return err
	}
	return fmt.Errorf("%s: %w", s.Name, err)
}

// fault is an error with another text than that of what caused it.
type fault struct {
	text string
	err  error
}

func (f *fault) Error() string { return f.text }
func (f *fault) Unwrap() error { return f.err }

func named(err error, format string, a ...any) error {
	return &fault{fmt.Sprintf(format, a...), err}
}

// Options carries what the setup says over to the analysis. An outline that is no
// foot is a [*capture.SetupError].
func Options(r *capture.Result) (swing.Options, error) {
	p := r.Processing
	opt := swing.Options{
		Cutoff: p.Cutoff, Order: p.Order,
		MinVertical: p.MinVertical, MinPlane: p.MinArmForce,
		Plane: p.SwingPlane, Gravity: p.Gravity,
		Quiet:     grf.QuietOptions{From: p.QuietFrom, To: p.QuietTo},
		COMHeight: p.COMHeight, COMHeightSD: p.COMHeightSD,
	}
	if r.COM != nil {
		opt.COM = []com.Source{{Name: "the setup's table", Track: *r.COM}}
	}
	for _, f := range []struct {
		side cop.Side
		from *capture.FootOutline
		to   **cop.Foot
	}{{cop.Lead, p.Lead, &opt.Feet.Lead}, {cop.Trail, p.Trail, &opt.Feet.Trail}} {
		if f.from == nil {
			continue
		}
		foot, err := cop.NewFoot(f.side, f.from.Heel, f.from.Toe, f.from.Width)
		if err != nil {
			return opt, &capture.SetupError{Path: "feet." + f.side.String(), Text: err.Error(), Err: err}
		}
		*f.to = &foot
	}
	return opt, nil
}
