package main

import (
	"context"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"time"

	"example.com/momentarm/examples/internal/input"
	"example.com/momentarm/examples/internal/results"
	"example.com/momentarm/examples/internal/safe"
	"example.com/momentarm/phase/screen"
	"example.com/momentarm/phase/swing"
)

// state is what became of a capture.
type state string

const (
	notReached state = "not reached" // the run was ended before
	analysed   state = "analysed"
	failed     state = "failed"
)

// outcome is what is known of one capture.
type outcome struct {
	state   state
	reason  string           // why it failed
	digest  string           // of the content that it was made from
	results *results.Results // when analysed
	earlier bool             // it is that of an earlier run
}

// work analyses the folder and writes what comes out. It reports whether every
// capture was analysed.
func work(ctx context.Context, req request, stdout, stderr io.Writer) (bool, error) {
	found, err := look(req.folder, req.setup)
	if err != nil {
		return false, err
	}
	if found.bands, err = readBands(req.bands); err != nil {
		return false, err
	}
	var then *before
	if req.against != "" {
		if then, err = readBefore(req.against); err != nil {
			return false, err
		}
	}
	if err := os.MkdirAll(req.out, 0o777); err != nil {
		return false, fmt.Errorf("%s: can not be made: %w; name another folder with -out", req.out, input.Cause(err))
	}
	outcomes := make([]outcome, len(found.captures))
	for i := range outcomes {
		outcomes[i].state = notReached
	}
	show := newProgress(stdout, found.captures)
	for _, text := range found.leftOut {
		show.say(text)
	}
	if found.shared != "" {
		show.say(found.shared)
	}
	if req.resume {
		past, err := readEarlier(req.out)
		if err != nil {
			show.say(fmt.Sprintf("earlier results are not kept: %v", err))
		}
		for i, f := range found.captures {
			if o, ok := past[safe.Cell(f.name)]; ok {
				outcomes[i] = o
			}
		}
	}

	reached, err := gather(ctx, req, found, outcomes, show, stderr)
	show.end()
	if err != nil {
		return false, err
	}
	if err := write(req.out, found, outcomes); err != nil {
		return false, err
	}
	return conclude(req, found, outcomes, reached, then, stdout, stderr)
}

// gather fills in the outcomes, writes them from time to time and returns how many
// captures were reached. Its error is one of writing: what can not be written need
// not be worked out.
func gather(ctx context.Context, req request, found folder, outcomes []outcome, show *progress, stderr io.Writer) (reached int, err error) {
	ctx, cancel := context.WithCancel(ctx)
	defer cancel()
	interrupted := ctx.Done()
	written, pause := time.Now(), req.pause
	news := analyse(ctx, req.workers, found, outcomes)
	for {
		select {
		case <-interrupted:
			interrupted = nil
			show.clear()
			fmt.Fprintln(stderr, "batch: stopping after the captures in work; once more stops at once")
		case d, ok := <-news:
			if !ok {
				return reached, err
			}
			outcomes[d.index] = d.outcome
			reached++
			show.done(d.index, d.outcome)
			if err != nil || time.Since(written) < pause {
				continue
			}
			start := time.Now()
			if err = write(req.out, found, outcomes); err != nil {
				interrupted = nil
				cancel()
			}
			written = time.Now()
			pause = max(req.pause, 20*written.Sub(start)) // of many results, too, most time goes into analysing
		}
	}
}

// finished is the outcome of the capture of this index.
type finished struct {
	index int
	outcome
}

// analyse works on the captures and sends each outcome when it is there. It stops
// taking up captures when ctx is done, and closes the channel when the last one in
// work is finished.
func analyse(ctx context.Context, workers int, found folder, past []outcome) <-chan finished {
	next := make(chan int)
	go func() {
		defer close(next)
		for i := range found.captures {
			if ctx.Err() != nil {
				return
			}
			select {
			case next <- i:
			case <-ctx.Done():
				return
			}
		}
	}()
	out := make(chan finished)
	before := slices.Clone(past) // the receiver changes past meanwhile
	var group sync.WaitGroup
	for range min(workers, len(found.captures)) {
		group.Add(1)
		go func() {
			defer group.Done()
			for i := range next {
				out <- finished{i, analyseOne(found, found.captures[i], before[i])}
			}
		}()
	}
	go func() {
		group.Wait()
		close(out)
	}()
	return out
}

// resultsOf analyses a capture and holds it against the bands.
func resultsOf(src input.Source, b bands) (*results.Results, error) {
	s, err := src.Analyse()
	if err != nil {
		return nil, err
	}
	found, err := screen.Swing(s.Analysis, screen.Options{Bands: b.sets, Warnings: s.Warnings})
	if err != nil {
		return nil, fmt.Errorf("%s: %w", src.Name, err)
	}
	s.Warnings = input.ByWeight(append(s.Warnings, found.Warnings...))
	r := results.Of(s)
	r.Findings = results.FindingsOf(found)
	return &r, nil
}

// analyseOne works on one capture, unless it has the same content as before.
func analyseOne(in folder, f file, before outcome) (o outcome) {
	defer func() {
		// The library does not panic on data. Should it, the other captures must
		// not suffer.
		if r := recover(); r != nil {
			o = outcome{state: failed, reason: fmt.Sprintf("%s: a fault in the program: %v", f.name, r)}
		}
	}()
	src, err := input.Load(filepath.Join(in.path, f.name), f.setup)
	if err == nil {
		// All are in one folder, which messages need not repeat.
		src.Name, src.SetupName = f.name, f.setupName()
		src.SharedWith, src.SameSession = f.shared, true
		src.Own = "give this capture its own beside it, " + ownSetup(f.name)
		o.digest = src.Digest(in.bands.text)
		if before.state == analysed && before.digest == o.digest && before.results.Settings.Version == swing.Version {
			return before
		}
		if o.results, err = resultsOf(src, in.bands); err == nil {
			o.state = analysed
			return o
		}
	}
	o.state = failed
	o.reason = strings.ReplaceAll(err.Error(), in.path+string(filepath.Separator), "")
	if f.own && strings.HasPrefix(o.reason, f.setupName()+": ") {
		o.reason += " (it has the same base name as the capture, which makes it the capture's setup)"
	}
	return o
}
