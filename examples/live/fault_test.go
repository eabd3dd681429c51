package main

import (
	"math/rand/v2"
	"net"
	"strings"
	"sync"
	"testing"
	"time"

	"example.com/momentarm/examples/live/wire"
)

// faulty is a device that does what a test says on its first connection, on its
// second, and so on; the last of them stays open until the test ends. It returns
// its address and a channel that is closed when the last script is over.
func faulty(t *testing.T, scripts ...func(c net.Conn)) (string, <-chan struct{}) {
	t.Helper()
	l := listen(t)
	over := make(chan struct{})
	quit := make(chan struct{})
	var all sync.WaitGroup
	t.Cleanup(func() {
		close(quit)
		all.Wait()
	})
	go func() {
		for i, script := range scripts {
			c, err := l.Accept()
			if err != nil {
				return
			}
			all.Add(1)
			go func() {
				defer all.Done()
				defer c.Close()
				script(c)
				if i == len(scripts)-1 {
					close(over)
					<-quit
				}
			}()
		}
	}()
	return l.Addr().String(), over
}

// sender writes frames of the made-up device.
type sender struct {
	t   *testing.T
	out []byte
}

func (s *sender) add(p *wire.Packet) { s.out = wire.Plain{}.Append(s.out, p) }

func (s *sender) flush(c net.Conn) {
	if _, err := c.Write(s.out); err != nil {
		s.t.Error(err)
	}
	s.out = s.out[:0]
}

var quick = linkTimes{poll: 20 * time.Millisecond, stall: 200 * time.Millisecond, retry: 10 * time.Millisecond}

// watch collects what views say until the device has finished and the engine has
// taken in so many samples.
func watch(t *testing.T, e *engine, over <-chan struct{}, packets uint64) (links, healths map[string]bool, last view) {
	t.Helper()
	links, healths = map[string]bool{}, map[string]bool{}
	deadline := time.After(60 * time.Second)
	finished := false
	for {
		select {
		case v := <-e.views:
			links[v.Link], healths[v.Health] = true, true
			last = v
			if d := v.Device; finished && d.Packets-d.Refused-d.Repeated >= packets {
				return links, healths, last
			}
		case <-over:
			finished, over = true, nil
			// The last samples fill no view; silence publishes them.
		case <-deadline:
			t.Fatalf("only %d of %d packets came: %+v", last.Device.Packets, packets, last.Device)
		}
	}
}

func has(m map[string]bool, part string) bool {
	for s := range m {
		if strings.Contains(s, part) {
			return true
		}
	}
	return false
}

func TestDeviceStalls(t *testing.T) {
	d := theDevice(t)
	first := func(c net.Conn) {
		s := sender{t: t}
		for i := range uint64(1500) {
			s.add(packet(d, i))
		}
		half := len(s.out) - 30 // the pause is inside a frame
		rest := append([]byte(nil), s.out[half:]...)
		s.out = s.out[:half]
		s.flush(c)
		time.Sleep(100 * time.Millisecond)
		s.out = rest
		for i := uint64(1500); i < 2000; i++ {
			s.add(packet(d, i))
		}
		s.flush(c)
		time.Sleep(600 * time.Millisecond) // longer than the link is patient
	}
	second := func(c net.Conn) {
		s := sender{t: t}
		for i := uint64(2600); i < 3000; i++ {
			s.add(packet(d, i))
		}
		s.flush(c)
	}
	address, over := faulty(t, first, second)
	e, stop := startEngine(t, address, quick)
	links, _, _ := watch(t, e, over, 2400)
	stop()
	if e.wire != (counts{Packets: 2400}) || e.lost != 600 || e.connections != 2 || e.repeated+e.refused+e.restarts != 0 {
		t.Errorf("%+v, %d lost, %d connections", e.wire, e.lost, e.connections)
	}
	if !has(links, "nothing came for 0.") || !has(links, "connecting again") {
		t.Errorf("the page was told %v", links)
	}
	if e.frame.Time != 2.999 {
		t.Errorf("time %g s after sample 2999", e.frame.Time)
	}
}

