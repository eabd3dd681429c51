package main

import (
	"fmt"
	"regexp"
	"strconv"
	"strings"

	"example.com/momentarm/examples/internal/results"
	"example.com/momentarm/examples/internal/safe"
)

// methods is how all the captures were analysed, as a text for a methods section.
// Paragraphs that differ in numbers alone are one, with the least and the greatest of
// each number that differs; a paragraph of some captures only says of how many.
func methods(swings []*results.Results) []byte {
	var b strings.Builder
	fmt.Fprintf(&b, "How %s were analysed\n\n", count(len(swings), "capture"))
	longest := 0
	for _, s := range swings {
		longest = max(longest, len(s.Methods))
	}
	for i := range longest {
		var order []string
		variants := map[string][]string{}
		for _, s := range swings {
			if i >= len(s.Methods) {
				continue
			}
			words := number.ReplaceAllString(s.Methods[i], "${1}#")
			if variants[words] == nil {
				order = append(order, words)
			}
			variants[words] = append(variants[words], s.Methods[i])
		}
		for _, words := range order {
			if n := len(variants[words]); n < len(swings) {
				fmt.Fprintf(&b, "Of %d of %d captures: ", n, len(swings))
			}
			b.WriteString(safe.Plain(inOne(variants[words])) + "\n\n")
		}
	}
	if len(swings) > 1 {
		b.WriteString("a…b: from a in one capture to b in another.\n")
	}
	return []byte(b.String())
}

// number is a number with what stands before it: a minus is its sign only there.
var number = regexp.MustCompile(`(^|[\s(±])([-−]?\d+(?:\.\d+)?)`)

// inOne makes one text of texts that differ in numbers alone.
func inOne(texts []string) string {
	first := number.FindAllStringSubmatchIndex(texts[0], -1)
	least, most := make([]string, len(first)), make([]string, len(first))
	for _, text := range texts {
		for i, m := range number.FindAllStringSubmatch(text, -1) {
			if v := m[2]; least[i] == "" || value(v) < value(least[i]) {
				least[i] = v
			}
			if v := m[2]; most[i] == "" || value(v) > value(most[i]) {
				most[i] = v
			}
		}
	}
	var b strings.Builder
	end := 0
	for i, m := range first {
		b.WriteString(texts[0][end:m[4]] + least[i])
		if value(most[i]) > value(least[i]) {
			b.WriteString("…" + most[i])
		}
		end = m[5]
	}
	return b.String() + texts[0][end:]
}

func value(text string) float64 {
	v, _ := strconv.ParseFloat(strings.Replace(text, "−", "-", 1), 64)
	return v
}
