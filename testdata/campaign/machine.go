package main

import (
	"fmt"
	"os"
	"os/exec"
	"regexp"
	"runtime"
	"strings"
)

// machine describes what the campaign runs on and against.
func machine(versions map[string]string) []line {
	cpu := "unknown"
	if text, err := os.ReadFile("/proc/cpuinfo"); err == nil {
		if m := regexp.MustCompile(`(?m)^model name\s*:\s*(.+)$`).FindSubmatch(text); m != nil {
			cpu = string(m[1])
		}
	}
	return []line{
		{"processor", fmt.Sprintf("%s, %d cores", cpu, runtime.NumCPU())},
		{"Go", strings.TrimPrefix(runtime.Version(), "go") + ", " + runtime.GOOS + "/" + runtime.GOARCH},
		{"Python, NumPy", versions["python"] + ", " + versions["numpy"]},
		{"CVXOPT", versions["cvxopt"]},
		{"HiGHS", "as in SciPy " + versions["scipy"]},
		{"CBC", first(`Version:?\s+(\S+)`, "cbc", "-quit")},
		{"glpsol", first(`Solver,?\s+v?(\d\S*)`, "glpsol", "--version")},
	}
}

// first is the first match of a pattern in what a program prints.
func first(pattern, name string, args ...string) string {
	text, err := exec.Command(name, args...).CombinedOutput()
	m := regexp.MustCompile(pattern).FindSubmatch(text)
	if err != nil && m == nil || m == nil {
		return "not found"
	}
	return string(m[1])
}

// load is how busy the machine is, as its own averages over 1 and 5 minutes.
func load() string {
	text, err := os.ReadFile("/proc/loadavg")
	if f := strings.Fields(string(text)); err == nil && len(f) > 1 {
		return f[0] + ", " + f[1]
	}
	return "unknown"
}
