package main

import (
	"context"
	"errors"
	"flag"
	"fmt"
	"io"
	"net"
	"net/http"
	"sync"
	"time"

	"example.com/momentarm/examples/live/device"
	"example.com/momentarm/examples/live/wire"
	"example.com/momentarm/phase/live"
	"example.com/momentarm/units"
)

// settings are what the arguments say.
type settings struct {
	listen  string
	device  string
	stature float64 // m; 0 when unknown
	viewers int
	length  time.Duration // 0 means until interrupted
}

func run(ctx context.Context, args []string, stdout, stderr io.Writer) int {
	set, err := parse(args, stderr)
	if errors.Is(err, flag.ErrHelp) {
		return 0
	}
	if err != nil {
		return 2
	}
	if set.length > 0 {
		var cancel context.CancelFunc
		ctx, cancel = context.WithTimeout(ctx, set.length)
		defer cancel()
	}
	if err := serve(ctx, set, stdout); err != nil {
		fmt.Fprintln(stderr, "live:", err)
		return 1
	}
	return 0
}

func parse(args []string, stderr io.Writer) (set settings, err error) {
	f := flag.NewFlagSet("live", flag.ContinueOnError)
	f.SetOutput(stderr)
	f.StringVar(&set.listen, "listen", "127.0.0.1:8080", "address of the page; port 0 takes a free one")
	f.StringVar(&set.device, "device", "", "address of the device; none starts a made-up one")
	stature := f.String("stature", "", "the golfer's height with its unit, such as \"1.80 m\"; makes torque surer")
	f.IntVar(&set.viewers, "viewers", 256, "how many pages may be open at once")
	f.DurationVar(&set.length, "for", 0, "end after this time, such as 10m; 0 means on an interrupt")
	if err := f.Parse(args); err != nil {
		return set, err
	}
	fail := func(format string, a ...any) (settings, error) {
		err := fmt.Errorf(format, a...)
		fmt.Fprintln(stderr, "live:", err)
		return set, err
	}
	if f.NArg() > 0 {
		return fail("unexpected argument %q; see -help", f.Arg(0))
	}
	if set.viewers < 1 || set.viewers > 10_000 {
		return fail("-viewers %d: want 1 to 10000", set.viewers)
	}
	if set.length < 0 {
		return fail("-for %v is negative", set.length)
	}
	if *stature != "" {
		l, err := units.ParseLength(*stature)
		if err != nil {
			return fail("-stature: %v", err)
		}
		if set.stature = float64(l); !(set.stature >= 0.5 && set.stature <= 2.6) {
			return fail("-stature %s is no golfer's; want 0.5 to 2.6 m", *stature)
		}
	}
	return set, nil
}

// serve runs everything until ctx is done.
func serve(ctx context.Context, set settings, stdout io.Writer) error {
	ctx, cancel := context.WithCancel(ctx)
	defer cancel()
	var all sync.WaitGroup
	defer all.Wait()
	defer cancel()

	made, err := device.New()
	if err != nil {
		return err
	}
	if set.device == "" {
		l, err := net.Listen("tcp", "127.0.0.1:0")
		if err != nil {
			return err
		}
		set.device = l.Addr().String()
		fmt.Fprintf(stdout, "A made-up device sends on %s.\n", set.device)
		all.Add(1)
		go func() {
			defer all.Done()
			_ = made.Serve(ctx, l, device.ServeOptions{}) // ends with ctx
		}()
	}
	config := made.Config() // plates and axes; replace it for a device of your own
	config.Stature = set.stature
	chain, err := live.New(config)
	if err != nil {
		return err
	}

	l, err := net.Listen("tcp", set.listen)
	if err != nil {
		return err
	}
	defer l.Close()
	h := newHub(set.viewers)
	e := newEngine(chain, config)
	for _, task := range []func(){
		func() { link{address: set.device, framing: wire.Plain{}}.follow(ctx, e) },
		func() { h.relay(ctx, e.views) },
		func() { summarise(ctx, e.swings, h) },
	} {
		all.Add(1)
		go func() {
			defer all.Done()
			task()
		}()
	}
	fmt.Fprintf(stdout, "Open http://%s/ in a browser on this machine. An interrupt ends it.\n", l.Addr())
	return serveHTTP(ctx, l, newServer(l.Addr(), h, e))
}

// serveHTTP serves until ctx is done.
func serveHTTP(ctx context.Context, l net.Listener, s *http.Server) error {
	stop := context.AfterFunc(ctx, func() { s.Close() })
	defer stop()
	err := s.Serve(bounded(l, maxConnections))
	if errors.Is(err, http.ErrServerClosed) && ctx.Err() != nil {
		return nil
	}
	return err
}
