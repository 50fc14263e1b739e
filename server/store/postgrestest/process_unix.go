//go:build unix

package postgrestest

import (
	"os"
	"syscall"
)

// together keeps a server's processes in a group, and where the system can, ends them
// with the test that started them.
func together() *syscall.SysProcAttr {
	as := &syscall.SysProcAttr{Setpgid: true}
	endWithTest(as)
	return as
}

func runAs(as *syscall.SysProcAttr, uid, gid int) {
	as.Credential = &syscall.Credential{Uid: uint32(uid), Gid: uint32(gid)}
}

func killAll(p *os.Process) error { return syscall.Kill(-p.Pid, syscall.SIGKILL) }
