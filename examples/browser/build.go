//go:build !js

package main

import (
	"bytes"
	"compress/gzip"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
)

// self is this program, as the go command knows it.
const self = "example.com/momentarm/examples/browser"

// build compiles this program to WebAssembly and puts it into a page.
func build() ([]byte, error) {
	root, err := goTool("env", "GOROOT")
	if err != nil {
		return nil, err
	}
	loader, err := os.ReadFile(filepath.Join(strings.TrimSpace(root), "lib", "wasm", "wasm_exec.js"))
	if err != nil {
		return nil, fmt.Errorf("the loader of the Go distribution: %w; Go 1.24 or later has it", err)
	}
	dir, err := os.MkdirTemp("", "momentarm-browser-*")
	if err != nil {
		return nil, err
	}
	defer os.RemoveAll(dir)
	file := filepath.Join(dir, "engine.wasm")
	// Without what only a debugger needs, and without traces of this machine.
	if _, err := goTool("build", "-trimpath", "-buildvcs=false", "-ldflags=-s -w", "-o", file, self); err != nil {
		return nil, err
	}
	engine, err := os.ReadFile(file)
	if err != nil {
		return nil, err
	}
	var packed bytes.Buffer
	z, err := gzip.NewWriterLevel(&packed, gzip.BestCompression)
	if err != nil {
		return nil, err
	}
	if _, err := z.Write(engine); err != nil {
		return nil, err
	}
	if err := z.Close(); err != nil {
		return nil, err
	}
	return assemble(loader, packed.Bytes())
}

// goTool runs the go command for a browser's machine.
func goTool(args ...string) (string, error) {
	cmd := exec.Command("go", args...)
	cmd.Env = append(os.Environ(), "GOOS=js", "GOARCH=wasm", "CGO_ENABLED=0")
	var said, complained bytes.Buffer
	cmd.Stdout, cmd.Stderr = &said, &complained
	err := cmd.Run()
	switch {
	case errors.Is(err, exec.ErrNotFound):
		return "", errors.New("no go command: install Go and run this in a checkout")
	case err != nil:
		return "", fmt.Errorf("go %s: %w: %.500s", args[0], err, complained.String())
	}
	return said.String(), nil
}
