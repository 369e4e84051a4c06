//go:build !unix

package page_test

import "time"

func processor() time.Duration { return 0 }
