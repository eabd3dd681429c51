package agreement_test

import (
	"errors"
	"math"
	"testing"

	"example.com/momentarm/validation/agreement"
)

// Raters who disagree more than chance would have it: (BMS − EMS)/(BMS + (JMS −
// EMS)/n) of Shrout and Fleiss (1979, p. 426) is then a ratio of two negative numbers,
// here −3/−0.33 = 9, and no coefficient.
func TestRatersWorseThanChance(t *testing.T) {
	a := agreement.ANOVA{Targets: 3, Raters: 2, Between: 1, Within: 8.0 / 3, Judges: 0, Error: 4}
	if c, err := a.ICC(agreement.TwoWayRandomAverage, 0); !errors.Is(err, agreement.ErrNoVariation) {
		t.Errorf("%+v, %v", c, err)
	}
	c, err := a.ICC(agreement.TwoWayRandomSingle, 0)
	if want := -3 / (1 + 4 + 2*(0.0-4)/3); err != nil || math.Abs(c.Value-want) > 1e-12 {
		t.Errorf("%+v, %v; want %g", c, err, want)
	}
	// A negative average is one as long as its denominator is positive.
	a.Judges = 3
	if c, err := a.ICC(agreement.TwoWayRandomAverage, 0); err != nil || math.Abs(c.Value- -3/(1-1.0/3)) > 1e-12 {
		t.Errorf("%+v, %v", c, err)
	}
}
