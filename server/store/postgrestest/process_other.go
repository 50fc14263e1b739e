//go:build !unix

package postgrestest

import (
	"os"
	"syscall"
)

// Without groups of processes and users of this kind the server alone is ended, and nobody
// is uid 0.
func together() *syscall.SysProcAttr { return &syscall.SysProcAttr{} }

func runAs(*syscall.SysProcAttr, int, int) {}

func killAll(p *os.Process) error { return p.Kill() }
