package c3d

import (
	"example.com/momentarm/grf"
)

// Processor names the byte order and the floating-point format of a file.
type Processor uint8

const (
	// Intel files are little-endian with IEEE floats (code 84).
	Intel Processor = iota
	// DEC files are little-endian with VAX F floats (code 85).
	DEC
	// MIPS files are big-endian with IEEE floats (code 86).
	MIPS
)

// String returns "intel", "dec" or "mips".
func (p Processor) String() string {
	switch p {
	case Intel:
		return "intel"
	case DEC:
		return "dec"
	case MIPS:
		return "mips"
	}
	return "unknown"
}

// Storage is how the samples of a file are stored, points and analog alike.
type Storage uint8

const (
	// Real files hold 32-bit floats.
	Real Storage = iota
	// Integer files hold 16-bit integers.
	Integer
)

// String returns "real" or "integer".
func (s Storage) String() string {
	if s == Integer {
		return "integer"
	}
	return "real"
}

// File is the content of a C3D file. A literal with the fields up to Groups, or
// some of them, is enough for [Encode]; the fields from Header on are what
// [Decode] adds.
//
// A File may be read by several goroutines as long as none changes it.
type File struct {
	Processor Processor
	Storage   Storage
	// Unsigned says that integer analog samples count from 0 to 65535
	// (ANALOG:FORMAT). It does not concern the points.
	Unsigned bool

	// Rate is the number of frames per second; 0 when the file states none
	// that is positive and finite (see [File.CheckRate]).
	Rate float64
	// SamplesPerFrame is the number of samples of one channel in one frame: the
	// analog rate is Rate times that. Encode takes 0 for 1.
	SamplesPerFrame int
	// FirstFrame is the number that the capture gave to the first stored frame,
	// usually 1. Encode takes 0 for 1, unless 0 was read.
	FirstFrame int
	// Frames is the number of complete frames that are present. Encode takes 0
	// for what the series say.
	Frames int

	// Units is POINT:UNITS without blanks, such as "mm". It holds for
	// positions and for the geometry of the plates; "" means unknown. When the
	// file states one unit per point and they differ, it is "" as well.
	Units string
	// PointScale is the magnitude of POINT:SCALE: the step of integer
	// coordinates and of all residuals, in Units. Encode takes 0 for a scale
	// chosen from the data.
	PointScale float64
	// GenScale is ANALOG:GEN_SCALE. Encode takes 0 for 1.
	GenScale float64

	Points   []Point
	Channels []Channel
	Plates   []PlateInfo
	// Zero is FORCE_PLATFORM:ZERO as stored: the first and last frame, counted
	// from 1, whose mean somebody meant to be the zero of the plates. See
	// [File.ZeroFrames].
	Zero   [2]int
	Events []Event

	// Groups are the parameters in the order of the file. Encode lets the
	// fields above win over them and writes the rest as it is; use [Groups.Set]
	// to add parameters of other groups.
	Groups Groups

	// What follows is set by Decode.

	// Header is the first block as stored, before any repair.
	Header Header
	// Layout says where things lie in the file and where the facts above come
	// from.
	Layout Layout
	// PointsErr and AnalogErr say why points or channels that the file declares
	// could not be read; Points or Channels is then empty.
	PointsErr, AnalogErr error
	// Trailing holds the bytes behind the last block of frames: data that this
	// package does not know.
	Trailing []byte
	// Warnings lists what was repaired or is doubtful.
	Warnings []grf.Warning

	decoded bool
	stored  stored // what Encode needs to write what was read
	memory  memory // what the series above use
}

// Layout is where the parts of a file lie and what settled its facts. Offsets
// count bytes from the start of the file, blocks from 1.
type Layout struct {
	ParameterBlock int
	ParameterEnd   int // offset behind the last record
	DataBlock      int
	DataStart      int // offset of the first frame
	FrameBytes     int
	DataEnd        int // offset behind the last complete frame
	// DeclaredPoints, DeclaredChannels and DeclaredFrames are what the file
	// announces; more than it holds when it was cut.
	DeclaredPoints, DeclaredChannels, DeclaredFrames int
	// Choices says for each fact which place of the file it was taken from.
	Choices []Choice
}

// Choice is a fact with the place that it was taken from.
type Choice struct {
	Fact   string // "points", "analog values per frame", "frames", …
	Value  float64
	Source string // "header word 2", "POINT:USED", "file size", …
}

// Options tell Decode what to do. The zero value reads everything, repairs what
// can be repaired and says so.
type Options struct {
	// Strict makes the first warning an error that wraps [ErrStrict].
	Strict bool
	// WithoutSamples reads header and parameters only: Points and Channels have
	// their labels, units and scales but no series.
	WithoutSamples bool
	// Analog overrides ANALOG:FORMAT.
	Analog AnalogFormat
	// Origin overrides the clock on which the EVENT group counts.
	Origin EventOrigin
	// Rate, when positive, replaces the frame rate that the file states.
	Rate float64
	// ZeroIsMissing takes a point at (0, 0, 0) with residual 0 as missing.
	ZeroIsMissing bool
	// BeyondFrames reads the frames that lie behind the declared end when
	// POINT:FRAMES stands at its limit of 65535 and nothing else says more.
	BeyondFrames bool
	// GuessProcessor tries the other byte orders when the stated one is unknown
	// or makes nonsense of the header.
	GuessProcessor bool
}

// AnalogFormat overrides whether integer analog samples are signed.
type AnalogFormat uint8

const (
	// AsStated follows ANALOG:FORMAT; without it samples are signed.
	AsStated AnalogFormat = iota
	// SignedSamples reads −32768…32767.
	SignedSamples
	// UnsignedSamples reads 0…65535, and ANALOG:OFFSET likewise.
	UnsignedSamples
)

// EventOrigin is the instant from which the EVENT group counts.
type EventOrigin uint8

const (
	// OriginAutomatic counts from frame 1 of the capture, unless that puts
	// every event outside the stored frames and the other reading does not.
	OriginAutomatic EventOrigin = iota
	// OriginCapture counts from frame 1 of the capture.
	OriginCapture
	// OriginFirstFrame counts from the first stored frame.
	OriginFirstFrame
)
