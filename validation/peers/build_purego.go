//go:build purego

package main

const build = "pure Go"
