// Package study measures how well the analysis does on made-up swings whose truth
// is known (package synth): whether events are found, at the right time and with
// an honest uncertainty, and whether the uncertainty of measures covers what they
// are off.
//
// The swings are closed forms, so this is a check of the computing and of the
// statistics, not of how golfers swing. A study is deterministic: the same seed
// gives the same table on every machine up to rounding.
package study
