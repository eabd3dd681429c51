// Package headless lets tests look at a page as a person would: it opens it in a
// Chromium without a window, at the size of a phone or a laptop or on paper,
// presses keys, chooses files, and reads what is there.
//
// It speaks the DevTools protocol over a pipe, so no port is opened. Tests that use
// it are skipped where no Chromium is found or where it does not run.
package headless
