package validation

import (
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"os"
	"path"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"
)

const module = "example.com/momentarm"

// source is a Go file of this module that is no test.
type source struct {
	folder string // from the root of the module, such as "grf/c3d"
	name   string
	file   *ast.File
	set    *token.FileSet
}

// sources parses the whole module.
func sources(t *testing.T) []source {
	t.Helper()
	root := ".."
	if _, err := os.Stat(filepath.Join(root, "go.mod")); err != nil {
		t.Fatal(err)
	}
	var list []source
	err := filepath.WalkDir(root, func(name string, d fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		if d.IsDir() {
			if base := d.Name(); name != root && (strings.HasPrefix(base, ".") || base == "testdata") {
				return filepath.SkipDir
			}
			return nil
		}
		if !strings.HasSuffix(name, ".go") || strings.HasSuffix(name, "_test.go") {
			return nil
		}
		set := token.NewFileSet()
		f, err := parser.ParseFile(set, name, nil, parser.SkipObjectResolution)
		if err != nil {
			return err
		}
		rel, err := filepath.Rel(root, filepath.Dir(name))
		list = append(list, source{filepath.ToSlash(rel), filepath.Base(name), f, set})
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	if len(list) < 100 {
		t.Fatalf("only %d files", len(list))
	}
	return list
}

func (s source) imports() []string {
	var paths []string
	for _, i := range s.file.Imports {
		p, err := strconv.Unquote(i.Path.Value)
		if err != nil {
			panic(err) // the parser took it
		}
		paths = append(paths, p)
	}
	return paths
}

// in reports whether a folder is one of these or below.
func in(folder string, of ...string) bool {
	return slices.ContainsFunc(of, func(o string) bool { return folder == o || strings.HasPrefix(folder, o+"/") })
}

// core are the folders that others embed: they read no clock, file or environment, log
// nothing and reach no network.
var core = []string{"units", "grf", "cop", "torque", "phase"}

// TestNothingReachesOut holds what each part of the module may import.
func TestNothingReachesOut(t *testing.T) {
	for _, s := range sources(t) {
		for _, p := range s.imports() {
			where := path.Join(s.folder, s.name)
			first, _, _ := strings.Cut(p, "/")
			switch {
			case p == "C" || p == "unsafe" || p == "plugin":
				t.Errorf("%s imports %s", where, p)
			case first == "net" && p != "net/url" && !in(s.folder, "examples/live"):
				t.Errorf("%s imports %s: only the live program talks to others", where, p)
			case p == "os/exec" && !in(s.folder, starters...):
				t.Errorf("%s imports %s", where, p)
			case in(s.folder, core...) && slices.Contains([]string{"os", "time", "log", "log/slog", "syscall", "io/fs", "path/filepath", "embed", "runtime", "math/rand", "math/rand/v2", "crypto/rand", "testing", "flag"}, p) && !allowed(s.folder, p):
				t.Errorf("%s imports %s: the library reads no clock, file or environment", where, p)
			case strings.Contains(first, ".") && first != "example.com" && !strings.HasPrefix(p, "gonum.org/v1/gonum/"):
				t.Errorf("%s imports %s", where, p)
			}
		}
	}
}

// Assembly is in one place, beside its twin in Go.
func TestAssemblyIsInOnePlace(t *testing.T) {
	var found []string
	err := filepath.WalkDir("..", func(name string, d fs.DirEntry, err error) error {
		if err == nil && strings.HasSuffix(name, ".s") {
			found = append(found, filepath.ToSlash(name))
		}
		return err
	})
	if want := []string{"../grf/filter/lanes_amd64.s"}; err != nil || !slices.Equal(found, want) {
		t.Errorf("%v, %v, want %v", found, err, want)
	}
}

// starters start other programs: the Go compiler for a page, a browser for tests,
// other implementations to compare with.
var starters = []string{"examples/browser", "examples/internal/headless", "validation/peers"}

// allowed are the exceptions.
func allowed(folder, imported string) bool {
	return folder == "phase/screen" && imported == "embed" // the bands that come with it
}

// TestImportsPointOneWay holds the order of the packages: units, grf, cop, torque,
// phase, then everything that checks and shows them.
func TestImportsPointOneWay(t *testing.T) {
	rank := func(folder string) int {
		for i, f := range core {
			if in(folder, f) {
				return i
			}
		}
		switch {
		case folder == "validation/agreement":
			return 0 // statistics, which know nothing of golf
		case in(folder, "validation"):
			return len(core)
		}
		return len(core) + 1
	}
	for _, s := range sources(t) {
		for _, p := range s.imports() {
			folder, ok := strings.CutPrefix(p, module+"/")
			if !ok {
				continue
			}
			if rank(folder) > rank(s.folder) {
				t.Errorf("%s/%s imports %s", s.folder, s.name, p)
			}
			if same := strings.HasPrefix(folder, s.folder+"/") && !strings.Contains(folder, "/internal/") && in(s.folder, core...); same {
				t.Errorf("%s/%s imports its own sub-package %s", s.folder, s.name, p)
			}
		}
	}
}

// TestNothingHappensByItself: no init, no goroutine and no printing in what others
// embed.
func TestNothingHappensByItself(t *testing.T) {
	for _, s := range sources(t) {
		if !in(s.folder, core...) {
			continue
		}
		ast.Inspect(s.file, func(n ast.Node) bool {
			at := func() string { return s.set.Position(n.Pos()).String() }
			switch n := n.(type) {
			case *ast.FuncDecl:
				if n.Recv == nil && n.Name.Name == "init" {
					t.Errorf("%s: init", at())
				}
			case *ast.GoStmt:
				if s.folder != "phase/batch" { // which is asked to
					t.Errorf("%s: a goroutine", at())
				}
			case *ast.CallExpr:
				if f, ok := n.Fun.(*ast.Ident); ok && (f.Name == "print" || f.Name == "println" || f.Name == "recover") {
					t.Errorf("%s: %s", at(), f.Name)
				}
				if f, ok := n.Fun.(*ast.SelectorExpr); ok && strings.HasPrefix(f.Sel.Name, "Print") {
					if x, ok := f.X.(*ast.Ident); ok && x.Name == "fmt" {
						t.Errorf("%s: fmt.%s", at(), f.Sel.Name)
					}
				}
			}
			return true
		})
	}
}
