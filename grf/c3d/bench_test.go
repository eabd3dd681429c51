package c3d

import (
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// BenchmarkDecode reads every public file of more than 70 KB, with the memory
// of a File that is reused and with a fresh one each time.
func BenchmarkDecode(b *testing.B) {
	for _, name := range large(b) {
		data := dataset(b, name)
		b.Run("reused/"+name, func(b *testing.B) {
			var f File
			b.SetBytes(int64(len(data)))
			b.ReportAllocs()
			for b.Loop() {
				if err := f.Decode(data, Options{}); err != nil {
					b.Fatal(err)
				}
			}
		})
		b.Run("fresh/"+name, func(b *testing.B) {
			b.SetBytes(int64(len(data)))
			b.ReportAllocs()
			for b.Loop() {
				if _, err := Decode(data, Options{}); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}

// large returns the public files of more than 70 KB, below the folder c3d.
func large(b *testing.B) []string {
	b.Helper()
	dataset(b, "sample10/TYPE-2.C3D") // skips when there are none
	root := filepath.Join(os.Getenv("GRF_DATASETS"), "c3d")
	var names []string
	err := filepath.WalkDir(root, func(path string, e fs.DirEntry, err error) error {
		if err != nil || e.IsDir() || !strings.EqualFold(filepath.Ext(path), ".c3d") {
			return err
		}
		info, err := e.Info()
		if err == nil && info.Size() > 70e3 {
			name, _ := filepath.Rel(root, path)
			names = append(names, filepath.ToSlash(name))
		}
		return err
	})
	if err != nil {
		b.Fatal(err)
	}
	return names
}

func BenchmarkEncode(b *testing.B) {
	data := dataset(b, "bmc/Gait.c3d")
	f := decode(b, data, Options{})
	b.SetBytes(int64(len(data)))
	b.ReportAllocs()
	for b.Loop() {
		if err := Encode(io.Discard, f); err != nil {
			b.Fatal(err)
		}
	}
}
