package capture

import (
	"encoding/csv"
	"math"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"example.com/momentarm/grf/c3d"
)

// datasets returns the folder with the public data sets.
func datasets(t *testing.T) string {
	t.Helper()
	root := os.Getenv("GRF_DATASETS")
	if root == "" {
		t.Skip("set GRF_DATASETS to a folder with the public data sets; see validation/doc.go")
	}
	return root
}

// The wrenches that an independent reader (Python, from the description of the
// format) makes of public C3D files, as they stand in the file: without zeroing,
// in laboratory axes. Sources of the files: the samples of c3d.org and of the
// Biomechanical ToolKit test collection (BTKData), and the lecture notes of
// Duarte & Watanabe (Zenodo 10.5281/zenodo.4599319).
func TestPlatesOracle(t *testing.T) {
	root := datasets(t)
	names, _ := filepath.Glob(filepath.Join(root, "c3d", "oracle", "*.plates.csv"))
	if len(names) == 0 {
		t.Skip("no oracle in " + root)
	}
	compared := 0
	for _, name := range names {
		file := strings.TrimSuffix(filepath.Base(name), ".plates.csv")
		t.Run(file, func(t *testing.T) {
			compared += compareOracle(t, filepath.Join(root, "c3d", strings.Replace(file, "__", "/", 1)), name)
		})
	}
	if compared < 400 {
		t.Errorf("only %d samples were compared", compared)
	}
}

func compareOracle(t *testing.T, name, oracle string) (compared int) {
	data, err := os.ReadFile(name)
	if err != nil {
		t.Fatal(err)
	}
	f, err := c3d.Decode(data, c3d.Options{})
	if err != nil {
		t.Fatal(err)
	}
	metre, err := f.UnitMetres()
	if err != nil {
		t.Fatal(err)
	}
	plates, warnings := Plates(f, nil)
	for _, w := range warnings {
		t.Log(w)
	}
	in, err := os.Open(oracle)
	if err != nil {
		t.Fatal(err)
	}
	defer in.Close()
	rows, err := csv.NewReader(in).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	for _, row := range rows[1:] {
		if row[2] != "none" {
			continue
		}
		number, _ := strconv.Atoi(row[0])
		sample, _ := strconv.Atoi(row[3])
		num := func(i int) float64 {
			if row[i] == "" {
				return math.NaN()
			}
			v, err := strconv.ParseFloat(row[i], 64)
			if err != nil {
				t.Fatal(err)
			}
			return v
		}
		p := plates[number-1]
		if p.Err != nil {
			t.Fatal(p.Err)
		}
		ws, err := p.Wrenches(nil)
		if err != nil {
			t.Fatal(err)
		}
		w := ws[sample]
		compared++
		for i, got := range [3]float64{w.Force.X, w.Force.Y, w.Force.Z} {
			if d := math.Abs(got - num(10+i)); !(d <= 1e-3) {
				t.Errorf("plate %d, sample %d: force %c %.6f N, want %.6f", number, sample, 'x'+i, got, num(10+i))
			}
		}
		if p.ForceOnly {
			// The reference takes all moments as zero where the distances of the
			// sensors are not stated, and so puts the load on the centre. Here the
			// moments are not known.
			if !math.IsNaN(w.Moment.X + w.Moment.Y + w.Moment.Z) {
				t.Errorf("plate %d has moments from nowhere", number)
			}
			continue
		}
		// Centre of pressure on the surface and free moment about the plate's z.
		frame := p.Plate.Frame()
		force, m := frame.VectorIn(w.Force), frame.VectorIn(w.About(frame.Origin))
		if math.IsNaN(num(13)) {
			continue
		}
		at := r3.Vec{X: -m.Y / force.Z, Y: m.X / force.Z}
		free := m.Z - (at.X*force.Y - at.Y*force.X)
		lab := frame.PointOut(at)
		for i, got := range [3]float64{lab.X, lab.Y, lab.Z} {
			if d := math.Abs(got - metre*num(13+i)); !(d <= 1e-5) {
				t.Errorf("plate %d, sample %d: centre of pressure %c %.7f m, want %.7f", number, sample, 'x'+i, got, metre*num(13+i))
			}
		}
		if d := math.Abs(free - metre*num(16)); !(d <= 1e-5) {
			t.Errorf("plate %d, sample %d: free moment %.7f N·m, want %.7f", number, sample, free, metre*num(16))
		}
	}
	return compared
}