func TestDeviceSendsGarbage(t *testing.T) {
	d := theDevice(t)
	rng := rand.New(rand.NewPCG(5, 6))
	var skipped uint64
	address, over := faulty(t, func(c net.Conn) {
		s := sender{t: t}
		for i := range uint64(3000) {
			if rng.IntN(5) == 0 {
				n := rng.IntN(500)
				for range n {
					s.out = append(s.out, byte(rng.Uint32()))
				}
				skipped += uint64(n)
			}
			if rng.IntN(50) == 0 { // a frame that was hit, beside the whole one
				at := len(s.out)
				s.add(packet(d, 1<<40))
				s.out[at+30+rng.IntN(20)] ^= 0x10
				skipped += uint64(len(s.out) - at)
			}
			if rng.IntN(100) == 0 { // whole, but with other channels
				s.add(&wire.Packet{Sequence: i, Channels: []float64{1, 2, 3}})
			}
			s.add(packet(d, i))
			if rng.IntN(100) == 0 { // whole, but for the second time
				s.add(packet(d, i))
			}
		}
		// A head that promises more than comes holds up what it is followed by
		// only until more comes.
		s.out = append(s.out, "GFL1\x1c\x01\x40\x00"...)
		skipped += 8
		for i := uint64(3000); i < 3010; i++ {
			s.add(packet(d, i))
		}
		s.flush(c)
	})
	e, stop := startEngine(t, address, quick)
	watch(t, e, over, 3010)
	stop()
	if good := e.wire.Packets - e.refused - e.repeated; good != 3010 || e.lost != 0 || e.refused == 0 || e.repeated == 0 || e.restarts != 0 {
		t.Errorf("%+v, %d refused, %d repeated, %d lost", e.wire, e.refused, e.repeated, e.lost)
	}
	if e.wire.Skipped != skipped || e.wire.Damaged == 0 {
		t.Errorf("%+v, %d bytes of garbage", e.wire, skipped)
	}
	if e.frame.State.String() != "zeroed" || e.frame.Sequence != 3009 {
		t.Errorf("%v after sample %d: %v", e.frame.State, e.frame.Sequence, e.chain.Refusal())
	}
}

// Whole frames that came behind the beginning of one that never ends are taken in
// when the link gives the connection up, or the connection breaks.
func TestNothingWholeIsLostBehindAFalseBeginning(t *testing.T) {
	d := theDevice(t)
	const head = "GFL1\x1c\x01\x40\x00" // 64 channels to come
	wait := make(chan struct{})
	address, over := faulty(t, func(c net.Conn) {
		s := sender{t: t}
		s.out = append(s.out, head...)
		s.add(packet(d, 0))
		s.add(packet(d, 1))
		s.flush(c)
		<-wait // longer than the link is patient
	}, func(c net.Conn) {
		close(wait)
		s := sender{t: t}
		s.out = append(s.out, head...)
		s.add(packet(d, 2))
		s.flush(c)
	}, func(c net.Conn) {
		s := sender{t: t}
		s.add(packet(d, 3))
		s.flush(c)
	})
	e, stop := startEngine(t, address, quick)
	watch(t, e, over, 4)
	stop()
	if e.wire.Packets != 4 || e.wire.Skipped != 2*uint64(len(head)) || e.lost+e.repeated+e.refused != 0 || e.frame.Sequence != 3 {
		t.Errorf("%+v, %d lost, last sample %d", e.wire, e.lost, e.frame.Sequence)
	}
}

func TestDeviceHangsUpInsideAFrame(t *testing.T) {
	d := theDevice(t)
	address, over := faulty(t, func(c net.Conn) {
		s := sender{t: t}
		for i := range uint64(501) {
			s.add(packet(d, i))
		}
		s.out = s.out[:len(s.out)-20]
		s.flush(c)
	}, func(c net.Conn) {
		s := sender{t: t}
		for i := uint64(503); i < 1000; i++ {
			s.add(packet(d, i))
		}
		s.flush(c)
	})
	e, stop := startEngine(t, address, quick)
	links, _, _ := watch(t, e, over, 997)
	stop()
	if e.wire.Packets != 997 || e.lost != 3 || e.connections != 2 {
		t.Errorf("%+v, %d lost", e.wire, e.lost)
	}
	if !has(links, "inside a frame") {
		t.Errorf("the page was told %v", links)
	}
}

