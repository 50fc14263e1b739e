package server_test

import "testing"

// some returns all of a list of similar cases or, with -short, one in five, as under the race
// detector.
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
