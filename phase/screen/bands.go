package screen

import (
	"errors"
	"fmt"
	"math"
	"regexp"
	"strings"

	"example.com/momentarm/phase/internal/near"
)

// Version is the version of the format of bands that this package reads.
const Version = 1

// ErrBands means bands that can not be used. The errors that wrap it are
// [*BandsError].
var ErrBands = errors.New("screen: unusable bands")

// BandsError says which field of a set of bands is wrong; it wraps [ErrBands].
type BandsError struct {
	// Path names the field as in JavaScript, such as "bands[2].min". It is empty
	// for the whole set.
	Path string
	// Text says what is wrong and what to write instead.
	Text string
}

func (e *BandsError) Error() string {
	if e.Path == "" {
		return "bands: " + e.Text
	}
	return "bands: " + e.Path + ": " + e.Text
}

// Unwrap returns [ErrBands].
func (e *BandsError) Unwrap() error { return ErrBands }

func bandsErrorf(path, format string, a ...any) *BandsError {
	return &BandsError{Path: clip(path), Text: fmt.Sprintf(format, a...)}
}

// Bands is a set of bands. The package comment explains the fields by their JSON
// names. Nothing here changes a set; several goroutines may share one as long as
// nobody else changes it.
type Bands struct {
	Version  int    `json:"version"`
	Name     string `json:"name"`
	Note     string `json:"note,omitempty"`
	WarnOnly bool   `json:"warn_only,omitempty"`
	Bands    []Band `json:"bands"`
}

// Band is what a measure is held against.
type Band struct {
	Measure string   `json:"measure"`
	Label   string   `json:"label,omitempty"`
	Unit    string   `json:"unit"`
	Min     *float64 `json:"min,omitempty"` // nil: no lower edge
	Max     *float64 `json:"max,omitempty"` // nil: no upper edge
	Step    float64  `json:"step,omitempty"`
	Below   string   `json:"below,omitempty"`
	Above   string   `json:"above,omitempty"`
	Beside  []string `json:"beside,omitempty"`
	Caution string   `json:"caution,omitempty"`
	Source  string   `json:"source,omitempty"`
	Level   Level    `json:"level,omitempty"`
}

// Level says how good the source of a band is.
type Level string

const (
	// Own is a band that its writer stands for. It is what an empty Level means.
	Own Level = "own"
	// CommonPractice is a rule of the trade without a published source.
	CommonPractice Level = "common_practice"
	// SecondHand is a published figure that was not seen in the publication
	// itself but in somebody else's account of it.
	SecondHand Level = "second_hand"
	// ReadInSource is a published figure that was read in the publication or its
	// abstract.
	ReadInSource Level = "published"
)

// Practice is the source of a band at [CommonPractice].
const Practice = "common practice (no published source)"

// Cite returns the source of the band with what its level says about it.
func (b Band) Cite() string {
	switch {
	case b.Level == SecondHand:
		return b.Source + " [second-hand]"
	case b.Source != "":
		return b.Source
	}
	return "the band's writer"
}

// low and high are the edges, infinite where there is none.
func (b Band) low() float64 {
	if b.Min == nil {
		return math.Inf(-1)
	}
	return *b.Min
}

func (b Band) high() float64 {
	if b.Max == nil {
		return math.Inf(1)
	}
	return *b.Max
}

// step is how much outside counts as one step.
func (b Band) step() float64 {
	if b.Step > 0 {
		return b.Step
	}
	return (b.high() - b.low()) / 2
}

const (
	maxText  = 2000 // characters
	maxBands = 1000
)

var measureName = regexp.MustCompile(`^[a-z0-9_]{1,100}$`)

// Check returns an error that wraps [ErrBands] when the set can not be used.
// [ReadBands] has checked what it returns.
func (s *Bands) Check() error {
	switch {
	case s.Version != Version:
		return bandsErrorf("version", "%d; this is version %d", s.Version, Version)
	case strings.TrimSpace(s.Name) == "":
		return bandsErrorf("name", "the set has no name")
	case len(s.Bands) == 0:
		return bandsErrorf("bands", "there is not one band")
	case len(s.Bands) > maxBands:
		return bandsErrorf("bands", "%d bands, at most %d are allowed", len(s.Bands), maxBands)
	}
	for _, field := range [][2]string{{"name", s.Name}, {"note", s.Note}} {
		if err := checkText(field[0], field[1]); err != nil {
			return err
		}
	}
	for i, b := range s.Bands {
		if err := b.check(fmt.Sprintf("bands[%d]", i)); err != nil {
			return err
		}
	}
	return nil
}

