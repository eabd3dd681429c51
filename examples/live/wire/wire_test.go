package wire_test

import (
	"bytes"
	"encoding/binary"
	"errors"
	"hash/crc32"
	"io"
	"math"
	"math/rand/v2"
	"os"
	"slices"
	"testing"
	"testing/iotest"
	"time"

	"example.com/momentarm/examples/live/wire"
)

// packets are n packets of six channels that single precision holds.
func packets(n int) []wire.Packet {
	out := make([]wire.Packet, n)
	for i := range out {
		out[i] = wire.Packet{Sequence: uint64(i) + 7, Stamp: 5 + float64(i)/1000, Channels: make([]float64, 6)}
		for j := range out[i].Channels {
			out[i].Channels[j] = float64(float32(math.Sin(float64(i + 10*j))))
		}
	}
	return out
}

// read returns all packets of a stream and the error that ended it.
func read(r wire.Reader) (got []wire.Packet, err error) {
	for {
		var p wire.Packet
		if err := r.Next(&p); err != nil {
			return got, err
		}
		got = append(got, p)
	}
}

func same(a, b wire.Packet) bool {
	return a.Sequence == b.Sequence && math.Abs(a.Stamp-b.Stamp) < 1e-9 && slices.Equal(a.Channels, b.Channels)
}

// The bytes of one frame, put together by hand from the table of the package
// comment; the checksum's own check value is that of "123456789" (CRC-32/ISO-HDLC,
// 0xCBF43926).
func TestFrameByHand(t *testing.T) {
	if got := crc32.ChecksumIEEE([]byte("123456789")); got != 0xCBF43926 {
		t.Fatalf("%#x", got)
	}
	want := []byte("GFL1")
	want = append(want, 36, 0, 2, 0)
	want = append(want, 0x02, 0x01, 0, 0, 0, 0, 0, 0)
	want = append(want, 0x00, 0xe4, 0x0b, 0x54, 0x02, 0, 0, 0) // 10 s in ns
	want = append(want, 0, 0, 0x80, 0x3f, 0, 0, 0x20, 0xc0)    // 1, −2.5
	want = binary.LittleEndian.AppendUint32(want, crc32.ChecksumIEEE(want))
	got := wire.Plain{}.Append(nil, &wire.Packet{Sequence: 258, Stamp: 10, Channels: []float64{1, -2.5}})
	if !bytes.Equal(got, want) {
		t.Fatalf("% x, want % x", got, want)
	}
}

func TestReadsWhatWasWritten(t *testing.T) {
	want := packets(300)
	var stream []byte
	for i := range want {
		stream = wire.Plain{}.Append(stream, &want[i])
	}
	for name, in := range map[string]io.Reader{
		"at once":               bytes.NewReader(stream),
		"by bytes":              iotest.OneByteReader(bytes.NewReader(stream)),
		"halves":                iotest.HalfReader(bytes.NewReader(stream)),
		"data and end together": iotest.DataErrReader(bytes.NewReader(stream)),
	} {
		r := wire.Plain{}.NewReader(in)
		got, err := read(r)
		if err != io.EOF || !slices.EqualFunc(got, want, same) {
			t.Errorf("%s: %d packets, %v", name, len(got), err)
		}
		if s := r.Stats(); s != (wire.Stats{Packets: 300}) {
			t.Errorf("%s: %+v", name, s)
		}
	}
}

func TestCutAnywhere(t *testing.T) {
	want := packets(3)
	var stream []byte
	for i := range want {
		stream = wire.Plain{}.Append(stream, &want[i])
	}
	length := len(stream) / 3
	for n := range stream {
		got, err := read(wire.Plain{}.NewReader(bytes.NewReader(stream[:n])))
		end := io.ErrUnexpectedEOF
		if n%length == 0 {
			end = io.EOF
		}
		if err != end || !slices.EqualFunc(got, want[:n/length], same) {
			t.Fatalf("cut at %d: %d packets, %v", n, len(got), err)
		}
		// Cut at the beginning: the first frame is lost, the others are not.
		got, err = read(wire.Plain{}.NewReader(bytes.NewReader(stream[n:])))
		if err != io.EOF && n < len(stream)-length || !slices.EqualFunc(got, want[(n+length-1)/length:], same) {
			t.Fatalf("cut before %d: %d packets, %v", n, len(got), err)
		}
	}
}

// A frame in which any byte is wrong is lost; every other frame is found.
func TestAnyByteWrong(t *testing.T) {
	want := packets(3)
	var stream []byte
	for i := range want {
		stream = wire.Plain{}.Append(stream, &want[i])
	}
	length := len(stream) / 3
	for n := length; n < 2*length; n++ {
		for _, flip := range []byte{1, 0x80, 0xff} {
			bad := bytes.Clone(stream)
			bad[n] ^= flip
			r := wire.Plain{}.NewReader(bytes.NewReader(bad))
			got, err := read(r)
			if err != io.EOF || len(got) != 2 || !same(got[0], want[0]) || !same(got[1], want[2]) {
				t.Fatalf("byte %d ^ %#x: %d packets, %v", n, flip, len(got), err)
			}
			if s := r.Stats(); s.Skipped != uint64(length) || s.Packets != 2 {
				t.Fatalf("byte %d ^ %#x: %+v", n, flip, s)
			}
		}
	}
}

