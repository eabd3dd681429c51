// Package c3d reads and writes C3D files, the open format in which motion
// capture laboratories keep marker positions, analog channels (force plates
// among them), events and everything that explains them.
//
// The package knows the container, not the physics. It returns what a file
// says, in the file's own units: points as stored, channels as
// (raw − OFFSET) · SCALE · GEN_SCALE, plates as their parameters. Whether a
// force is an action or a reaction, which sign ORIGIN should have had and where
// a centre of pressure lies is decided elsewhere.
//
//	block 1        block n              block m
//	┌────────┐     ┌───────────────┐    ┌─────────────────────────────────────┐
//	│ header │ ... │ parameters    │ .. │ frame 1 │ frame 2 │ ...             │
//	└────────┘     │ group:name =  │    │ points: x y z (residual, cameras)   │
//	  counts,      │  type, sizes, │    │ analog: sample 1 of every channel,  │
//	  rates,       │  values       │    │         sample 2 of every channel … │
//	  18 events    └───────────────┘    └─────────────────────────────────────┘
//
// A block has 512 bytes. Header, parameters and the size of the file often
// disagree; [Decode] settles that by a fixed order of precedence with the file
// size as arbiter, and reports each repair in [File.Warnings] under one of the
// codes of this package. With [Options.Strict] a repair is an error.
//
// # Reading
//
// [Decode] reads a whole file from memory, [Read] from an [io.ReaderAt],
// [DecodeHeader] only the first block; [Options.WithoutSamples] stops after the
// parameters. [File.Decode] reads into a File that exists and reuses its
// memory. None of them panics, whatever the bytes are, and what they allocate
// is bounded by a small multiple of the bytes that are really there.
//
// # Writing
//
// [Encode] writes a [File], read before or made as a literal. Fields of the
// File win over its parameter groups. Everything that still means what it meant
// when it was read is written with the bytes that were read: number types,
// padding, locks, unknown parameters and samples.
//
// # Limits
//
// No count in a file is believed: series have as many frames as the file has bytes
// for, and at most 2³⁰. A file with more than 10 000 parameter records is refused
// ([ErrLimit]); of more than 200 warnings the rest is told as one; of
// points and channels in a file without frames the first thousand of either are
// listed.
// The format itself ends at 255 blocks of parameters, 255 bytes of text and 18 events
// in the header.
//
// # Time
//
// All times are seconds from the first stored frame: frame i is at i/Rate,
// sample k of a channel at k/AnalogRate. Events of the header are stored on
// this clock, those of the EVENT group on one that starts at frame 1 of the
// capture; both come out on the first one.
//
// # Missing
//
// A position that the file marks as invalid is NaN in all coordinates. A
// channel whose scale is unusable is NaN throughout.
//
// # Sources
//
// The C3D File Format User Guide (Motion Lab Systems, 2008) and its pages at
// https://www.c3d.org/HTML/Documents/: header section, parameter section,
// point, analog, force platform, event and trial groups, 3D and analog data.
// The functions name the page that they follow. The repairs go beyond that
// guide; they answer defects of files that exist.
package c3d
