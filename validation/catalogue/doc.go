// Package catalogue holds no code: its tests are a numbered list of bad input, from
// empty files to moments of the wrong unit, and of the ways in which force plates
// lead astray, each put to the library through its public functions. A row says what
// comes in and which of three things must come out:
//
//   - an error that errors.Is can tell, and no result;
//   - a result with a warning of a known code, which strict reading refuses;
//   - a defined result, without a word.
//
// Rows that are not followed to the letter say why. The list was compiled from the
// C3D User Guide and its pages at c3d.org, from defects of public files and from the
// public issue lists of open readers and filters; what a row asks for is common
// practice (no published source) unless it names one.
package catalogue
