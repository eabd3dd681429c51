package main

import (
	"runtime/debug"
	"syscall/js"
)

// main does the one job that the page has put into groundJob, and ends. The page
// starts it anew for each, which frees the memory and keeps jobs apart.
func main() {
	debug.SetGCPercent(400) // one job in a memory of its own: speed before thrift
	task := js.Global().Get("groundJob")
	out := work(jobOf(task))
	answer := js.Global().Get("Object").New()
	for name, value := range map[string]string{
		"error": out.err, "title": out.title, "html": string(out.html), "json": string(out.json), "series": string(out.series),
	} {
		answer.Set(name, value)
	}
	task.Call("done", answer)
}

func jobOf(task js.Value) job {
	j := job{
		demo:    task.Get("demo").Truthy(),
		capture: fileOf(task.Get("capture")), setup: fileOf(task.Get("setup")), before: fileOf(task.Get("before")),
	}
	others := task.Get("others")
	for i := range others.Length() {
		j.others = append(j.others, fileOf(others.Index(i)))
	}
	return j
}

// fileOf copies a file of the page, an object with name and data.
func fileOf(v js.Value) file {
	if !v.Truthy() {
		return file{}
	}
	data := v.Get("data")
	f := file{name: v.Get("name").String(), data: make([]byte, data.Length())}
	js.CopyBytesToGo(f.data, data)
	return f
}
