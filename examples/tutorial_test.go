package examples

import (
	"os"
	"regexp"
	"strings"
	"testing"
)

// Every package that is no folder of tests or of internals has a comment that says
// what it is for, and an example with checked output to begin with.
func TestEveryPackageHasAnExample(t *testing.T) {
	example := regexp.MustCompile(`(?ms)^func Example\w*\(\).*?^}`)
	for path, p := range allDocuments(t) {
		if strings.Contains(path, "/internal") || strings.Contains(path, "/examples") || len(p.symbols) == 0 {
			continue
		}
		if len(p.doc.Doc) < 200 {
			t.Errorf("%s: a comment of %d bytes", path, len(p.doc.Doc))
		}
		entries, err := os.ReadDir(p.dir)
		if err != nil {
			t.Fatal(err)
		}
		n := 0
		for _, e := range entries {
			if !strings.HasSuffix(e.Name(), "_test.go") {
				continue
			}
			text, err := os.ReadFile(p.dir + "/" + e.Name())
			if err != nil {
				t.Fatal(err)
			}
			for _, f := range example.FindAllString(string(text), -1) {
				if strings.Contains(f, "// Output:") || strings.Contains(f, "// Unordered output:") {
					n++
				}
			}
		}
		if n == 0 {
			t.Errorf("%s has no example with checked output", path)
		}
	}
}
