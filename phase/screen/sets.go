package screen

import (
	"bytes"
	_ "embed" // the sets are part of the program
)

//go:embed starter.json
var starterText []byte

//go:embed published.json
var publishedText []byte

// Starter returns a neutral set of bands for full swings, to begin with and to
// change. All of its edges are common practice (no published source).
func Starter() *Bands { return embedded(starterText) }

// Published returns plausibility bands that were drawn around figures of the golf
// literature. They only warn, each names its source, and most of the figures are
// known second-hand: see [Level]. They are no norm.
func Published() *Bands { return embedded(publishedText) }

// embedded reads a set that a test has read before.
func embedded(text []byte) *Bands {
	s, err := ReadBands(bytes.NewReader(text))
	if err != nil {
		panic(err) // a mistake in this package
	}
	return s
}
