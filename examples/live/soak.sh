#!/usr/bin/env bash
# Ten minutes (or as long as the first argument says, such as 90s) with two hundred
# viewers. Fails when a sample is lost, memory grows or the chain falls behind, and
# prints the figures.
set -euo pipefail
cd "$(dirname "$0")"
length=${1:-10m}
go test -count=1 -run '^TestManyViewers$' -v -timeout 60m . -soak "$length"
