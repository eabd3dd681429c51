// Report tells in plain words, pictures and numbers what the ground did during
// one golf swing.
//
// Without arguments it works on a demonstration capture of an invented golfer:
//
//	go run ./examples/report
//
// With a capture of two force plates (C3D, CSV or TSV) and, where the file alone
// does not say enough, a setup (JSON, see package grf/capture):
//
//	go run ./examples/report -capture swing.c3d -setup lab.json -html swing.html
//
// It prints a summary and writes an HTML page that needs nothing else, the
// results as JSON, or the series as CSV, as asked. Its exit status is 0, 1 when
// the capture can not be read or worked on or a file can not be written, and 2
// when the arguments make no sense.
//
// # The series
//
// The CSV has a row for each sample. Columns end in their unit, Nm for N·m; those
// with _sd are the standard deviations, one to either side, of the columns without.
// Axes are swing axes: x toward the ball, y toward the target, z up, mirrored for a
// left-handed golfer. A cell is empty where a value is undefined.
//
//	time_s                          on the clock of the capture
//	lead_…, trail_…, net_…          each foot, and both together:
//	  fx_N, fy_N, fz_N              the ground's push on the golfer, filtered
//	  copx_m, copy_m                centre of pressure on the standing surface
//	  free_Nm                       free moment about the vertical through it
//	lead_share                      lead part of the vertical force, 0 to 1
//	com_x_m, …                      centre of mass
//	moment_x_Nm, …                  moment of the net force about it, free moments
//	                                included: frontal, sagittal, about the vertical
//	arm_frontal_m, arm_sagittal_m,  moment arms with the sign of the moment; the
//	arm_horizontal_m                horizontal one without the free moment
package main

import "os"

func main() { os.Exit(run(os.Args[1:], os.Stdout, os.Stderr)) }
