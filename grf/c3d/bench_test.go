package c3d

import (
	"io"
	"testing"
)

// BenchmarkDecode reads public files with reused memory.
func BenchmarkDecode(b *testing.B) {
	for _, name := range []string{
		"sample01/Eb015pi.c3d", "sample01/Eb015pr.c3d", "sample01/Eb015vr.c3d", "sample01/Eb015sr.c3d", "sample01/Eb015si.c3d",
		"sample10/TYPE-2.C3D", "bmc/Gait.c3d", "sample24/MotionMonitorC3D.c3d",
	} {
		b.Run(name, func(b *testing.B) {
			data := dataset(b, name)
			var f File
			b.SetBytes(int64(len(data)))
			b.ReportAllocs()
			for b.Loop() {
				if err := f.Decode(data, Options{}); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
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
