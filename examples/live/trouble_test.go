package main

import (
	"context"
	"math/rand/v2"
	"net"
	"sync/atomic"
	"testing"
	"time"

	"example.com/momentarm/examples/live/device"
	"example.com/momentarm/examples/live/wire"
)

// troubled is a device that does everything that devices do wrong, one thing after
// the other, for as long as it runs, and counts what it sent.
type troubled struct {
	d     *device.Device
	scale float64 // of the episodes: 1 is half a minute for all of them
	long  bool    // stalls for longer than the link is patient, too

	whole    atomic.Uint64 // frames that were written to their end
	bad      atomic.Uint64 // of them, those that the chain has to refuse
	skipped  atomic.Uint64 // samples that were never sent
	garbage  atomic.Uint64 // bytes that belong to no frame
	episodes atomic.Uint64
	done     atomic.Bool // finished, and every connection closed

	// Of the goroutine that sends.
	rng      *rand.Rand
	sequence uint64
	clock    float64 // s, what the device's clock is off by
	stamp    float64
	out      []byte
	owed     uint64 // samples that are left out before the next
	due      uint64 // samples that are left out before the last one in out
	frames   uint64 // in out
	offBeat  uint64 // of them, those for the chain to refuse
	stray    uint64 // bytes in out of no frame
}

// startTroubled serves the device and returns its address; stop ends it, after what
// it was about to send.
func startTroubled(t testing.TB, scale float64, long bool) (v *troubled, address string, stop func()) {
	t.Helper()
	v = &troubled{d: theDevice(t), scale: scale, long: long, rng: rand.New(rand.NewPCG(11, 12))}
	l := listen(t)
	ctx, cancel := context.WithCancel(context.Background())
	over := make(chan struct{})
	go func() {
		defer close(over)
		defer v.done.Store(true)
		for ctx.Err() == nil {
			c, err := l.Accept()
			if err != nil {
				return
			}
			v.talk(ctx, c)
			c.Close()
		}
	}()
	stop = func() {
		cancel()
		l.Close()
		<-over
	}
	t.Cleanup(stop)
	return v, l.Addr().String(), stop
}

// add puts the next sample into what is sent next, at rate times its pace.
func (v *troubled) add(pace float64) {
	v.stamp += 1 / (device.Rate * pace)
	p := packet(v.d, v.sequence)
	p.Stamp = 100 + v.stamp + v.clock
	v.out = wire.Plain{}.Append(v.out, p)
	v.sequence++
	v.frames++
	v.due, v.owed = v.due+v.owed, 0
}

// leaveOut takes samples that nobody will see.
func (v *troubled) leaveOut(n uint64) {
	v.sequence += n
	v.stamp += float64(n) / device.Rate
	v.owed += n
}

func (v *troubled) addBytes(b []byte) {
	v.out = append(v.out, b...)
	v.stray += uint64(len(b))
}

// flush reports whether the other end takes it.
func (v *troubled) flush(c net.Conn) bool {
	n, err := c.Write(v.out)
	if err == nil && n == len(v.out) {
		v.whole.Add(v.frames)
		if v.frames > 0 {
			v.skipped.Add(v.due)
			v.due = 0
		}
		v.bad.Add(v.offBeat)
		v.garbage.Add(v.stray)
	}
	v.out, v.frames, v.offBeat, v.stray = v.out[:0], 0, 0, 0
	return err == nil
}

