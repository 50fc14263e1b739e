package main

import (
	"bufio"
	"bytes"
	"os"
	"runtime/debug"
	"strconv"
	"strings"
	"syscall"
)

// letGo returns memory that only the start needed: garbage, and the pages of the program itself,
// nearly all of which a start touches once. The kernel keeps the file in its cache and maps pages
// again when they are used. What cannot be returned stays.
func letGo() {
	debug.FreeOSMemory()
	self, err := os.Readlink("/proc/self/exe")
	if err != nil {
		return
	}
	smaps, err := os.ReadFile("/proc/self/smaps")
	if err != nil {
		return
	}
	var lo, hi uint64
	for lines := bufio.NewScanner(bytes.NewReader(smaps)); lines.Scan(); {
		switch at := strings.Fields(lines.Text()); {
		case strings.Contains(at[0], "-"): // 00403000-01215000 r-xp 00003000 fe:00 11452914 /usr/bin/saltlock
			lo, hi = 0, 0
			if len(at) == 6 && at[5] == self && !strings.Contains(at[1], "w") {
				from, to, _ := strings.Cut(at[0], "-")
				lo, _ = strconv.ParseUint(from, 16, 64)
				hi, _ = strconv.ParseUint(to, 16, 64)
			}
		case at[0] == "Anonymous:" && at[1] == "0" && lo < hi: // pages that the loader wrote to are in no file
			_, _, _ = syscall.Syscall(syscall.SYS_MADVISE, uintptr(lo), uintptr(hi-lo), syscall.MADV_DONTNEED)
		}
	}
}
