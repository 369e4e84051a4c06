//go:build unix

package plainfile

import "syscall"

// atOnce opens a pipe without waiting for somebody to write to it.
const atOnce = syscall.O_NONBLOCK
