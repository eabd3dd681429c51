package c3d

// Codes of the warnings that reading can give, as found in [grf.Warning.Code].
// Codes are stable.
const (
	// Container.
	CodeLeadingZeros     = "leading-zeros"       // zero bytes before the header were skipped
	CodeParameterPointer = "parameter-pointer"   // parameters found at block 2, not where the header points
	CodeProcessor        = "processor-code"      // code without its usual 83 added, or guessed
	CodeNoParameters     = "no-parameters"       // no parameter records: header only
	CodeBlockCount       = "block-count"         // records run past the announced parameter blocks
	CodeSectionOverlap   = "section-overlap"     // parameters run into the data
	CodeNextPointer      = "next-pointer"        // a record's pointer to the next one was wrong
	CodeLoop             = "parameter-loop"      // a pointer into its own record
	CodeTruncatedSection = "parameter-truncated" // the parameter section ends in a record
	CodeSectionEnd       = "parameter-end"       // the section ends without a proper end mark
	CodeNoDescription    = "no-description"      // a record without the length of its description
	CodeControlName      = "control-characters"  // a name holds control characters
	CodeNonASCIIName     = "non-ascii-name"      // a name with characters beyond ASCII
	CodeOrphan           = "orphan-parameter"    // a parameter of a group that does not exist
	CodeDuplicateGroup   = "duplicate-group"     // two groups share a name or a number
	CodeDuplicateParam   = "duplicate-parameter" // two parameters of a group share a name
	CodeUnknownType      = "unknown-type"        // a parameter of no known number type
	CodeTooManyDims      = "too-many-dimensions" // a parameter with more than 7 dimensions
	CodeValueTooLarge    = "value-too-large"     // sizes that no record can hold
	CodeValueOverrun     = "value-overrun"       // a value that runs past its record
	CodeVAXReserved      = "vax-reserved"        // VAX reserved operands, read as NaN
	CodeTextEncoding     = "text-encoding"       // text that is not UTF-8, read as Latin-1
	CodeTextCut          = "text-cut"            // a text cell ends inside a character
	CodeMisspelt         = "misspelt-name"       // a known misspelling of a group or parameter
	CodeParameterType    = "parameter-type"      // text where a number is needed, or the reverse
	CodeMoreWarnings     = "more-warnings"       // further warnings were not kept

	// Layout.
	CodeCountMismatch = "count-mismatch"  // header and parameters disagree on a count
	CodeFrameCount    = "frame-count"     // the frame count was corrected
	CodeTruncated     = "truncated"       // fewer frames present than declared
	CodeMoreFrames    = "more-frames"     // more frames present than a saturated count says
	CodeFirstFrame    = "first-frame"     // header and TRIAL disagree on the first frame
	CodeFrameRange    = "frame-range"     // the header's last frame lies before its first
	CodeRate          = "rate-mismatch"   // header and POINT:RATE disagree
	CodeNoRate        = "no-rate"         // no usable frame rate
	CodeRateRatio     = "rate-ratio"      // ANALOG:RATE is not the frame rate times the samples per frame
	CodeDataStart     = "data-start"      // the start of the data was corrected
	CodeScaleMismatch = "scale-mismatch"  // header and POINT:SCALE differ in size
	CodeScaleSign     = "scale-sign"      // header and POINT:SCALE differ in sign
	CodeScale         = "point-scale"     // scale 0 or not finite
	CodePoints        = "points-unread"   // see File.PointsErr
	CodeAnalog        = "channels-unread" // see File.AnalogErr

	// Points and units.
	CodeNaNPoint         = "nan-point"         // NaN coordinates marked as valid, taken as missing
	CodeInfPoint         = "inf-point"         // infinite coordinates, taken as missing
	CodeSentinel         = "sentinel-point"    // coordinates 9999999, taken as missing
	CodeResidualFraction = "residual-fraction" // residual words that are no integers, rounded
	CodeResidualRange    = "residual-range"    // residual words over 32767
	CodeUnitUnknown      = "unit-unknown"      // no length unit, or an unknown one
	CodeUnitSpelling     = "unit-spelling"     // a length unit spelt unusually
	CodeMixedUnits       = "mixed-units"       // points with different units
	CodeMissingLabels    = "missing-labels"    // fewer labels than points or channels
	CodeDuplicateLabel   = "duplicate-label"   // a label used twice
	CodeLabelsSplit      = "labels-split"      // a second list of labels though the first is not full

	// Events.
	CodeEventText  = "event-text"   // events without a label or a context
	CodeEventCount = "event-count"  // more events announced than there are
	CodeEventKey   = "event-key"    // doubtful mark of 4-character event labels
	CodeEventRange = "event-range"  // events outside the recording
	CodeEventTime  = "event-time"   // events without a usable time
	CodeEventClock = "event-origin" // EVENT times count from the first stored frame

	// Channels.
	CodeDefaultScale    = "default-scale"    // channels without SCALE, read with 1
	CodeDefaultOffset   = "default-offset"   // channels without OFFSET, read with 0
	CodeBadScale        = "bad-scale"        // a channel with scale 0 or not finite: all NaN
	CodeGenScale        = "gen-scale"        // GEN_SCALE 0 or not finite, read as 1
	CodeAnalogFormat    = "analog-format"    // ANALOG:FORMAT is neither SIGNED nor UNSIGNED
	CodeSuspectUnsigned = "suspect-unsigned" // offsets that only make sense for unsigned samples
	CodeSaturated       = "saturated"        // a channel stays at the end of its range
	CodeNotFinite       = "not-finite"       // samples that are NaN or infinite

	// Plates.
	CodePlateCount       = "plate-count"             // fewer plates described than announced
	CodePlateChannel     = "plate-channel"           // a plate refers to a channel that is not there
	CodePlateChannelTwin = "plate-channel-duplicate" // a plate uses a channel twice
	CodePlateMissing     = "plate-parameter"         // a plate without CORNERS or ORIGIN
)
