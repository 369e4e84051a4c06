//go:build race

package testenv

// Raced tells whether the race detector is at work.
const Raced = true
