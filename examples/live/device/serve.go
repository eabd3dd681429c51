package device

import (
	"context"
	"net"
	"sync"
	"time"

	"example.com/momentarm/examples/live/wire"
)

// ServeOptions say how a device sends. The zero value is real time.
type ServeOptions struct {
	Framing wire.Framing // default wire.Plain
	// Speed is how many times faster than real time the device runs; default 1.
	Speed float64
}

// Times of the device.
const (
	sendEvery  = 5 * time.Millisecond
	sendWithin = 2 * time.Second // a listener who takes longer is disconnected
	memory     = 1.0             // s of samples that the device can hold back
)

// Serve sends samples to everybody who connects, from the present one on, until ctx
// is done. All listeners see the same clock and sequence numbers. It returns when
// every connection is closed.
func (d *Device) Serve(ctx context.Context, l net.Listener, opt ServeOptions) error {
	if opt.Framing == nil {
		opt.Framing = wire.Plain{}
	}
	if opt.Speed == 0 {
		opt.Speed = 1
	}
	begun := time.Now()
	ctx, cancel := context.WithCancel(ctx)
	var all sync.WaitGroup
	defer all.Wait()
	defer cancel()
	stop := context.AfterFunc(ctx, func() { l.Close() })
	defer stop()
	for {
		c, err := l.Accept()
		if err != nil {
			if ctx.Err() != nil {
				return nil
			}
			return err
		}
		all.Add(1)
		go func() {
			defer all.Done()
			defer c.Close()
			d.send(ctx, c, begun, opt)
		}()
	}
}

// send writes the samples as they are taken.
func (d *Device) send(ctx context.Context, c net.Conn, begun time.Time, opt ServeOptions) {
	taken := func() uint64 { return uint64(time.Since(begun).Seconds() * opt.Speed * Rate) }
	tick := time.NewTicker(sendEvery)
	defer tick.Stop()
	var p wire.Packet
	var out []byte
	next := taken()
	for {
		select {
		case <-ctx.Done():
			return
		case <-tick.C:
		}
		end := taken()
		if held := uint64(memory * opt.Speed * Rate); end-next > held {
			next = end - held // the rest is lost
		}
		out = out[:0]
		for ; next < end; next++ {
			p.Sequence, p.Stamp = next, float64(next+1)/Rate
			p.Channels = d.Read(p.Channels[:0], next)
			out = opt.Framing.Append(out, &p)
		}
		if err := c.SetWriteDeadline(time.Now().Add(sendWithin)); err != nil {
			return
		}
		if _, err := c.Write(out); err != nil {
			return
		}
	}
}
