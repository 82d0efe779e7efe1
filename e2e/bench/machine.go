package main

import (
	"fmt"
	"os"
	"runtime"
	"strings"
)

// machine says what the figures were measured on, and what else it had to do.
func machine() string {
	return fmt.Sprintf("%s, %s/%s; %s of %d processors, %s of memory; load %s before the start", runtime.Version(), runtime.GOOS, runtime.GOARCH,
		lineOf("/proc/cpuinfo", "model name"), runtime.NumCPU(), lineOf("/proc/meminfo", "MemTotal"), firstWord("/proc/loadavg"))
}

// lineOf is the value of a "name : value" line of one of Linux's own files.
func lineOf(file, name string) string {
	content, _ := os.ReadFile(file)
	for _, line := range strings.Split(string(content), "\n") {
		if key, value, found := strings.Cut(line, ":"); found && strings.TrimSpace(key) == name {
			return strings.TrimSpace(value)
		}
	}
	return "unknown"
}

func firstWord(file string) string {
	content, _ := os.ReadFile(file)
	word, _, _ := strings.Cut(string(content), " ")
	if word == "" {
		return "unknown"
	}
	return word
}
