package main

import (
	"runtime"
	"runtime/debug"
	"runtime/metrics"
)

// leastHeap is how much garbage may gather, however little is in use.
const leastHeap = 26 << 20

// usualPercent is how much garbage may gather before it is collected, in percent of what is in
// use.
const usualPercent = 100

// collectLess lets garbage gather up to leastHeap: with 7 MB in use, the collector would run every
// few hundred requests. With more in use it works as usual, which a higher GOGC would not do. The
// share is set again after each collection. Operators who set GOGC or GOMEMLIMIT decide for
// themselves.
func collectLess(getenv func(string) string) {
	if getenv("GOGC") == "" && getenv("GOMEMLIMIT") == "" {
		setPercent(usualPercent)
	}
}

// setPercent sets the share from what is in use, and runs again after the next collection.
func setPercent(was int) {
	inUse := []metrics.Sample{{Name: "/gc/heap/live:bytes"}}
	metrics.Read(inUse)
	percent := usualPercent
	if live := float64(inUse[0].Value.Uint64()); live > 0 {
		percent = max(percent, int(100*(leastHeap-live)/live))
	}
	if change := percent - was; change < -usualPercent/10 || change > usualPercent/10 { // setting it briefly stops everything
		debug.SetGCPercent(percent)
		was = percent
	}
	runtime.SetFinalizer(new([16]byte), func(*[16]byte) { setPercent(was) })
}
