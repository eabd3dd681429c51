package headless

import (
	"encoding/base64"
	"encoding/json"
	"net/url"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"testing"
	"time"
)

// Tab is one page.
type Tab struct {
	t       testing.TB
	b       *browser
	session string

	mu         sync.Mutex
	complaints []string
	requests   []string
	frames     map[string]int // script contexts of the frames within the page
	main       string
	loads      int
}

// Open opens the page at an address and waits until it is loaded.
func Open(t testing.TB, address string) *Tab {
	t.Helper()
	p := &Tab{t: t, frames: map[string]int{}}
	p.b = start(t, p.notice)
	var target struct{ TargetID string }
	p.ask("Target.createTarget", map[string]any{"url": "about:blank"}, &target)
	var attached struct{ SessionID string }
	p.ask("Target.attachToTarget", map[string]any{"targetId": target.TargetID, "flatten": true}, &attached)
	p.session, p.main = attached.SessionID, target.TargetID
	for _, domain := range []string{"Page", "Runtime", "Log", "Network", "DOM"} {
		p.ask(domain+".enable", nil, nil)
	}
	p.Size(Laptop)
	p.Go(address)
	return p
}

// File is the address of a file on this machine, with a fragment or without.
func File(path, fragment string) string {
	u := url.URL{Scheme: "file", Path: filepath.ToSlash(path), Fragment: fragment}
	return u.String()
}

func (p *Tab) ask(method string, params, result any) {
	p.t.Helper()
	text, err := p.b.ask(p.session, method, params)
	if err == nil && result != nil {
		err = json.Unmarshal(text, result)
	}
	if err != nil {
		p.t.Fatal(err)
	}
}

// notice keeps what the browser says by itself.
func (p *Tab) notice(e event) {
	p.mu.Lock()
	defer p.mu.Unlock()
	var m struct {
		Entry            struct{ Text, Level string }
		ExceptionDetails struct {
			Text      string
			Exception struct{ Description string }
		}
		Type    string
		Args    []struct{ Value any }
		Request struct{ URL string }
		Context struct {
			ID      int
			AuxData struct {
				FrameID   string
				IsDefault bool
			}
		}
	}
	if json.Unmarshal(e.Params, &m) != nil {
		return
	}
	switch e.Method {
	case "Log.entryAdded":
		if m.Entry.Level == "error" || m.Entry.Level == "warning" {
			p.complaints = append(p.complaints, m.Entry.Text)
		}
	case "Runtime.exceptionThrown":
		p.complaints = append(p.complaints, m.ExceptionDetails.Text+" "+m.ExceptionDetails.Exception.Description)
	case "Runtime.consoleAPICalled":
		for _, a := range m.Args {
			if text, ok := a.Value.(string); ok {
				p.complaints = append(p.complaints, m.Type+": "+text)
			}
		}
	case "Network.requestWillBeSent":
		p.requests = append(p.requests, m.Request.URL)
	case "Runtime.executionContextCreated":
		if f := m.Context.AuxData; f.IsDefault && f.FrameID != p.main {
			p.frames[f.FrameID] = m.Context.ID
		}
	case "Page.loadEventFired":
		p.loads++
	}
}

// Go opens another address and waits until it is loaded.
func (p *Tab) Go(address string) {
	p.t.Helper()
	p.mu.Lock()
	before := p.loads
	p.mu.Unlock()
	var gone struct{ LoaderID, ErrorText string }
	p.ask("Page.navigate", map[string]any{"url": address}, &gone)
	if gone.ErrorText != "" {
		p.t.Fatalf("%s: %s", address, gone.ErrorText)
	}
	if gone.LoaderID == "" {
		return // another place of the same page
	}
	p.until("the page to load", func() bool {
		p.mu.Lock()
		defer p.mu.Unlock()
		return p.loads > before
	})
}

func (p *Tab) until(what string, ok func() bool) {
	p.t.Helper()
	for end := time.Now().Add(patience); !ok(); time.Sleep(20 * time.Millisecond) {
		if time.Now().After(end) {
			p.t.Fatalf("waited in vain for %s; the browser says %q", what, p.Complaints())
		}
	}
}

// Wait waits until an expression of JavaScript is true.
func (p *Tab) Wait(expression string) {
	p.t.Helper()
	p.until(expression, func() bool { return p.Eval("!!("+expression+")") == "true" })
}

// WaitFrame waits until an expression of JavaScript is true in the frame.
func (p *Tab) WaitFrame(expression string) {
	p.t.Helper()
	p.until(expression, func() bool { return p.EvalFrame("!!("+expression+")") == "true" })
}

// Eval returns what an expression of JavaScript, or its promise, is in the page, as
// text.
func (p *Tab) Eval(expression string) string {
	p.t.Helper()
	return p.eval(expression, 0)
}

// EvalFrame does the same in the one frame within the page.
func (p *Tab) EvalFrame(expression string) string {
	p.t.Helper()
	id := 0
	p.until("a frame", func() bool {
		p.mu.Lock()
		defer p.mu.Unlock()
		for _, id = range p.frames {
		}
		return id != 0
	})
	return p.eval(expression, id)
}

