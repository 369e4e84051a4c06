//go:build !unix

package moves

import "time"

// processor is not told apart from waiting here.
func processor() time.Duration { return time.Duration(time.Now().UnixNano()) }
