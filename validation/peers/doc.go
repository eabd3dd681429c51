// Command peers runs the chain of package phase/batch and the same chain in NumPy
// and SciPy on identical input, checks that they agree, and prints ratios of
// times:
//
//	go run ./validation/peers
//	go run -tags purego ./validation/peers   # without vector instructions
//
// The input is made up from a seed. Both sides reuse their buffers and run in one
// thread; SciPy runs under settings of malloc that keep it from giving memory back
// and asking for it again, without which it looks several times slower than it
// is. Contestants take turns, round after round, and what is printed are ratios
// of medians over the rounds, and of the best times. README.md has results.
//
// It needs Debian's python3-scipy, or another interpreter with NumPy and SciPy
// that -python names; without them it says so and ends with status 3.
package main
