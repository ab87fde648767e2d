package main

import (
	"fmt"
	"time"
)

// progress says how far the reading of jobs is, on the stream for errors, so
// that a result can still be piped on. It is silent for the first second.
func (a *app) progress() func(done, of int) {
	var said time.Time
	return func(done, of int) {
		now := time.Now()
		if done == 0 {
			said = now
		}
		if now.Sub(said) >= time.Second {
			said = now
			fmt.Fprintf(a.errs, "linewright: reading jobs, %d of %d\n", done, of)
		}
	}
}
