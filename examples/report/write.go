package main

import (
	"fmt"
	"io"
	"os"
	"path/filepath"
)

// output is one file to write, or standard output.
type output struct {
	name string
	data []byte
}

// write puts the data into its file by way of a temporary name, so that nobody
// ever sees half a file and an old one survives a failure.
func (o output) write(stdout io.Writer) error {
	if o.name == dash {
		if _, err := stdout.Write(o.data); err != nil {
			return fmt.Errorf("standard output: can not be written: %w", err)
		}
		return nil
	}
	name := o.name
	if info, err := os.Stat(name); err == nil {
		switch {
		case info.IsDir():
			return fmt.Errorf("%s: is a folder: name a file in it", name)
		case !info.Mode().IsRegular(): // a device or a pipe can not be renamed over
			return hint(name, os.WriteFile(name, o.data, 0o666))
		}
		if real, err := filepath.EvalSymlinks(name); err == nil {
			name = real // keep a link, replace what it points to
		}
	}
	if err := replace(name, o.data); err != nil {
		return hint(o.name, err)
	}
	return nil
}

// replace writes a new file beside name and renames it.
func replace(name string, data []byte) error {
	f, err := os.CreateTemp(filepath.Dir(name), ".report-*.tmp")
	if err != nil {
		return err
	}
	defer os.Remove(f.Name()) // does nothing once renamed
	_, err = f.Write(data)
	if e := f.Chmod(0o644); err == nil {
		err = e
	}
	if e := f.Close(); err == nil {
		err = e
	}
	if err != nil {
		return err
	}
	return os.Rename(f.Name(), name)
}

// hint adds the remedy to a failure to write.
func hint(name string, err error) error {
	if err == nil {
		return nil
	}
	return fmt.Errorf("%s: can not be written: %w; check that the folder exists, may be written to and has room", name, cause(err))
}
