//go:build unix

package record

import (
	"syscall"
	"time"
)

// cpuTime is what this process has used of the processors so far: a busy machine does not lengthen it much.
func cpuTime() time.Duration {
	var u syscall.Rusage
	if syscall.Getrusage(syscall.RUSAGE_SELF, &u) != nil {
		return 0
	}
	return time.Duration(u.Utime.Nano() + u.Stime.Nano())
}
