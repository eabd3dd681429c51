package headless

import (
	"bufio"
	"encoding/json"
	"fmt"
	"os"
	"os/exec"
	"sync"
	"testing"
	"time"
)

// patience is how long a page may take for anything.
const patience = 90 * time.Second

// browser is a running Chromium at the other end of a pipe.
type browser struct {
	t       testing.TB
	to      *os.File
	mu      sync.Mutex
	last    int
	waiting map[int]chan answer
	notice  func(event)
	gone    chan struct{}
}

type answer struct {
	Result json.RawMessage
	Error  *struct{ Message string }
}

type event struct {
	Method    string
	Params    json.RawMessage
	SessionID string
}

// names under which the browser is installed.
var names = []string{"chromium", "chromium-browser", "google-chrome"}

// start runs a browser until the test ends, or skips the test.
func start(t testing.TB, notice func(event)) *browser {
	t.Helper()
	if testing.Short() {
		t.Skip("starts a browser: left out with -short")
	}
	path := ""
	for _, n := range names {
		if p, err := exec.LookPath(n); err == nil {
			path = p
			break
		}
	}
	if path == "" {
		t.Skip("no chromium on this machine: install it to run this test")
	}
	theirs, ours, err := os.Pipe()
	if err != nil {
		t.Fatal(err)
	}
	back, answers, err := os.Pipe()
	if err != nil {
		t.Fatal(err)
	}
	cmd := exec.Command(path, "--headless", "--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run",
		"--disable-background-networking", "--disable-component-update", "--disable-sync", "--hide-scrollbars",
		// a frame in a sandbox of its own stays within reach of the tests
		"--disable-features=IsolateSandboxedIframes", "--disable-site-isolation-trials",
		"--user-data-dir="+t.TempDir(), "--remote-debugging-pipe", "about:blank")
	cmd.ExtraFiles = []*os.File{theirs, answers} // 3 and 4
	if err := cmd.Start(); err != nil {
		t.Skipf("%s does not run here: %v", path, err)
	}
	theirs.Close()
	answers.Close()
	b := &browser{t: t, to: ours, waiting: map[int]chan answer{}, notice: notice, gone: make(chan struct{})}
	go b.listen(back)
	t.Cleanup(func() {
		_, _ = b.ask("", "Browser.close", nil) // it goes before its folder does
		ours.Close()
		done := time.AfterFunc(10*time.Second, func() { _ = cmd.Process.Kill() })
		_ = cmd.Wait()
		done.Stop()
		back.Close()
	})
	if _, err := b.ask("", "Browser.getVersion", nil); err != nil {
		t.Skipf("%s does not run here: %v", path, err)
	}
	return b
}

// listen hands on what the browser says, until it goes.
func (b *browser) listen(from *os.File) {
	defer close(b.gone)
	r := bufio.NewReader(from)
	for {
		text, err := r.ReadBytes(0)
		if err != nil {
			return
		}
		var m struct {
			ID int
			answer
			event
		}
		if json.Unmarshal(text[:len(text)-1], &m) != nil {
			continue
		}
		if m.ID == 0 {
			b.notice(m.event)
			continue
		}
		b.mu.Lock()
		to := b.waiting[m.ID]
		delete(b.waiting, m.ID)
		b.mu.Unlock()
		if to != nil {
			to <- m.answer
		}
	}
}

// ask sends a command and waits for its result.
func (b *browser) ask(session, method string, params any) (json.RawMessage, error) {
	if params == nil {
		params = struct{}{}
	}
	to := make(chan answer, 1)
	b.mu.Lock()
	b.last++
	id := b.last
	b.waiting[id] = to
	text, err := json.Marshal(struct {
		ID        int    `json:"id"`
		SessionID string `json:"sessionId,omitempty"`
		Method    string `json:"method"`
		Params    any    `json:"params"`
	}{id, session, method, params})
	if err == nil {
		_, err = b.to.Write(append(text, 0))
	}
	b.mu.Unlock()
	if err != nil {
		return nil, err
	}
	select {
	case a := <-to:
		if a.Error != nil {
			return nil, fmt.Errorf("%s: %s", method, a.Error.Message)
		}
		return a.Result, nil
	case <-b.gone:
		return nil, fmt.Errorf("%s: the browser is gone", method)
	case <-time.After(patience):
		return nil, fmt.Errorf("%s: no answer", method)
	}
}
