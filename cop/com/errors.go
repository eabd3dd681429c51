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
)
