// Package page tells one analysed swing: as a page of HTML that needs nothing
// else, as results in JSON, as a table of the series, and as a summary for a
// terminal. The programs that make such files share it, so the same capture gives
// the same figures wherever it is worked on.
//
// It reads no file and no clock. Text that comes from a capture or a setup is
// escaped for the page, and the page's own policy forbids it to load anything or
// to run any script but its own.
package page
