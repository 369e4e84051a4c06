//go:build !unix

package water

import "time"

// processor is the clock where the system does not tell what a process has had.
func processor() time.Duration { return time.Since(time.Time{}) }