// Whatever lies between frames, all of them are found: noise, beginnings of frames,
// heads that claim to be long.
func TestGarbageBetweenFrames(t *testing.T) {
	rng := rand.New(rand.NewPCG(3, 4))
	want := packets(200)
	var stream []byte
	for i := range want {
		switch rng.IntN(4) {
		case 0:
			for range rng.IntN(400) {
				stream = append(stream, byte(rng.Uint32()))
			}
		case 1:
			stream = append(stream, wire.Plain{}.Append(nil, &want[i])[:rng.IntN(50)]...)
		case 2:
			long := wire.Plain{}.Append(nil, &wire.Packet{Channels: make([]float64, wire.MaxChannels)})
			stream = append(stream, long[:24+rng.IntN(20)]...)
		}
		stream = wire.Plain{}.Append(stream, &want[i])
	}
	for _, in := range []io.Reader{bytes.NewReader(stream), iotest.OneByteReader(bytes.NewReader(stream))} {
		got, err := read(wire.Plain{}.NewReader(in))
		if err != io.EOF || !slices.EqualFunc(got, want, same) {
			t.Errorf("%d of %d packets, %v", len(got), len(want), err)
		}
	}
}

// A timeout, also inside a frame, leaves everything as it was.
func TestTimeouts(t *testing.T) {
	want := packets(20)
	var stream []byte
	for i := range want {
		stream = wire.Plain{}.Append(stream, &want[i])
	}
	in := &stutter{data: stream}
	r := wire.Plain{}.NewReader(in)
	var got []wire.Packet
	for len(got) < len(want) {
		var p wire.Packet
		if err := r.Next(&p); errors.Is(err, os.ErrDeadlineExceeded) {
			continue
		} else if err != nil {
			t.Fatal(err)
		}
		got = append(got, p)
	}
	if !slices.EqualFunc(got, want, same) || in.timeouts < 20 {
		t.Errorf("%d timeouts", in.timeouts)
	}
}

// stutter delivers 13 bytes at a time and a timeout after each.
type stutter struct {
	data     []byte
	timeouts int
	late     bool
}

func (s *stutter) Read(p []byte) (int, error) {
	if s.late = !s.late; s.late {
		s.timeouts++
		return 0, os.ErrDeadlineExceeded
	}
	n := copy(p, s.data[:min(13, len(s.data))])
	s.data = s.data[n:]
	if n == 0 {
		return 0, io.EOF
	}
	return n, nil
}

func TestReadingAllocatesNothing(t *testing.T) {
	p := packets(1)[0]
	frame := wire.Plain{}.Append(nil, &p)
	r := wire.Plain{}.NewReader(&endless{data: frame})
	if n := testing.AllocsPerRun(10_000, func() {
		if err := r.Next(&p); err != nil {
			t.Fatal(err)
		}
		frame = wire.Plain{}.Append(frame[:0], &p)
	}); n != 0 {
		t.Errorf("%g allocations per frame", n)
	}
}

// endless delivers the same bytes over and over.
type endless struct {
	data []byte
	at   int
}

func (e *endless) Read(p []byte) (int, error) {
	n := copy(p, e.data[e.at:])
	e.at = (e.at + n) % len(e.data)
	return n, nil
}

// FuzzFrame holds the decoder to its promises on any bytes: it ends, takes nothing
// for a frame whose checksum is wrong, accounts for every byte, does not depend on
// how the bytes arrive, and finds a frame that follows.
func FuzzFrame(f *testing.F) {
	p := packets(2)
	one := wire.Plain{}.Append(nil, &p[0])
	two := wire.Plain{}.Append(bytes.Clone(one), &p[1])
	f.Add([]byte{})
	f.Add(one)
	f.Add(two)
	f.Add(two[5:])
	f.Add(append([]byte("GFL1GFL1"), one...))
	f.Add(append(bytes.Clone(one[:24]), two...))
	f.Add([]byte("GFL1\x1c\x01\x40\x00"))
	f.Add([]byte("GFL1\xff\xff\xff\xff" + "0123456789abcdef0123456789"))
	last := wire.Packet{Sequence: 1 << 63, Stamp: -3, Channels: []float64{1, math.Inf(-1), 0.5}}
	end := wire.Plain{}.Append(nil, &last)
	f.Fuzz(func(t *testing.T, data []byte) {
		if len(data) > 1<<16 {
			return
		}
		begun := time.Now()
		r := wire.Plain{}.NewReader(bytes.NewReader(data))
		got, err := read(r)
		if err != io.EOF && err != io.ErrUnexpectedEOF {
			t.Fatal(err)
		}
		var bytesIn uint64
		for _, p := range got {
			if n := len(p.Channels); n < 1 || n > wire.MaxChannels {
				t.Fatalf("%d channels", n)
			}
			bytesIn += uint64(28 + 4*len(p.Channels))
		}
		if s := r.Stats(); s.Packets != uint64(len(got)) || s.Skipped+bytesIn != uint64(len(data)) {
			t.Fatalf("%+v, %d bytes in frames, of %d", s, bytesIn, len(data))
		}
		again, err2 := read(wire.Plain{}.NewReader(iotest.OneByteReader(bytes.NewReader(data))))
		if err2 != err || !slices.EqualFunc(again, got, func(a, b wire.Packet) bool {
			return a.Sequence == b.Sequence && a.Stamp == b.Stamp && len(a.Channels) == len(b.Channels)
		}) {
			t.Fatalf("by bytes: %d packets, %v; at once %d, %v", len(again), err2, len(got), err)
		}
		followed, _ := read(wire.Plain{}.NewReader(bytes.NewReader(append(bytes.Clone(data), end...))))
		if n := len(followed); n == 0 || !same(followed[n-1], last) {
			t.Fatalf("the frame after % x was not found", data)
		}
		if d := time.Since(begun); d > 10*time.Second {
			t.Fatalf("%v for %d bytes", d, len(data))
		}
	})
}
