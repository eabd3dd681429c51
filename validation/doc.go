// Package validation holds the reference values that this library is checked
// against, each with the source that it comes from, and puts them to this
// library, to other implementations and to the recorded answers of devices.
//
// A [Case] asks one operation (see [Operations]) with inputs in SI units and
// wants outputs within a tolerance that has a reason: the printed digits, the
// resolution of a file, or rounding. Its [Level] says how independent the
// expected value is: a standard, a textbook, a paper, an open data set and
// another library count as external, a closed form worked out here does not,
// and neither do the trade's arithmetic, marked common practice, and values
// recalled from memory. Frozen outputs of this library prove nothing and are
// not here; those tests are called regression tests and lie beside the code.
//
//	report := validation.Check(validation.Library())
//	err := report.Err() // nil only if values were compared and none missed
//
// # Another implementation
//
// [Check] takes anything that has the one method of [Implementation]: a port,
// a wrapper around firmware, or [Answers], the outputs that a program in
// another language wrote to a file. The cases themselves are in
// vectors/cases.json, with the operations and the schema described in
// vectors/README.md; `go run ./examples/validate -answers FILE` judges such a
// file. What an implementation leaves out is counted as unsupported, not as
// missed, and a run in which nothing was compared fails.
//
// # Data sets
//
// Cases on measured data read files that are not part of this repository. The
// function [DatasetCases] takes a folder with them, and the tests and
// examples/validate take it from the environment variable GRF_DATASETS. Every
// part of it may be missing; what is missing is reported as skipped. All of it
// is public. The folder holds:
//
//   - bds/BDSnnnnn.txt and bds/published_metrics.csv: trials of the human
//     balance data set of Santos and Duarte (doi 10.6084/m9.figshare.3394432,
//     also doi 10.13026/C2WW2W), and for these trials the columns Trial,
//     COParea_cm2, COPvelo_cm_s and COPmfreq_Hz of its table BDSinfoCOP.txt;
//   - pds/PDSnn…grf.txt and pds/published_metrics.csv: trials on two plates of
//     dos Santos and others (doi 10.6084/m9.figshare.4525082) and the same
//     columns;
//   - jump/GRFZjump.txt: data/GRFZjump.txt, the record of the notebook
//     VerticalJump of the Notes on Scientific Computing for Biomechanics and
//     Motor Control of Duarte and Watanabe (doi 10.5281/zenodo.4599319,
//     github.com/BMClab/BMC);
//   - com/walk/grf.csv (t, Fx, Fy, Fz at 1000 Hz) and com_kinematic.csv (t, x, y,
//     z at 200 Hz): examples/example_data.mat of the repository
//     github.com/charlotte-lemouel/center_of_mass, to twelve digits;
//   - com/run/grf.csv (t and, for R and L, Fx to Fz, the point Px to Pz and the
//     free moment Tz, at 300 Hz): data/opensim/grf_run.mot of the notes above,
//     from 0 to 0.74 s, turned so that x is forward, y left and z up; and
//     com_kinematic.csv (t, x, y, z at 150 Hz): the centre of mass of a model of
//     11 segments with Dempster's masses through the markers of
//     data/opensim/motion_capture_run.trc;
//   - com/…/trial.json: mass_kg, g, force_rate_hz, com_rate_hz and, for the run,
//     flight_intervals_s: [0, 0.043], [0.313, 0.393], [0.68, 0.74];
//   - com/…/oracle: what SciPy makes of these, written by
//     testdata/gen/com_values.py;
//   - c3d/sampleNN/*.c3d: the sample files of c3d.org, under
//     https://www.c3d.org/sampledata.html, which are also in the folder
//     Input/C3DSamples of github.com/Biomechanical-ToolKit/BTKData, as are those
//     of c3d/others; c3d/bmc/Gait.c3d is data/Gait.c3d of the notes above;
//   - c3d/sample10/TYPE-4_published_results.csv: the rows of the spreadsheet of
//     Sample10 at c3d.org as comma-separated values;
//   - c3d/oracle: points, channels and plates of these files as a reader in
//     another language finds them, written by testdata/gen/c3d_values.py.
//
// Files of a data set are inputs by their name, see [File]. Tests of other
// packages look in the same folder; they say so when they skip.
//
// # Sub-packages
//
// Package agreement has the statistics of agreement and reliability. Package
// synth makes swings whose forces, moments, path of the centre of mass and
// events are known exactly.
package validation
