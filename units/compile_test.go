package units_test

import (
	"go/ast"
	"go/parser"
	"go/token"
	"go/types"
	"path/filepath"
	"strings"
	"testing"
)

type importing func(path string) (*types.Package, error)

func (f importing) Import(path string) (*types.Package, error) { return f(path) }

// ourselves imports this package from the source in the working directory. What
// it imports in turn is left empty: the names from there do not matter here, so
// errors about them are ignored.
func ourselves(t *testing.T, fset *token.FileSet) types.Importer {
	names, err := filepath.Glob("*.go")
	if err != nil {
		t.Fatal(err)
	}
	var files []*ast.File
	for _, name := range names {
		if strings.HasSuffix(name, "_test.go") {
			continue
		}
		file, err := parser.ParseFile(fset, name, nil, 0)
		if err != nil {
			t.Fatal(err)
		}
		files = append(files, file)
	}
	conf := types.Config{
		IgnoreFuncBodies: true,
		Error:            func(error) {},
		Importer: importing(func(path string) (*types.Package, error) {
			p := types.NewPackage(path, filepath.Base(path))
			p.MarkComplete()
			return p, nil
		}),
	}
	units, _ := conf.Check("example.com/momentarm/units", fset, files, nil)
	units.MarkComplete()
	return importing(func(string) (*types.Package, error) { return units, nil })
}

// What the package comment says of the compiler: mixing quantities does not
// compile, and the mistakes listed there do.
func TestWhatTheTypesCatch(t *testing.T) {
	fset := token.NewFileSet()
	conf := types.Config{Importer: ourselves(t, fset)}
	const head = `package p
import "example.com/momentarm/units"
func moment(arm units.Length, f units.Force) units.Moment { return units.Moment(float64(arm) * float64(f)) }
func use(...any) {}
func _(x units.Length, m units.Mass, f units.Force, n float64) {
`
	for _, c := range []struct {
		code, refused string // "" where it compiles
	}{
		{"use(moment(x, f))", ""},
		{"use(moment(f, x))", "cannot use f"},
		{"use(x + f)", "mismatched types"},
		{"use(x * f)", "mismatched types"},
		{"use(f.In(units.Kilogram))", "cannot use units.Kilogram"},
		{"use(units.BodyWeight(f))", "cannot use f"},
		{"use(n * units.Inch)", "mismatched types"},
		{"use(units.Hertz + units.RadianPerSecond)", "mismatched types"},
		// What the types cannot catch.
		{"use(2*units.Newton * units.Newton)", ""},
		{"use(x * units.Inch)", ""},
		{"f = 100; use(f)", ""},
		{"use(units.Force(m))", ""},
	} {
		file, err := parser.ParseFile(fset, "p.go", head+c.code+"\n}", 0)
		if err != nil {
			t.Fatal(err)
		}
		_, err = conf.Check("p", fset, []*ast.File{file}, nil)
		switch {
		case c.refused == "" && err != nil:
			t.Errorf("%s: %v", c.code, err)
		case c.refused != "" && (err == nil || !strings.Contains(err.Error(), c.refused)):
			t.Errorf("%s: got %v, want %q", c.code, err, c.refused)
		}
	}
}
