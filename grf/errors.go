package grf

import (
	"errors"
	"fmt"
)

// Sentinels for [errors.Is]. The errors that wrap them say where and how much.
var (
	// ErrNoData means that there is not a single sample to work on.
	ErrNoData = errors.New("grf: no data")
	// ErrLength means that two series which belong together differ in length.
	ErrLength = errors.New("grf: lengths differ")
	// ErrRecording means a recording that contradicts itself or states what can not
	// be.
	ErrRecording = errors.New("grf: unusable recording")
	// ErrRate means a sampling rate that is zero, negative or not finite, or that of
	// a recording above [MaxRate].
	ErrRate = errors.New("grf: sampling rate must be positive and finite")
	// ErrAxes means directions that do not span a set of axes.
	ErrAxes = errors.New("grf: directions do not define axes")
	// ErrCorners means plate corners that do not span a plate.
	ErrCorners = errors.New("grf: corners do not define a plate")
	// ErrCalibration means a calibration matrix that is missing, of the wrong
	// shape, singular or not finite.
	ErrCalibration = errors.New("grf: unusable calibration matrix")
	// ErrPlateType means a force-platform type that this library does not know.
	ErrPlateType = errors.New("grf: unknown force-platform type")
	// ErrOrigin means a measuring origin that makes the plate's equations
	// meaningless.
	ErrOrigin = errors.New("grf: unusable plate origin")
	// ErrSense means a [Sense] that does not exist.
	ErrSense = errors.New("grf: no sense of force")
	// ErrChannels means that a plate was given a number of channels other than
	// its type has.
	ErrChannels = errors.New("grf: wrong number of channels")
	// ErrLoaded means that a window meant for zeroing carries load.
	ErrLoaded = errors.New("grf: the window is loaded")
	// ErrUnquiet means that a window meant for zeroing drifts or shakes.
	ErrUnquiet = errors.New("grf: the window is not steady")
	// ErrNoQuiet means that no quiet stance was found.
	ErrNoQuiet = errors.New("grf: no quiet stance")
	// ErrWindow means a time window that is empty or outside the data.
	ErrWindow = errors.New("grf: window outside the data")
)

// LengthError says which series has which length; it wraps [ErrLength].
type LengthError struct {
	What      string
	Want, Got int
}

func (e *LengthError) Error() string {
	return fmt.Sprintf("grf: %s: want %d samples, got %d", e.What, e.Want, e.Got)
}

func (e *LengthError) Unwrap() error { return ErrLength }
