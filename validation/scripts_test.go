package validation

import (
	"context"
	"encoding/json"
	"errors"
	"io/fs"
	"math"
	"os"
	"os/exec"
	"path"
	"path/filepath"
	"strings"
	"testing"
	"time"
)

// python runs one of the generating scripts and returns what it prints.
func python(t *testing.T, script string, args ...string) []byte {
	t.Helper()
	if testing.Short() {
		t.Skip("short")
	}
	const python = "/usr/bin/python3"
	if err := exec.Command(python, "-c", "import scipy").Run(); err != nil {
		t.Skip("no python3 with SciPy here: install Debian's python3-scipy to run the generating script")
	}
	ctx, cancel := context.WithTimeout(context.Background(), 2*time.Minute)
	defer cancel()
	cmd := exec.CommandContext(ctx, python, append([]string{"-B", "testdata/gen/" + script}, args...)...)
	cmd.Env = append(os.Environ(), "OPENBLAS_NUM_THREADS=1") // small matrices: threads only get in each other's way
	out, err := cmd.Output()
	if err != nil {
		var exit *exec.ExitError
		if errors.As(err, &exit) {
			t.Fatalf("%s: %v\n%s", script, err, exit.Stderr)
		}
		t.Fatal(err)
	}
	return out
}

// Where SciPy and NumPy are at hand, the script that wrote the stored values must
// write them again.
func TestSciPyAgrees(t *testing.T) {
	out := python(t, "scipy_cases.py")
	var stored, fresh struct{ Cases []Case }
	if err := json.Unmarshal(scipyJSON, &stored); err != nil {
		t.Fatal(err)
	}
	if err := json.Unmarshal(out, &fresh); err != nil {
		t.Fatal(err)
	}
	if len(stored.Cases) == 0 || len(stored.Cases) != len(fresh.Cases) {
		t.Fatalf("%d cases stored, %d written", len(stored.Cases), len(fresh.Cases))
	}
	for i, c := range stored.Cases {
		for j, w := range c.Wants {
			for k, x := range w.Value.Numbers {
				y := fresh.Cases[i].Wants[j].Value.Numbers[k]
				// Another version may add in another order.
				if math.Abs(x-y) > w.Abs {
					t.Errorf("%s %s[%d]: stored %g, SciPy says %g", c.ID, w.Output, k, x, y)
				}
			}
		}
	}
}

// sameTable compares a stored table of numbers with a fresh one, which may lack
// columns; rows of the stored one that keep does not want are left out. Numbers
// may differ by abs, or by rel of their size.
func sameTable(t *testing.T, stored, fresh string, abs, rel float64, keep func(c *columns, row int) bool) {
	t.Helper()
	read := func(name string) *columns {
		c, err := readColumns(os.DirFS(filepath.Dir(name)), filepath.Base(name), ',')
		if err != nil {
			t.Fatal(err)
		}
		return c
	}
	a, b := read(stored), read(fresh)
	var rows []int
	for i := range a.rows {
		if keep == nil || keep(a, i) {
			rows = append(rows, i)
		}
	}
	if len(rows) != b.rows {
		t.Errorf("%s: %d rows, the script writes %d", stored, len(rows), b.rows)
		return
	}
	var heads []string
	for head := range b.numbers {
		heads = append(heads, head)
	}
	for head := range b.words {
		if head != "label" && head != "baseline" {
			heads = append(heads, head)
		}
	}
	for _, head := range heads {
		x, err := a.gappy(stored, head)
		if err != nil {
			t.Error(err)
			continue
		}
		y, err := b.gappy(fresh, head)
		if err != nil {
			t.Error(err)
			continue
		}
		for k, i := range rows {
			want, got := x[0][i], y[0][k]
			if math.Abs(got-want) > abs+rel*math.Abs(want) || math.IsNaN(got) != math.IsNaN(want) {
				t.Errorf("%s: %s in row %d is %v, the script says %v", stored, head, i+1, want, got)
				break
			}
		}
	}
}

// The tables of the walk and the run are what SciPy and NumPy make of their
// recordings, by other ways than the library's.
func TestComValuesAgree(t *testing.T) {
	folder := datasets(t)
	if _, err := os.Stat(filepath.Join(folder, "com", "run", "oracle")); err != nil {
		t.Skip("no com/run/oracle in " + folder)
	}
	out := t.TempDir()
	python(t, "com_values.py", out)
	for name, tol := range map[string]float64{
		"walk/oracle/walk_estimates.csv": 2e-9, // nine digits
		// Positions were rounded to nine digits in between, which the slope of
		// the first ten, and forces of up to 2000 N, multiply.
		"run/oracle/run_estimates.csv":  2e-7,
		"run/oracle/cop_and_moment.csv": 2e-5,
	} {
		name = filepath.FromSlash(name)
		sameTable(t, filepath.Join(folder, "com", name), filepath.Join(out, "com", name), tol, 0, nil)
	}
	// The cases pass on what the script wrote just as well.
	for _, file := range []string{"trial.json", "grf.csv", "com_kinematic.csv"} {
		for _, trial := range []string{"walk", "run"} {
			data, err := os.ReadFile(filepath.Join(folder, "com", trial, file))
			if err != nil {
				t.Fatal(err)
			}
			if err := os.WriteFile(filepath.Join(out, "com", trial, file), data, 0o644); err != nil {
				t.Fatal(err)
			}
		}
	}
	cases, _, err := DatasetCases(os.DirFS(out))
	if err != nil {
		t.Fatal(err)
	}
	if err := CheckCases(Library(), cases).Err(); err != nil || len(cases) != 9 {
		t.Errorf("%d cases, %v", len(cases), err)
	}
}

// The tables of the C3D files are what a reader in another language finds.
func TestC3DValuesAgree(t *testing.T) {
	folder := datasets(t)
	tables, err := fs.Glob(os.DirFS(folder), "c3d/oracle/*__*.csv")
	if err != nil || len(tables) == 0 {
		t.Skip("no tables in c3d/oracle of " + folder)
	}
	var names []string
	seen := map[string]bool{}
	var compare []string
	for _, table := range tables {
		name, _, _ := strings.Cut(strings.Replace(path.Base(table), "__", "/", 1), ".csv")
		name = strings.TrimSuffix(strings.TrimSuffix(strings.TrimSuffix(name, ".points"), ".analog"), ".plates")
		if strings.HasPrefix(name, "synthetic/") {
			continue
		}
		compare = append(compare, path.Base(table))
		if !seen[name] {
			seen[name] = true
			names = append(names, name)
		}
	}
	out := t.TempDir()
	python(t, "c3d_values.py", append([]string{out}, names...)...)
	for _, table := range compare {
		var keep func(*columns, int) bool
		if strings.HasSuffix(table, ".plates.csv") {
			keep = func(c *columns, i int) bool { return c.words["baseline"][i] == "none" }
		}
		// Sums over a whole record, added in another order.
		sameTable(t, filepath.Join(folder, "c3d", "oracle", table), filepath.Join(out, table), 1e-9, 1e-11, keep)
	}
}
