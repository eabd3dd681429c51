package c3d

import (
	"bytes"
	"testing"
)

// TestRewriteIsIdentical decodes and encodes every public file: all but those
// whose defects are repaired must come back byte by byte.
func TestRewriteIsIdentical(t *testing.T) {
	repaired := map[string]string{}
	same := 0
	for _, o := range oracle(t) {
		if o.Expect == "error" {
			continue
		}
		data := dataset(t, o.File)
		f, err := Decode(data, Options{})
		if err != nil {
			t.Fatal(o.File, err)
		}
		var b bytes.Buffer
		if err := Encode(&b, f); err != nil {
			t.Errorf("%s: %v", o.File, err)
			continue
		}
		if bytes.Equal(b.Bytes(), data) {
			same++
			continue
		}
		diff := 0
		first := -1
		for i := range min(len(data), b.Len()) {
			if data[i] != b.Bytes()[i] {
				diff++
				if first < 0 {
					first = i
				}
			}
		}
		if repaired[o.File] == "" {
			t.Errorf("%s: %d bytes, want %d; %d differ, the first at %d (data at %d)", o.File, b.Len(), len(data), diff, first, f.Layout.DataStart)
		}
	}
	t.Logf("%d files identical", same)
}
