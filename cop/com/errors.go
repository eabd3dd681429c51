package com

import "errors"

// Sentinels for [errors.Is]. The errors that wrap them say where and how much.
// Lengths, rates, missing data and missing quiet stance are reported with the
// sentinels of package grf.
var (
	// ErrOption means an option that is no usable number.
	ErrOption = errors.New("com: unusable option")
	// ErrTrack means a track that can not be used: times that do not increase,
	// or not a single known position.
	ErrTrack = errors.New("com: unusable track")
	// ErrTooEarly means a fix at an instant for which no force was pushed yet.
	ErrTooEarly = errors.New("com: the fix is later than the last force sample")
	// ErrTooLate means a fix that is older than what the tracker keeps.
	ErrTooLate = errors.New("com: the fix is older than the tracker's lag")
	// ErrSegment means a segment model that can not be built or does not fit
	// the points: unknown names, missing points, too little of the body.
	ErrSegment = errors.New("com: unusable segment model")
)
