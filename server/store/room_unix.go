//go:build linux || darwin || freebsd

package store

import "syscall"

// roomIn is how many bytes this program can still write in a folder.
func roomIn(folder string) (bytes uint64, known bool) {
	var s syscall.Statfs_t
	if err := syscall.Statfs(folder, &s); err != nil {
		return 0, false
	}
	return uint64(max(0, s.Bavail)) * uint64(s.Bsize), true
}
