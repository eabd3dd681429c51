package main

import (
	"context"
	"encoding/json"
	"fmt"
	"io"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"time"
)

// killedIn names the folder in which a run is to be killed: then this test binary is
// the program, one that writes after nearly every capture.
const killedIn = "BATCH_KILLED_IN"

// A run that is killed, at whatever moment, leaves whole files: each can be read to
// its end, and what is said to be analysed has its results. Runs with -resume go on
// from there and end with what a run makes that nobody killed.
func TestKilled(t *testing.T) {
	request := func(dir string) request {
		return request{folder: dir, setup: filepath.Join(dir, "..", "lab.json"), out: filepath.Join(dir, defaultOut), workers: 2, pause: 1, resume: true}
	}
	if dir := os.Getenv(killedIn); dir != "" {
		if _, err := work(context.Background(), request(dir), io.Discard, io.Discard); err != nil {
			t.Fatal(err)
		}
		return
	}
	if testing.Short() {
		t.Skip("starts and kills processes for some seconds")
	}
	c3ds, _ := madeUp()
	files := map[string]string{}
	for i := range 60 {
		files[fmt.Sprintf("swing %d.c3d", i)] = string(c3ds[i%4])
	}
	dir := filepath.Join(t.TempDir(), "captures")
	for name, text := range files {
		put(t, filepath.Join(dir, name), text)
	}
	put(t, filepath.Join(dir, "..", "lab.json"), lab)
	out := filepath.Join(dir, defaultOut)
	rng := rand.New(rand.NewPCG(1, uint64(time.Now().UnixNano())))
	kills, done := 0, 0
	for round := range 20 {
		cmd := exec.Command(os.Args[0], "-test.run=^TestKilled$")
		cmd.Stderr = os.Stderr
		cmd.Env = append(os.Environ(), killedIn+"="+dir)
		if err := cmd.Start(); err != nil {
			t.Fatal(err)
		}
		// Let it come so far that it writes, then kill it somewhere in the middle.
		time.Sleep(time.Duration((60+rng.IntN(400))*(1+round/6)) * time.Millisecond)
		if err := cmd.Process.Kill(); err == nil {
			kills++
		}
		cmd.Wait()
		if n := readable(t, round, out); n < done {
			t.Errorf("round %d: %d results, %d before", round, n, done)
		} else {
			done = n
		}
		if done == len(files) {
			break
		}
	}
	t.Logf("%d kills, after which %d of %d captures were done", kills, done, len(files))
	if _, err := work(context.Background(), request(dir), io.Discard, io.Discard); err != nil {
		t.Fatal(err)
	}
	fresh := request(dir)
	fresh.out, fresh.resume = filepath.Join(t.TempDir(), "fresh"), false
	if _, err := work(context.Background(), fresh, io.Discard, io.Discard); err != nil {
		t.Fatal(err)
	}
	for name, text := range outputs(t, fresh.out) {
		if read(t, out, name) != text {
			t.Errorf("%s differs from that of a run that nobody killed", name)
		}
	}
}

// readable reads all outputs that there are to their ends and returns how many
// captures have results. Files of one moment may stand beside those of the next.
func readable(t *testing.T, round int, out string) int {
	t.Helper()
	entries, err := os.ReadDir(out)
	if os.IsNotExist(err) {
		return 0
	}
	if err != nil {
		t.Fatal(err)
	}
	have := map[string]string{}
	for _, e := range entries {
		switch e.Name() {
		case measuresFile, swingsFile, sessionJSON, sessionText, capturesFile, methodsText:
			have[e.Name()] = read(t, out, e.Name())
		default:
			// What was being written, under a name that nobody takes for a result.
			if !strings.HasPrefix(e.Name(), ".momentarm-") || !strings.HasSuffix(e.Name(), ".tmp") {
				t.Errorf("round %d left %s", round, e.Name())
			}
		}
	}
	results := map[string]bool{}
	for _, r := range lines(t, have[swingsFile]) {
		results[r.Capture] = len(r.Measures) > 0
	}
	measured := map[string]bool{}
	if text, ok := have[measuresFile]; ok {
		for _, row := range rows(t, text)[1:] {
			measured[row[0]] = true
		}
	}
	if text, ok := have[capturesFile]; ok {
		for _, row := range rows(t, text)[1:] {
			if row[2] == string(analysed) && (!results[row[0]] || !measured[row[0]]) {
				t.Errorf("round %d: %s is said to be analysed and has no results", round, row[0])
			}
		}
	}
	if text, ok := have[sessionJSON]; ok {
		var s summary
		if err := json.Unmarshal([]byte(text), &s); err != nil {
			t.Errorf("round %d: %v", round, err)
		}
	}
	if text, ok := have[sessionText]; ok && !strings.HasSuffix(text, "\n") {
		t.Errorf("round %d: %s does not end", round, sessionText)
	}
	return len(results)
}
