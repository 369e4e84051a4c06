//go:build unix

package moves

import (
	"syscall"
	"time"
)

func processor() time.Duration {
	var r syscall.Rusage
	_ = syscall.Getrusage(syscall.RUSAGE_SELF, &r)
	return time.Duration(r.Utime.Nano())
}
