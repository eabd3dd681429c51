module example.com/momentarm

go 1.24.0

require (
	github.com/google/go-cmp v0.7.0
	gonum.org/v1/gonum v0.17.0
)

require (
	golang.org/x/exp v0.0.0-20260112195511-716be5621a96 // indirect
	golang.org/x/mod v0.32.0 // indirect
	golang.org/x/sync v0.19.0 // indirect
	golang.org/x/tools v0.41.0 // indirect
)

tool golang.org/x/exp/cmd/apidiff
