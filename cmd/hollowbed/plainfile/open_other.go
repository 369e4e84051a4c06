//go:build !unix

package plainfile

// atOnce is not needed where no name in a folder can stand for a pipe.
const atOnce = 0
