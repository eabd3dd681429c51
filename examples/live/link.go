package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"net"
	"os"
	"time"

	"example.com/momentarm/examples/live/wire"
)

// link is the connection to the device.
type link struct {
	address string
	framing wire.Framing
	times   linkTimes
}

// linkTimes are when a link loses patience. The zero value means the defaults.
type linkTimes struct {
	poll  time.Duration // how often a silent device is noticed; 250 ms
	stall time.Duration // silence after which the connection is given up; 5 s
	retry time.Duration // first wait before connecting again, doubled up to 16 times; 200 ms
}

func (t linkTimes) orDefaults() linkTimes {
	for _, d := range []struct {
		v   *time.Duration
		def time.Duration
	}{{&t.poll, 250 * time.Millisecond}, {&t.stall, 5 * time.Second}, {&t.retry, 200 * time.Millisecond}} {
		if *d.v == 0 {
			*d.v = d.def
		}
	}
	return t
}

// follow hands every packet of the device to the engine, and connects again
// whenever the connection is lost, until ctx is done. It is the one goroutine that
// touches the engine's chain.
func (l link) follow(ctx context.Context, e *engine) {
	l.times = l.times.orDefaults()
	wait := l.times.retry
	for ctx.Err() == nil {
		e.linked("connecting to " + l.address)
		var dial net.Dialer
		dial.Timeout = 5 * time.Second
		c, err := dial.DialContext(ctx, "tcp", l.address)
		if err == nil {
			packets := l.read(ctx, c, e)
			if packets > 0 {
				wait = l.times.retry
			}
		} else {
			e.linked("no device: " + err.Error())
		}
		for until := time.Now().Add(wait); ctx.Err() == nil && time.Now().Before(until); {
			e.obey() // requests are answered without a device, too
			select {
			case <-ctx.Done():
			case <-time.After(min(l.times.poll, time.Until(until))):
			}
		}
		wait = min(2*wait, 16*l.times.retry)
	}
}

// read reads one connection to its end and returns how many packets it brought.
func (l link) read(ctx context.Context, c net.Conn, e *engine) (packets uint64) {
	stop := context.AfterFunc(ctx, func() { c.Close() })
	defer stop()
	defer c.Close()
	e.linked("")
	e.connections++
	in := &feed{conn: c}
	r := l.framing.NewReader(in)
	before := e.wire
	defer func() { e.wire = before.plus(r.Stats()) }()
	var p wire.Packet
	last := time.Now() // when the last packet came
	until := time.Time{}
	gone := "" // why the connection was given up
	for {
		now := time.Now()
		if until.Sub(now) < l.times.poll {
			until = now.Add(2 * l.times.poll)
			if err := c.SetReadDeadline(until); err != nil {
				e.linked("the device is gone: " + err.Error())
				return packets
			}
		}
		err := r.Next(&p)
		e.wire = before.plus(r.Stats())
		switch {
		case err == nil:
			packets++
			last = now
			e.take(&p)
		case errors.Is(err, os.ErrDeadlineExceeded):
			silent := time.Since(last)
			if silent > l.times.stall {
				// What waits behind the beginning of a frame that never came whole
				// is read before the connection is given up.
				in.over = true
				gone = fmt.Sprintf("nothing came for %.0f s: connecting again", silent.Seconds())
				continue
			}
			e.linked(fmt.Sprintf("nothing came for %.1f s", silent.Seconds()))
			e.obey()
		default:
			switch {
			case gone != "":
			case in.err != nil:
				gone = "the device is gone: " + in.err.Error()
			case errors.Is(err, io.ErrUnexpectedEOF):
				gone = "the device hung up inside a frame"
			default:
				gone = "the device hung up"
			}
			e.linked(gone)
			return packets
		}
	}
}

// feed is a connection as a reader of frames sees it: whatever ends it, and
// giving it up, is the end of the bytes, so that nothing is lost that came before.
type feed struct {
	conn net.Conn
	over bool  // given up
	err  error // what broke the connection, if it did not end
}

// Read returns what the connection has; io.EOF once it is over, whatever ended it.
func (s *feed) Read(p []byte) (int, error) {
	if s.over {
		return 0, io.EOF
	}
	n, err := s.conn.Read(p)
	if err == nil || errors.Is(err, os.ErrDeadlineExceeded) {
		return n, err
	}
	if !errors.Is(err, io.EOF) {
		s.err = err
	}
	s.over = true
	return n, io.EOF
}

// counts are the reader's over all connections.
type counts wire.Stats

func (c counts) plus(s wire.Stats) counts {
	return counts{c.Packets + s.Packets, c.Damaged + s.Damaged, c.Skipped + s.Skipped}
}
