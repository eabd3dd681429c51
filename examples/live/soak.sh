#!/usr/bin/env bash
# Ten minutes (or as long as the first argument says, such as 90s) with two hundred
# pages and a device that stalls, sends garbage, jumps its clock, sends at twice the
# rate, repeats and leaves out samples, and hangs up inside frames. Prints the
# figures. Fails when a frame is lost that came whole, memory grows or the chain
# falls behind.
set -euo pipefail
cd "$(dirname "$0")"
length=${1:-10m}
if go test -count=1 -run '^TestManyViewers$' -v -timeout 60m . -soak "$length"; then
	echo "soak of $length: passed"
else
	echo "soak of $length: FAILED" >&2
	exit 1
fi
