package wire

import "io"

// Packet is one sample on its way.
type Packet struct {
	Sequence uint64
	Stamp    float64 // s, of the device's clock; 0 when it has none
	Channels []float64
}

// Framing turns packets into bytes and back.
type Framing interface {
	// Append appends p as a frame to dst.
	Append(dst []byte, p *Packet) []byte
	// NewReader returns a reader of the frames that r delivers.
	NewReader(r io.Reader) Reader
}

// Reader finds packets in a stream of bytes.
type Reader interface {
	// Next sets p to the next packet; its Channels are reused. An error that is a
	// timeout leaves everything as it was, so that Next can be called again. The
	// end of the stream is io.EOF, or io.ErrUnexpectedEOF inside a frame.
	Next(p *Packet) error
	// Stats returns what was read so far.
	Stats() Stats
}

// Stats counts what a reader has seen.
type Stats struct {
	Packets uint64 // whole frames
	Damaged uint64 // frames whose checksum is wrong
	Skipped uint64 // bytes that belong to no frame
}
