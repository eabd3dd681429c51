package examples

import (
	"go/ast"
	"go/build"
	"go/doc"
	"go/parser"
	"go/token"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"testing"
)

const module = "example.com/momentarm"

// documented is a package of this module with its documentation.
type documented struct {
	path    string // import path
	dir     string
	doc     *doc.Package
	fset    *token.FileSet
	symbols map[string]bool // "Name" and "Type.Member"
	fields  []docComment    // of fields, where links are not made but meant
}

// documents returns every package of the module that is no program, by import path.
var documents = sync.OnceValues(func() (map[string]*documented, error) {
	found := map[string]*documented{}
	err := filepath.WalkDir("..", func(path string, d fs.DirEntry, err error) error {
		switch {
		case err != nil:
			return err
		case !d.IsDir():
			return nil
		case d.Name() == "testdata" || len(d.Name()) > 2 && strings.HasPrefix(d.Name(), "."):
			return fs.SkipDir
		}
		rel, err := filepath.Rel("..", path)
		if err != nil {
			return err
		}
		p, err := document(path, module+"/"+filepath.ToSlash(rel))
		if p != nil && p.doc.Name != "main" {
			found[p.path] = p
		}
		return err
	})
	return found, err
})

// document reads the package in a folder, nil when there is none.
func document(dir, path string) (*documented, error) {
	entries, err := os.ReadDir(dir)
	if err != nil {
		return nil, err
	}
	p := &documented{path: path, dir: dir, fset: token.NewFileSet(), symbols: map[string]bool{}}
	var files []*ast.File
	for _, e := range entries {
		name := e.Name()
		if !strings.HasSuffix(name, ".go") || strings.HasSuffix(name, "_test.go") {
			continue
		}
		if ok, err := build.Default.MatchFile(dir, name); err != nil || !ok {
			continue
		}
		f, err := parser.ParseFile(p.fset, filepath.Join(dir, name), nil, parser.ParseComments)
		if err != nil {
			return nil, err
		}
		p.note(f)
		files = append(files, f)
	}
	if len(files) == 0 {
		return nil, nil
	}
	p.doc, err = doc.NewFromFiles(p.fset, files, path)
	return p, err
}

// note notes the symbols of a file, with fields and methods.
func (p *documented) note(f *ast.File) {
	for _, decl := range f.Decls {
		switch d := decl.(type) {
		case *ast.FuncDecl:
			name := d.Name.Name
			if d.Recv != nil {
				name = receiver(d.Recv.List[0].Type) + "." + name
			}
			p.symbols[name] = true
		case *ast.GenDecl:
			for _, spec := range d.Specs {
				switch s := spec.(type) {
				case *ast.ValueSpec:
					for _, n := range s.Names {
						p.symbols[n.Name] = true
					}
				case *ast.TypeSpec:
					p.symbols[s.Name.Name] = true
					var fields *ast.FieldList
					switch t := s.Type.(type) {
					case *ast.StructType:
						fields = t.Fields
					case *ast.InterfaceType:
						fields = t.Methods
					}
					for i := 0; fields != nil && i < len(fields.List); i++ {
						for _, n := range fields.List[i].Names {
							name := s.Name.Name + "." + n.Name
							p.symbols[name] = true
							p.fields = append(p.fields, docComment{name, fields.List[i].Doc.Text() + fields.List[i].Comment.Text()})
						}
					}
				}
			}
		}
	}
}

func receiver(t ast.Expr) string {
	switch t := t.(type) {
	case *ast.StarExpr:
		return receiver(t.X)
	case *ast.IndexExpr:
		return receiver(t.X)
	case *ast.Ident:
		return t.Name
	}
	return ""
}

func allDocuments(t *testing.T) map[string]*documented {
	t.Helper()
	found, err := documents()
	if err != nil {
		t.Fatal(err)
	}
	if len(found) < 20 {
		t.Fatalf("%d packages were found", len(found))
	}
	return found
}
