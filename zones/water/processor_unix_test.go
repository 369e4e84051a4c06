//go:build unix

package water

import (
	"syscall"
	"time"
)

// processor is the time of the processor that this process has had.
func processor() time.Duration {
	var use syscall.Rusage
	if syscall.Getrusage(syscall.RUSAGE_SELF, &use) != nil {
		return 0
	}
	return time.Duration(use.Utime.Nano() + use.Stime.Nano())
}
