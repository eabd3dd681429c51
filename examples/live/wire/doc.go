// Package wire is how the samples of a simulated force-plate device travel: one
// possible framing, documented so that it can be replaced. A device that frames
// its samples in another way needs another [Framing]; nothing else of the live
// program knows about bytes. One that counts them with fewer bits widens its numbers
// with live.Counter of package phase/live.
//
// A frame of [Plain] is one sample of all channels, little-endian:
//
//	offset  bytes  what
//	     0      4  "GFL1"
//	     4      2  length of the whole frame, 28 + 4 n
//	     6      2  number of channels n, 1 to 64
//	     8      8  sequence number: samples taken since the device was started
//	    16      8  time of the device's clock, ns; 0 when it has none
//	    24    4 n  channels, IEEE 754 single precision, in the unit of calibration
//	24 + 4n     4  CRC-32 (IEEE 802.3) of everything before
//
// A reader takes nothing on trust. It looks for a frame whose length and checksum
// are right, passes over everything else byte by byte, and counts it; so after any
// damage it finds every frame again that arrived whole. It never holds more than
// one frame, and never waits for more bytes than the longest frame has.
package wire