// A clock that jumps moves nothing: samples are counted.
func TestDeviceClockJumps(t *testing.T) {
	d := theDevice(t)
	address, over := faulty(t, func(c net.Conn) {
		s := sender{t: t}
		for i := range uint64(4000) {
			p := packet(d, i)
			switch {
			case i >= 3000:
				p.Stamp -= 5000
			case i >= 2000:
				p.Stamp += 86_400
			}
			s.add(p)
			if i%10 == 9 {
				s.flush(c)
				time.Sleep(time.Millisecond)
			}
		}
	})
	e, stop := startEngine(t, address, linkTimes{poll: 20 * time.Millisecond})
	_, _, last := watch(t, e, over, 4000)
	stop()
	if e.wire.Packets != 4000 || e.lost != 0 || e.restarts != 0 || e.frame.Time != 3.999 || last.Device.Rate < 999 || last.Device.Rate > 1001 {
		t.Errorf("%+v, %d lost, %g s, %g Hz", e.wire, e.lost, e.frame.Time, float64(last.Device.Rate))
	}
}

// A device that measures twice as often as declared is told from one that sends
// twice as fast: the first makes a wrong centre of mass and is not weighed on.
func TestDeviceSendsTwiceTheRate(t *testing.T) {
	d := theDevice(t)
	address, over := faulty(t, func(c net.Conn) {
		s := sender{t: t}
		for i := range uint64(9000) {
			p := packet(d, i/2)
			p.Sequence, p.Stamp = i, 1+float64(i)/2000
			s.add(p)
			if i%100 == 99 {
				s.flush(c)
				time.Sleep(3 * time.Millisecond)
			}
		}
	})
	e, stop := startEngine(t, address, linkTimes{poll: 20 * time.Millisecond})
	_, healths, last := watch(t, e, over, 9000)
	stop()
	if e.wire.Packets != 9000 || e.lost != 0 || e.frame.Time != 8.999 || !has(healths, "clock") || last.Device.Rate < 1999 {
		t.Errorf("%+v, %d lost, %g s, %g Hz, %v", e.wire, e.lost, e.frame.Time, float64(last.Device.Rate), healths)
	}
	if _, ok := e.chain.Golfer(); ok {
		t.Error("the golfer was weighed")
	}
}

func TestDeviceStartsAnew(t *testing.T) {
	d := theDevice(t)
	send := func(n uint64) func(c net.Conn) {
		return func(c net.Conn) {
			s := sender{t: t}
			for i := range n {
				s.add(packet(d, i))
			}
			s.flush(c)
		}
	}
	address, over := faulty(t, send(2000), send(300))
	e, stop := startEngine(t, address, quick)
	watch(t, e, over, 2300)
	stop()
	if e.restarts != 1 || e.repeated != 0 || e.lost != 0 || e.frame.Time != 0.299 || e.frame.State.String() != "zeroed" {
		t.Errorf("%d restarts, %d repeated, %d lost, %g s, %v", e.restarts, e.repeated, e.lost, e.frame.Time, e.frame.State)
	}
}

// Without a device the program waits, says so, and answers.
func TestNoDevice(t *testing.T) {
	l := listen(t)
	address := l.Addr().String()
	l.Close()
	e, stop := startEngine(t, address, quick)
	links := map[string]bool{}
	for len(links) < 2 {
		select {
		case v := <-e.views:
			links[v.Link] = true
		case <-time.After(20 * time.Second):
			t.Fatal(links)
		}
	}
	if !has(links, "no device") || !has(links, "connecting") {
		t.Error(links)
	}
	if !e.ask(weigh) {
		t.Error("no room for a request")
	}
	within(t, 10*time.Second, "the request is taken", func() bool { return len(e.requests) == 0 })
	stop()
}
