//go:build race

package server_test

// slower is how many times as long the race detector may make a limit of time.
const slower = 10
