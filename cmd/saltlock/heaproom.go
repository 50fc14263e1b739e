package main

import (
	"math"
	"runtime/debug"
)

// heapRoom is how much garbage may gather beyond what the collector allows by itself,
// which is as much as there is in use. This service has 7 MB in use, and would collect
// every few hundred requests.
const heapRoom = 8 << 20

// makeRoom returns memory to keep for as long as requests are answered. Nobody touches
// it, so the kernel gives none for it, yet the collector counts it as in use when it decides
// how much garbage may gather. A higher GOGC would add more, the more is in use. Where
// an operator has set a limit to memory, that alone decides.
func makeRoom() []byte {
	if debug.SetMemoryLimit(-1) < math.MaxInt64 {
		return nil
	}
	return make([]byte, heapRoom) // new to the process while the heap is small, so that nothing clears it
}
