package server_test

import "testing"

// some are alike cases one and all; with -short, as under the race detector, one in five.
func some[T any](of []T) []T {
	if !testing.Short() {
		return of
	}
	var kept []T
	for i := 0; i < len(of); i += 5 {
		kept = append(kept, of[i])
	}
	return kept
}
