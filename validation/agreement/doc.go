// Package agreement answers questions about repeated measurements: do two of the
// same thing agree, is a change between two of them real, do two conditions differ,
// and how many golfers does it take to show that?
//
//   - [RMSE], [Compare] (bias and limits of agreement): two instruments, or an
//     instrument and a reference, on the same occasions; [CompareRepeated] on
//     several occasions of each target.
//   - [ICC]: several raters, instruments or days on several targets; six forms,
//     each with the model it belongs to.
//   - [Precision]: the standard error of measurement in its two definitions and
//     the minimal detectable change that follows from it.
//   - [TypicalError], [Variation]: the same noise from test and retest, in the
//     unit of the measurement and as a fraction of its mean.
//   - [Paired], [Unpaired]: two conditions in the same golfers, or two groups of
//     them; [Holm]: several such tests at once.
//   - [PairsNeeded], [EachNeeded]: how many it takes to find a change of a given
//     size.
//
// The package knows nothing of what was measured: it takes plain numbers, one
// unit for all, and returns results in that unit. Tables of ratings are
// ratings[target][rater]: one row for each target, one column for each rater:
//
//	          day 1  day 2
//	golfer A   168    171      between rows: what golfers differ by
//	golfer B   143    140      within a row: what one golfer, or the plates, vary by
//	golfer C   190    186
//
// # In use
//
//	// How well are golfers told apart? How far may two instruments differ?
//	icc, err := agreement.ICC(ratings, agreement.TwoWayRandomSingle, 0)
//	limits, err := agreement.Compare(ours, theirs, agreement.CompareOptions{})
//
// # What is undefined
//
// Nothing here has a value for data that do not determine one. Fewer targets
// than a formula needs, series of different lengths, numbers that are not
// finite and data without any variation are errors, and the errors can be told
// apart with errors.Is.
//
// # Sources
//
//   - P. E. Shrout and J. L. Fleiss, Intraclass correlations: uses in assessing
//     rater reliability, Psychological Bulletin 86(2):420–428, 1979.
//   - K. O. McGraw and S. P. Wong, Forming inferences about some intraclass
//     correlation coefficients, Psychological Methods 1(1):30–46, 1996 (names of
//     the models).
//   - J. P. Weir, Quantifying test-retest reliability using the intraclass
//     correlation coefficient and the SEM, J. Strength Cond. Res.
//     19(1):231–240, 2005.
//   - J. M. Bland and D. G. Altman, Statistical methods for assessing agreement
//     between two methods of clinical measurement, Lancet i:307–310, 1986; and
//     Measuring agreement in method comparison studies, Statistical Methods in
//     Medical Research 8(2):135–160, 1999; and Agreement between methods of
//     measurement with multiple observations per individual, Journal of
//     Biopharmaceutical Statistics 17(4):571–582, 2007 (from memory).
//   - W. G. Hopkins, Measures of reliability in sports medicine and science,
//     Sports Medicine 30(1):1–15, 2000.
//   - Student, The probable error of a mean, Biometrika 6(1):1–25, 1908; B. L.
//     Welch, The generalization of "Student's" problem when several different
//     population variances are involved, Biometrika 34(1–2):28–35, 1947.
//   - S. Holm, A simple sequentially rejective multiple test procedure,
//     Scandinavian Journal of Statistics 6(2):65–70, 1979.
//   - J. Cohen, Statistical Power Analysis for the Behavioral Sciences, 2nd ed.,
//     1988 (from memory).
package agreement
