// Package table reads captures that are tables of numbers: CSV and TSV files
// whose header carries the units. It knows numbers, units and time, no physics.
//
//	# whole seconds before the trigger are cut off
//	rate: 1000 Hz
//	time [s], Fx [N], Fy [N], Fz [N], Mx [N·m], COPx [cm]
//	0.000,    1.2,    -0.4,   412.7,  3.1,      12.25
//	0.001,    1.3,    -0.4,   412.9,  3.1,
//
// # Layout
//
// The first row of numbers ends the preamble; the line before it holds the names
// of the columns, or the two lines before it hold names and units. Cells are
// separated by tabs, semicolons or commas: by whichever the line of names has, in
// that order. A row has as many cells as the line of names; empty cells behind
// the last column do not count. An empty cell, or NaN, is NaN. Cells may be in
// double quotes. Blank lines and lines that begin with # or % are skipped
// everywhere, except that in a table of a single column a blank line between
// numbers is an empty cell. Rows of empty cells at the end are dropped. Text is
// UTF-8, with or without a byte-order mark, or Latin-1; lines end as they like.
//
// # Numbers
//
// Decimal numbers with a point or a comma as decimal mark; the first mark that
// occurs holds for the file, another one later is an error, and so are digit
// groups, infinities and text. A decimal comma goes with semicolons or tabs (or
// quoted cells). Numbers are converted exactly as strconv.ParseFloat does, then
// multiplied by the factor of the unit.
//
// # Units
//
// Every column needs a unit, which stands behind the name in one of these ways:
//
//	Fx[N]   Fx [N]   Fx (N)   Fx / N   fx_N
//
// or in a row of its own below the names. Spellings are those of package units:
// "N·m", "Nm" and "N.m" are one. A pure number is stated as [1] or [-], a share
// may be in [%], a voltage in [V] or [mV]. Empty brackets state nothing and are
// an error, as is a column without a unit: a guess between N and kN, or between
// mm and m, is not made. [Options] declare the units of headers that lack them.
//
// # Time
//
// Either a column in a unit of time holds ascending, evenly spaced time stamps,
// or the preamble or the options state the rate. When both are there they must
// agree. Stamps may deviate from even spacing by what their printed digits
// explain and by [Options.Jitter] of the spacing. Up to a tenth of the rows may
// be missing: they come back as NaN, with a warning.
//
// # Preamble
//
// Lines "key: value" or "key = value", with or without # before them, are kept in
// [Table.Meta]. Two of them are used:
//
//	rate   rows per second, with its unit ("1000 Hz"); also called sampling
//	       rate, sample rate or sampling frequency
//	start  the instant of the first row of a table without time stamps ("0.5 s")
//
// Other lines of the preamble are comments.
//
// # Limits
//
// A preamble has at most 1000 lines, a name 200 bytes, and a table
// [Options.MaxColumns] columns and [Options.MaxRows] rows. What is larger is an
// [ErrLimit]. Memory is bounded by a small multiple of the bytes that are there.
package table
