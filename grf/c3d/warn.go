package c3d

import (
	"fmt"

	"example.com/momentarm/grf"
)

// Limits on what a crafted file can make this package do. Real files stay far
// below them.
const (
	maxRecords  = 10_000 // parameter records
	maxWarnings = 200
	// maxWithoutFrames is how many points or channels are listed when the file
	// holds no frame, so that nothing shows that they exist.
	maxWithoutFrames = 1000
)

// warnings collects what was repaired.
type warnings struct {
	list    []grf.Warning
	dropped int
}

func (w *warnings) add(code, where, format string, args ...any) {
	if len(w.list) >= maxWarnings {
		w.dropped++
		return
	}
	w.list = append(w.list, grf.Warning{Code: code, Where: where, Text: fmt.Sprintf(format, args...)})
}

// merge adds the warnings of other.
func (w *warnings) merge(other *warnings) {
	n := min(len(other.list), maxWarnings-len(w.list))
	w.list = append(w.list, other.list[:n]...)
	w.dropped += other.dropped + len(other.list) - n
}

// finish returns the list with a note on what was left out.
func (w *warnings) finish() []grf.Warning {
	if w.dropped > 0 {
		w.list = append(w.list, grf.Warning{Code: CodeMoreWarnings,
			Text: fmt.Sprintf("%d further warnings were not kept", w.dropped)})
	}
	return w.list
}

func byteAt(offset int) string { return fmt.Sprintf("byte %d", offset) }
