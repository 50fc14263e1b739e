//go:build !linux

package main

import "runtime/debug"

// letGo returns the garbage of the start.
func letGo() { debug.FreeOSMemory() }
