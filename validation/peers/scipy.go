package main

import (
	"bufio"
	_ "embed"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
)

// errNoSciPy means that there is no interpreter with NumPy and SciPy.
var errNoSciPy = errors.New("no NumPy and SciPy (Debian: apt-get install python3-scipy)")

//go:embed chain.py
var program []byte

// scipy is the other side, a process that answers questions.
type scipy struct {
	cmd    *exec.Cmd
	in     io.WriteCloser
	out    *bufio.Scanner
	errors *strings.Builder
	numpy  string // versions
	scipy  string
	sos    [][6]float64 // its Butterworth low-pass: b0 b1 b2 a0 a1 a2 of each section
}

// startSciPy starts the other side in a folder that has the input.
func startSciPy(python, folder string) (*scipy, error) {
	if out, err := exec.Command(python, "-c", "import numpy, scipy.signal").CombinedOutput(); err != nil {
		lines := strings.Split(strings.TrimSpace(string(out)), "\n")
		return nil, fmt.Errorf("%w: %s: %v: %s", errNoSciPy, python, err, lines[len(lines)-1])
	}
	script := filepath.Join(folder, "chain.py")
	if err := os.WriteFile(script, program, 0o600); err != nil {
		return nil, err
	}
	s := &scipy{cmd: exec.Command(python, script, folder), errors: new(strings.Builder)}
	// One thread; and memory that was used once is kept, because the first touch
	// of a page costs more than the arithmetic on it.
	s.cmd.Env = slices.DeleteFunc(os.Environ(), func(v string) bool { return strings.HasPrefix(v, "OPENBLAS_") })
	s.cmd.Env = append(s.cmd.Env, "OPENBLAS_NUM_THREADS=1", "OMP_NUM_THREADS=1", "MKL_NUM_THREADS=1",
		"MALLOC_MMAP_THRESHOLD_=1073741824", "MALLOC_TRIM_THRESHOLD_=4294967296", "MALLOC_TOP_PAD_=268435456")
	s.cmd.Stderr = s.errors
	var err error
	if s.in, err = s.cmd.StdinPipe(); err != nil {
		return nil, err
	}
	out, err := s.cmd.StdoutPipe()
	if err != nil {
		return nil, err
	}
	if err := s.cmd.Start(); err != nil {
		return nil, err
	}
	s.out = bufio.NewScanner(out)
	s.out.Buffer(nil, 1<<24)
	var hello struct {
		Numpy, Scipy string
		Sos          [][6]float64
	}
	if err := s.read(&hello); err != nil {
		s.stop()
		return nil, err
	}
	s.numpy, s.scipy, s.sos = hello.Numpy, hello.Scipy, hello.Sos
	return s, nil
}

// ask sends a question and reads the answer.
func (s *scipy) ask(question map[string]any, answer any) error {
	line, err := json.Marshal(question)
	if err != nil {
		return err
	}
	if _, err := s.in.Write(append(line, '\n')); err != nil {
		return fmt.Errorf("SciPy's side has ended: %s", s.errors)
	}
	return s.read(answer)
}

func (s *scipy) read(answer any) error {
	if !s.out.Scan() {
		_ = s.cmd.Wait() // until all that it had to say is there
		return fmt.Errorf("SciPy's side has ended: %s", s.errors)
	}
	return json.Unmarshal(s.out.Bytes(), answer)
}

// times asks for repetitions of some work, in ns.
func (s *scipy) times(question map[string]any) ([]float64, error) {
	var answer struct{ Times []float64 }
	err := s.ask(question, &answer)
	return answer.Times, err
}

func (s *scipy) stop() {
	s.in.Close()
	_ = s.cmd.Wait()
}