func (p *Tab) eval(expression string, context int) string {
	p.t.Helper()
	params := map[string]any{"expression": "Promise.resolve(" + expression + ").then(String)", "awaitPromise": true, "returnByValue": true}
	if context != 0 {
		params["contextId"] = context
	}
	var r struct {
		Result           struct{ Value string }
		ExceptionDetails *struct{ Exception struct{ Description string } }
	}
	p.ask("Runtime.evaluate", params, &r)
	if r.ExceptionDetails != nil {
		p.t.Fatalf("%s: %s", expression, r.ExceptionDetails.Exception.Description)
	}
	return r.Result.Value
}

// Press presses a key, named as KeyboardEvent.key names it, with "Shift+" before it
// or not.
func (p *Tab) Press(key string) {
	p.t.Helper()
	name, shift := strings.CutPrefix(key, "Shift+")
	shifted := 0
	if shift {
		shifted = 8
	}
	code := map[string]int{"Tab": 9, "Enter": 13, " ": 32, "Escape": 27, "ArrowLeft": 37, "ArrowRight": 39, "Home": 36, "End": 35}[name]
	k := map[string]any{"type": "keyDown", "key": name, "code": name, "windowsVirtualKeyCode": code, "modifiers": shifted}
	switch name {
	case "Enter":
		k["text"] = "\r"
	case " ":
		k["text"], k["code"] = " ", "Space"
	}
	p.ask("Input.dispatchKeyEvent", k, nil)
	delete(k, "text")
	k["type"] = "keyUp"
	p.ask("Input.dispatchKeyEvent", k, nil)
}

// Point moves the pointer to a place in the window.
func (p *Tab) Point(x, y float64) {
	p.t.Helper()
	p.ask("Input.dispatchMouseEvent", map[string]any{"type": "mouseMoved", "x": x, "y": y}, nil)
}

// Choose puts files into the file field that a selector names.
func (p *Tab) Choose(selector string, files ...string) {
	p.t.Helper()
	var doc struct{ Root struct{ NodeID int } }
	p.ask("DOM.getDocument", nil, &doc)
	var node struct{ NodeID int }
	p.ask("DOM.querySelector", map[string]any{"nodeId": doc.Root.NodeID, "selector": selector}, &node)
	p.ask("DOM.setFileInputFiles", map[string]any{"nodeId": node.NodeID, "files": files}, nil)
}

// SaveTo lets the page save files into a folder.
func (p *Tab) SaveTo(dir string) {
	p.t.Helper()
	p.ask("Page.setDownloadBehavior", map[string]any{"behavior": "allow", "downloadPath": dir}, nil)
}

// Screen is a size to look at a page with.
type Screen struct {
	Width, Height int
	Phone         bool
}

// The usual sizes.
var (
	Phone  = Screen{390, 844, true}
	Laptop = Screen{1366, 768, false}
)

// Size sets the size of the window.
func (p *Tab) Size(s Screen) {
	p.t.Helper()
	p.ask("Emulation.setDeviceMetricsOverride", map[string]any{
		"width": s.Width, "height": s.Height, "deviceScaleFactor": 1, "mobile": s.Phone}, nil)
}

// See shows the page as eyes with a deficiency see it, such as "deuteranopia" or
// "achromatopsia"; "none" for others.
func (p *Tab) See(deficiency string) {
	p.t.Helper()
	p.ask("Emulation.setEmulatedVisionDeficiency", map[string]any{"type": deficiency}, nil)
}

// Picture writes what is in the window, or the whole page, as PNG.
func (p *Tab) Picture(file string, whole Extent) {
	p.t.Helper()
	var r struct{ Data []byte }
	p.ask("Page.captureScreenshot", map[string]any{"format": "png", "captureBeyondViewport": whole == Whole}, &r)
	p.write(file, r.Data)
}

// Extent is how much of a page is in a picture.
type Extent int

// What is in a picture.
const (
	Window Extent = iota
	Whole
)

// Print writes the page as it comes out on A4 paper, as PDF.
func (p *Tab) Print(file string) {
	p.t.Helper()
	var r struct{ Data string }
	p.ask("Page.printToPDF", map[string]any{"paperWidth": 8.27, "paperHeight": 11.69, "preferCSSPageSize": true, "printBackground": false}, &r)
	data, err := base64.StdEncoding.DecodeString(r.Data)
	if err != nil {
		p.t.Fatal(err)
	}
	p.write(file, data)
}

func (p *Tab) write(file string, data []byte) {
	p.t.Helper()
	if err := os.WriteFile(file, data, 0o644); err != nil {
		p.t.Fatal(err)
	}
}

// Complaints are what the browser said about the page: errors, breaches of its
// policy, and all that its scripts write to the console.
func (p *Tab) Complaints() []string {
	p.mu.Lock()
	defer p.mu.Unlock()
	return append([]string(nil), p.complaints...)
}

// Requests are the addresses that the page and its scripts asked for.
func (p *Tab) Requests() []string {
	p.mu.Lock()
	defer p.mu.Unlock()
	return append([]string(nil), p.requests...)
}
