package table

import (
	"bytes"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
)

// FuzzDecode checks that no text makes Decode panic, that it returns either a
// table or an error, and that a table is whole: columns of one length, a usable
// rate, and the same content whatever ends the lines.
func FuzzDecode(f *testing.F) {
	seeds, err := filepath.Glob("testdata/*.?sv")
	if err != nil || len(seeds) == 0 {
		f.Fatal("no seeds", err)
	}
	for _, name := range seeds {
		data, err := os.ReadFile(name)
		if err != nil {
			f.Fatal(err)
		}
		f.Add(data)
	}
	f.Add(sheet(20, 3))
	f.Fuzz(func(t *testing.T, data []byte) {
		for _, opt := range []Options{{}, {Rate: 50, Clock: Ascending}, {Separator: '\t', Decimal: ','}} {
			tab, err := Decode(data, opt)
			if (tab == nil) == (err == nil) {
				t.Fatalf("table %v and error %v", tab, err)
			}
			if err != nil {
				if !strings.HasPrefix(err.Error(), "table: ") || len(err.Error()) > 2000 {
					t.Fatalf("message %q", err)
				}
				continue
			}
			for _, c := range tab.Columns {
				if len(c.Values) != tab.Rows || c.Name == "" || c.Unit.Symbol == "" {
					t.Fatalf("column %q in %q has %d of %d rows", c.Name, c.Unit.Symbol, len(c.Values), tab.Rows)
				}
				for _, v := range c.Values {
					if math.IsInf(v, 0) {
						t.Fatal("an infinite value")
					}
				}
			}
			if opt.Clock == Even && !(tab.Rate > 0) || math.IsInf(tab.Rate, 0) || math.IsNaN(tab.Start) {
				t.Fatalf("start %g s, rate %g Hz", tab.Start, tab.Rate)
			}
			if bytes.IndexByte(data, '\r') >= 0 {
				continue
			}
			again, err := Decode(bytes.ReplaceAll(data, []byte("\n"), []byte("\r\n")), opt)
			if err != nil {
				t.Fatalf("with CRLF: %v", err)
			}
			if d := cmp.Diff(tab, again, cmpopts.EquateNaNs()); d != "" {
				t.Fatal(d)
			}
		}
	})
}
