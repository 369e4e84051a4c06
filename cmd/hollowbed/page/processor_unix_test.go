//go:build unix

package page_test

import (
	"syscall"
	"time"
)

// processor is the time of the processor that this process has had; unlike the
// clock it does not count what other programs took.
func processor() time.Duration {
	var u syscall.Rusage
	if syscall.Getrusage(syscall.RUSAGE_SELF, &u) != nil {
		return 0
	}
	return time.Duration(u.Utime.Nano() + u.Stime.Nano())
}