// talk goes through all episodes until one of them ends the connection.
func (v *troubled) talk(ctx context.Context, c net.Conn) {
	seconds := func(s float64) time.Duration { return time.Duration(s * v.scale * float64(time.Second)) }
	for {
		for _, episode := range []func() bool{
			func() bool { return v.stream(ctx, c, seconds(8), 1, nil) },
			func() bool { return v.stall(ctx, c, seconds(1.5)) },
			func() bool { return v.stream(ctx, c, seconds(3), 1, v.litter) },
			func() bool { v.clock += 86_400; return v.stream(ctx, c, seconds(2), 1, nil) },
			func() bool { v.clock -= 5000 + 86_400; return v.stream(ctx, c, seconds(2), 1, nil) },
			func() bool { return v.stream(ctx, c, seconds(3), 2, nil) },
			func() bool { return v.stream(ctx, c, seconds(6), 1, v.stutter) },
			func() bool { return v.hangUp(c) },
		} {
			v.episodes.Add(1)
			// Every other connection is given up by the link, not by the device.
			if v.long && v.episodes.Load()%16 == 15 {
				v.goSilent(ctx, c)
				return
			}
			if !episode() || ctx.Err() != nil {
				return
			}
		}
	}
}

// stream sends in real time, at a multiple of the declared rate; spoil adds to it.
func (v *troubled) stream(ctx context.Context, c net.Conn, length time.Duration, pace float64, spoil func()) bool {
	begun, sent := time.Now(), 0
	tick := time.NewTicker(5 * time.Millisecond)
	defer tick.Stop()
	for time.Since(begun) < length {
		select {
		case <-ctx.Done():
			return false
		case <-tick.C:
		}
		for due := int(time.Since(begun).Seconds() * device.Rate * pace); sent < due; sent++ {
			v.add(pace)
			if spoil != nil {
				spoil()
			}
		}
		if !v.flush(c) {
			return false
		}
	}
	return true
}

// stall sends nothing for a while, in the middle of a frame, and then all that it
// has held back.
func (v *troubled) stall(ctx context.Context, c net.Conn, length time.Duration) bool {
	v.add(1)
	whole, rest := v.frames, append([]byte(nil), v.out[20:]...)
	v.out, v.frames = v.out[:20], 0
	if !v.flush(c) {
		return false
	}
	begun := time.Now()
	select {
	case <-ctx.Done():
	case <-time.After(length):
	}
	v.out, v.frames = append(v.out, rest...), whole
	for range int(time.Since(begun).Seconds() * device.Rate) {
		v.add(1)
	}
	return v.flush(c)
}

// litter puts noise between frames, and frames with an error in them.
func (v *troubled) litter() {
	switch v.rng.IntN(20) {
	case 0:
		b := make([]byte, v.rng.IntN(300))
		for i := range b {
			b[i] = byte(v.rng.Uint32())
		}
		v.addBytes(b)
	case 1:
		b := wire.Plain{}.Append(nil, packet(v.d, v.sequence+1<<40))
		b[30+v.rng.IntN(20)] ^= 0x10
		v.addBytes(b)
	case 2:
		v.addBytes([]byte("GFL1\x1c\x01\x40\x00"))
	}
}

// stutter repeats frames, sends some with too few channels, and leaves some out.
func (v *troubled) stutter() {
	switch v.rng.IntN(200) {
	case 0:
		v.out = wire.Plain{}.Append(v.out, packet(v.d, v.sequence-1))
		v.frames++
		v.offBeat++
	case 1:
		v.out = wire.Plain{}.Append(v.out, &wire.Packet{Sequence: v.sequence, Channels: []float64{1, 2}})
		v.frames++
		v.offBeat++
	case 2:
		v.leaveOut(1 + v.rng.Uint64N(15))
	}
}

// hangUp ends the connection inside a frame, whose sample is lost.
func (v *troubled) hangUp(c net.Conn) bool {
	v.add(1)
	v.frames = 0
	v.out = v.out[:len(v.out)-7]
	v.stray = uint64(len(v.out))
	v.owed++
	v.flush(c)
	return false
}

// goSilent sends nothing more until the other end gives up; the samples meanwhile
// are lost.
func (v *troubled) goSilent(ctx context.Context, c net.Conn) {
	stop := context.AfterFunc(ctx, func() { c.Close() })
	defer stop()
	begun := time.Now()
	_, _ = c.Read(make([]byte, 1))
	v.leaveOut(uint64(time.Since(begun).Seconds() * device.Rate))
}
