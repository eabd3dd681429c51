package main

import (
	"errors"

	"example.com/momentarm/examples/live/wire"
	"example.com/momentarm/phase"
	"example.com/momentarm/phase/live"
)

// viewsPerSecond is how often the page gets news, and tracesPerView how many points
// of the running curves come with each.
const (
	viewsPerSecond = 25
	tracesPerView  = 5
)

// engine runs the chain. All of it belongs to the goroutine of the link, which
// waits for nobody: what it hands on goes into channels of one place, in which the
// newer replaces the older.
type engine struct {
	chain  *live.Chain
	config live.Config

	requests chan request
	views    chan view
	swings   chan captured

	frame  live.Frame
	silent bool  // nothing comes: the frame is not how it is now
	view   view  // the one being put together
	asked  error // why a request was refused at once
	since  int   // samples in it
	memory memory

	last        uint64
	connections uint64
	wire        counts
	lost        uint64 // samples, by sequence number
	repeated    uint64 // samples that came twice or out of order
	refused     uint64 // samples with a wrong number of channels
	restarts    uint64
	replaced    uint64 // views that nobody took
	missed      uint64 // swings that nobody took
}

// request is what a viewer may ask for.
type request int

const (
	zero request = iota
	weigh
)

func newEngine(chain *live.Chain, config live.Config) *engine {
	return &engine{
		chain: chain, config: config,
		requests: make(chan request, 4), views: make(chan view, 1), swings: make(chan captured, 1),
		memory: newMemory(config), silent: true,
	}
}

// ask passes a request on, unless too many wait.
func (e *engine) ask(r request) bool {
	select {
	case e.requests <- r:
		return true
	default:
		return false
	}
}

// obey passes the requests that wait to the chain.
func (e *engine) obey() {
	for {
		select {
		case r := <-e.requests:
			switch r {
			case zero:
				e.chain.Zero()
			case weigh:
				e.asked = e.chain.Weigh()
			}
		default:
			return
		}
	}
}

// linked tells the viewers how it stands with the device; "" is well.
func (e *engine) linked(text string) {
	e.view.Link = text
	if text != "" {
		e.silent = true
		e.publish()
	}
}

// take takes in a packet.
func (e *engine) take(p *wire.Packet) {
	e.obey()
	e.view.Link, e.silent = "", false
	s := live.Sample{Sequence: p.Sequence, Stamp: p.Stamp, Channels: p.Channels}
	f, err := e.chain.Push(s)
	if errors.Is(err, live.ErrSequence) && e.last-p.Sequence > uint64(e.config.Rate) {
		// Far back: the device was started anew. The zero of its plates stays
		// until somebody says otherwise; drift would show.
		e.restarts++
		e.chain.Restart()
		e.memory.reset()
		f, err = e.chain.Push(s)
	}
	switch {
	case errors.Is(err, live.ErrSequence):
		e.repeated++
		return
	case err != nil:
		e.refused++
		return
	}
	e.last = p.Sequence
	e.lost += f.Lost
	e.frame = f
	e.attend()
	if swing, ok := e.memory.push(&f, e.config.Stature); ok {
		replace(e.swings, swing, &e.missed)
	}
	e.since++
	samples := max(1, int(e.config.Rate/viewsPerSecond))
	if e.since%max(1, samples/tracesPerView) == 0 {
		e.view.trace(&f)
	}
	if e.since >= samples {
		e.publish()
	}
}

// attend asks for what the chain needs: a zero before anything else, and a weight as
// soon as somebody stands there. What is refused is asked for again.
func (e *engine) attend() {
	switch {
	case e.frame.State == live.Idle:
		e.chain.Zero()
	case e.frame.State == live.Zeroed && e.frame.Net.Force.Z > 200 && e.frame.Motion == phase.Ready:
		e.asked = e.chain.Weigh()
	}
	if e.frame.State != live.Idle {
		e.asked = nil
	}
}

// publish offers the view to the relay and begins the next.
func (e *engine) publish() {
	v := e.view
	f := e.frame
	if e.silent {
		blank(&f)
	}
	v.fill(&f, e.chain)
	if e.asked != nil {
		v.Refusal = e.asked.Error()
	}
	v.Device = deviceCounts{
		Connections: e.connections, Packets: e.wire.Packets, Damaged: e.wire.Damaged, Skipped: e.wire.Skipped,
		Lost: e.lost, Repeated: e.repeated, Refused: e.refused, Restarts: e.restarts, Replaced: e.replaced, Rate: number(e.chain.DeviceRate()),
	}
	replace(e.views, v, &e.replaced)
	e.view = view{Link: e.view.Link}
	e.since = 0
}

// replace puts v into a channel of one place, in the place of what is there.
func replace[T any](c chan T, v T, replaced *uint64) {
	for {
		select {
		case c <- v:
			return
		default:
		}
		select {
		case <-c:
			*replaced++
		default:
		}
	}
}
