package main

import (
	"fmt"
	"io"
	"path/filepath"
	"strings"

	"example.com/momentarm/examples/internal/safe"
)

// conclude tells what came out, and reports whether every capture was analysed.
func conclude(req request, found folder, outcomes []outcome, reached int, then *before, stdout, stderr io.Writer) (bool, error) {
	var good, kept, missing int
	var reasons []string
	for _, o := range outcomes {
		switch {
		case o.state == failed:
			reasons = append(reasons, o.reason)
		case o.state == notReached:
			missing++
		case o.state == analysed:
			good++
			if o.earlier {
				kept++
			}
		}
	}
	text := count(len(outcomes), "capture") + ": " + fmt.Sprintf("%d analysed", good)
	if kept > 0 {
		text += fmt.Sprintf(" (%d of them in an earlier run)", kept)
	}
	if len(reasons) > 0 {
		text += fmt.Sprintf(", %d failed", len(reasons))
	}
	if missing > 0 {
		text += fmt.Sprintf(", %d not reached", missing)
	}
	var b strings.Builder
	b.WriteString("\n" + text + "\n\n")
	if found.shared != "" {
		b.WriteString(safe.Plain(found.shared) + "\n\n")
	}
	now := summarize(swingsOf(outcomes))
	b.WriteString(now.short())
	files := []string{measuresFile, swingsFile, sessionJSON, sessionText, methodsText, capturesFile}
	if then != nil {
		changes, err := then.changes(now)
		if err != nil {
			return false, err
		}
		if err := safe.WriteFile(filepath.Join(req.out, changesText), []byte(changes)); err != nil {
			return false, err
		}
		b.WriteString(changes)
		files = append(files, changesText)
	}
	b.WriteString("\n")
	for _, name := range files {
		b.WriteString("wrote " + safe.Plain(filepath.Join(req.out, name)) + "\n")
	}
	if _, err := io.WriteString(stdout, b.String()); err != nil {
		return false, fmt.Errorf("standard output: can not be written: %w", err)
	}
	if len(reasons) > 0 {
		fmt.Fprintf(stderr, "batch: %s can not be worked on:\n", count(len(reasons), "capture"))
		for _, r := range reasons {
			fmt.Fprintln(stderr, "  "+safe.Plain(r))
		}
	}
	if left := len(outcomes) - reached; left > 0 {
		fmt.Fprintf(stderr, "batch: ended before %s had a turn: run again with -resume\n", count(left, "capture"))
	}
	return len(reasons) == 0 && reached == len(outcomes), nil
}
