package acceptance

import "fmt"

// Verdict is what a value is worth against its limit.
type Verdict int

const (
	// NotJudged: there is no limit.
	NotJudged Verdict = iota
	// Pass: the value is not above its limit.
	Pass
	// Fail: it is.
	Fail
	// NotAssessed: there is a limit, but the readings do not tell the value.
	NotAssessed
)

// String returns "not judged", "pass", "fail" or "not assessed".
func (v Verdict) String() string {
	switch v {
	case NotJudged:
		return "not judged"
	case Pass:
		return "pass"
	case Fail:
		return "fail"
	case NotAssessed:
		return "not assessed"
	}
	return fmt.Sprintf("Verdict(%d)", int(v))
}

// MarshalText returns the text of String.
func (v Verdict) MarshalText() ([]byte, error) {
	if v < NotJudged || v > NotAssessed {
		return nil, fmt.Errorf("acceptance: %v is no verdict", v)
	}
	return []byte(v.String()), nil
}

// overall is the verdict on several: a failure counts most, then what was not
// assessed. Without any limit nothing is judged.
func overall(vs []Verdict) Verdict {
	sum := NotJudged
	for _, v := range vs {
		switch {
		case v == Fail || sum == Fail:
			sum = Fail
		case v == NotAssessed || sum == NotAssessed:
			sum = NotAssessed
		case v == Pass:
			sum = Pass
		}
	}
	return sum
}
