// Package input is how the programs in this folder come by a swing: the files of
// a capture and its setup, read into a recording and analysed as the setup asks.
package input

import (
	"bytes"
	"crypto/sha256"
	"encoding/binary"
	"encoding/hex"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"example.com/momentarm/grf"
	"example.com/momentarm/grf/capture"
)

// Source is the content of a capture and its setup, with their names for messages.
type Source struct {
	Name      string
	Data      []byte
	SetupName string // empty: there is no setup
	Setup     []byte
	// SharedWith is the name of the capture whose setup it is in the first place, or
	// says which ones have it as well; empty when it is this capture's alone. What
	// belongs to one capture in a shared setup, such as marks, is left out, with a
	// warning.
	SharedWith string
	// SameSession says that those captures are of one session: its text is theirs.
	SameSession bool
	// Own says how this capture gets a setup of its own, for that warning.
	Own string
	// Open reads other files that the setup names; nil refuses them.
	Open func(name string) ([]byte, error)
}

// maxFile bounds what is read into memory.
const maxFile = 1 << 30

// Load reads the files of a capture; setup may be empty. Errors begin with the
// name of the file that is at fault.
func Load(name, setup string) (Source, error) {
	src := Source{Name: name, SetupName: setup}
	var err error
	if src.Data, err = ReadFile(name); err != nil || setup == "" {
		return src, err
	}
	src.Setup, err = ReadFile(setup)
	src.Open = func(other string) ([]byte, error) {
		data, err := ReadFile(Beside(setup, other))
		return data, Cause(err)
	}
	return src, err
}

// Beside returns the file that a setup means by a name: it lies where the setup
// does.
func Beside(setup, name string) string {
	if filepath.IsAbs(name) {
		return name
	}
	return filepath.Join(filepath.Dir(setup), name)
}

// ReadFile reads a whole file that is no folder, pipe or device. Errors begin with
// its name.
func ReadFile(name string) ([]byte, error) {
	// Before it is opened: opening a pipe waits for somebody to write.
	info, err := os.Stat(name)
	switch {
	case err != nil:
		return nil, fmt.Errorf("%s: can not be opened: %w; check the name and the folder", name, Cause(err))
	case info.IsDir():
		return nil, fmt.Errorf("%s: is a folder: name a file in it", name)
	case !info.Mode().IsRegular():
		return nil, fmt.Errorf("%s: is no ordinary file: copy its content to one", name)
	}
	f, err := os.Open(name)
	if err != nil {
		return nil, fmt.Errorf("%s: can not be opened: %w; check the name and the permission", name, Cause(err))
	}
	defer f.Close()
	data, err := io.ReadAll(io.LimitReader(f, maxFile+1))
	switch {
	case err != nil:
		return nil, fmt.Errorf("%s: can not be read: %w; check the medium and the permission", name, Cause(err))
	case int64(len(data)) > maxFile:
		return nil, fmt.Errorf("%s: larger than %d MiB: cut the recording to one swing", name, maxFile>>20)
	}
	return data, nil
}

// Cause returns what went wrong with a file without the file's name, which a
// message gives already.
func Cause(err error) error {
	var p *fs.PathError
	if errors.As(err, &p) {
		return p.Err
	}
	var l *os.LinkError
	if errors.As(err, &l) {
		return l.Err
	}
	return err
}

// Digest identifies the content of the capture, of its setup, of the file that the
// setup names and of more, as a SHA-256 in hexadecimal digits.
func (s Source) Digest(more ...[]byte) string {
	h := sha256.New()
	add := func(data []byte) {
		var size [8]byte
		binary.LittleEndian.PutUint64(size[:], uint64(len(data)))
		h.Write(size[:])
		h.Write(data)
	}
	add(s.Data)
	add(s.Setup)
	setup, left, err := s.setup()
	if len(left) > 0 {
		add([]byte(strings.Join(left, " ")))
	}
	for _, m := range more {
		add(m)
	}
	if err == nil && setup != nil && setup.COM.File != "" && s.Open != nil {
		if data, err := s.Open(setup.COM.File); err == nil {
			add(data)
		}
	}
	return hex.EncodeToString(h.Sum(nil))
}

// setup returns the setup, nil when there is none, and which of its fields are left
// out because it is another capture's, too. A text for the session may be the same
// for several captures that belong together, but not for one of another day.
func (s Source) setup() (setup *capture.Setup, left []string, err error) {
	if s.SetupName == "" {
		return nil, nil, nil
	}
	setup, err = capture.ReadSetup(bytes.NewReader(s.Setup))
	if err != nil || s.SharedWith == "" {
		return setup, nil, err
	}
	session := setup.Session
	setup, left = setup.Shared()
	if s.SameSession && session != "" {
		setup.Session = session
		left = slices.DeleteFunc(left, func(field string) bool { return field == "session" })
	}
	return setup, left, nil
}

// shared warns of what is left out of a shared setup, and that its window for zeroing
// is not, if the captures are not of one session.
func (s Source) shared(setup *capture.Setup, left []string) []grf.Warning {
	if s.SharedWith == "" || setup == nil {
		return nil
	}
	var out []grf.Warning
	if z := setup.Zero; !s.SameSession && z.To > z.From {
		out = append(out, grf.Warning{Code: zeroShared, Where: filepath.Base(s.SetupName),
			Text: fmt.Sprintf("the plates were zeroed from %v to %v, as in %s; that they were empty then was checked here, too", z.From, z.To, s.SharedWith)})
	}
	if len(left) == 0 {
		return out
	}
	text := fmt.Sprintf("this setup is that of %s, too: what it says of one capture alone is left out here: %s", s.SharedWith, strings.Join(left, ", "))
	if s.Own != "" {
		text += "; " + s.Own
	}
	return append(out, grf.Warning{Code: SetupShared, Where: filepath.Base(s.SetupName), Text: text})
}

// SetupShared is the code of the warning that something in a shared setup was left
// out, zeroShared of the one that its window for zeroing was not.
const (
	SetupShared = "setup-shared"
	zeroShared  = "zero-shared"
)
