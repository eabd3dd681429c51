//go:build !purego

package main

// build says how the library was built.
const build = "vector instructions where there are any"
