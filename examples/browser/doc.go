// Browser makes the ground report as one file that a browser opens: a page where
// a capture and a setup are dropped and analysed on the spot. Nothing leaves the
// machine, and there is no server.
//
//	go run ./examples/browser -out browser.html
//
// The file holds this same program compiled to WebAssembly, compressed, with the
// loader that the Go distribution has for it. It works from a folder, a memory
// stick or any web server, and offline. Its Content-Security-Policy forbids to load
// or send anything, also to where the page came from, because it needs nothing. A
// policy does not keep a page from being left for another one; this page has no
// link and no script that would.
//
// The same files give the same figures as with examples/report: both use the same
// packages. On another processor the last digits may differ, where it rounds a
// product and a sum together and WebAssembly does not.
package main
