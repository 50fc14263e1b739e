package postgrestest

import "syscall"

// endWithTest lets no test that is killed leave its server behind.
func endWithTest(as *syscall.SysProcAttr) { as.Pdeathsig = syscall.SIGKILL }
