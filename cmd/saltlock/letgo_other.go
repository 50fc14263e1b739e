//go:build !linux

package main

import "runtime/debug"

// letGo gives back the garbage of the start.
func letGo() { debug.FreeOSMemory() }