func (b Band) check(path string) error {
	if !measureName.MatchString(b.Measure) {
		return bandsErrorf(path+".measure", "%q is no name of a measure: lower-case letters, digits and underscores", clip(b.Measure))
	}
	if strings.TrimSpace(b.Unit) == "" {
		return bandsErrorf(path+".unit", "min and max of %s need a unit, such as \"m\", \"%%\" or \"%%BW\"", b.Measure)
	}
	for _, f := range []struct {
		name  string
		value *float64
	}{{".min", b.Min}, {".max", b.Max}, {".step", &b.Step}} {
		if v := f.value; v != nil && (math.IsNaN(*v) || math.IsInf(*v, 0)) {
			return bandsErrorf(path+f.name, "%g is not finite", *v)
		}
	}
	switch {
	case b.Min == nil && b.Max == nil:
		return bandsErrorf(path, "%s has neither min nor max", b.Measure)
	case b.Min != nil && b.Max != nil && !(*b.Min < *b.Max):
		return bandsErrorf(path+".min", "%g is not less than max, %g", *b.Min, *b.Max)
	case b.Step < 0:
		return bandsErrorf(path+".step", "%g; it says how much outside counts as one step and must be above zero", b.Step)
	case b.Step == 0 && (b.Min == nil || b.Max == nil):
		return bandsErrorf(path+".step", "a band with one edge needs a step: how much outside of %s counts as one, in %s", b.Measure, b.Unit)
	case math.IsInf(b.step(), 0) || b.step() == 0:
		return bandsErrorf(path, "the band of %s is too wide or too narrow to count steps in", b.Measure)
	case b.Below != "" && b.Min == nil:
		return bandsErrorf(path+".below", "%s has no min to be below", b.Measure)
	case b.Above != "" && b.Max == nil:
		return bandsErrorf(path+".above", "%s has no max to be above", b.Measure)
	}
	for i, name := range b.Beside {
		if !measureName.MatchString(name) {
			return bandsErrorf(fmt.Sprintf("%s.beside[%d]", path, i), "%q is no name of a measure", clip(name))
		}
	}
	if err := b.checkSource(path); err != nil {
		return err
	}
	for name, text := range map[string]string{".label": b.Label, ".unit": b.Unit, ".below": b.Below, ".above": b.Above, ".caution": b.Caution, ".source": b.Source} {
		if err := checkText(path+name, text); err != nil {
			return err
		}
	}
	return nil
}

func (b Band) checkSource(path string) error {
	switch b.Level {
	case "", Own:
	case CommonPractice:
		if b.Source != Practice {
			return bandsErrorf(path+".source", "a band at level %q has the source %q", CommonPractice, Practice)
		}
	case SecondHand, ReadInSource:
		if strings.TrimSpace(b.Source) == "" {
			return bandsErrorf(path+".source", "a band at level %q names its source: author, year, journal", b.Level)
		}
	default:
		levels := []string{string(Own), string(CommonPractice), string(SecondHand), string(ReadInSource)}
		return bandsErrorf(path+".level", "no level is called %q; %s", clip(string(b.Level)), meant(string(b.Level), levels))
	}
	return nil
}

func checkText(path, text string) error {
	if len([]rune(text)) > maxText {
		return bandsErrorf(path, "longer than %d characters", maxText)
	}
	return nil
}

// meant says which of the known names may have been meant, or lists them.
func meant(name string, known []string) string {
	if k := near.Name(name, known); k != "" {
		return fmt.Sprintf("did you mean %q?", k)
	}
	return "known are " + strings.Join(known, ", ")
}

// clip shortens what somebody else made up.
func clip(s string) string {
	if r := []rune(s); len(r) > 100 {
		return string(r[:100]) + "…"
	}
	return s
}
