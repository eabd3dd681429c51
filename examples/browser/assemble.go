//go:build !js

package main

import (
	"bytes"
	"crypto/sha256"
	_ "embed"
	"encoding/base64"
	"html/template"

	"example.com/momentarm/examples/internal/page"
)

var (
	//go:embed shell.html
	shellText string
	//go:embed shell.css
	shellStyle string
	//go:embed shell.js
	shellScript string
)

var shell = template.Must(template.New("shell").Parse(shellText))

// assemble puts the loader and the compressed engine into the page.
func assemble(loader, engine []byte) ([]byte, error) {
	var b bytes.Buffer
	err := shell.Execute(&b, struct {
		Policy         string
		Style          template.CSS
		Loader, Script template.JS
		Engine         template.JS
	}{policy(string(loader)), template.CSS(shellStyle), template.JS(loader), template.JS(shellScript), template.JS(`"` + base64.StdEncoding.EncodeToString(engine) + `"`)})
	return b.Bytes(), err
}

// policy lets the page run its own two scripts, that of the report within it, and
// the engine, and forbids every connection. The report is in a frame that inherits
// the policy and has a narrower one of its own.
func policy(loader string) string {
	return "default-src 'none'; connect-src 'none'; base-uri 'none'; form-action 'none'; " +
		"style-src 'unsafe-inline'; img-src data:; script-src 'wasm-unsafe-eval' " +
		sourceOf(loader) + " " + sourceOf(shellScript) + " " + page.ScriptSource()
}

// sourceOf names a script by its content.
func sourceOf(script string) string {
	sum := sha256.Sum256([]byte(script))
	return "'sha256-" + base64.StdEncoding.EncodeToString(sum[:]) + "'"
}
