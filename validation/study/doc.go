// Package study measures how well the analysis does on made-up swings whose truth
// is known (package synth): whether events are found, at the right time and with
// an honest uncertainty, and whether the uncertainty of measures covers what they
// are off.
//
//	synth: a swing and its truth ----------------------------+
//	  + noise, drift --> swing.Analyse --> value ± SD --> value − truth
//	                                                         |
//	      found? made up?   median and 95 % of |error|   share within 1.96 SD
//
// # In use
//
//	table := study.Events(study.Options{Swings: 1000})
//	err := table.Write(os.Stdout)
//
// and the same with [Measures]. The errors of events are in seconds, those of
// measures in the measure's own unit, in swing axes (package grf).
//
// # What it shows
//
// The swings are closed forms, so this is a check of the computing and of the
// statistics, not of how golfers swing. A study is deterministic: the same seed
// gives the same table on every machine up to rounding.
//
// # Sources
//
// Intervals of 1.96 standard deviations are to cover 95 %: the normal distribution,
// JCGM 100:2008, annex G (table G.2 for infinite degrees of freedom, from memory). The
// size of noise and drift is invented: see [Options].
package study
