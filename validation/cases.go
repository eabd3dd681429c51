package validation

import "slices"

// Cases returns every case that needs no file. The slice and what is in it
// belong to the caller.
func Cases() []Case {
	return slices.Concat(
		unitCases(),
		torqueCases(),
		staticsCases(),
		rotationCases(),
		massCases(),
		bodyCases(),
		plateCases(),
		filterCases(),
		pathCases(),
		agreementCases(),
		uncertaintyCases(),
		sciPyCases(),
		practiceCases(),
	)
}
