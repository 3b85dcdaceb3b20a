package main

import (
	"os"
	"syscall"
)

// heldAtMost is the most memory in bytes that a process held at once, or what this
// test's own process held when it started that one, where that is more.
func heldAtMost(p *os.ProcessState) int64 { return p.SysUsage().(*syscall.Rusage).Maxrss << 10 }
