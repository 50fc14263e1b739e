//go:build unix && !linux

package postgrestest

import "syscall"

// endWithTest can do nothing here: a test that is killed leaves its server behind.
func endWithTest(*syscall.SysProcAttr) {}
