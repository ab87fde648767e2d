package main

import (
	"fmt"
	"time"
)

// progress says how far something is that takes a while, on the stream for errors, so
// that a result can still be piped on. It is silent for the first second.
func (a *app) progress(what string) func(done, of int) {
	var said time.Time
	return func(done, of int) {
		now := time.Now()
		if done == 0 {
			said = now
		}
		if now.Sub(said) >= time.Second {
			said = now
			fmt.Fprintf(a.errs, "linewright: %s, %d of %d\n", what, done, of)
		}
	}
}
