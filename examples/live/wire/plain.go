package wire

import (
	"bufio"
	"bytes"
	"encoding/binary"
	"errors"
	"hash/crc32"
	"io"
	"math"
)

// Plain is the framing of the package comment.
type Plain struct{}

// MaxChannels is the largest number of channels of a frame.
const MaxChannels = 64

const (
	headLength = 24
	maxLength  = headLength + 4*MaxChannels + 4
)

var magic = []byte("GFL1")

// Append appends p as a frame to dst. Channels beyond [MaxChannels] are left out.
func (Plain) Append(dst []byte, p *Packet) []byte {
	channels := p.Channels[:min(len(p.Channels), MaxChannels)]
	begin := len(dst)
	dst = append(dst, magic...)
	dst = binary.LittleEndian.AppendUint16(dst, uint16(headLength+4*len(channels)+4))
	dst = binary.LittleEndian.AppendUint16(dst, uint16(len(channels)))
	dst = binary.LittleEndian.AppendUint64(dst, p.Sequence)
	dst = binary.LittleEndian.AppendUint64(dst, uint64(int64(math.Round(p.Stamp*1e9))))
	for _, v := range channels {
		dst = binary.LittleEndian.AppendUint32(dst, math.Float32bits(float32(v)))
	}
	return binary.LittleEndian.AppendUint32(dst, crc32.ChecksumIEEE(dst[begin:]))
}

// NewReader returns a reader of the frames that r delivers.
func (Plain) NewReader(r io.Reader) Reader {
	return &plainReader{in: bufio.NewReaderSize(r, 16*maxLength)}
}

type plainReader struct {
	in    *bufio.Reader
	stats Stats
	cut   bool // the stream ended inside of what began as a frame
}

// Stats returns what was read so far.
func (r *plainReader) Stats() Stats { return r.stats }

func (r *plainReader) Next(p *Packet) error {
	for {
		head, err := r.in.Peek(headLength)
		if err != nil {
			return r.end(err)
		}
		if !bytes.Equal(head[:len(magic)], magic) {
			r.skip(next(head))
			continue
		}
		length := int(binary.LittleEndian.Uint16(head[4:]))
		n := int(binary.LittleEndian.Uint16(head[6:]))
		if n < 1 || n > MaxChannels || length != headLength+4*n+4 {
			r.skip(1)
			continue
		}
		frame, err := r.in.Peek(length)
		if errors.Is(err, io.EOF) {
			// What claimed to be a frame is none, or was cut off. There may be
			// whole frames in what is left.
			r.cut = true
			r.skip(1)
			continue
		}
		if err != nil {
			return err
		}
		body := frame[:length-4]
		if crc32.ChecksumIEEE(body) != binary.LittleEndian.Uint32(frame[length-4:]) {
			r.stats.Damaged++
			r.skip(1)
			continue
		}
		p.Sequence = binary.LittleEndian.Uint64(body[8:])
		p.Stamp = float64(int64(binary.LittleEndian.Uint64(body[16:]))) / 1e9
		p.Channels = p.Channels[:0]
		for body = body[headLength:]; len(body) > 0; body = body[4:] {
			p.Channels = append(p.Channels, float64(math.Float32frombits(binary.LittleEndian.Uint32(body))))
		}
		r.stats.Packets++
		r.cut = false
		_, err = r.in.Discard(length)
		return err
	}
}

// next returns how many bytes of b, at least one, can not begin a frame.
func next(b []byte) int {
	if i := bytes.IndexByte(b[1:], magic[0]); i >= 0 {
		return i + 1
	}
	return len(b)
}

func (r *plainReader) skip(n int) {
	n, _ = r.in.Discard(n) // they were peeked at
	r.stats.Skipped += uint64(n)
}

// end passes over what is left when the stream has ended, which is too short for a
// frame.
func (r *plainReader) end(err error) error {
	if !errors.Is(err, io.EOF) {
		return err
	}
	if n := r.in.Buffered(); n > 0 {
		r.skip(n)
		r.cut = true
	}
	if r.cut {
		return io.ErrUnexpectedEOF
	}
	return io.EOF
}
