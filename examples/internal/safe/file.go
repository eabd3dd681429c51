// Package safe writes files that are whole or not there, and text that can not
// harm a terminal or a spreadsheet.
package safe

import (
	"fmt"
	"os"
	"path/filepath"

	"example.com/momentarm/examples/internal/input"
)

// WriteFile puts data into the named file by way of a temporary one beside it, so
// that nobody ever sees half of it, also after a power cut, and an old file
// survives a failure. A link stays a link; what it points to is replaced. An
// error begins with the name and says what to do.
func WriteFile(name string, data []byte) error {
	if info, err := os.Stat(name); err == nil && info.IsDir() {
		return fmt.Errorf("%s: is a folder: name a file in it", name)
	}
	if err := writeFile(name, data); err != nil {
		return fmt.Errorf("%s: can not be written: %w; check that the folder exists, may be written to and has room", name, input.Cause(err))
	}
	return nil
}

func writeFile(name string, data []byte) error {
	if info, err := os.Stat(name); err == nil {
		if !info.Mode().IsRegular() { // a device or a pipe can not be renamed over
			return os.WriteFile(name, data, 0o666)
		}
		if real, err := filepath.EvalSymlinks(name); err == nil {
			name = real
		}
	}
	f, err := os.CreateTemp(filepath.Dir(name), ".momentarm-*.tmp")
	if err != nil {
		return err
	}
	defer os.Remove(f.Name()) // does nothing once renamed
	_, err = f.Write(data)
	for _, then := range []func() error{func() error { return f.Chmod(0o644) }, f.Sync} {
		if err == nil {
			err = then()
		}
	}
	if e := f.Close(); err == nil {
		err = e
	}
	if err == nil {
		err = os.Rename(f.Name(), name)
	}
	if err != nil {
		return err
	}
	// The new name is in the folder, and the folder must reach the medium, too.
	// Not every system can do that; the file is whole without it.
	if dir, err := os.Open(filepath.Dir(name)); err == nil {
		_ = dir.Sync()
		dir.Close()
	}
	return nil
}
