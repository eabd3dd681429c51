package c3d

import (
	"errors"
	"fmt"

	"example.com/momentarm/grf"
)

// Sentinels for [errors.Is]. The errors that wrap them say where and how much.
var (
	// ErrNotC3D means that the bytes are no C3D file at all.
	ErrNotC3D = errors.New("not a C3D file")
	// ErrTooShort means fewer bytes than a header has.
	ErrTooShort = errors.New("file too short")
	// ErrParameterPointer means that the parameter section is not where the
	// header says, nor at its usual place.
	ErrParameterPointer = errors.New("no parameter section where the header points to")
	// ErrProcessor means an unknown processor code.
	ErrProcessor = errors.New("unknown processor code")
	// ErrByteOrder means a processor code that makes nonsense of the header
	// while another one makes sense of it.
	ErrByteOrder = errors.New("numbers do not fit the processor code")
	// ErrLayout means that no combination of the counts that the file states
	// fits the file.
	ErrLayout = errors.New("stated sizes do not fit the file")
	// ErrDataStart means that no usable start of the data is stated.
	ErrDataStart = errors.New("no usable start of the data")
	// ErrFrameRange means that the file does not say how many frames it has.
	ErrFrameRange = errors.New("no usable frame count")
	// ErrAnalogLayout means that the analog values of a frame can not be shared
	// out to channels.
	ErrAnalogLayout = errors.New("analog values per frame are not a multiple of the samples per frame")
	// ErrScale means integer points without a usable scale.
	ErrScale = errors.New("unusable point scale")
	// ErrLimit means that a file has more of something than this package takes.
	ErrLimit = errors.New("over the limit")
	// ErrStrict means that strict reading met something that needs a repair.
	ErrStrict = errors.New("strict reading")
	// ErrRate means that the file states no usable frame rate.
	ErrRate = errors.New("no usable frame rate")
	// ErrUnit means a length unit that is missing or unknown.
	ErrUnit = errors.New("unknown length unit")
	// ErrMixedUnits means that the points of a file have different units.
	ErrMixedUnits = errors.New("points have different units")
	// ErrPlateChannel means a plate that refers to a channel that is not there.
	ErrPlateChannel = errors.New("plate refers to a channel that is not in the file")
	// ErrNoRaw means that stored samples were asked of a File that holds none.
	ErrNoRaw = errors.New("no stored samples")
	// ErrType means a parameter of another type than was asked for.
	ErrType = errors.New("parameter has another type")
	// ErrZero means a zero range that is no range of stored frames.
	ErrZero = errors.New("no usable zero range")

	// ErrRange means a number that can not be stored in the chosen form.
	ErrRange = errors.New("value can not be stored")
	// ErrLabelLength means a text that is longer than 255 bytes.
	ErrLabelLength = errors.New("text longer than 255 bytes")
	// ErrTooLarge means more of something than the format can hold.
	ErrTooLarge = errors.New("more than the format can hold")
	// ErrParameter means a parameter whose sizes, type or name are not legal.
	ErrParameter = errors.New("illegal parameter")
)

// FormatError says where a file is wrong; it wraps one of the sentinels.
type FormatError struct {
	// Place is the part of the file: "header", "parameters", "data", or a
	// parameter such as "POINT:SCALE".
	Place string
	// Offset is the byte of the file, or −1 when there is none to name.
	Offset int64
	Detail string
	Err    error
}

func (e *FormatError) Error() string {
	s := "c3d: " + e.Place
	if e.Offset >= 0 {
		s += fmt.Sprintf(" (byte %d)", e.Offset)
	}
	s += ": " + e.Err.Error()
	if e.Detail != "" {
		s += ": " + e.Detail
	}
	return s
}

func (e *FormatError) Unwrap() error { return e.Err }

// UnsupportedError names something that is legal but that this package does not
// do.
type UnsupportedError struct {
	Feature string
}

func (e *UnsupportedError) Error() string { return "c3d: not supported: " + e.Feature }

// StrictError carries the warning that strict reading turned into an error; it
// wraps [ErrStrict].
type StrictError struct {
	Warning grf.Warning
}

func (e *StrictError) Error() string { return "c3d: strict reading: " + e.Warning.String() }

func (e *StrictError) Unwrap() error { return ErrStrict }

// WriteError says which part of a File can not be written; it wraps one of the
// sentinels.
type WriteError struct {
	// Place is a field such as "Points[2] HIP" or a parameter such as
	// "EVENT:LABELS".
	Place string
	// Index is the frame or sample, or −1.
	Index  int
	Detail string
	Err    error
}

func (e *WriteError) Error() string {
	s := "c3d: writing " + e.Place
	if e.Index >= 0 {
		s += fmt.Sprintf(" at %d", e.Index)
	}
	s += ": " + e.Err.Error()
	if e.Detail != "" {
		s += ": " + e.Detail
	}
	return s
}

func (e *WriteError) Unwrap() error { return e.Err }
