//go:build !race

package server_test

const slower = 1 // with the race detector: race_test.go
