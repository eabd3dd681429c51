package examples

import (
	"go/build"
	"go/doc"
	"go/doc/comment"
	"regexp"
	"strings"
	"testing"
)

// meantAsLink is text in brackets that looks like the name of something exported;
// behind a word it is an index.
var meantAsLink = regexp.MustCompile(`(?:^|\W)\[\*?([A-Z]\w*[a-z]\w*(\.[A-Z]\w*)?|[a-z]\w*(/[a-z]\w*)*\.[A-Z]\w*(\.[A-Z]\w*)?)\]`)

// Every link in a doc comment leads to something.
func TestDocLinks(t *testing.T) {
	packages := allDocuments(t)
	others := map[string]*documented{} // of other modules
	links := 0
	for _, p := range packages {
		for _, c := range comments(p.doc) {
			parsed := p.doc.Parser().Parse(c.text)
			walkText(parsed.Content, func(text comment.Text) {
				switch x := text.(type) {
				case comment.Plain:
					for _, m := range meantAsLink.FindAllStringSubmatch(string(x), -1) {
						t.Errorf("%s, %s: [%s] leads nowhere", p.path, c.of, m[1])
					}
				case *comment.DocLink:
					links++
					if x.Name == "" {
						return
					}
					name := x.Name
					if x.Recv != "" {
						name = x.Recv + "." + name
					}
					other := p
					if x.ImportPath != "" && x.ImportPath != p.path {
						if other = packages[x.ImportPath]; other == nil {
							if other = others[x.ImportPath]; other == nil {
								other = outside(t, x.ImportPath)
								others[x.ImportPath] = other
							}
						}
					}
					if other == nil || !other.symbols[name] {
						t.Errorf("%s, %s: [%s] of %q leads nowhere", p.path, c.of, name, x.ImportPath)
					}
				}
			})
		}
	}
	if links < 300 {
		t.Errorf("%d links were looked at", links)
	}
}

// Comments of fields show their brackets as they are, but what is in them should
// exist as well.
func TestFieldComments(t *testing.T) {
	packages := allDocuments(t)
	byName := map[string]*documented{}
	for _, p := range packages {
		byName[p.doc.Name] = p
	}
	names := 0
	for _, p := range packages {
		for _, c := range p.fields {
			for _, m := range meantAsLink.FindAllStringSubmatch(c.text, -1) {
				names++
				in, name := p, m[1]
				if pkg, rest, ok := strings.Cut(name, "."); ok && strings.ToLower(pkg) == pkg {
					if in, name = byName[pkg[strings.LastIndex(pkg, "/")+1:]], rest; in == nil {
						continue // of the standard library
					}
				}
				if !in.symbols[name] {
					t.Errorf("%s, %s: [%s] does not exist", p.path, c.of, m[1])
				}
			}
		}
	}
	if names < 30 {
		t.Errorf("%d names were looked at", names)
	}
}

// outside reads a package of another module or of the standard library.
func outside(t *testing.T, path string) *documented {
	t.Helper()
	found, err := build.Import(path, ".", build.FindOnly)
	if err != nil {
		t.Fatal(err)
	}
	p, err := document(found.Dir, path)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

type docComment struct{ of, text string }

// comments lists the doc comments of a package.
func comments(p *doc.Package) []docComment {
	all := []docComment{{"package", p.Doc}}
	values := func(vs []*doc.Value) {
		for _, v := range vs {
			all = append(all, docComment{strings.Join(v.Names, ", "), v.Doc})
		}
	}
	funcs := func(of string, fs []*doc.Func) {
		for _, f := range fs {
			all = append(all, docComment{of + f.Name, f.Doc})
		}
	}
	values(p.Consts)
	values(p.Vars)
	funcs("", p.Funcs)
	for _, t := range p.Types {
		all = append(all, docComment{t.Name, t.Doc})
		values(t.Consts)
		values(t.Vars)
		funcs("", t.Funcs)
		funcs(t.Name+".", t.Methods)
	}
	return all
}

// walkText calls f for every piece of text in blocks.
func walkText(blocks []comment.Block, f func(comment.Text)) {
	for _, b := range blocks {
		switch b := b.(type) {
		case *comment.Paragraph:
			for _, x := range b.Text {
				f(x)
			}
		case *comment.Heading:
			for _, x := range b.Text {
				f(x)
			}
		case *comment.List:
			for _, item := range b.Items {
				walkText(item.Content, f)
			}
		}
	}
}
